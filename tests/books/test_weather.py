"""The weather tables of a pond: every day once, and nothing dropped silently."""

from __future__ import annotations

import random
import time
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.books.tables import parse_table
from pondtui.books.weather import MOST_PROBLEMS, Report, read_weather, weather_of
from pondtui.pond.setup.columns import scale_of, split_header
from pondtui.pond.setup.model import Pond, Setup, WeatherFiles
from pondtui.pond.water.weather import WeatherDay

QUICK = settings(max_examples=60, deadline=None)
POND = Pond("Test", "Europe/Brussels", latitude=51.0, elevation_m=40.0)
JUNE = date(2026, 6, 1)
Days = dict[date, WeatherDay]


def setup_with(columns: Mapping[str, str] | None = None, **weather: Any) -> Setup:
    columns = MappingProxyType(dict(columns or {}))
    return Setup(POND, weather=WeatherFiles(columns=columns, **weather))


def read(*texts: str, setup: Setup | None = None) -> tuple[Days, Report]:
    tables = [parse_table(text.encode(), f"weather/{n}.csv") for n, text in enumerate(texts, 1)]
    return weather_of(tables, setup or setup_with())


def said(report: Report, severity: str = "problem") -> list[str]:
    return [str(p) for p in report.problems if p.severity == severity]


# --- columns and units ----------------------------------------------------------------------------


def test_units_stand_in_the_header() -> None:
    days, report = read(
        "Date,Tmin [degF],Tmax (°F),RH [%],Wind [km/h],Sun [min],Rs [W/m2],Rain [in],e [hPa]\n"
        "2026-06-01,50,68,70,36,480,250,0.5,12\n"
    )
    day = days[JUNE]
    assert day[1:] == pytest.approx(
        (10, 20, None, None, 0.7, None, 1.2, 10, 8, 21.6, 12.7), abs=1e-9
    )
    assert report.problems == []


def test_units_stand_in_the_description_where_the_header_has_none() -> None:
    columns = {"date": "Day", "tmin": "low [degC]", "rain": "RR [cm]"}
    days, _ = read("Day;LOW;rr\n2026-06-01;1,5;0,2\n", setup=setup_with(columns))
    assert days == {JUNE: WeatherDay(JUNE, tmin_c=1.5, rain_mm=2.0)}


def test_a_unit_in_the_header_goes_before_the_one_in_the_description_and_is_told() -> None:
    columns = {"date": "Day", "rain": "Rain [mm]"}
    days, report = read("Day,Rain [in]\n2026-06-01,1\n", setup=setup_with(columns))
    assert days[JUNE].rain_mm == pytest.approx(25.4)
    assert "counted in in as the header says, not in mm" in said(report, "remark")[0]


@pytest.mark.parametrize(
    ("header", "columns", "words"),
    [
        ("date,tmin,tmax [degC]", {}, "tmin: say the unit of tmin: write tmin [degC]"),
        ("date,tmin [mm],tmax [degC]", {}, "tmin: mm is no unit of a temperature"),
        ("x,tmin [degC],tmax [degC]", {}, "no column is known as a day"),
        ("date,low,high", {"date": "date", "tmin": "cold [degC]"}, "no column is known"),
        ("date,a,a", {"date": "date", "tmin": "a [degC]"}, "more than one column is called a"),
    ],
)
def test_a_column_that_cannot_be_used_says_what_to_write(
    header: str, columns: dict[str, str], words: str
) -> None:
    _, report = read(f"{header}\n2026-06-01,10,20\n", setup=setup_with(columns))
    assert any(words in text for text in said(report))


def test_a_column_that_one_table_lacks_is_a_remark() -> None:
    columns = {"date": "date", "tmin": "tmin [degC]", "rain": "rain [mm]"}
    days, report = read("date,rain\n2026-06-01,3\n", setup=setup_with(columns))
    assert days[JUNE].rain_mm == 3
    assert said(report) == []
    assert "no column is called tmin" in said(report, "remark")[0]


