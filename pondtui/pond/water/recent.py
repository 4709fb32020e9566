"""What the pond loses a day by its last readings, how sure that is, and which mark comes next.

Only a glance: it parts no weather from leaks. Readings, water put in, water drained and small rain
count; an interval in which something else moved the level is left out, and said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from itertools import pairwise
from math import ceil, sqrt
from zoneinfo import ZoneInfo

from pondtui import units
from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.levels import area_m2_at, open_area_m2, reading_after, reading_up
from pondtui.records import NamedTuple
from pondtui.science.trends import SURE

DAY_S = 86_400
WINDOW_S = int(8.5 * DAY_S)  # eight days of readings taken at about the same hour
FEWEST_DAYS = 2.0  # under that the readings' error hides an ordinary loss
RAIN_MM = 2.0  # more in an interval: a gauge under-catches, edges run in
RAIN_LATE_S = 3600  # the gauge is read on the same round as the level
ADDED_ERROR = 0.05  # of the litres put in, with the survey's own error: common practice, no source


class Recent(NamedTuple):
    """Loss a day; None where the readings cannot carry it, with how many more are needed."""

    loss_mm_per_day: float | None
    error_mm_per_day: float | None  # half the 95 % interval; None without one usable interval
    days: float  # that count
    readings: int  # that count
    left_out: tuple[str, ...] = ()
    more_readings: int = 0  # one a day


class Ahead(NamedTuple):
    """A mark below the water. Days from now, 0 when it may be there already, None for never."""

    name: str
    role: str
    reading_mm: float
    below_mm: float
    days_low: float | None
    days_mid: float | None
    days_high: float | None


class _Interval(NamedTuple):
    start: Level
    end: Level
    gained_mm: float  # by litres and rain, known ones
    litres_mm: float  # the size of what litres did, whichever way
    disturbed: str  # why it does not count


class _Rain(NamedTuple):
    since: int  # earliest that it may have fallen
    until: int
    mm: float


def recent_loss(setup: Setup, state: PondState) -> Recent:
    """Loss a day from the readings of the last eight days or so.

    In each unbroken run of readings a line is fitted to the level less what is known to have been
    put in; the runs share the slope. The error is that of independent readings about these lines,
    so that a reading which two falls share is not counted twice.
    """
    day = _local(setup, state.now).date()
    since = state.now - WINDOW_S
    state = state.within(since - 2 * DAY_S, state.now)  # a rain speaks for a day at most
    levels = [r for r in state.levels if since <= r.instant <= state.now]
    if setup.floating(day) is None or not levels:
        return Recent(None, None, 0.0, 0, (), ceil(FEWEST_DAYS) + 1)
    pairs = pairwise(levels)
    rains = _rains(state, levels)
    intervals = [
        _interval(setup, state, rains, a, b, day) for a, b in pairs if b.instant > a.instant
    ]
    usable = [i for i in intervals if not i.disturbed]
    days = sum(i.end.instant - i.start.instant for i in usable) / DAY_S
    runs = list(_runs(setup, intervals))
    readings = sum(len(run) for run in runs)
    said = tuple(_told(setup, i) for i in intervals if i.disturbed)
    if not usable:
        return Recent(None, None, 0.0, 0, said, ceil(FEWEST_DAYS))
    slope, error = _fit(runs, setup.gauge.error_mm)
    put_in = ADDED_ERROR * sqrt(sum(i.litres_mm**2 for i in usable)) / days
    error = SURE * sqrt(error**2 + put_in**2)
    if days < FEWEST_DAYS - 0.1:  # the hour of the reading wanders a little
        return Recent(None, error, days, readings, said, max(ceil(FEWEST_DAYS - days - 0.1), 1))
    return Recent(slope, error, days, readings, said)


def _interval(
    setup: Setup, state: PondState, rains: Sequence[_Rain], a: Level, b: Level, day: date
) -> _Interval:
    """What is known to have moved the level between two readings."""
    ins = [x.litres for x in state.additions if a.instant < x.instant <= b.instant]
    outs = [litres for when, litres in state.drained if a.instant < when <= b.instant]
    after = reading_after(setup, a.reading_mm, sum(ins) - sum(outs), day)
    moved = reading_up(setup, after) - reading_up(setup, a.reading_mm)
    area = area_m2_at(setup, a.reading_mm, day)
    if area <= 0:
        return _Interval(a, b, 0.0, 0.0, "the pond was dry")
    caught = sum(r.mm for r in rains if a.instant < r.until <= b.instant)
    caught *= open_area_m2(setup, a.reading_mm, day) / area
    sizes = (sum(ins) + sum(outs)) / area
    return _Interval(a, b, moved + caught, sizes, _disturbed(setup, state, rains, a, b))


def _rains(state: PondState, levels: Sequence[Level]) -> list[_Rain]:
    """When each rain may have fallen: since the entry before it, a day at most; what is written
    down within an hour of a reading fell before that reading."""
    found, before = [], 0
    for when, mm in state.rain:
        read = [r.instant for r in levels if when - RAIN_LATE_S <= r.instant <= when]
        found.append(_Rain(max(before, when - DAY_S), max(read, default=when), mm))
        before = when
    return found


def _disturbed(setup: Setup, state: PondState, rains: Sequence[_Rain], a: Level, b: Level) -> str:
    """Why the fall between two readings says nothing of the loss; "" when it does."""
    for when, what in state.disturbances:
        if a.instant < when <= b.instant:
            return what.replace("-", " ")
    if a.pump and b.pump and a.pump != b.pump:
        return "the pump was switched"
    wet = sum(r.mm for r in rains if _fell(r, a.instant, b.instant))
    if wet > RAIN_MM:
        return f"{units.show(wet, 'rain', setup.pond.units)} of rain"
    return ""


def _fell(rain: _Rain, start: int, end: int) -> bool:
    """Whether it counts for this interval: heavy rain spoils every one that it may have met."""
    if start < rain.until <= end:
        return True
    return rain.mm > RAIN_MM and max(rain.since + RAIN_LATE_S, start) < min(rain.until, end)


def _runs(setup: Setup, intervals: Iterable[_Interval]) -> Iterable[list[tuple[float, float]]]:
    """Unbroken runs as points (day, mm lost since the run began)."""
    run: list[tuple[float, float]] = []
    for interval in intervals:
        if interval.disturbed:
            if run:
                yield run
            run = []
            continue
        if not run:
            run = [(interval.start.instant / DAY_S, 0.0)]
        fall = reading_up(setup, interval.start.reading_mm) - reading_up(
            setup, interval.end.reading_mm
        )
        run.append((interval.end.instant / DAY_S, run[-1][1] + fall + interval.gained_mm))
    if run:
        yield run


def _fit(runs: Sequence[Sequence[tuple[float, float]]], error_mm: float) -> tuple[float, float]:
    """Slope b shared by several runs, and its standard error s.

    Source: least squares with one intercept a run (analysis of covariance), e.g. Snedecor &
        Cochran, Statistical Methods, ch. on covariance, from memory.
    Arguments: runs of points (day, mm), two or more of different days in one run at least;
        error_mm, standard error of a reading [mm] >= 0.
    Returns: b, s [mm/day].
    Formula: b = sum (x - xm)(y - ym) / sum (x - xm)^2 within runs; s = e / sqrt(sum (x - xm)^2),
        e the larger of the gauge's error and the scatter about the lines.
    Limits: readings are taken as independent of each other; a steady loss over the days. Raises
        ZeroDivisionError for runs without two different days.
    """
    sxx = sxy = syy = 0.0
    free = -1
    for run in runs:
        xm = sum(x for x, _ in run) / len(run)
        ym = sum(y for _, y in run) / len(run)
        sxx += sum((x - xm) ** 2 for x, _ in run)
        sxy += sum((x - xm) * (y - ym) for x, y in run)
        syy += sum((y - ym) ** 2 for _, y in run)
        free += len(run) - 1
    slope = sxy / sxx
    scatter = sqrt(max(syy - slope * sxy, 0.0) / free) if free > 0 else 0.0
    return slope, max(error_mm, scatter) / sqrt(sxx)


def believed_mm(setup: Setup, state: PondState, day: date) -> float | None:
    """The gauge as it should read with the water put in and drained since the last reading."""
    level = state.level
    if level is None or setup.floating(day) is None:
        return None
    since = sum(a.litres for a in state.additions if a.instant > level.instant)
    since -= sum(litres for when, litres in state.drained if when > level.instant)
    return reading_after(setup, level.reading_mm, since, day) if since else level.reading_mm


def marks_ahead(setup: Setup, state: PondState, recent: Recent) -> tuple[Ahead, ...]:
    """The marks below the water, the nearest first; a spill edge is none to fall to."""
    reading = believed_mm(setup, state, _local(setup, state.now).date())
    if reading is None or state.level is None:
        return ()
    age = (state.now - state.level.instant) / DAY_S
    found = [_ahead(setup, mark, reading, age, recent) for mark in setup.marks]
    below = [a for a in found if a.role != "spill" and a.below_mm > 0]
    return tuple(sorted(below, key=lambda a: a.below_mm))


def next_mark(setup: Setup, state: PondState, recent: Recent) -> Ahead | None:
    """The mark that the falling water comes to first."""
    return next(iter(marks_ahead(setup, state, recent)), None)


def _ahead(setup: Setup, mark: Mark, reading: float, age: float, recent: Recent) -> Ahead:
    below = reading_up(setup, reading) - reading_up(setup, mark.reading_mm)
    loss, error = recent.loss_mm_per_day, recent.error_mm_per_day or 0.0
    rates = (None, None, None) if loss is None else (loss + error, loss, loss - error)
    low, mid, high = (_days(below, rate, age) for rate in rates)
    return Ahead(mark.name, mark.role, mark.reading_mm, below, low, mid, high)


def _days(below_mm: float, mm_per_day: float | None, age: float) -> float | None:
    if mm_per_day is None or mm_per_day <= 0:
        return None
    return max(below_mm / mm_per_day - age, 0.0)


def _local(setup: Setup, instant: int) -> datetime:
    return datetime.fromtimestamp(instant, UTC).astimezone(ZoneInfo(setup.pond.time_zone))


def _told(setup: Setup, interval: _Interval) -> str:
    start, end = (_local(setup, r.instant) for r in (interval.start, interval.end))
    until = f"{end:%H:%M}" if end.date() == start.date() else f"{end:%Y-%m-%d %H:%M}"
    return f"{start:%Y-%m-%d %H:%M} to {until}: {interval.disturbed}"
