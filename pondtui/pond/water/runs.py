"""Unbroken runs of level readings, each fall with the evaporation that the weather explains.

A run breaks wherever something else moved the water; what is left out is listed with its reason.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import groupby, pairwise
from math import sqrt

from pondtui import units
from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.shapes import bottom_mm
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.evaporated import Spread
from pondtui.pond.water.evaporation import DayEvaporation
from pondtui.pond.water.levels import area_m2_at, drop_mm, floating, open_area_m2, reading_up
from pondtui.pond.water.rained import RAIN_MM, Rained, RainSpan, rained
from pondtui.records import NamedTuple

DAY_S = 86_400
TOGETHER_S = 60  # two readings within a minute are one look
LEAST_H, MOST_H = 20.0, 28.0  # a day between readings, or so many days and this much
JUMP_ERRORS = 5 * sqrt(2)  # of the gauge, for the difference of two readings
JUMP_MM = 6.0  # a day may well lose this much more than another
MOST_DAYS = 14.0  # between readings: for longer nobody knows what else happened
MISREAD_MM = 100.0  # a level cannot stand this far above the spill edge


class Fall(NamedTuple):
    """What the level did between two readings of one run."""

    start: Level
    end: Level
    mm: float  # how far it fell, small rain added
    days: float
    evaporated_mm: float  # computed, from every surface that this level feeds
    tier: str  # the poorest weather of its days
    even: bool  # about a whole number of days, so that day and night count alike
    readers: tuple[str, str]  # who read the gauge at its start and at its end; "" where not said


class LeftOut(NamedTuple):
    """Readings that do not count, and why."""

    since: int
    until: int
    reason: str


class Runs(NamedTuple):
    """What the estimate is made of."""

    runs: tuple[tuple[Fall, ...], ...] = ()
    left_out: tuple[LeftOut, ...] = ()


def unbroken_runs(
    setup: Setup,
    state: PondState,
    evaporation: Mapping[date, DayEvaporation],
    since: int,
    until: int,
    table_rain: Iterable[RainSpan] = (),
) -> Runs:
    """Runs between two instants, both included. Raises InputError where no basin floats."""
    out: list[LeftOut] = []
    state = state.within(since - 2 * DAY_S, until)  # a rain speaks for a day at most
    found = [r for r in state.levels if since <= r.instant]
    levels = _possible(setup, _one_look(setup, found, out), out)
    if len(levels) < 2:
        return Runs((), tuple(sorted(out)))
    rain = rained(state, levels, table_rain)
    spread = Spread(setup, evaporation, [r.instant for r in levels])
    causes = _causes(setup, state, levels, rain)
    _jumps(setup, levels, causes)
    causes = [cause or spread.lacking(i, i + 1) for i, cause in enumerate(causes)]
    out += _told(levels, causes)
    runs = []
    for first, last in _stretches(causes):
        kept = _a_day_apart(levels, first, last)
        if len(kept) > 1:
            pairs = pairwise(kept)
            runs.append(tuple(_fall(setup, levels, a, b, rain, spread) for a, b in pairs))
    return Runs(tuple(runs), tuple(sorted(out)))


def _told(levels: Sequence[Level], causes: Sequence[str]) -> Iterable[LeftOut]:
    """What the causes leave out, neighbours of one cause as one."""
    for cause, places in groupby(range(len(causes)), key=causes.__getitem__):
        first, *rest = places
        if cause:
            last = rest[-1] if rest else first
            yield LeftOut(levels[first].instant, levels[last + 1].instant, cause)


def _one_look(setup: Setup, levels: Sequence[Level], out: list[LeftOut]) -> list[Level]:
    """Of readings within a minute the last; none where they contradict each other."""
    looks: list[list[Level]] = []
    for level in levels:
        if looks and level.instant - looks[-1][0].instant < TOGETHER_S:
            looks[-1].append(level)
        else:
            looks.append([level])
    kept = []
    for look in looks:
        readings = [r.reading_mm for r in look]
        if max(readings) - min(readings) > JUMP_ERRORS * setup.gauge.error_mm:
            said = " and ".join(_shown(setup, mm) for mm in readings)
            reason = f"readings within a minute that contradict each other: {said}"
        else:
            reason = "several readings within a minute: the last one counts"
            kept.append(look[-1])
        if len(look) > 1:
            out.append(LeftOut(look[0].instant, look[-1].instant, reason))
    return kept


def _possible(setup: Setup, levels: Sequence[Level], out: list[LeftOut]) -> list[Level]:
    """The readings that this pond can show."""
    if not levels:
        return []
    basin = floating(setup, _day(levels[-1]))
    bottom = bottom_mm(basin)
    top = min((drop_mm(setup, basin, m.reading_mm) for m in setup.marks_of("spill")), default=0.0)
    kept = []
    for level in levels:
        drop = drop_mm(setup, basin, level.reading_mm)
        if drop < bottom and drop > top - MISREAD_MM:
            kept.append(level)
            continue
        where = "at or below the bottom" if drop >= bottom else "far above the rim"
        reason = f"a reading of {_shown(setup, level.reading_mm)} lies {where} of the pond"
        out.append(LeftOut(level.instant, level.instant, reason))
    return kept


def _causes(
    setup: Setup, state: PondState, levels: Sequence[Level], rain: Sequence[Rained]
) -> list[str]:
    """Why the fall between two readings says nothing of the loss; "" where it does."""
    units_of = setup.pond.units
    spills = [reading_up(setup, m.reading_mm) for m in setup.marks_of("spill")]
    times = [r.instant for r in levels]
    found = [""] * (len(levels) - 1)
    for i, (a, b) in enumerate(pairwise(levels)):
        wet = max(rain[i].mm, rain[i].met_mm)
        if spills and max(reading_up(setup, r.reading_mm) for r in (a, b)) >= min(spills):
            found[i] = "the water stood at its spill edge"
        elif b.instant - a.instant > MOST_DAYS * DAY_S:
            found[i] = "no reading for more than two weeks"
        elif a.pump and b.pump and a.pump != b.pump:
            found[i] = "the pump was switched"
        elif wet > RAIN_MM:
            found[i] = f"{units.show(wet, 'rain', units_of)} of rain"

    def within(instant: int) -> bool:
        return times[0] < instant <= times[-1]

    moved = [(x.instant, f"{units.show(x.litres, 'volume', units_of)} put in")
             for x in state.additions if within(x.instant)]  # fmt: skip
    moved += [(t, f"{units.show(v, 'volume', units_of)} taken out")
              for t, v in state.drained if within(t)]  # fmt: skip
    moved += [(t, what.replace("-", " ")) for t, what in state.disturbances if within(t)]
    for when, what in moved[::-1]:
        found[bisect_left(times, when) - 1] = what
    return found


def _jumps(setup: Setup, levels: Sequence[Level], causes: list[str]) -> None:
    """Name what neither weather nor a steady loss does: a reading that jumps and comes back, or
    a level that is suddenly another one."""
    up = [reading_up(setup, r.reading_mm) for r in levels]
    days = [max((b.instant - a.instant) / DAY_S, 0.01) for a, b in pairwise(levels)]
    falls = [a - b for a, b in pairwise(up)]
    calm = [i for i, cause in enumerate(causes) if not cause]
    if not calm:
        return
    rates = sorted(falls[i] / days[i] for i in calm if days[i] >= LEAST_H / 24)
    middle = len(rates) // 2
    usual = max((rates[middle] + rates[~middle]) / 2, 0.0) if rates else 0.0
    limit = JUMP_ERRORS * setup.gauge.error_mm + JUMP_MM
    excess = {i: falls[i] - usual * days[i] for i in calm}
    far = {i: e for i, e in excess.items() if abs(e) > limit * max(1.0, days[i]) ** 0.5}
    for i, e in far.items():
        if causes[i]:
            continue
        when = _shown(setup, levels[i + 1].reading_mm)
        if i + 1 in excess and abs(e + excess[i + 1]) < limit:
            causes[i] = causes[i + 1] = f"the reading of {when} jumps and comes back"
        else:
            way = "rose" if falls[i] < 0 else "fell"
            by = units.show(abs(falls[i]), "length", setup.pond.units, rule=True)
            causes[i] = f"the level {way} by {by} and nothing is written down that does it"


def _stretches(causes: Sequence[str]) -> Iterable[tuple[int, int]]:
    """First and last reading of every stretch in which nothing else moved the water."""
    first = 0
    for i, cause in enumerate((*causes, "end")):
        if cause:
            if i > first:
                yield first, i
            first = i + 1


def _a_day_apart(levels: Sequence[Level], first: int, last: int) -> list[int]:
    """Readings of a stretch that lie at least about a day apart, the nearest to it first."""
    kept = [first]
    for i in range(first + 1, last + 1):
        if levels[i].instant - levels[kept[-1]].instant >= LEAST_H * 3600:
            kept.append(i)
    return kept


def _fall(
    setup: Setup,
    levels: Sequence[Level],
    start: int,
    end: int,
    rain: Sequence[Rained],
    spread: Spread,
) -> Fall:
    a, b = levels[start], levels[end]
    day = _day(a)
    area = area_m2_at(setup, a.reading_mm, day)
    surfaces = open_area_m2(setup, a.reading_mm, day) / area
    fell = reading_up(setup, a.reading_mm) - reading_up(setup, b.reading_mm)
    fell += sum(r.mm for r in rain[start:end]) * surfaces
    # with the pump off the basins above are not filled up: they lose their own water
    fed = 1.0 if "off" in (a.pump, b.pump) else surfaces
    days = (b.instant - a.instant) / DAY_S
    even = LEAST_H <= (days * 24 - LEAST_H) % 24 + LEAST_H <= MOST_H
    evaporated = spread.mm(start, end) * fed
    readers = (_reader(a), _reader(b))
    return Fall(a, b, fell, days, evaporated, spread.tier(start, end), even, readers)


def _reader(level: Level) -> str:
    return "" if level.entry is None else str(level.entry.get("by") or "")


def _day(level: Level) -> date:
    return date.fromordinal(level.instant // DAY_S + 719_163)  # within a day of the local one


def _shown(setup: Setup, mm: float) -> str:
    return units.show(mm, "length", setup.pond.units, rule=True)
