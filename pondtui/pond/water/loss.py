"""What the pond loses that does not follow the weather: estimate, verdict, change, alarm.

The steady part is a leak, animals, splash or falls: readings alone never say which.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.evaporated import NO_WEATHER
from pondtui.pond.water.evaporation import DayEvaporation
from pondtui.pond.water.levels import area_m2_at
from pondtui.pond.water.loss_model import (
    CONFIDENCE,
    STEADY,
    Allowance,
    Interval,
    Split,
    glance,
    interval,
    split,
)
from pondtui.pond.water.rained import RainSpan
from pondtui.pond.water.runs import DAY_S, Fall, LeftOut, Runs, unbroken_runs
from pondtui.pond.water.seasons import midnight
from pondtui.records import NamedTuple

if TYPE_CHECKING:
    from pondtui.pond.water import loss_compare as compare

STEADY_MM, NONE_MM = 0.5, 1.0  # a lower bound over the one, an upper bound under the other
STEADY_LOSS, NONE_FOUND = "steady loss", "none found"
INCONCLUSIVE, MORE_READINGS = "inconclusive", "more readings needed"
ENOUGH_MM = 1.0  # an interval no wider than this either way cannot be blamed on few readings
USUAL_READINGS = 60  # daily ones that show 2 mm/day at 2 mm error
MOST_READINGS = 200  # more than a season's are not asked for
SUSPECT = 2.5  # standard errors: such a reading may not carry a verdict
WINDOW_DAYS = 45  # of an alarm, twice
LOSS_DAYS = 120  # of readings that a look ahead is fitted to
ALARM_CONFIDENCE = 0.99  # keepers look daily: each window is looked at many times
_WILD = "the reading lies far from where all the others put it"


class Loss(NamedTuple):
    """The answer; intervals are None where the readings carry none."""

    site_factor: Interval | None
    steady: Interval | None  # mm/day
    steady_l: Interval | None  # L/day
    verdict: str
    more_readings: int
    runs: tuple[tuple[Fall, ...], ...]
    left_out: tuple[LeftOut, ...]
    confidence: float = CONFIDENCE
    changed_on: date | None = None
    around: compare.Around | None = None
    seeping: tuple[compare.Seeping, ...] = ()
    influence: compare.Influence | None = None
    allowance_mm: float = 0.0  # either way, for computed evaporation; part of the interval
    correlation: float = 0.0  # of site factor and steady loss
    error_mm: float | None = None  # of a reading, as found
    daily_mm: float | None = None  # a day's disturbance, as found
    plain_mm_per_day: float | None = None  # Theil-Sen, the site factor taken as it stands


class LossAlarm(NamedTuple):
    """A steady loss in two windows that do not overlap."""

    since: int
    earlier: Interval
    later: Interval


def estimate(
    setup: Setup,
    state: PondState,
    evaporation: Mapping[date, DayEvaporation],
    from_: date | None,
    to: date | None,
    now: int,
    *,
    event: int | None = None,
    table_rain: Iterable[RainSpan] = (),
    allowance: Allowance = Allowance(),  # noqa: B008 -- an immutable value
    in_short: bool = False,
) -> Loss:
    """Site factor and steady loss of the days asked for, both included; all of them for None.

    `event` is an instant: the loss before and after it is told too. `in_short`: nothing of where
    or when the loss changes, which a look ahead does not need. Raises InputError where no basin
    floats.
    """
    since = midnight(setup, from_) if from_ else 0
    until = min(midnight(setup, to + timedelta(1)) - 1, now) if to else now
    runs = unbroken_runs(setup, state, evaporation, since, until, table_rain)
    readings = sum(since <= r.instant <= until for r in state.levels)
    return of_runs(setup, runs, readings, event=event, allowance=allowance, in_short=in_short)


def of_runs(
    setup: Setup,
    runs: Runs,
    readings: int,
    *,
    event: int | None = None,
    allowance: Allowance = Allowance(),  # noqa: B008 -- an immutable value
    in_short: bool = False,
) -> Loss:
    """The same of so many readings that were taken apart already."""
    found = split(setup, runs, allowance)
    if found is None:
        return _too_few(runs, readings)
    left_out = [*runs.left_out, *(LeftOut(w.instant, w.instant, _WILD) for w in found.wild)]
    loss = _answer(setup, found, readings)._replace(left_out=tuple(sorted(left_out)))
    if in_short:
        return loss
    from pondtui.pond.water import loss_compare as compare  # here: a look ahead goes without it

    return loss._replace(
        changed_on=compare.changed_on(setup, found, allowance),
        around=compare.around(setup, runs, event, allowance) if event is not None else None,
        seeping=tuple(compare.seeping(setup, runs, allowance)),
        influence=compare.influence(found),
        plain_mm_per_day=compare.plain(found),
    )


def alarm_in(
    setup: Setup,
    runs: Runs,
    now: int,
    allowance: Allowance = Allowance(),  # noqa: B008 -- an immutable value
) -> LossAlarm | None:
    """The alarm that is due: a steady loss in the last 45 days and in the 45 before them. `runs`
    reach back as far, or further.

    One window alone is looked at too often in a season to accuse a tight pond by it.
    """
    window = WINDOW_DAYS * DAY_S
    parts = [within(runs, end - window, end) for end in (now, now - window)]
    if any((glance(setup, part) or 0.0) <= STEADY_MM for part in parts):
        return None  # the usual case, told quickly
    seen = []
    for part in parts:
        found = split(setup, part, allowance)
        if found is None or not _surely_over(found, STEADY_MM, ALARM_CONFIDENCE):
            return None
        seen.append(found)
    later, earlier = seen
    return LossAlarm(earlier.falls[0].start.instant, earlier.steady, later.steady)


def within(runs: Runs, since: int, until: int) -> Runs:
    """The falls that lie wholly between two instants."""
    cut = (
        tuple(f for f in run if since <= f.start.instant and f.end.instant <= until)
        for run in runs.runs
        if run[-1].end.instant > since and run[0].start.instant < until
    )
    return Runs(tuple(run for run in cut if run))


def _answer(setup: Setup, found: Split, readings: int) -> Loss:
    day = datetime.fromtimestamp(found.falls[-1].end.instant, UTC).date()
    middle = sum(f.start.reading_mm for f in found.falls) / len(found.falls)
    area = area_m2_at(setup, middle, day)
    word, more = verdict(found, readings)
    return Loss(
        found.factor,
        found.steady,
        Interval(*(mm * area for mm in found.steady)),
        word,
        more,
        found.runs,
        (),
        allowance_mm=found.allowance_mm,
        correlation=found.correlation,
        error_mm=found.fit.error_mm,
        daily_mm=found.fit.daily_mm,
    )


def _too_few(runs: Runs, readings: int) -> Loss:
    """Nothing can be said: too few readings, or the wrong ones."""
    dry = any(out.reason == NO_WEATHER for out in runs.left_out)
    lacking = dry or readings >= USUAL_READINGS  # more of the same would not help
    verdict = INCONCLUSIVE if lacking else MORE_READINGS
    more = 0 if lacking else USUAL_READINGS - readings
    return Loss(None, None, None, verdict, more, runs.runs, runs.left_out)


def _surely_over(found: Split, mm: float, confidence: float = CONFIDENCE) -> bool:
    """Whether the lower bound is over it, also without any one reading that may be misread."""
    low = interval(found.fit, STEADY, found.allowance_mm, confidence).low
    return low + min(_shifts(found)) > mm


def _surely_under(found: Split, mm: float) -> bool:
    return found.steady.high + max(_shifts(found)) < mm


def _shifts(found: Split) -> list[float]:
    """Of the steady loss without each suspect reading, and 0 with all of them."""
    return [0.0, *(out.shift[STEADY] for out in found.outs if abs(out.t) > SUSPECT)]


def verdict(found: Split, readings: int) -> tuple[str, int]:
    """The verdict, and how many readings more would make the interval narrow enough."""
    if _surely_over(found, STEADY_MM):
        return STEADY_LOSS, 0
    if _surely_under(found, NONE_MM):
        return NONE_FOUND, 0
    reach = found.steady.high - found.steady.value
    spare = ENOUGH_MM**2 - found.allowance_mm**2
    if reach <= ENOUGH_MM or spare <= 0:
        return INCONCLUSIVE, 0
    # what the readings add to the interval falls with the square root of their number
    wanted = readings * (reach**2 - found.allowance_mm**2) / spare
    return MORE_READINGS, min(max(ceil(wanted) - readings, 1), MOST_READINGS)