@pytest.mark.parametrize(
    ("text", "name", "unit"),
    [
        ("Rain [mm]", "Rain", "mm"),
        ("T (°C)", "T", "°C"),
        ("Date", "Date", ""),
        ("[mm]", "[mm]", ""),
    ],
)
def test_a_header_is_a_name_and_a_unit(text: str, name: str, unit: str) -> None:
    assert split_header(text) == (name, unit)


def test_tenths_are_read_to_the_last_digit() -> None:
    tenths = scale_of("0.1 mm", "rain")
    assert [tenths.canonical(n) for n in range(100)] == [n / 10 for n in range(100)]


# --- published and common ways of writing ---------------------------------------------------------


def test_a_service_that_counts_rain_in_tenths_has_the_published_sum() -> None:
    # KNMI daily data, station 260 De Bilt, 1-11 January 1980, column RH: tenths of a mm, -1 for
    # less than 0.05 mm; 28.3 mm in all
    tenths = [58, 6, 13, 91, 42, 62, 3, 8, -1, 0, -1]
    rows = [f"  260,198001{n:02},{t:6}" for n, t in enumerate(tenths, 1)]
    columns = {"date": "YYYYMMDD", "rain": "RH [0.1 mm]"}
    text = "# RH = sum, -1 for less\n# STN,YYYYMMDD,   RH\n" + "\n".join(rows)
    days, report = read(text, setup=setup_with(columns))
    assert sum(day.rain_mm or 0 for day in days.values()) == pytest.approx(28.3, abs=1e-9)
    assert days[date(1980, 1, 9)].rain_mm == 0
    assert (report.tables[0].traces, report.problems) == (2, [])


@pytest.mark.parametrize("trace", ["T", "tr", "Trace", " t "])
def test_a_trace_of_rain_is_none_and_is_counted(trace: str) -> None:
    days, report = read(f"date,rain [mm]\n2026-06-01,{trace}\n2026-06-02,-1\n")
    assert days[JUNE].rain_mm == 0
    assert report.tables[0].traces == 1
    assert "rain of -1 mm cannot be" in said(report)[0]


def test_missing_codes_are_no_values_however_they_are_written() -> None:
    setup = setup_with(missing=("", "-9999", "M"))
    text = "date,tmin [degC],rain [mm]\n2026-06-01,-9999.0,m\n2026-06-02,,-9999\n2026-06-03,NaN,4\n"
    days, report = read(text, setup=setup)
    assert days == {date(2026, 6, 3): WeatherDay(date(2026, 6, 3), rain_mm=4.0)}
    assert (report.tables[0].missing, report.problems) == (5, [])


def test_gaps_are_told_by_their_first_and_last_day() -> None:
    text = "date,rain [mm]\n2026-06-01,1\n2026-06-04,1\n2026-06-06,1\n"
    _, report = read(text)
    assert report.gaps == [
        (date(2026, 6, 2), date(2026, 6, 3)),
        (date(2026, 6, 5), date(2026, 6, 5)),
    ]
    assert "no weather 2026-06-02 to 2026-06-03 (2 days)" in list(report.lines())


# --- what cannot be -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("header", "cell", "words"),
    [
        ("rain [mm]", "900", "rain of 900 mm cannot be"),
        ("rain [mm]", "-3", "rain of -3 mm"),
        ("rain [mm]", "12 mm", "12 mm is no number"),
        ("tmax [degC]", "70", "tmax of 70 degC"),
        ("tmin [degC]", "-100", "tmin of -100 degC"),
        ("rhmean [%]", "120", "rhmean"),
        ("wind [m/s]", "80", "wind of 80 m/s"),
        ("sun [h]", "25", "sun of 25 h"),
        ("sun [h]", "20", "20 h of sun in a day of 16."),
        ("radiation [MJ/m2]", "70", "radiation of 70"),
        ("radiation [W/m2]", "800", "radiation of 69.12"),
        ("vapour_pressure [kPa]", "12", "vapour_pressure of 12"),
        ("rain [mm]", '=HYPERLINK("x")', "no number"),
    ],
)
def test_a_value_that_cannot_be_is_named_with_its_line_and_kept_out(
    header: str, cell: str, words: str
) -> None:
    text = f"date;{header};tdew [degC]\n2026-06-01;{cell};5\n"
    days, report = read(text)
    assert days == {JUNE: WeatherDay(JUNE, tdew_c=5.0)}
    problem = said(report)[0]
    assert problem.startswith("weather/1.csv:2:")
    assert words in problem


