"""Evaporation and rain of each day: published days, tiers, and what the keeper wrote by hand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.books.tables import parse_table
from pondtui.books.weather import weather_of
from pondtui.pond.setup.model import Pond, Setup, WeatherFiles
from pondtui.pond.water.evaporation import (
    FULL,
    MEANS,
    SUNNY,
    TEMPERATURE,
    DayEvaporation,
    daily,
)
from pondtui.pond.water.rainfall import RainDay, caught_by_hand, rain_by_day
from pondtui.pond.water.weather import WeatherDay
from tests.pond.box import entries_of

QUICK = settings(max_examples=80, deadline=None)
MEAN_MM = (10, 18, 40, 65, 95, 110, 115, 95, 60, 32, 14, 8)
JUNE = date(2026, 6, 1)


def pond(latitude: float | None = 51.0, elevation_m: float = 0.0, **weather: Any) -> Setup:
    place = Pond("Test", "Europe/Brussels", latitude, elevation_m)
    return Setup(place, weather=WeatherFiles(**weather))


def one(setup: Setup, text: str) -> DayEvaporation:
    """The evaporation of the one day of a weather table."""
    days, report = weather_of([parse_table(text.encode(), "t.csv")], setup)
    assert report.problems == []
    (day,) = days
    return daily(setup, days, [], day, day)[day]


# --- published days -------------------------------------------------------------------------------


def test_a_full_station_gives_the_printed_evaporation() -> None:
    # FAO-56 (1998) Example 18 pp. 72-73, Uccle, 6 July: 3.88 mm, wind 10 km/h at 10 m
    setup = pond(50.8, 100, wind_height_m=10.0)
    day = one(
        setup,
        "date,tmin [degC],tmax [degC],rhmax [%],rhmin [%],wind [km/h],sun [h]\n"
        "2026-07-06,12.3,21.5,84,63,10,9.25\n",
    )
    assert day.mm / 1.05 == pytest.approx(3.88, abs=0.01)
    assert (day.tier, day.uncertain) == (FULL, False)


def test_a_warm_month_gives_the_printed_evaporation_but_for_the_warming_ground() -> None:
    # FAO-56 (1998) Example 17 pp. 70-71, Bangkok, April: 5.72 mm with 0.14 MJ/m2 a day kept by the
    # ground, which a single day does not have: 0.408 D 0.14 / (D + g (1 + 0.34 u2)) = 0.04 mm more
    setup = pond(13 + 44 / 60, 2)
    day = one(
        setup,
        "date,tmin [degC],tmax [degC],vapour_pressure [kPa],wind [m/s],sun [h]\n"
        "2026-04-15,25.6,34.8,2.85,2,8.5\n",
    )
    assert day.mm / 1.05 == pytest.approx(5.72 + 0.04, abs=0.015)
    assert day.tier == FULL


def test_temperatures_alone_give_the_printed_evaporation() -> None:
    # FAO-56 (1998) Example 20 pp. 77-78, Lyon, July: 4.56 mm
    setup = pond(45 + 43 / 60, 200)
    day = one(setup, "date,tmin [degC],tmax [degC]\n2026-07-15,14.8,26.6\n")
    assert day.mm / 1.05 == pytest.approx(4.56, abs=0.02)
    assert day.tier == TEMPERATURE
    assert "wind 2 m/s taken" in day.method


def test_a_heat_wave_has_the_published_evaporation() -> None:
    # Wageningen (Haarweg), 1-7 July 1976, a leap year, 51 deg 58 min N, 7 m, wind at 2 m: the
    # station's file NL1.976 of the package pcse; evaporation by the library pyet 1.5.0
    rows = """\
