"""Which falls of the level count, and the reason of every one that does not."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from pondtui.errors import InputError
from pondtui.pond.setup.model import Basin, Gauge, Mark, Pond, Setup, WeatherFiles
from pondtui.pond.state.model import Addition, Level, PondState
from pondtui.pond.water.evaporation import FULL, MEANS, TEMPERATURE, DayEvaporation
from pondtui.pond.water.rained import RainSpan, table_rain
from pondtui.pond.water.runs import Runs, unbroken_runs
from pondtui.pond.water.weather import WeatherDay

FIRST = date(2026, 6, 1)
H, DAY = 3600, 86400
POOL = Basin("pool", floats=True, shape="box", length_mm=3000, width_mm=2000, depth_mm=800)
BAY = Basin("bay", held=True, shape="box", length_mm=2000, width_mm=1500, depth_mm=300)
MARKS = (Mark("rim", 20, "spill"), Mark("full", 45, "target"))
SETUP = Setup(Pond("x", "UTC", 51.0), gauge=Gauge("down", 2.0), basins=(POOL,), marks=MARKS)
EVEN = {FIRST + timedelta(n): DayEvaporation(4.0, FULL, "") for n in range(-1, 40)}


def at(days: float, hour: float = 7.5) -> int:
    start = datetime(FIRST.year, FIRST.month, FIRST.day, tzinfo=UTC)
    return int(start.timestamp() + days * DAY + hour * H)


def levels(*readings: float, pump: str = "on") -> tuple[Level, ...]:
    """One reading a day at half past seven."""
    return tuple(Level(at(n), mm, pump) for n, mm in enumerate(readings))


def runs_of(
    found: tuple[Level, ...],
    setup: Setup = SETUP,
    evaporation: dict[date, DayEvaporation] = EVEN,
    table: tuple[RainSpan, ...] = (),
    **state: Any,  # fields of the state
) -> Runs:
    whole = PondState(now=at(40), entries=0, levels=found)._replace(**state)
    return unbroken_runs(setup, whole, evaporation, 0, at(40), table)


def reasons(runs: Runs) -> list[str]:
    return [out.reason for out in runs.left_out]


def test_a_quiet_week_is_one_run() -> None:
    runs = runs_of(levels(50, 54, 58, 62, 66, 70, 74))
    assert [len(run) for run in runs.runs] == [6]
    assert [f.mm for f in runs.runs[0]] == [4] * 6
    assert [f.evaporated_mm for f in runs.runs[0]] == pytest.approx([4.0] * 6, abs=0.02)
    assert runs.left_out == ()


def test_a_gauge_that_reads_up_falls_when_its_number_does() -> None:
    up = SETUP._replace(gauge=Gauge("up", 2.0), marks=(), basins=(POOL._replace(top_at_mm=800),))
    assert [f.mm for f in runs_of(levels(700, 696, 691), up).runs[0]] == [4, 5]


@pytest.mark.parametrize(
    ("state", "reason"),
    [
        ({"additions": (Addition(at(2, 9), 150.0, "yard"),)}, "150 L put in"),
        ({"drained": ((at(2, 9), 40.0),)}, "40 L taken out"),
        ({"disturbances": ((at(2, 9), "pump-off"),)}, "pump off"),
        ({"disturbances": ((at(2, 9), "gauge-moved"),)}, "gauge moved"),
        ({"disturbances": ((at(2, 9), "overflow"),)}, "overflow"),
        ({"rain": ((at(3, 7.6), 7.0),)}, "7 mm of rain"),
    ],
)
def test_whatever_else_moves_the_water_breaks_the_run(state: dict[str, Any], reason: str) -> None:
    runs = runs_of(levels(50, 54, 58, 62, 66, 70), **state)
    assert [len(run) for run in runs.runs] == [2, 2]
    assert [(o.since, o.until, o.reason) for o in runs.left_out] == [(at(2), at(3), reason)]


def test_a_pump_that_was_switched_breaks_the_run() -> None:
    found = (*levels(50, 54, 58), *(level._replace(instant=level.instant + 3 * DAY, pump="off")
             for level in levels(62, 66)))  # fmt: skip
    runs = runs_of(found)
    assert [len(run) for run in runs.runs] == [2, 1]
    assert reasons(runs) == ["the pump was switched"]


def test_water_at_its_spill_edge_tells_nothing() -> None:
    runs = runs_of(levels(18, 20, 24, 28, 32))
    assert [len(run) for run in runs.runs] == [2]
    assert reasons(runs) == ["the water stood at its spill edge"]


def test_small_rain_is_added_and_falls_before_a_reading_of_the_same_round() -> None:
    runs = runs_of(levels(50, 53, 57), rain=((at(1, 8), 1.2),))
    assert [f.mm for f in runs.runs[0]] == pytest.approx([4.2, 4.0])


def test_heavy_rain_spoils_every_fall_that_it_may_have_met() -> None:
    # written at noon of the third day: it may have fallen before that morning's reading, or after
    runs = runs_of(levels(50, 54, 58, 62, 66), rain=((at(2, 12), 5.0),))
    assert [(o.since, o.until) for o in runs.left_out] == [(at(1), at(3))]


def test_rain_by_hand_wins_over_the_tables_for_its_hours() -> None:
    table = (RainSpan(at(0, 0), at(1, 0), 9.0), RainSpan(at(2, 0), at(3, 0), 1.0))
    runs = runs_of(levels(50, 54, 58, 62, 66), table=table, rain=((at(0.99, 7.5), 0.0),))
    assert runs.left_out == ()
    assert [f.mm for f in runs.runs[0]] == pytest.approx([4, 4.3125, 4.6875, 4])


def test_a_tables_rain_day_begins_at_its_own_hour() -> None:
    setup = SETUP._replace(weather=WeatherFiles(rain_day_starts="09:00"))
    spans = table_rain(setup, {FIRST: WeatherDay(FIRST, rain_mm=3.0), FIRST + timedelta(1):
                               WeatherDay(FIRST + timedelta(1))})  # fmt: skip
    assert spans == [RainSpan(at(0, 9), at(1, 9), 3.0)]


def test_the_surfaces_above_show_in_the_level_that_floats_while_the_pump_runs() -> None:
    two = SETUP._replace(basins=(POOL, BAY))  # 6 m2 float, 3 m2 are held
    on = runs_of(levels(50, 54, 58), two, rain=((at(1), 1.0),)).runs[0]
    off = runs_of(levels(50, 54, 58, pump="off"), two).runs[0]
    assert [f.evaporated_mm for f in on] == pytest.approx([6.0, 6.0], abs=0.03)
    assert [f.mm for f in on] == pytest.approx([5.5, 4.0])
    assert [f.evaporated_mm for f in off] == pytest.approx([4.0, 4.0], abs=0.02)


def test_a_night_loses_little() -> None:
    found = (Level(at(0, 20), 50.0), Level(at(1, 4), 51.0), Level(at(1, 20), 54.0))
    runs = runs_of(found)
    assert [f.days for f in runs.runs[0]] == [1.0]  # the reading of the night stands too near
    late = runs_of((Level(at(0, 20), 50.0), Level(at(2, 4), 55.0)))
    assert late.runs[0][0].evaporated_mm == pytest.approx(4.0, abs=0.2)
    assert not late.runs[0][0].even


def test_readings_of_every_hour_count_as_one_a_day() -> None:
    found = tuple(Level(at(0, h), 50.0 + round(h / 6)) for h in range(97))
    runs = runs_of(found)
    assert [len(run) for run in runs.runs] == [4]
    assert all(20 / 24 <= f.days <= 28 / 24 and f.even for f in runs.runs[0])


def test_a_reading_that_jumps_and_comes_back_is_named() -> None:
    runs = runs_of(levels(50, 54, 98, 62, 66, 70))
    assert reasons(runs) == ["the reading of 98 mm jumps and comes back"]
    assert (runs.left_out[0].since, runs.left_out[0].until) == (at(1), at(3))


def test_a_level_that_is_suddenly_another_one_is_named() -> None:
    rose, fell = runs_of(levels(70, 74, 30, 34, 38)), runs_of(levels(50, 54, 110, 114, 118))
    assert reasons(rose) == ["the level rose by 44 mm and nothing is written down that does it"]
    assert reasons(fell) == ["the level fell by 56 mm and nothing is written down that does it"]
    assert [len(run) for run in rose.runs] == [1, 2]


def test_a_fast_steady_loss_is_no_jump() -> None:
    assert runs_of(levels(50, 90, 131, 170, 212)).left_out == ()


def test_two_readings_in_one_minute_are_named() -> None:
    near = (*levels(50, 54), Level(at(1) + 20, 55.0), Level(at(2), 58.0))
    far = (*levels(50, 54), Level(at(1) + 20, 84.0), Level(at(2), 58.0))
    assert reasons(runs_of(near)) == ["several readings within a minute: the last one counts"]
    assert [f.mm for f in runs_of(near).runs[0]] == [5, 3]
    assert "contradict each other: 54 mm and 84 mm" in reasons(runs_of(far))[0]
    assert [f.days for f in runs_of(far).runs[0]] == [2.0]


def test_a_reading_that_the_pond_cannot_show_is_named() -> None:
    runs = runs_of(levels(50, 54, 900, 62, -150, 70))
    assert [r.split(" lies ")[1] for r in reasons(runs)[:2]] == [
        "at or below the bottom of the pond",
        "far above the rim of the pond",
    ]
    assert [f.mm for f in runs.runs[0]] == [4, 8, 8]


def test_days_without_weather_and_days_of_smoke_are_left_out_once_each() -> None:
    gap = {d: e for d, e in EVEN.items() if not 2 <= (d - FIRST).days <= 3}
    gap[FIRST + timedelta(6)] = DayEvaporation(4.0, FULL, "", uncertain=True)
    runs = runs_of(levels(50, 54, 58, 62, 66, 70, 74, 78, 82), evaporation=gap)
    assert [(o.since, o.until) for o in runs.left_out] == [(at(1), at(4)), (at(5), at(7))]
    assert reasons(runs) == ["no weather to compute evaporation from", "smoke or dust"]


def test_weeks_without_a_reading_are_left_out() -> None:
    found = (*levels(50, 54), Level(at(20), 80.0), Level(at(21), 84.0))
    assert reasons(runs_of(found)) == ["no reading for more than two weeks"]


def test_temperatures_alone_are_good_for_weeks_only() -> None:
    # 1 June 2026 is a Monday
    jagged = {
        FIRST + timedelta(n): DayEvaporation(float(n % 7), TEMPERATURE, "") for n in range(14)
    }
    falls = runs_of(levels(*range(50, 64)), evaporation=jagged).runs[0]
    assert [f.evaporated_mm for f in falls] == pytest.approx([3.0] * 13, abs=0.02)
    assert {f.tier for f in falls} == {TEMPERATURE}


def test_a_fall_has_the_poorest_weather_of_its_days() -> None:
    mixed = {**EVEN, FIRST + timedelta(1): DayEvaporation(4.0, MEANS, "")}
    assert [f.tier for f in runs_of(levels(50, 54, 58, 62), evaporation=mixed).runs[0]] == [
        MEANS, MEANS, FULL,
    ]  # fmt: skip


def test_no_readings_make_no_runs() -> None:
    assert runs_of(()) == Runs((), ())
    assert runs_of(levels(50)) == Runs((), ())


def test_a_pond_in_which_nothing_floats_says_so() -> None:
    with pytest.raises(InputError, match="floats"):
        runs_of(levels(50, 54), SETUP._replace(basins=(BAY,)))
