"""The rows of weather tables made days: every day once, hours summed, quarrels named."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from pondtui.books.cells import When
from pondtui.books.tables import Table
from pondtui.errors import Problem
from pondtui.pond.setup.model import Setup
from pondtui.pond.water.weather import (
    KEPT,
    SHARE_OF_DAY,
    WeatherDay,
    contradictions,
    of_hours,
    out_of_range,
)
from pondtui.records import NamedTuple


class Reading(NamedTuple):
    """A row's values, canonical, and where it stands."""

    when: When
    values: dict[str, float]
    means: frozenset[str]  # of radiation given as a rate
    table: Table
    line: int

    def fault(self, message: str) -> Problem:
        return self.table.fault(self.line, message)


def days_of(
    readings: Sequence[Reading], setup: Setup, zone: ZoneInfo, problems: list[Problem]
) -> tuple[dict[date, WeatherDay], int]:
    """Every day once; a row that speaks for a day goes before the hours of that day."""
    timed = [r for r in readings if r.when.minute is not None]
    moments = {(r.when.day, r.when.minute) for r in timed}
    by_hours = len({day for day, _ in moments}) < len(moments)
    daily = [r for r in readings if r.when.minute is None] if by_hours else readings
    repeated = 0
    values: dict[date, dict[str, float]] = {}
    places: dict[date, Reading] = {}
    if by_hours:
        repeated += _from_hours(timed, setup, zone, values, places, problems)
    grouped: dict[date, list[Reading]] = defaultdict(list)
    for reading in daily:
        grouped[reading.when.day].append(reading)
    for day, group in grouped.items():
        repeated += len(group) > 1
        values[day] = values.get(day, {}) | _agreed(str(day), group, problems)
        places[day] = group[0]
    days: dict[date, WeatherDay] = {}
    for day in sorted(values):
        kept = {KEPT[name].field: value for name, value in values[day].items()}
        weather, said = contradictions(WeatherDay(day, **kept), setup.pond.latitude)
        problems += [places[day].fault(f"{day}: {sentence}") for sentence in said]
        if any(value is not None for value in weather[1:]):
            days[day] = weather
    return days, repeated


def _agreed(what: str, group: list[Reading], problems: list[Problem]) -> dict[str, float]:
    """The values on which rows of one day or hour agree; where they differ none is right."""
    if len(group) == 1:
        return group[0].values
    seen: dict[str, set[float]] = defaultdict(set)
    for reading in group:
        for name, value in reading.values.items():
            seen[name].add(value)
    differ = [name for name, found in seen.items() if len(found) > 1]
    if differ:
        names = ", ".join(differ)
        where = ", ".join(f"{r.table.name}:{r.line}" for r in group[:3])
        message = f"{what} stands more than once ({where}) with different {names}: left out"
        problems.append(group[-1].fault(message))
    return {name: min(found) for name, found in seen.items() if len(found) == 1}


def _from_hours(
    timed: Sequence[Reading],
    setup: Setup,
    zone: ZoneInfo,
    values: dict[date, dict[str, float]],
    places: dict[date, Reading],
    problems: list[Problem],
) -> int:
    """Fill days from rows of hours, each row standing for the time from its stamp on."""
    hours, repeated = _each_once(timed, zone, problems)
    expected = _rows_a_day(hours)
    starts = {name: _minutes(setup.weather.day_starts) for name in KEPT}
    starts["rain"] = _minutes(setup.weather.rain_day_starts)
    found: dict[date, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    rates: set[str] = set()
    for reading, each in hours:
        rates |= reading.means
        for name, value in each.items():
            early = (reading.when.minute or 0) < starts[name]
            day = reading.when.day - timedelta(1) if early else reading.when.day
            found[day][name].append(value)
            places.setdefault(day, reading)
    for day, names in sorted(found.items()):
        values[day] = {}
        scarce = []
        for name, numbers in names.items():
            how = "mean" if name in rates else KEPT[name].of_hours
            if len(numbers) < SHARE_OF_DAY * expected:
                scarce.append(f"{name} ({len(numbers)} of {expected:.0f})")
                continue
            value = of_hours(numbers, how)
            wrong = out_of_range(name, value)
            if wrong:
                problems.append(places[day].fault(f"{day}: {wrong}; left out"))
            else:
                values[day][name] = value
        if scarce:
            message = f"{day}: too few rows for a day, left out: {', '.join(scarce)}"
            problems.append(places[day].fault(message)._replace(severity="remark"))
    return repeated


def _each_once(
    timed: Sequence[Reading], zone: ZoneInfo, problems: list[Problem]
) -> tuple[list[tuple[Reading, dict[str, float]]], int]:
    """Every hour once. In the night in which clocks go back an hour may stand there twice."""
    grouped: dict[tuple[date, int, int | None], list[Reading]] = defaultdict(list)
    for reading in timed:
        when = reading.when
        grouped[when.day, when.minute or 0, when.fold].append(reading)
    once = []
    repeated = 0
    for (day, minute, fold), group in sorted(grouped.items(), key=lambda item: item[0][:2]):
        if len(group) == 2 and fold is None and _twice(day, minute, zone):
            once += [(reading, reading.values) for reading in group]
            continue
        repeated += len(group) > 1
        what = f"{day} {minute // 60:02}:{minute % 60:02}"
        once.append((group[0], _agreed(what, group, problems)))
    return once, repeated


def _twice(day: date, minute: int, zone: ZoneInfo) -> bool:
    """Whether the clock shows this time twice."""
    first = datetime(day.year, day.month, day.day, minute // 60, minute % 60, tzinfo=zone)
    return first.utcoffset() != first.replace(fold=1).utcoffset()


def _rows_a_day(hours: Sequence[tuple[Reading, dict[str, float]]]) -> float:
    """How many rows a whole day has: by the step that most neighbours have."""
    moments = sorted({r.when.day.toordinal() * 1440 + (r.when.minute or 0) for r, _ in hours})
    steps = Counter(later - earlier for earlier, later in pairwise(moments))
    step = min(steps, key=lambda s: (-steps[s], s))
    return 1440 / step


def _minutes(clock: str) -> int:
    hour, _, minute = clock.partition(":")
    return int(hour) * 60 + int(minute)
