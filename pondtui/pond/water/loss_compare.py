"""Where the steady loss changes: about an event, above a mark, on a day nobody wrote down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime
from itertools import accumulate
from math import hypot, sqrt
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.model import Level
from pondtui.pond.water.levels import reading_up
from pondtui.pond.water.loss_model import (
    CONFIDENCE,
    SITE,
    STEADY,
    Allowance,
    Interval,
    Parts,
    Split,
    interval,
    split,
    student,
)
from pondtui.pond.water.runs import Fall, Runs
from pondtui.records import NamedTuple
from pondtui.science.loss_checks import steps, sure_step
from pondtui.science.trends import theil_sen

OTHER = STEADY + 1  # place of the second steady part where there are two
REGIME_DAYS = 14.0  # of readings on both sides of a change
LEAST_DAYS = 3.0  # on both sides of an event, and above and below a mark
PLAIN_FALLS = 400  # Theil-Sen looks at every pair


class Around(NamedTuple):
    """The steady loss before and after an event, at one site factor."""

    before: Interval
    after: Interval
    difference: Interval  # after less before, mm/day


class Seeping(NamedTuple):
    """The steady loss with the water above and below a seep mark, at one site factor."""

    mark: str
    above: Interval
    below: Interval
    difference: Interval  # above less below, mm/day


class Influence(NamedTuple):
    """The reading that moves the steady loss most."""

    level: Level
    shift_mm_per_day: float  # of the steady loss without it


def around(setup: Setup, runs: Runs, event: int, allowance: Allowance) -> Around | None:
    """Before and after an instant; None where one side has too few readings."""

    def sides(fall: Fall) -> tuple[float, float]:
        start, end = fall.start.instant, fall.end.instant
        before = min(max((event - start) / (end - start), 0.0), 1.0)
        return fall.days * before, fall.days * (1 - before)

    found = _two_parts(setup, runs, allowance, sides)
    if found is None:
        return None
    before, after, less = found
    return Around(before, after, Interval(-less.value, -less.high, -less.low))


def seeping(setup: Setup, runs: Runs, allowance: Allowance) -> Iterator[Seeping]:
    """Above and below each seep mark that the water has stood on both sides of."""
    for mark in setup.marks_of("seep"):
        found = _two_parts(setup, runs, allowance, _above_and_below(setup, mark))
        if found is not None:
            yield Seeping(mark.name, *found)


def _above_and_below(setup: Setup, mark: Mark) -> Parts:
    edge = reading_up(setup, mark.reading_mm)

    def sides(fall: Fall) -> tuple[float, float]:
        start = reading_up(setup, fall.start.reading_mm) - edge
        end = reading_up(setup, fall.end.reading_mm) - edge
        above = max(start, 0.0) + max(end, 0.0)
        share = above / (above - min(start, 0.0) - min(end, 0.0)) if start or end else 0.5
        return fall.days * share, fall.days * (1 - share)

    return sides


def _two_parts(
    setup: Setup, runs: Runs, allowance: Allowance, parts: Parts
) -> tuple[Interval, Interval, Interval] | None:
    """Two steady parts and the first less the second; None with too few days of either."""
    days = [parts(fall) for run in runs.runs for fall in run]
    if min((sum(side) for side in zip(*days, strict=True)), default=0.0) < LEAST_DAYS:
        return None
    found = split(setup, runs, allowance, parts)
    if found is None:
        return None
    fit = found.fit
    cov = fit.covariance
    value = fit.values[STEADY] - fit.values[OTHER]
    se = sqrt(cov[STEADY][STEADY] + cov[OTHER][OTHER] - 2 * cov[STEADY][OTHER])
    wide = _seasonal(found, [side[0] for side in map(parts, found.falls)], allowance)
    half = hypot(student(fit) * se, wide)
    # each part alone trades with the site factor over its own days
    one = interval(fit, STEADY, found.allowance_mm)
    other = interval(fit, OTHER, found.allowance_mm)
    return one, other, Interval(value, value - half, value + half)


def _seasonal(found: Split, first: Sequence[float], allowance: Allowance) -> float:
    """How far a difference may be off [mm/day] since a share of the evaporation is not right: only
    what the two parts do not have in common counts."""
    one = sum(f.evaporated_mm * d / f.days for f, d in zip(found.falls, first, strict=True))
    total, days = sum(f.evaporated_mm for f in found.falls), sum(f.days for f in found.falls)
    apart = one / sum(first) - (total - one) / (days - sum(first))
    return abs(allowance.bias * found.fit.values[SITE] * apart)


def changed_on(setup: Setup, found: Split, allowance: Allowance) -> date | None:
    """The first day of another regime, where one is sure after a look at every day."""
    best = sure_step(steps(found.numbers, found.columns, found.fit, REGIME_DAYS), CONFIDENCE)
    if best is None:
        return None
    step, threshold = best
    before = [f.days if i < step.fall else 0.0 for i, f in enumerate(found.falls)]
    if abs(step.change) <= hypot(threshold * step.se, _seasonal(found, before, allowance)):
        return None
    zone = ZoneInfo(setup.pond.time_zone)
    start = found.falls[step.fall].start.instant
    return datetime.fromtimestamp(start, UTC).astimezone(zone).date()


def influence(found: Split) -> Influence:
    """The reading without which the steady loss would be another one most."""
    worst = max(found.outs, key=lambda out: abs(out.shift[STEADY]))
    fall = found.falls[worst.fall]
    return Influence(fall.end if worst.ends else fall.start, worst.shift[STEADY])


def plain(found: Split) -> float:
    """Median slope, in mm/day, of what the level lost beside the weather: Theil-Sen on the runs
    set end to end, the site factor taken as it stands. A check, not a verdict: errors of readings
    that are summed up are tied, so that its interval would say too much."""
    falls = found.falls[-PLAIN_FALLS:]
    factor = found.fit.values[SITE]
    days = [0.0, *accumulate(f.days for f in falls)]
    lost = [0.0, *accumulate(f.mm - factor * f.evaporated_mm for f in falls)]
    return theil_sen(days, lost, CONFIDENCE).slope
