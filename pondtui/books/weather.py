"""The weather tables of a pond: every day once, and what was read, skipped and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path, PurePosixPath
from zoneinfo import ZoneInfo

from pondtui.books.cells import NO_VALUE, TRACES, day_first, number_in, when_in
from pondtui.books.mapping import Column, Wanted, find_columns
from pondtui.books.tables import Row, Table, read_table
from pondtui.books.weather_days import Reading, days_of
from pondtui.clean import visible
from pondtui.errors import Problem
from pondtui.pond.setup.columns import WEATHER
from pondtui.pond.setup.model import Setup
from pondtui.pond.water.weather import HOUR_MJ, KEPT, WeatherDay, out_of_range
from pondtui.records import NamedTuple

MOST_PROBLEMS = 40  # of a table; the rest is counted
_NAMES = {
    "tmin": ("tn tempmin mintemp temperaturemin temperature2mmin minimumtemperature low",
             "Tmin [degC]"),
    "tmax": ("tx tempmax maxtemp temperaturemax temperature2mmax maximumtemperature high",
             "Tmax [degC]"),
    "rhmax": ("humiditymax maxhumidity relativehumidity2mmax ux", "RHmax [%]"),
    "rhmin": ("humiditymin minhumidity relativehumidity2mmin un", "RHmin [%]"),
    "rhmean": ("rh humidity meanhumidity relativehumidity relativehumidity2mmean ug", "RH [%]"),
    "tdew": ("dewpoint dewpoint2mmean dew td", "Dew point [degC]"),
    "vapour_pressure": ("vaporpressure vapourpressure ea e", "e [kPa]"),
    "wind": ("windspeed windspeed10mmean meanwind u2 fg", "Wind [m/s]"),
    "sun": ("sunshine sunshineduration sunhours sq", "Sun [h]"),
    "radiation": ("solarradiation globalradiation shortwaveradiationsum rs q", "Rs [MJ/m2/day]"),
    "rain": ("precipitation rainfall precip precipitationsum rainsum", "Rain [mm]"),
}  # fmt: skip
WANTED: dict[str, Wanted] = {
    "date": Wanted("", "day datum datetime timestamp time yyyymmdd", "Date"),
    **{name: Wanted(WEATHER[name], *names) for name, names in _NAMES.items()},
}


class TableReport(NamedTuple):
    """What one table gave."""

    name: str
    rows: int  # that were read
    first: date | None
    last: date | None
    columns: Mapping[str, str]  # meaning: header with the unit that counted
    missing: int  # cells without a value
    traces: int  # rain too little to measure, counted as none


class Report(NamedTuple):
    """What was read, skipped and why."""

    tables: tuple[TableReport, ...]
    problems: list[Problem]  # remarks too
    gaps: list[tuple[date, date]]  # first and last day without any value, inside what was read
    repeated: int  # days that stand more than once, alike

    def lines(self) -> Iterator[str]:
        """The report for people, without the problems."""
        for table in self.tables:
            span = f", {table.first} to {table.last}" if table.first else ""
            yield f"{table.name}: {_count(table.rows, 'row')}{span}"
            if table.columns:
                yield "  columns: " + ", ".join(f"{k} = {v}" for k, v in table.columns.items())
            if table.missing or table.traces:
                yield f"  {_count(table.missing, 'empty cell')}, {_count(table.traces, 'trace')}"
        for first, last in self.gaps:
            days = (last - first).days + 1
            yield f"no weather {first}" + (f" to {last} ({days} days)" if days > 1 else "")
        if self.repeated:
            yield f"{_count(self.repeated, 'day')} more than once, alike"


def read_weather(folder: Path, setup: Setup) -> tuple[dict[date, WeatherDay], Report]:
    """The days that the pond's weather tables tell. Never raises: the report has the problems."""
    problems: list[Problem] = []
    tables = [read_table(folder / name, visible(name)) for name in _files(folder, setup, problems)]
    days, report = weather_of(tables, setup)
    return days, report._replace(problems=problems + report.problems)


def weather_of(tables: Sequence[Table], setup: Setup) -> tuple[dict[date, WeatherDay], Report]:
    """The days of these tables; how rows are spread over tables and ordered does not matter."""
    zone = ZoneInfo(setup.pond.time_zone)
    readings: list[Reading] = []
    reports, problems = [], []
    for table in tables:
        report, found = _read(table, setup, zone, readings)
        reports.append(report)
        problems += _capped(table.name, found)
    found = []
    days, repeated = days_of(readings, setup, zone, found)
    problems += _capped("weather", found)
    return days, Report(tuple(reports), problems, _gaps(days), repeated)


