"""Loss a day from the last readings, and the marks ahead. All numbers are constructed."""

from __future__ import annotations

from datetime import date
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.water.recent import Recent, believed_mm, marks_ahead, next_mark, recent_loss
from tests.pond.box import POND, setup_of, state_of

SETUP = setup_of()
NOW = "2026-06-10 08:30"


def daily(*readings: float, first: int = 2, more: str = "") -> str:
    """A reading each morning from a day of June on, with more lines."""
    days = (f"2026-06-{first + n:02} 08:00 | level | reading={r:g} mm" for n, r in
            enumerate(readings))  # fmt: skip
    return "\n".join([*days, *more.strip().splitlines()])


def loss(lines: str, now: str = NOW, pond: str = POND) -> Recent:
    setup = setup_of(pond)
    return recent_loss(setup, state_of(setup, lines, now))


def test_a_steady_fall_is_the_loss_with_the_error_of_a_line_through_the_readings() -> None:
    found = loss(daily(40, 44, 48, 52, 56, 60, 64, 68, 72))
    assert found.loss_mm_per_day == pytest.approx(4.0)
    # nine days -4..4: the sum of squares is 60; 1.96 x 2 mm / sqrt(60)
    assert found.error_mm_per_day == pytest.approx(1.96 * 2 / sqrt(60))
    assert found.days == pytest.approx(8.0)
    assert (found.readings, found.left_out) == (9, ())
    assert found.more_readings == 0


def test_two_readings_a_day_apart_give_an_error_of_five_mm_and_no_value() -> None:
    found = loss(daily(62, 68, first=9))
    assert found.loss_mm_per_day is None
    assert found.error_mm_per_day == pytest.approx(1.96 * 2 * sqrt(2))  # 5.5 mm a day
    assert found.more_readings == 1


def test_three_daily_readings_are_enough_for_a_value() -> None:
    found = loss(daily(50, 54, 58, first=8))
    assert found.loss_mm_per_day == pytest.approx(4.0)
    assert found.error_mm_per_day == pytest.approx(1.96 * 2 / sqrt(2))


@pytest.mark.parametrize(("lines", "more"), [("", 3), (daily(62, first=10), 2)])
def test_without_two_readings_it_says_how_many_are_missing(lines: str, more: int) -> None:
    found = loss(lines)
    assert found.loss_mm_per_day is None
    assert found.error_mm_per_day is None
    assert found.more_readings == more


def test_readings_of_weeks_ago_count_no_more() -> None:
    found = loss(daily(40, 50, 60, 70), now="2026-06-20 08:30")
    assert (found.loss_mm_per_day, found.readings, found.more_readings) == (None, 0, 3)


def test_water_let_in_is_turned_to_mm_by_the_area_at_that_level() -> None:
    # 180 L on 6 m2 are 30 mm: read 70, then 44 instead of 74
    release = "2026-06-08 09:00 | release | barrel=yard; out=180 L"
    fill = "2026-06-08 08:30 | fill | barrel=yard; added=180 L"
    found = loss(daily(62, 66, 70, 44, 48, first=6, more=f"{fill}\n{release}"))
    assert found.loss_mm_per_day == pytest.approx(4.0)
    plain = 1.96 * 2 / sqrt(10)
    put_in = 1.96 * 0.05 * 30 / 4  # a twentieth of 30 mm over four days
    assert found.error_mm_per_day == pytest.approx(sqrt(plain**2 + put_in**2))


def test_water_drained_and_small_rain_are_counted_in() -> None:
    more = "2026-06-08 12:00 | drain | volume=60 L\n2026-06-09 20:00 | rain | depth=1 mm"
    # the drain takes 10 mm more, the rain gives 1 mm back
    assert loss(daily(50, 54, 68, 71, first=7, more=more)).loss_mm_per_day == pytest.approx(4.0)


def test_an_interval_with_rain_over_two_mm_is_left_out_and_said() -> None:
    lines = daily(50, 54, 58, 45, 49, first=6, more="2026-06-09 08:00 | rain | depth=17 mm")
    found = loss(lines)
    assert found.loss_mm_per_day == pytest.approx(4.0)
    assert found.days == pytest.approx(3.0)
    assert found.left_out == ("2026-06-08 08:00 to 2026-06-09 08:00: 17 mm of rain",)


def test_rain_written_down_at_noon_spoils_the_morning_too() -> None:
    lines = daily(50, 54, 44, 48, 52, first=6, more="2026-06-08 12:00 | rain | depth=14 mm")
    found = loss(lines)
    assert len(found.left_out) == 2
    assert found.loss_mm_per_day == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("event", "why"),
    [
        ("event | what=pump-off", "pump off"),
        ("event | what=overflow", "overflow"),
        ("event | what=gauge-moved; was=58 mm; now=58 mm", "gauge moved"),
        ("event | what=gate-shut", "gate shut"),
    ],
)
def test_a_disturbed_interval_is_left_out_and_said(event: str, why: str) -> None:
    found = loss(daily(50, 54, 58, 90, 94, first=6, more=f"2026-06-08 20:00 | {event}"))
    assert found.loss_mm_per_day == pytest.approx(4.0)
    assert found.left_out == (f"2026-06-08 08:00 to 2026-06-09 08:00: {why}",)


