"""The log of a level sensor, thermometer or flow meter, as entries for the journal."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, tzinfo
from zoneinfo import ZoneInfo

from pondtui.books.cells import NO_VALUE, When, day_first, number_in, when_in
from pondtui.books.lines import make
from pondtui.books.mapping import Column, Wanted, find_columns
from pondtui.books.stamps import FIRST_YEAR
from pondtui.books.tables import Table
from pondtui.errors import Problem
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.water.sensors import (
    TEMPERATURE,
    Left,
    Sample,
    level_rule,
    pourings,
    worth,
)
from pondtui.records import NamedTuple

FUTURE_S = 120  # a sensor's clock may run ahead by so much
COLUMNS: dict[str, Wanted] = {
    "time": Wanted("", "datetime timestamp date datum zeit when", "Time"),
    "level": Wanted("length", "waterlevel reading gauge", "Level [mm]"),
    "temp": Wanted("temperature", "temperature watertemperature watertemp", "Water [degC]"),
    "meter": Wanted("volume", "total volume counter pulses flowtotal", "Total [L]"),
}
NAMES = {"level": "level sensor", "temp": "thermometer", "meter": "flow meter"}  # for `by`


class Sensor(NamedTuple):
    """What the keeper says of a sensor."""

    by: str = ""  # empty: the name that NAMES has
    where: str = "pond"  # of a thermometer: pond, tap or a barrel
    barrel: str = ""  # of a flow meter: what it fills; empty: straight into the pond
    source: str = "tap"  # of a flow meter
    offset_mm: float = 0.0  # of a level sensor: added to what it says
    turned: bool = False  # of a level sensor: it counts the other way than the gauge


class Log(NamedTuple):
    """What a log gives."""

    entries: list[Entry]  # in the order of time
    problems: list[Problem]
    rows: int
    first: int | None  # instants of the rows
    last: int | None
    columns: Mapping[str, str]  # meaning: header with its unit


def read_log(table: Table, given: Mapping[str, str], sensor: Sensor, setup: Setup, now: int) -> Log:
    """The entries that a log is worth. Never raises.

    `given` names columns by meaning, as `find_columns` takes them; else they are guessed.
    """
    zone = ZoneInfo(setup.pond.time_zone)
    problems = list(table.problems)
    columns: dict[str, Column] = {}
    if table.header:
        guessed, _ = find_columns(table, COLUMNS, {})
        columns, found = find_columns(table, COLUMNS, given)
        problems += [problem._replace(severity="problem") for problem in found]
        if "time" in guessed and "time" not in given:
            columns["time"] = guessed["time"]
        if "time" not in columns or len(columns) < 2:
            message = "no column is known as a time and one as level, temp or meter: use --map"
            problems.append(Problem(table.name, 0, 0, message))
            columns = {}
    times = _times(table, columns["time"], zone, now, problems) if columns else {}
    entries: list[Entry] = []
    for name, column in columns.items():
        if column.scale is not None:
            samples = _samples(table, name, column, times, setup, problems)
            left: list[Left] = []
            entries += _KINDS[name](samples, sensor, setup, zone, left)
            problems += [table.fault(e.line, f"{name}: {e.why}") for e in left]
    entries.sort(key=lambda entry: entry.order)
    return Log(
        entries,
        problems,
        len(times),
        min(times.values(), default=None),
        max(times.values(), default=None),
        {name: columns[name].header for name in COLUMNS if name in columns},
    )


def key_of(entry: Entry) -> tuple[int, str, str, str]:
    """By what an entry of a sensor is known: a second import finds it there, struck or not."""
    place = entry.fields.get("barrel") or entry.fields.get("where") or ""
    return entry.instant, entry.kind, entry.fields.get("by", ""), place


# --- rows to samples ------------------------------------------------------------------------------


def _times(
    table: Table, column: Column, zone: ZoneInfo, now: int, problems: list[Problem]
) -> dict[int, int]:
    """The instant of each row by its line."""
    times: dict[int, int] = {}
    seen: set[When] = set()
    try:
        order = day_first(column.moment(row.cells) for row in table.rows)
    except ValueError as error:
        problems.append(table.fault(0, f"{error}: write times as 2026-06-03 07:42; log left out"))
        return {}
    for row in table.rows:
        text = column.moment(row.cells)
        try:
            when = when_in(text, order, zone)
        except ValueError as error:
            problems.append(table.fault(row.line, f"{error}; row left out", column.place))
            continue
        # Where clocks go back a time stands there twice: the second one is an hour later.
        fold = when.fold if when.fold is not None else int(when in seen)
        seen.add(when)
        instant = _instant(when, fold, zone)
        if why := _no_time(when, instant, now):
            message = f"{text.strip()[:40]}: {why}; row left out"
            problems.append(table.fault(row.line, message, column.place))
        else:
            times[row.line] = instant
    return times


def _no_time(when: When, instant: int, now: int) -> str:
    """Why a sensor cannot have measured then; "" where it can."""
    if when.day.year < FIRST_YEAR:
        return "the sensor's clock was not set"
    if when.minute is None:
        return "the time of day is missing"
    return "it lies in the future" if instant > now + FUTURE_S else ""


def _instant(when: When, fold: int, zone: ZoneInfo) -> int:
    hour, minute = divmod(when.minute or 0, 60)
    day = when.day
    moment = datetime(day.year, day.month, day.day, hour, minute, when.second, tzinfo=zone)
    return int(moment.replace(fold=fold).timestamp())


def _samples(
    table: Table,
    name: str,
    column: Column,
    times: Mapping[int, int],
    setup: Setup,
    problems: list[Problem],
) -> list[Sample]:
    """A column's values in the order of time; what is none is named, what is missing is not."""
    missing = {text.strip().casefold() for text in setup.weather.missing} | NO_VALUE
    samples = []
    for row in table.rows:
        cell = row.cells[column.place].strip()
        if row.line not in times or cell.casefold() in missing or column.scale is None:
            continue
        try:
            number = number_in(cell, table.comma_is_decimal)
        except ValueError as error:
            message = f"{name}: {error}; left out"
            problems.append(table.fault(row.line, message, column.place))
            continue
        samples.append(Sample(times[row.line], column.scale.canonical(number), row.line))
    return sorted(samples)


