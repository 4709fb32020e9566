"""Feeding advice as a table of cases: by the mean of several days, and not after trouble.

The bands of temperature are common practice, no source; cases are constructed.
"""

from __future__ import annotations

import pytest

from pondtui.pond.daily.feeding import Feeding, feeding
from pondtui.pond.daily.water_tests import judged
from tests.pond.box import POND, at, entries_of, setup_of, state_of

NOW = "2026-06-10 09:00"


def advice(lines: str, now: str = NOW) -> Feeding:
    setup = setup_of(POND)
    entries = entries_of(lines)
    tests = judged(setup, entries, at(now))
    return feeding(setup, state_of(setup, lines, now), entries, tests, at(now))


def water(*temps: float) -> str:
    return "".join(
        f"2026-06-{6 + n:02} 08:00 | level | reading=60 mm; temp={temp} degC\n"
        for n, temp in enumerate(temps)
    )


@pytest.mark.parametrize(
    ("temps", "feed", "words"),
    [
        ((9.9,) * 5, False, "feed nothing"),
        ((10.0,) * 5, True, "every 2 to 4 days"),
        ((14.9,) * 5, True, "every 2 to 4 days"),
        ((15.0,) * 5, True, "once a day"),
        ((20.0,) * 5, True, "one to three times a day"),
        ((28.0,) * 5, True, "one to three times a day"),
        ((28.1,) * 5, True, "never at dawn"),
        ((8.0, 8.0, 8.0, 8.0, 16.0), False, "feed nothing"),  # one warm noon is no spring
        ((16.0, 16.0, 16.0, 16.0, 9.0), True, "every 2 to 4 days"),
    ],
)
def test_the_mean_of_the_last_days_decides(
    temps: tuple[float, ...], feed: bool, words: str
) -> None:
    said = advice(water(*temps))
    assert (said.feed, words in said.text) == (feed, True)
    assert "mean of 5 days" in said.why


WARM = water(18, 18, 18, 18, 18)
CLEAR = "2026-06-10 08:30 | test | where=pond; chlorine_total=<0.02 mg/L\n"


@pytest.mark.parametrize(
    ("trouble", "feed"),
    [
        ("2026-06-10 08:10 | direct | volume=40 L; source=tap", False),
        ("2026-06-10 08:10 | direct | volume=40 L; source=tap\n" + CLEAR, True),
        # passed over, and nothing of it let out: the pond is as it was
        (
            "2026-06-10 08:10 | fill | barrel=yard; added=100 L; batch=yard-1\n"
            "2026-06-10 08:20 | bypass | step=wait; batch=yard-1 | dark",
            True,
        ),
        (
            "2026-06-10 08:10 | fill | barrel=yard; added=100 L; batch=yard-1\n"
            "2026-06-10 08:20 | bypass | step=wait; batch=yard-1 | dark\n"
            "2026-06-10 08:30 | release | barrel=yard; out=50 L; batch=yard-1",
            False,
        ),
        ("2026-06-09 10:00 | event | what=power-cut", False),
        ("2026-06-09 08:59 | event | what=power-cut", True),  # a day later
        ("2026-06-05 10:00 | event | what=pump-off", False),  # and still off
        ("2026-06-05 10:00 | event | what=pump-off\n2026-06-05 12:00 | event | what=pump-on", True),
        ("2026-06-10 08:00 | test | where=pond; ammonia=1 mg/L as N; ph=8.5; temp=18 degC", False),
        ("2026-06-10 08:00 | test | where=pond; ammonia=0.1 mg/L as N; ph=7; temp=18 degC", True),
        ("2026-06-10 08:00 | test | where=pond; nitrite=0.5 mg/L as NO2", False),
        ("2026-06-06 08:00 | test | where=pond; nitrite=0.5 mg/L as NO2", True),  # four days old
        ("2026-06-10 08:00 | test | where=pond; oxygen=3.5 mg/L", False),
        ("2026-06-10 08:00 | test | where=pond; nitrate=200 mg/L as NO3", True),
    ],
)
def test_after_trouble_nothing_is_fed(trouble: str, feed: bool) -> None:
    said = advice(WARM + trouble)
    assert said.feed is feed
    assert said.why


def test_without_a_temperature_it_is_asked_for() -> None:
    said = advice("2026-06-10 08:00 | level | reading=60 mm")
    assert "measure it" in said.why