def test_readings_with_the_pump_on_and_off_are_not_compared() -> None:
    lines = daily(50, 54, 58, first=6, more="2026-06-09 08:00 | level | reading=52 mm; pump=off")
    switched = lines.replace("58 mm", "58 mm; pump=on")
    assert loss(switched).left_out == (
        "2026-06-08 08:00 to 2026-06-09 08:00: the pump was switched",
    )


def test_a_moved_gauge_does_not_change_the_loss() -> None:
    moved = "2026-06-06 12:00 | event | what=gauge-moved; was=58 mm; now=108 mm"
    found = loss(daily(42, 46, 50, 54, 58, 112, 116, 120, 124, more=moved))
    assert found.loss_mm_per_day == pytest.approx(4.0)
    assert len(found.left_out) == 1


def test_a_gauge_that_reads_up_falls_when_its_numbers_fall() -> None:
    up = POND.replace('reads = "down"', 'reads = "up"')
    for was, now in (("10 mm", "790 mm"), ("40 mm", "760 mm"), ("110 mm", "690 mm"),
                     ("240 mm", "560 mm")):  # fmt: skip
        up = up.replace(f'reading = "{was}"', f'reading = "{now}"')
    up = up.replace('depth = "0.8 m"', 'depth = "0.8 m"\ntop_at = "800 mm"')
    assert loss(daily(750, 746, 742, first=8), pond=up).loss_mm_per_day == pytest.approx(4.0)


def test_a_slip_of_the_rule_widens_the_error() -> None:
    good = loss(daily(40, 44, 48, 52, 56, 60, 64, 68, 72))
    slip = loss(daily(40, 44, 48, 52, 76, 60, 64, 68, 72))
    assert slip.error_mm_per_day is not None
    assert good.error_mm_per_day is not None
    assert slip.error_mm_per_day > 2 * good.error_mm_per_day


@given(st.lists(st.integers(40, 90), min_size=3, max_size=9), st.integers(1, 60))
def test_the_zero_of_the_gauge_never_matters(readings: list[int], shift: int) -> None:
    first = 11 - len(readings)
    here = loss(daily(*readings, first=first))
    there = loss(daily(*(r + shift for r in readings), first=first))
    assert here.loss_mm_per_day == pytest.approx(there.loss_mm_per_day, abs=1e-6)
    assert here.error_mm_per_day == pytest.approx(there.error_mm_per_day)


def test_the_next_mark_is_reached_between_the_days_of_the_loss_and_its_error() -> None:
    state = state_of(SETUP, daily(70, first=10), "2026-06-10 20:00")
    found = next_mark(SETUP, state, Recent(4.0, 1.0, 8.0, 9))
    assert found is not None
    assert (found.name, found.role) == ("shelf", "warn")
    assert found.below_mm == pytest.approx(40.0)
    # 40 mm at 5, 4 and 3 mm a day, half a day of it gone
    assert found.days_low == pytest.approx(7.5)
    assert found.days_mid == pytest.approx(9.5)
    assert found.days_high == pytest.approx(40 / 3 - 0.5)


def test_a_loss_that_may_be_none_has_no_latest_day() -> None:
    state = state_of(SETUP, daily(70, first=10), "2026-06-10 20:00")
    found = next_mark(SETUP, state, Recent(1.0, 3.0, 2.0, 3))
    assert found is not None
    assert found.days_low == pytest.approx(9.5)
    assert found.days_high is None


def test_marks_ahead_are_those_below_the_water_nearest_first_and_no_spill() -> None:
    state = state_of(SETUP, daily(5, first=10), "2026-06-10 20:00")
    unknown = Recent(None, None, 0.0, 0)
    assert [a.name for a in marks_ahead(SETUP, state, unknown)] == ["full", "shelf", "intake"]
    assert marks_ahead(SETUP, state, unknown)[0].days_mid is None


def test_water_let_in_since_the_reading_is_believed() -> None:
    lines = daily(70, first=10, more="2026-06-10 09:00 | direct | volume=60 L; source=rain")
    state = state_of(SETUP, lines, "2026-06-10 20:00")
    assert believed_mm(SETUP, state, date(2026, 6, 10)) == pytest.approx(60)


def test_without_a_basin_that_floats_nothing_is_known() -> None:
    setup = SETUP._replace(basins=())
    state = state_of(SETUP, daily(50, 54, 58, first=8), NOW)
    assert recent_loss(setup, state).loss_mm_per_day is None
    assert marks_ahead(setup, state, Recent(4.0, 1.0, 8.0, 9)) == ()