# --- samples to entries ---------------------------------------------------------------------------


def _levels(
    samples: list[Sample], sensor: Sensor, setup: Setup, zone: tzinfo, left: list[Left]
) -> Iterator[Entry]:
    sign = -1 if sensor.turned else 1
    read = [s._replace(value=sign * s.value + sensor.offset_mm) for s in samples]
    for sample in worth(read, level_rule(setup.gauge.error_mm), zone, left):
        fields = {"reading": f"{_text(sample.value)} mm"}
        yield _entry("level", fields, "level", sensor, sample.instant, sample.line, zone)


def _temperatures(
    samples: list[Sample], sensor: Sensor, _setup: Setup, zone: tzinfo, left: list[Left]
) -> Iterator[Entry]:
    for sample in worth(samples, TEMPERATURE, zone, left):
        fields = {"where": sensor.where, "temp": f"{_text(sample.value)} degC"}
        yield _entry("test", fields, "temp", sensor, sample.instant, sample.line, zone)


def _pourings(
    samples: list[Sample], sensor: Sensor, _setup: Setup, zone: tzinfo, left: list[Left]
) -> Iterator[Entry]:
    for poured in pourings(samples, left):
        litres = f"{_text(poured.litres)} L"
        if sensor.barrel:
            fields = {"barrel": sensor.barrel, "added": litres, "source": sensor.source}
            fields["meter"] = f"{_text(poured.total_l)} L"
            yield _entry("fill", fields, "meter", sensor, poured.instant, poured.line, zone)
        else:
            fields = {"volume": litres, "source": sensor.source}
            yield _entry("direct", fields, "meter", sensor, poured.instant, poured.line, zone)


_KINDS: dict[str, Callable[[list[Sample], Sensor, Setup, tzinfo, list[Left]], Iterator[Entry]]] = {
    "level": _levels,
    "temp": _temperatures,
    "meter": _pourings,
}


def _entry(
    kind: str,
    fields: dict[str, str],
    name: str,
    sensor: Sensor,
    instant: int,
    line: int,
    zone: tzinfo,
) -> Entry:
    entry = make(kind, fields | {"by": sensor.by or NAMES[name]}, "", instant, zone, None)
    entry.line = line
    return entry


def _text(value: float) -> str:
    """A value to a tenth, the same for the same row whatever stands around it."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text