def test_temperatures_that_deny_each_other_are_both_kept_out() -> None:
    days, report = read("date,tmin [degC],tmax [degC],rain [mm]\n2026-06-01,25,20,1\n")
    assert days == {JUNE: WeatherDay(JUNE, rain_mm=1.0)}
    assert "tmin is above tmax" in said(report)[0]


def test_a_day_that_stands_twice_alike_counts_once() -> None:
    row = "2026-06-01,3\n"
    days, report = read("date,rain [mm]\n" + row + row, "date,rain [mm]\n" + row)
    assert days[JUNE].rain_mm == 3
    assert (report.repeated, report.problems) == (1, [])


def test_a_day_that_stands_twice_with_other_values_is_named_and_only_they_are_left_out() -> None:
    text = "date,rain [mm],tmin [degC]\n2026-06-01,3,10\n2026-06-01,4,10\n"
    days, report = read(text)
    assert days[JUNE] == WeatherDay(JUNE, tmin_c=10.0)
    assert (
        "stands more than once (weather/1.csv:2, weather/1.csv:3) with different rain"
        in (said(report)[0])
    )


def test_a_day_that_is_none_costs_its_row_alone() -> None:
    days, report = read("date,rain [mm]\n2026-06-31,3\nyesterday,4\n2026-06-02,5\n")
    assert list(days) == [date(2026, 6, 2)]
    assert len(said(report)) == 2


def test_a_table_of_nothing_but_mistakes_is_told_in_a_few_lines() -> None:
    rows = "".join(f"{JUNE + timedelta(n)},wet\n" for n in range(300))
    _, report = read("date,rain [mm]\n" + rows)
    assert len(report.problems) == MOST_PROBLEMS + 1
    assert "260 more" in report.problems[-1].message


# --- hours ----------------------------------------------------------------------------------------

HOURLY = {
    "date": "time",
    "tmin": "t [degC]",
    "tmax": "t [degC]",
    "rhmean": "rh [%]",
    "wind": "u [m/s]",
    "radiation": "rs [W/m2]",
    "rain": "rain [mm]",
    "sun": "sun [min]",
}
Hour = tuple[float, float, float, float, float, float]


def hours_text(start: datetime, hours: Sequence[Hour]) -> str:
    rows = [
        f"{start + timedelta(hours=n):%Y-%m-%d %H:%M}," + ",".join(map(repr, hour))
        for n, hour in enumerate(hours)
    ]
    return "time,t,rh,u,rs,rain,sun\n" + "\n".join(rows) + "\n"


def made_up(seed: int, count: int) -> list[Hour]:
    rng = random.Random(seed)
    return [
        (
            round(rng.uniform(5, 25), 1), rng.randrange(30, 101), round(rng.uniform(0, 9), 1),
            rng.randrange(0, 501), rng.choice([0.0, 0.0, 0.4, 3.1]), rng.randrange(0, 31),
        )
        for _ in range(count)
    ]  # fmt: skip


@QUICK
@given(seed=st.integers(0, 10**6))
def test_hours_give_the_day_that_a_daily_table_of_the_same_weather_gives(seed: int) -> None:
    hours = made_up(seed, 24)
    by_hours, report = read(hours_text(datetime(2026, 6, 1), hours), setup=setup_with(HOURLY))
    t, rh, u, rs, rain, sun = zip(*hours, strict=True)
    daily = (
        "date,tmin [degC],tmax [degC],rh [%],wind [m/s],rs [W/m2],rain [mm],sun [min]\n"
        f"2026-06-01,{min(t)},{max(t)},{sum(rh) / 24},{sum(u) / 24},{sum(rs) / 24},"
        f"{sum(rain)},{sum(sun)}\n"
    )
    by_days, _ = read(daily)
    assert report.problems == []
    assert by_hours[JUNE][1:] == pytest.approx(by_days[JUNE][1:])