01.07.1976;16,3;29,1;27890;11,2;3,0
02.07.1976;14,3;32,1;28130;11,5;2,2
03.07.1976;17,4;34,4;25220;13,7;1,6
04.07.1976;15,6;33,6;25010;13,5;1,6
05.07.1976;12,2;32,4;26600;13,8;2,0
06.07.1976;18,0;29,8;27270;11,0;2,8
07.07.1976;13,0;29,1;25360;8,8;2,5
"""
    published = [7.118, 6.907, 6.316, 6.102, 6.252, 7.202, 6.557]
    setup = pond(51 + 58 / 60, 7)
    header = "Datum;Tmin [°C];Tmax [°C];Rs [kJ/m2];ea [hPa];wind [m/s]\n"
    days, report = weather_of([parse_table((header + rows).encode("utf-16"), "nl.csv")], setup)
    found = daily(setup, days, [], date(1976, 7, 1), date(1976, 7, 7))
    assert report.problems == []
    assert [day.mm / 1.05 for day in found.values()] == pytest.approx(published, abs=0.01)
    assert {day.tier for day in found.values()} == {FULL}


# --- tiers ----------------------------------------------------------------------------------------

WARM = WeatherDay(JUNE, 12.0, 24.0)


@pytest.mark.parametrize(
    ("changes", "tier"),
    [
        ({}, TEMPERATURE),
        ({"wind_m_s": 2.0, "rhmean": 0.6}, TEMPERATURE),
        ({"sun_h": 9.0}, SUNNY),
        ({"radiation_mj": 20.0, "wind_m_s": 2.0}, SUNNY),
        ({"sun_h": 9.0, "wind_m_s": 2.0, "tdew_c": 10.0}, FULL),
        ({"rhmin": 0.4}, TEMPERATURE),  # the least humidity alone says nothing
    ],
)
def test_the_tier_says_how_much_was_measured(changes: dict[str, Any], tier: str) -> None:
    found = daily(pond(), {JUNE: WARM._replace(**changes)}, [], JUNE, JUNE)
    assert found[JUNE].tier == tier
    assert found[JUNE].method.startswith("FAO-56")


def test_without_weather_the_month_of_the_description_counts_as_open_water() -> None:
    setup = pond(monthly_evaporation_mm=MEAN_MM)
    found = daily(setup, {}, [], date(2028, 2, 28), date(2028, 3, 1))
    assert found[date(2028, 2, 29)] == DayEvaporation(
        18 / 29, MEANS, "mean of the month in pond.toml"
    )
    assert found[date(2028, 3, 1)].mm == pytest.approx(40 / 31)


@pytest.mark.parametrize(
    ("setup", "weather"),
    [(pond(), WeatherDay(JUNE, 12.0)), (pond(None), WARM), (pond(), WeatherDay(JUNE, rain_mm=3.0))],
)
def test_a_day_that_cannot_be_computed_is_absent_or_takes_the_months_mean(
    setup: Setup, weather: WeatherDay
) -> None:
    assert daily(setup, {JUNE: weather}, [], JUNE, JUNE) == {}
    means = setup.weather._replace(monthly_evaporation_mm=MEAN_MM)
    found = daily(setup._replace(weather=means), {JUNE: weather}, [], JUNE, JUNE)
    assert found[JUNE].tier == MEANS


# --- by hand --------------------------------------------------------------------------------------


def test_weather_by_hand_goes_before_the_tables_and_fills_them() -> None:
    lines = """
    2026-06-01 20:00:00+02:00 | weather | day=2026-06-01; tmax=30 degC
    2026-06-02 20:00:00+02:00 | weather | day=2026-06-02; tmin=12 degC; tmax=24 degC
    """
    days = {JUNE: WARM}
    found = daily(pond(), days, entries_of(lines), JUNE, date(2026, 6, 3))
    assert found[JUNE] == daily(pond(), {JUNE: WARM._replace(tmax_c=30.0)}, [], JUNE, JUNE)[JUNE]
    assert found[date(2026, 6, 2)].tier == TEMPERATURE
    assert date(2026, 6, 3) not in found


def test_a_humidity_or_sunshine_by_hand_takes_the_tables_own_away() -> None:
    table = WARM._replace(radiation_mj=28.0, rhmax=0.99, rhmin=0.9, vapour_kpa=2.0, wind_m_s=2.0)
    lines = "2026-06-01 20:00:00+02:00 | weather | day=2026-06-01; rhmean=40 %; sun=1 h"
    found = daily(pond(), {JUNE: table}, entries_of(lines), JUNE, JUNE)[JUNE]
    told = WARM._replace(rhmean=0.4, sun_h=1.0, wind_m_s=2.0)
    assert found == daily(pond(), {JUNE: told}, [], JUNE, JUNE)[JUNE]


def test_a_hand_value_that_denies_the_tables_other_end_stands_alone() -> None:
    lines = "2026-06-01 20:00:00+02:00 | weather | day=2026-06-01; tmax=8 degC"
    setup = pond(monthly_evaporation_mm=MEAN_MM)
    assert daily(setup, {JUNE: WARM}, entries_of(lines), JUNE, JUNE)[JUNE].tier == MEANS


def test_the_later_of_two_hand_entries_of_a_day_counts() -> None:
    lines = """
    2026-06-01 20:00:00+02:00 | weather | day=2026-06-01; tmin=12 degC; tmax=20 degC
    2026-06-01 21:00:00+02:00 | weather | day=2026-06-01; tmax=24 degC
    """
    found = daily(pond(), {}, entries_of(lines), JUNE, JUNE)
    assert found == daily(pond(), {JUNE: WARM}, [], JUNE, JUNE)


def test_a_hand_value_that_cannot_be_is_passed_over() -> None:
    lines = "2026-06-01 20:00:00+02:00 | weather | day=2026-06-01; tmax=90 degC; wind=100 m/s"
    found = daily(pond(), {JUNE: WARM}, entries_of(lines), JUNE, JUNE)
    assert found == daily(pond(), {JUNE: WARM}, [], JUNE, JUNE)


def test_a_day_of_smoke_is_marked_uncertain_by_the_ponds_clock() -> None:
    lines = "2026-06-01 23:30:00Z | event | what=smoke | hills on fire"
    days = {JUNE + timedelta(n): WARM._replace(day=JUNE + timedelta(n)) for n in range(3)}
    found = daily(pond(), days, entries_of(lines), JUNE, date(2026, 6, 3))
    assert [day.uncertain for day in found.values()] == [False, True, False]


SHARE = st.none() | st.floats(0, 1)


@QUICK
@given(
    tmin=st.floats(-90, 60), tmax=st.none() | st.floats(-90, 60), rhmax=SHARE, rhmin=SHARE,
    rhmean=SHARE, tdew=st.none() | st.floats(-90, 40), vapour=st.none() | st.floats(0, 10),
    wind=st.none() | st.floats(0, 60), sun=st.none() | st.floats(0, 24),
    radiation=st.none() | st.floats(0, 50), latitude=st.floats(-90, 90),
    elevation=st.floats(-450, 6000), height=st.floats(0.2, 200), number=st.integers(0, 365),
)  # fmt: skip
def test_no_weather_that_can_be_makes_a_day_fail(
    tmin: float, tmax: float | None, rhmax: float | None, rhmin: float | None,
    rhmean: float | None, tdew: float | None, vapour: float | None, wind: float | None,
    sun: float | None, radiation: float | None, latitude: float, elevation: float,
    height: float, number: int,
) -> None:  # fmt: skip
    day = date(2028, 1, 1) + timedelta(number)
    weather = WeatherDay(day, tmin, tmax, rhmax, rhmin, rhmean, tdew, vapour, wind, sun, radiation)
    setup = pond(latitude, elevation, wind_height_m=height)
    for found in daily(setup, {day: weather}, [], day, day).values():
        assert 0 <= found.mm < 200


# --- rain -----------------------------------------------------------------------------------------


def rain(
    lines: str, table: Mapping[date, float] = MappingProxyType({}), starts: str = "00:00"
) -> dict[date, RainDay]:
    days = {day: WeatherDay(day, rain_mm=mm) for day, mm in table.items()}
    setup = pond(rain_day_starts=starts)
    return rain_by_day(setup, days, caught_by_hand(entries_of(lines)), JUNE, date(2026, 6, 5))


def test_rain_of_the_table_stands_where_nothing_was_written() -> None:
    assert rain("", {JUNE: 4.0, date(2026, 6, 3): 0.0}) == {
        JUNE: RainDay(4.0, "table"),
        date(2026, 6, 3): RainDay(0.0, "table"),
    }


def test_rain_by_hand_wins_for_the_hours_since_the_entry_before() -> None:
    lines = """
    2026-06-02 00:00:00+02:00 | rain | depth=1 mm; hours=1 h
    2026-06-04 00:00:00+02:00 | rain | depth=10 mm
    """
    found = rain(lines, {JUNE + timedelta(n): 6.0 for n in range(5)})
    # 1 June: 23 of 24 hours are the table's; 2 and 3 June are the gauge's; then the table again
    assert found[JUNE].mm == pytest.approx(6 * 23 / 24 + 1)
    assert found[JUNE].by == "hand and table"
    assert [found[JUNE + timedelta(n)] for n in (1, 2)] == [RainDay(5.0, "hand")] * 2
    assert found[date(2026, 6, 4)] == RainDay(6.0, "table")


def test_rain_by_hand_falls_on_the_days_on_which_the_table_has_rain() -> None:
    lines = """
    2026-06-01 00:00:00+02:00 | rain | depth=0 mm; hours=1 h
    2026-06-05 00:00:00+02:00 | rain | depth=12 mm
    """
    table = dict(zip((JUNE + timedelta(n) for n in range(4)), (0.0, 3.0, 1.0, 0.0), strict=True))
    assert [day.mm for day in rain(lines, table).values()] == [0, 9, 3, 0]


def test_rain_by_hand_without_a_table_falls_on_its_last_day() -> None:
    lines = """
    2026-05-31 00:00:00+02:00 | rain | depth=0 mm
    2026-06-05 00:00:00+02:00 | rain | depth=12 mm
    """
    found = rain(lines)
    assert found[date(2026, 6, 4)] == RainDay(12.0, "hand")
    assert [found[JUNE + timedelta(n)] for n in range(3)] == [RainDay(0.0, "hand")] * 3


def test_a_rain_day_that_begins_in_the_morning_takes_the_night_after() -> None:
    lines = "2026-06-02 07:00:00+02:00 | rain | depth=8 mm; hours=4 h"
    assert rain(lines, starts="09:00") == {JUNE: RainDay(8.0, "hand")}
    assert rain(lines) == {date(2026, 6, 2): RainDay(8.0, "hand")}


@QUICK
@given(
    readings=st.lists(
        st.tuples(st.integers(1, 90), st.integers(0, 30), st.booleans()), min_size=1, max_size=8
    ),
    table=st.lists(st.none() | st.integers(0, 20), min_size=20, max_size=20),
)
def test_what_was_caught_by_hand_is_neither_lost_nor_counted_twice(
    readings: list[tuple[int, int, bool]], table: list[int | None]
) -> None:
    hour, lines, caught = 24 * 8, [], 0
    for gap, mm, named in readings:
        hour = min(hour + gap, 24 * 19)
        day, rest = divmod(hour, 24)
        hours = f"; hours={min(gap, 24)} h" if named else ""
        lines.append(f"2026-06-{day + 1:02} {rest:02}:00:00+02:00 | rain | depth={mm} mm{hours} |")
        caught += mm
    days = {
        JUNE + timedelta(n): WeatherDay(JUNE + timedelta(n), rain_mm=float(mm))
        for n, mm in enumerate(table)
        if mm is not None
    }
    entries = entries_of("\n".join(dict.fromkeys(lines)))
    caught = sum(int(entry.values["depth"]) for entry in entries)
    found = rain_by_day(pond(), days, caught_by_hand(entries), JUNE, JUNE + timedelta(19))
    total = sum(day.mm for day in found.values())
    assert total >= caught - 1e-9
    assert total <= caught + sum(day.rain_mm or 0 for day in days.values()) + 1e-9
    without = {day: w._replace(rain_mm=None) for day, w in days.items()}
    alone = rain_by_day(pond(), without, caught_by_hand(entries), JUNE, JUNE + timedelta(19))
    assert sum(day.mm for day in alone.values()) == pytest.approx(caught)
