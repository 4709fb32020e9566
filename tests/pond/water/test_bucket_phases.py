"""The bucket test as the journal tells it: constructed drops."""

from __future__ import annotations

import pytest

from pondtui.pond.water.bucket_test import Phase, compared_pumps, phases, smallest_mm_day
from pondtui.views import bucket as view
from tests.pond.box import POND, entries_of, setup_of, state_of
from tests.pond.water.test_budget import BAY

SETUP = setup_of(POND)
ON = """
2026-06-01 08:00 | bucket | what=start; pond=50 mm; bucket=40 mm; pump=on
2026-06-04 08:00 | bucket | what=read; pond=74 mm; bucket=52 mm
"""
OFF = """
2026-06-04 09:00 | bucket | what=start; pond=74 mm; bucket=52 mm; pump=off
2026-06-07 09:00 | bucket | what=read; pond=86 mm; bucket=64 mm
"""


def found(lines: str, now: str = "2026-06-10 08:00") -> list[Phase]:
    return phases(SETUP, state_of(SETUP, lines, now), entries_of(lines))


def told(lines: str, now: str = "2026-06-10 08:00") -> str:
    state = state_of(SETUP, lines, now)
    return " ".join(text for text, _ in view.told(SETUP, state, found(lines, now)))


def test_a_day_of_the_published_procedure_gives_its_litres() -> None:
    # leak = (pond drop - bucket drop) x area: 12 mm and 7 mm in 24 h on 8 m2 are 40 L a day
    setup = setup_of(POND.replace('width = "2 m"', 'width = "2.6666667 m"'))
    lines = """
2026-06-01 08:00 | bucket | what=start; pond=50 mm; bucket=40 mm; pump=off; lasts=24 h
2026-06-02 08:00 | bucket | what=read; pond=62 mm; bucket=47 mm
"""
    state = state_of(setup, lines, "2026-06-02 09:00")
    (phase,) = phases(setup, state, entries_of(lines))
    assert phase.test is not None
    assert phase.test.leak_mm_day * phase.area_m2 == pytest.approx(40.0, rel=1e-6)
    assert phase.done


def test_the_smallest_leak_is_said_before_the_test() -> None:
    # 1.96 x 2 mm: 3.9 mm/day in 24 h, 1.3 mm/day in 72 h
    state = state_of(SETUP, "", "2026-06-01 08:00")
    assert smallest_mm_day(SETUP, state, 24, "on") == pytest.approx(3.92, abs=0.01)
    assert smallest_mm_day(SETUP, state, 72, "on") == pytest.approx(1.31, abs=0.01)
    assert "a leak of 1.3 mm/day or more" in told("")


def test_a_verdict_waits_for_the_whole_time() -> None:
    early = ON.replace("06-04 08:00", "06-02 08:00")
    (phase,) = found(early, "2026-06-02 09:00")
    assert phase.open
    assert not phase.done
    assert "no verdict yet" in told(early, "2026-06-02 09:00")
    assert "LEAK" not in told(early, "2026-06-02 09:00")


def test_pump_on_and_off_tell_falls_from_liner() -> None:
    both = compared_pumps(found(ON + OFF))
    assert both is not None
    assert both.excess_mm_day == pytest.approx(4.0)  # 12 mm in 3 days, then nothing
    assert both.low_mm_day > 0
    assert "falls, spill edges and pipework" in told(ON + OFF)


def test_with_the_pump_on_the_bucket_counts_for_every_surface() -> None:
    setup = setup_of(POND + BAY)  # 6 m2 float, 1 m2 is held and evaporates through them
    lines = ON.replace("pond=74 mm", "pond=64 mm")
    (phase,) = phases(setup, state_of(setup, lines, "2026-06-04 09:00"), entries_of(lines))
    assert phase.test is not None
    assert phase.test.leak_mm_day == pytest.approx((14 - 12 * 7 / 6) / 3)


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("2026-06-02 08:00 | rain | depth=3 mm", "3 mm of rain fell"),
        ("2026-06-02 08:00 | direct | volume=20 L", "water was put into the pond"),
        ("2026-06-02 08:00 | drain | volume=20 L", "water was taken out"),
        ("2026-06-02 08:00 | event | what=pump-off", "pump off"),
        ("2026-06-02 08:00 | level | reading=60 mm; pump=off", "the pump was off"),
    ],
)
def test_what_moves_only_one_of_the_levels_spoils_it(line: str, why: str) -> None:
    (phase,) = found(ON + line)
    assert why in phase.spoilt
    assert not phase.done
    assert "Begin it again" in told(ON + line)


def test_a_test_goes_on_from_the_journal_alone_whatever_else_is_written() -> None:
    other = "2026-06-02 08:00 | note | | heron\n2026-06-02 09:00 | rain | depth=0.3 mm\n"
    (phase,) = found(ON + other)
    assert phase.done
    assert found(ON + other) == found(ON + other)


def test_a_test_that_was_given_up_has_no_verdict() -> None:
    given_up = ON.splitlines()[1] + "\n2026-06-02 08:00 | bucket | what=stop"
    (phase,) = found(given_up)
    assert phase.stopped
    assert not phase.open
    assert "given up" in told(given_up)


def test_a_look_without_a_beginning_is_no_test() -> None:
    assert found(ON.splitlines()[2]) == []
