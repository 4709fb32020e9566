"""The falls of a pond's level, parted into what follows the weather and what does not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache
from itertools import chain
from math import hypot, sqrt

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Level
from pondtui.pond.water.evaporation import FULL, SUNNY, TIERS
from pondtui.pond.water.runs import Fall, Runs
from pondtui.records import NamedTuple
from pondtui.science.loss_checks import OneOut, dilution, one_reading_out
from pondtui.science.loss_fit import Falls, Fit, Prior, fit
from pondtui.science.trends import SURE, t_quantile

CONFIDENCE = 0.95
FACTOR_PRIOR = Prior(0.85, 0.15)  # of a pond of which nothing is said
SHELTERED_PRIOR = Prior(0.74, 0.15)  # an open tank lost 34.5 % more than a sheltered one
DAILY_MM = {FULL: 0.3, SUNNY: 0.5}  # day-to-day disturbance to begin with
DAILY_POOR_MM = 0.8  # with temperatures alone, or less
READER_SD_MM = 2.0  # how differently two people may read one gauge
FEWEST_OF_READER = 3
FEWEST_FALLS = 5
WILD = 4.5  # standard errors at which a reading is a misreading
MOST_WILD = 3
SITE, STEADY = 0, 1  # places of the coefficients


Parts = Callable[[Fall], Sequence[float]]  # days of a fall in each steady part


class Allowance(NamedTuple):
    """What computed evaporation may be wrong by."""

    noise_mm: float = 0.6  # a day
    bias: float = 0.10  # of it, all the time


EXACT = Allowance(0.0, 0.0)  # for weather that is exactly right


class Interval(NamedTuple):
    """A value with its 95 % interval."""

    value: float
    low: float
    high: float


class Split(NamedTuple):
    """The fit, and what it was made of."""

    runs: tuple[tuple[Fall, ...], ...]
    falls: tuple[Fall, ...]  # the same, one run behind the other
    numbers: Falls
    columns: tuple[tuple[float, ...], ...]
    fit: Fit
    factor: Interval
    steady: Interval
    allowance_mm: float  # of the steady part's interval, either way, for the weather
    correlation: float  # of site factor and steady loss
    outs: tuple[OneOut, ...]  # one a reading
    wild: tuple[Level, ...]  # readings left out because they do not fit


def split(
    setup: Setup,
    runs: Runs,
    allowance: Allowance,
    extra: Parts | None = None,
) -> Split | None:
    """Site factor and steady loss of the runs; None with fewer than five falls.

    Readings that the others contradict by far are left out one after the other. `extra` parts the
    steady loss: it gives the share of each coefficient in a fall's days.
    """
    left = [list(run) for run in runs.runs]
    wild: list[Level] = []
    while True:
        falls = [fall for run in left for fall in run]
        if len(falls) < FEWEST_FALLS:
            return None
        found = _fitted(setup, left, falls, allowance, extra)
        worst = max(found.outs, key=lambda out: abs(out.t))
        if abs(worst.t) < WILD or len(wild) == MOST_WILD:
            return found._replace(wild=tuple(wild))
        fall = falls[worst.fall]
        reading = fall.end if worst.ends else fall.start
        wild.append(reading)
        left = [part for run in left for part in without(run, reading)]


def without(run: Sequence[Fall], reading: Level) -> list[list[Fall]]:
    """A run without one of its readings: the falls beside it become one."""
    kept: list[Fall] = []
    for fall in run:
        if fall.start is reading and kept and kept[-1].end is reading:
            kept[-1] = _joined(kept[-1], fall)
        elif fall.start is not reading:
            kept.append(fall)
    if kept and kept[-1].end is reading:
        kept.pop()
    return [kept] if kept else []


def _joined(one: Fall, other: Fall) -> Fall:
    return one._replace(
        end=other.end,
        mm=one.mm + other.mm,
        days=one.days + other.days,
        evaporated_mm=one.evaporated_mm + other.evaporated_mm,
        tier=max(one.tier, other.tier, key=TIERS.index),
        even=one.even and other.even,
        readers=(one.readers[0], other.readers[1]),
    )


def glance(setup: Setup, runs: Runs) -> float | None:
    """The steady loss [mm/day] at the first guess of the variances: quick, and no more."""
    falls = [fall for run in runs.runs for fall in run]
    if len(falls) < FEWEST_FALLS:
        return None
    return fit(*_problem(setup, runs.runs, falls, None), search=False).values[STEADY]


def _problem(
    setup: Setup, runs: Sequence[Sequence[Fall]], falls: Sequence[Fall], extra: Parts | None
) -> tuple[Falls, list[tuple[float, ...]], list[Prior | None], float, float]:
    """What is fitted: falls, columns, priors, error of a reading and noise of a day."""
    numbers = Falls(
        [f.mm for f in falls],
        [f.days for f in falls],
        [i == 0 for run in runs for i in range(len(run))],
        # a day more of doubt where day and night do not count alike
        [f.days if f.even else f.days + 1 for f in falls],
    )
    steady = [tuple(extra(f)) for f in falls] if extra else [(f.days,) for f in falls]
    columns = [tuple(f.evaporated_mm for f in falls), *zip(*steady, strict=True)]
    factor = SHELTERED_PRIOR if setup.pond.sheltered else FACTOR_PRIOR
    priors: list[Prior | None] = [factor, *[None] * len(steady[0])]
    for column in _readers(falls):
        columns.append(column)
        priors.append(Prior(0.0, READER_SD_MM))
    daily = sum(f.days * DAILY_MM.get(f.tier, DAILY_POOR_MM) for f in falls) / sum(numbers.days)
    return numbers, columns, priors, max(setup.gauge.error_mm, 0.1), daily


def _fitted(
    setup: Setup,
    runs: Sequence[Sequence[Fall]],
    falls: Sequence[Fall],
    allowance: Allowance,
    extra: Parts | None,
) -> Split:
    problem = _problem(setup, runs, falls, extra)
    numbers, columns = problem[:2]
    found = fit(*problem)
    outs = one_reading_out(numbers, columns, found)
    wide = weather_allowance(numbers, found, allowance)
    cov = found.covariance
    return Split(
        tuple(map(tuple, runs)), tuple(falls), numbers, tuple(columns), found,
        interval(found, SITE), interval(found, STEADY, wide), wide,
        cov[SITE][STEADY] / sqrt(cov[SITE][SITE] * cov[STEADY][STEADY]),
        tuple(outs), (),
    )  # fmt: skip


def interval(
    found: Fit, place: int, wider: float = 0.0, confidence: float = CONFIDENCE
) -> Interval:
    """A coefficient with its interval by Student, made wider by a 95 % allowance."""
    spread = hypot(sqrt(found.covariance[place][place]), wider / SURE)
    half = student(found, confidence) * spread
    value = found.values[place]
    return Interval(value, value - half, value + half)


def student(found: Fit, confidence: float = CONFIDENCE) -> float:
    """Standard errors of an interval."""
    return _quantile((1 + confidence) / 2, max(round(found.dof), 1))


@cache
def _quantile(probability: float, dof: int) -> float:
    return t_quantile(probability, dof)


def weather_allowance(numbers: Falls, found: Fit, allowance: Allowance) -> float:
    """How far the steady part may be off since computed evaporation is not right [mm/day].

    A site factor that is wrong by a share goes into the steady part by that share of what the
    site evaporates: the bias's share, and the one by which noise draws the factor down.
    """
    cov = found.covariance
    turned = abs(cov[SITE][STEADY]) / cov[SITE][SITE]  # mm/day of evaporation that is traded
    drawn = dilution(numbers, found, SITE, allowance.noise_mm)
    return abs(found.values[SITE]) * turned * hypot(allowance.bias, drawn)


def _readers(falls: Sequence[Fall]) -> list[tuple[float, ...]]:
    """A column for each reader but the most frequent: what his offset does to each fall."""
    ends = [f.readers for f in falls]
    count = Counter(chain.from_iterable(ends))
    _, *others = sorted(count, key=lambda name: (-count[name], name))
    columns = []
    for name in others:
        column = tuple([float((a == name) - (b == name)) for a, b in ends])
        if sum(map(bool, column)) >= FEWEST_OF_READER:
            columns.append(column)
    return columns