def test_the_strong_sun_of_noon_is_taken_as_an_hour_and_not_as_a_day() -> None:
    hours = [(15.0, 60.0, 1.0, 1000.0 if 8 <= n < 16 else 0.0, 0.0, 0.0) for n in range(24)]
    days, report = read(hours_text(datetime(2026, 6, 1), hours), setup=setup_with(HOURLY))
    assert days[JUNE].radiation_mj == pytest.approx(1000 / 3 * 0.0864)
    assert report.problems == []


def test_days_and_rain_days_begin_at_their_own_hour() -> None:
    hours = [(float(n % 24), 50, 1.0, 100, 1.0 if n == 32 else 0.0, 0) for n in range(72)]
    text = hours_text(datetime(2026, 6, 1), hours)
    setup = setup_with(HOURLY, rain_day_starts="09:00")
    days, _ = read(text, setup=setup)
    # hour 32 is 08:00 on 2 June: still the rain day that began on 1 June at 09:00
    assert [days[JUNE + timedelta(n)].rain_mm for n in range(3)] == [1, 0, None]
    noon = setup_with(HOURLY, day_starts="12:00")
    shifted, _ = read(text, setup=noon)
    assert (shifted[JUNE].tmin_c, shifted[JUNE].tmax_c) == (0, 23)
    assert [shifted[JUNE + timedelta(n)].rain_mm for n in range(3)] == [0, 1, 0]
    assert shifted[JUNE + timedelta(2)].tmin_c is None


def test_a_day_with_too_few_hours_is_left_out_and_told() -> None:
    hours = made_up(1, 24 + 15)
    days, report = read(hours_text(datetime(2026, 6, 1), hours), setup=setup_with(HOURLY))
    assert list(days) == [JUNE]
    assert (
        "2026-06-02: too few rows for a day, left out: tmin (15 of 24)"
        in (said(report, "remark")[0])
    )


def test_the_hour_that_comes_twice_in_autumn_counts_twice() -> None:
    # Europe/Brussels: clocks go back on 25 October 2026 from 03:00 to 02:00
    text = hours_text(datetime(2026, 10, 25), made_up(2, 24))
    lines = text.splitlines()
    lines.insert(4, "2026-10-25 02:00,10,50,1,0,7.5,0")
    days, report = read("\n".join(lines), setup=setup_with(HOURLY))
    hours = made_up(2, 24)
    assert days[date(2026, 10, 25)].rain_mm == pytest.approx(sum(h[4] for h in hours) + 7.5)
    assert (report.repeated, report.problems) == (0, [])


def test_hours_with_an_offset_are_turned_to_the_ponds_clock() -> None:
    rows = [
        f"{datetime(2026, 5, 31, 22) + timedelta(hours=n):%Y-%m-%dT%H:%M}Z,{n}" for n in range(24)
    ]
    columns = {"date": "time", "tmin": "t [degC]", "tmax": "t [degC]"}
    days, _ = read("time,t\n" + "\n".join(rows), setup=setup_with(columns))
    assert days == {JUNE: WeatherDay(JUNE, 0.0, 23.0)}


def test_an_hour_that_stands_twice_with_other_values_is_named() -> None:
    text = hours_text(datetime(2026, 6, 1), made_up(3, 24)) + "2026-06-01 05:00,1,1,1,1,1,1\n"
    _, report = read(text, setup=setup_with(HOURLY))
    assert "2026-06-01 05:00 stands more than once" in said(report)[0]


@QUICK
@given(seed=st.integers(0, 10**6), hourly=st.booleans(), parts=st.integers(1, 4))
def test_order_of_rows_and_spreading_over_tables_change_no_day(
    seed: int, hourly: bool, parts: int
) -> None:
    rng = random.Random(seed)
    if hourly:
        setup = setup_with(HOURLY, rain_day_starts="08:00")
        header, *rows = hours_text(datetime(2026, 6, 1), made_up(seed, 70)).splitlines()
    else:
        setup = setup_with()
        header = "date,tmin [degC],rain [mm]"
        rows = [f"{JUNE + timedelta(n)},{rng.randrange(0, 15)},{n}" for n in range(20)]
        rows += [f"{JUNE + timedelta(3)},4,77", f"{JUNE + timedelta(5)},,900"]
    whole, _ = read("\n".join([header, *rows]), setup=setup)
    rng.shuffle(rows)
    texts = ["\n".join([header, *rows[n::parts]]) for n in range(parts)]
    assert read(*texts, setup=setup)[0] == whole


