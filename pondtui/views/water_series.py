"""What the charts of the water show, as plain numbers: one source for the screen and for paper."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.budget import Budget
from pondtui.pond.water.seasons import local_day, midnight
from pondtui.records import NamedTuple
from pondtui.views.water_units import heads, sums, volume
from pondtui.views.words import reading

DAY_S = 86_400
GAP_DAYS = 4.0  # readings further apart are not joined by a line
WEEK = 7
FEWEST_DAYS = 3.0  # of a week's falls, before they stand for it


class Point(NamedTuple):
    """A value at an instant."""

    instant: int
    value: float


class DayRow(NamedTuple):
    """A day as the charts and their table know it."""

    day: date
    reading_mm: float | None  # its last one
    rain_mm: float
    refill_l: float
    events: tuple[str, ...] = ()  # what happened, as the journal names it


class WeekRow(NamedTuple):
    """Measured and computed loss of a week, mm a day; None where too few falls stand for it."""

    first: date
    measured_mm: float | None
    computed_mm: float | None  # site factor x evaporation


class MonthRow(NamedTuple):
    """What came in and what left by known ways, litres."""

    name: str
    came_l: float
    left_l: float
    rest_l: float
    beyond: bool  # the rest is more than the errors allow


def days(found: Budget, setup: Setup, state: PondState, first: date, last: date) -> list[DayRow]:
    """Every day of a span, without gaps."""
    rain = {cell.day: cell.rain_mm for cell in found.cells}
    readings = {local_day(setup, r.instant): r.reading_mm for r in found.levels}
    refills: dict[date, float] = {}
    for x in state.additions:
        day = local_day(setup, x.instant)
        refills[day] = refills.get(day, 0.0) + x.litres
    events: dict[date, tuple[str, ...]] = {}
    for instant, what in state.events:
        day = local_day(setup, instant)
        events[day] = (*events.get(day, ()), what)
    span = (first + timedelta(n) for n in range((last - first).days + 1))
    return [
        DayRow(d, readings.get(d), rain.get(d, 0.0), refills.get(d, 0.0), events.get(d, ()))
        for d in span
    ]


def levels(found: Budget, setup: Setup, first: date, last: date) -> list[list[Point]]:
    """The readings in unbroken rows; where nobody read for days a gap stays."""
    since, until = midnight(setup, first), midnight(setup, last + timedelta(1))
    rows: list[list[Point]] = []
    for level in found.levels:
        if not since <= level.instant < until:
            continue
        point = Point(level.instant, level.reading_mm)
        if rows and point.instant - rows[-1][-1].instant <= GAP_DAYS * DAY_S:
            rows[-1].append(point)
        else:
            rows.append([point])
    return rows


def weeks(found: Budget, setup: Setup, first: date, last: date) -> list[WeekRow]:
    """Week by week; a fall counts in the week in which it ends."""
    falls = [fall for run in (found.loss.runs if found.loss else ()) for fall in run]
    rows = []
    start = first
    while start <= last:
        end = start + timedelta(WEEK)
        within = [f for f in falls if start <= local_day(setup, f.end.instant) < end]
        length = sum(f.days for f in within)
        if length >= FEWEST_DAYS:
            computed = found.losses.factor * sum(f.evaporated_mm for f in within)
            rows.append(WeekRow(start, sum(f.mm for f in within) / length, computed / length))
        else:
            rows.append(WeekRow(start, None, None))
        start = end
    return rows


def months(found: Budget) -> list[MonthRow]:
    """The periods of the budget that readings cover."""
    rows = []
    for period in found.periods:
        if period.terms.residual is not None:
            came, left = sums(period.terms)
            rows.append(
                MonthRow(period.name, came, left, period.terms.residual, period.unexplained)
            )
    return rows


def week_cells(setup: Setup, week: WeekRow) -> list[str]:
    """A week as texts."""
    values = (week.measured_mm, week.computed_mm)
    return [
        week.first.isoformat(),
        *("" if v is None else length(setup, v, 1 if _metric(setup) else 2) for v in values),
    ]


def day_cells(setup: Setup, day: DayRow) -> list[str]:
    """A day as texts; what was not is left empty."""
    read = "" if day.reading_mm is None else length(setup, day.reading_mm)
    rain = length(setup, day.rain_mm, 1 if _metric(setup) else 2) if day.rain_mm else ""
    refill = volume(setup, day.refill_l) if day.refill_l else ""
    return [day.day.isoformat(), read, rain, refill, ", ".join(day.events)]


def length(setup: Setup, mm: float, digits: int | None = None) -> str:
    """A length without its unit."""
    if _metric(setup):
        return f"{mm:.{digits or 0}f}"
    return f"{mm / 25.4:.{2 if digits is None else digits}f}"


def _metric(setup: Setup) -> bool:
    return setup.pond.units == "metric"


def at(found: Budget, setup: Setup, state: PondState, view: str, day: date, first: date) -> str:
    """What the charts show at a day, in words."""
    unit = "mm" if _metric(setup) else "in"
    if view == "loss":
        week = next(w for w in reversed(weeks(found, setup, first, day)) if w.first <= day)
        _, measured, computed = week_cells(setup, week)
        if not measured:
            return f"week from {week.first:%d %b}: too few falls without rain or refill"
        return f"week from {week.first:%d %b}: lost {measured}, by weather {computed} {unit} a day"
    if view == "months":
        for month in months(found):
            if month.name == f"{day:%Y-%m}":
                came, left, rest = (volume(setup, v) for v in month[1:4])
                return f"{month.name}: in {came}, out {left}, not explained {rest}"
        return f"{day:%Y-%m}: no readings"
    row = days(found, setup, state, day, day)[0]
    _, _, rain, refill, events = day_cells(setup, row)
    level = "not read" if row.reading_mm is None else f"level {reading(setup, row.reading_mm)}"
    return (f"{day:%a %d %b}: {level}, rain {rain or '0'} {unit}"
            + (f", refill {refill} {heads(setup).volume}" if refill else "")
            + (f", {events}" if events else ""))  # fmt: skip