def _files(folder: Path, setup: Setup, problems: list[Problem]) -> list[str]:
    """The tables that pond.toml names, within the pond's folder."""
    names: set[str] = set()
    for pattern in setup.weather.files:
        path = PurePosixPath(pattern)
        if not path.parts or path.is_absolute() or ".." in path.parts:
            message = f"weather.files: {pattern} is not within the pond's folder: left out"
            problems.append(Problem("pond.toml", 0, 0, visible(message)))
            continue
        found = [p for p in folder.glob(pattern) if p.is_file() and not p.name.startswith(".")]
        names.update(path.relative_to(folder).as_posix() for path in found)
        if not found and not set("*?[") & set(pattern):
            problems.append(
                Problem(visible(pattern), 0, 0, "this table is not there", "", "remark")
            )
    return sorted(names)


# --- rows to readings -----------------------------------------------------------------------------


class _Reader(NamedTuple):
    """What the cells of a table are read with."""

    table: Table
    columns: dict[str, Column]
    rate: frozenset[str]
    missing: frozenset[str]
    codes: frozenset[float]  # the same as numbers: -9999 is written -9999.0 too
    counts: Counter[str]
    problems: list[Problem]


def _read(
    table: Table, setup: Setup, zone: ZoneInfo, readings: list[Reading]
) -> tuple[TableReport, list[Problem]]:
    """Add the readings of a table; its report and problems."""
    columns, problems = (
        find_columns(table, WANTED, setup.weather.columns) if table.header else ({}, [])
    )
    problems = table.problems + problems
    if table.header and ("date" not in columns or len(columns) < 2):
        message = "no column is known as a day" if "date" not in columns else "no column is known"
        problems.append(
            Problem(table.name, 0, 0, f"{message}: name it in [weather.columns], or with --map")
        )
        columns = {}
    missing = frozenset(text.strip().casefold() for text in setup.weather.missing) | NO_VALUE
    counts: Counter[str] = Counter()
    rate = frozenset(
        n for n, c in columns.items() if n == "radiation" and c.scale and c.scale.is_rate
    )
    reader = _Reader(table, columns, rate, missing, _codes(missing), counts, problems)
    found = list(_readings(reader, zone)) if columns else []
    readings += found
    dates = [reading.when.day for reading in found]
    report = TableReport(
        table.name,
        len(found),
        min(dates, default=None),
        max(dates, default=None),
        {name: column.header for name, column in columns.items()},
        counts["missing"],
        counts["traces"],
    )
    return report, problems


def _codes(texts: Iterable[str]) -> frozenset[float]:
    numbers = set()
    for text in texts:
        try:
            numbers.add(number_in(text, None))
        except ValueError:
            continue  # a word
    return frozenset(numbers)


def _readings(reader: _Reader, zone: ZoneInfo) -> Iterator[Reading]:
    table, dates = reader.table, reader.columns["date"]
    try:
        order = day_first(dates.moment(row.cells) for row in table.rows)
    except ValueError as error:
        reader.problems.append(table.fault(0, f"{error}: write days as 2026-06-03; table left out"))
        return
    for row in table.rows:
        try:
            when = when_in(dates.moment(row.cells), order, zone)
        except ValueError as error:
            reader.problems.append(table.fault(row.line, f"{error}; row left out", dates.place))
            continue
        yield Reading(when, _values(reader, row), reader.rate, table, row.line)


def _values(reader: _Reader, row: Row) -> dict[str, float]:
    """The values of a row that can be; the others are named."""
    values = {}
    for name, column in reader.columns.items():
        cell = row.cells[column.place].strip()
        if column.scale is None:
            continue
        if cell.casefold() in reader.missing:
            reader.counts["missing"] += 1
            continue
        if name == "rain" and cell.casefold() in TRACES:
            reader.counts["traces"] += 1
            values[name] = 0.0
            continue
        try:
            number = number_in(cell, reader.table.comma_is_decimal)
        except ValueError as error:
            _name_cell(reader, row, column, f"{name}: {error}")
            continue
        if number in reader.codes:
            reader.counts["missing"] += 1
            continue
        if number == -1 and name in ("rain", "sun") and column.scale.in_tenths:
            # KNMI writes -1 in its columns of tenths for less than half a tenth
            reader.counts["traces"] += name == "rain"
            number = 0.0
        value = column.scale.canonical(number) / KEPT[name].per_canonical
        wrong = out_of_range(name, value, HOUR_MJ if name in reader.rate else None)
        if wrong:
            _name_cell(reader, row, column, wrong)
        else:
            values[name] = value
    return values


def _name_cell(reader: _Reader, row: Row, column: Column, message: str) -> None:
    reader.problems.append(reader.table.fault(row.line, f"{message}; left out", column.place))


def _gaps(days: Mapping[date, WeatherDay]) -> list[tuple[date, date]]:
    """Days without any value between the first and the last one."""
    one = timedelta(1)
    return [(a + one, b - one) for a, b in pairwise(sorted(days)) if b - a > one]


def _capped(name: str, problems: list[Problem]) -> list[Problem]:
    """The first problems of a table, and how many more there are."""
    if len(problems) <= MOST_PROBLEMS:
        return problems
    more = len(problems) - MOST_PROBLEMS
    last = Problem(name, 0, 0, f"and {more} more of the kind: mend these and look again")
    return [*problems[:MOST_PROBLEMS], last]


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"