# --- files ----------------------------------------------------------------------------------------


def test_the_tables_of_the_folder_are_read_and_others_are_not(tmp_path: Path) -> None:
    (tmp_path / "weather").mkdir()
    (tmp_path / "weather" / "a.csv").write_text("date,rain [mm]\n2026-06-01,1\n")
    (tmp_path / "weather" / "b.csv").write_text("date,rain [mm]\n2026-06-02,2\n")
    (tmp_path / "weather" / ".c.csv").write_text("date,rain [mm]\n2026-06-03,3\n")
    (tmp_path / "weather" / "d.csv").mkdir()
    days, report = read_weather(tmp_path, setup_with())
    assert [day.rain_mm for day in days.values()] == [1, 2]
    assert [table.name for table in report.tables] == ["weather/a.csv", "weather/b.csv"]


@pytest.mark.parametrize("pattern", ["../*.csv", "/etc/*", ""])
def test_a_pattern_that_leaves_the_folder_is_named_and_not_followed(
    tmp_path: Path, pattern: str
) -> None:
    (tmp_path / "up.csv").write_text("date,rain [mm]\n2026-06-01,1\n")
    pond = tmp_path / "pond"
    pond.mkdir()
    days, report = read_weather(pond, setup_with(files=(pattern,)))
    assert days == {}
    assert "not within the pond's folder" in said(report)[0]


def test_a_named_table_that_is_not_there_is_a_remark(tmp_path: Path) -> None:
    _, report = read_weather(tmp_path, setup_with(files=("weather/2026.csv", "weather/*.csv")))
    assert said(report, "remark") == ["weather/2026.csv: this table is not there"]


def test_a_pond_without_weather_has_no_days_and_no_problems(tmp_path: Path) -> None:
    assert read_weather(tmp_path, setup_with()) == ({}, Report((), [], [], 0))


def test_a_year_of_weather_is_read_in_a_blink(tmp_path: Path) -> None:
    (tmp_path / "weather").mkdir()
    rows = [f"{date(2026, 1, 1) + timedelta(n)},{n % 9}.5,{9 + n % 9}.1,{n % 7},60,3.2,{n % 8}.4"
            for n in range(365)]  # fmt: skip
    header = "date,tmin [degC],tmax [degC],rain [mm],rh [%],wind [m/s],sun [h]"
    (tmp_path / "weather" / "2026.csv").write_text("\n".join([header, *rows]))
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        days, _ = read_weather(tmp_path, setup_with())
        best = min(best, time.process_time() - start)
    assert len(days) == 365
    assert best < 0.15  # 0.02 s on an idle core; beside other work a core is slower


@pytest.mark.parametrize("hours", [range(24), range(1, 25)])
def test_a_time_in_a_column_of_its_own_belongs_to_its_day(hours: range) -> None:
    # hours that are numbered 1 to 24 end at their number, as KNMI's hourly files have it
    rows = "".join(f"20260601,{hour},{n},1\n" for n, hour in enumerate(hours))
    columns = {"date": "YYYYMMDD + HH", "tmax": "T [degC]", "rain": "RH [0.1 mm]"}
    days, report = read("YYYYMMDD,HH,T,RH\n" + rows, setup=setup_with(columns))
    assert list(days) == [JUNE]
    assert days[JUNE].tmax_c == 23
    assert days[JUNE].rain_mm == pytest.approx(2.4)
    assert (report.problems, report.tables[0].columns["date"]) == ([], "YYYYMMDD + HH")


def test_a_day_and_its_time_are_joined_without_being_told() -> None:
    rows = "".join(f"1.6.2026;{n}:00;{n}\n" for n in range(24))
    days, _ = read("Date;Time;tmin [degC]\n" + rows)
    assert days == {JUNE: WeatherDay(JUNE, 0.0)}
    whole, _ = read("Date,Time,tmin [degC]\n2026-06-01 05:00,x,3\n")
    assert whole == {JUNE: WeatherDay(JUNE, 3.0)}
