"""What one reading, a change of regime or bad weather data do to a fit of falls: closed forms."""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import mul

from pondtui.records import NamedTuple
from pondtui.science.loss_fit import Falls, Fit, forward, pivots, solved
from pondtui.science.ranges import not_negative, within
from pondtui.science.trends import normal_quantile


class OneOut(NamedTuple):
    """The fit without one reading."""

    fall: int  # the reading begins this fall, or ends it
    ends: bool
    error_mm: float  # how far the reading lies from where the others put it
    t: float  # the same in standard errors
    shift: list[float]  # of each coefficient when the reading is left out


class Step(NamedTuple):
    """A steady part that is another one from a fall on."""

    fall: int  # first of the new regime
    change: float  # new less old, for the falls' unit a day
    se: float


def inverse_band(falls: Falls, ratio: float) -> tuple[list[float], list[float]]:
    """Diagonal of the inverse covariance over e^2, and what stands right of each diagonal term.

    Source: inverse of a tridiagonal matrix from its pivots from both ends, e.g. Meurant (1992)
        SIAM J. Matrix Anal. Appl. 13:707-728, from memory.
    Arguments: falls [mm, day]; ratio w^2/e^2 [1/day] > 0.
    Returns: diagonal, right neighbours [-]; 0 at the end of a run.
    Formula: v_ii = 1/(d_i + b_i - a_i), v_i,i+1 = v_i+1,i+1/d_i, d and b the pivots from above and
        below, a the covariance's own diagonal.
    Limits: none. No errors.
    """
    d, _ = pivots(falls, ratio)
    count = len(d)
    diagonal, right = [0.0] * count, [0.0] * count
    below = 0.0
    for i in range(count - 1, -1, -1):
        whole = 2 + ratio * falls.noise_days[i]
        last = i == count - 1 or falls.begins[i + 1]
        below = whole if last else whole - 1 / below
        diagonal[i] = 1 / (d[i] + below - whole)
        right[i] = 0.0 if last else diagonal[i + 1] / d[i]
    return diagonal, right


def one_reading_out(falls: Falls, columns: Sequence[Sequence[float]], fit: Fit) -> list[OneOut]:
    """What each reading does to the fit: its error e_j and the coefficients' shift without it.

    Source: deletion by a mean-shift column, Cook & Weisberg (1982) Residuals and Influence in
        Regression, ch. 2, from memory.
    Arguments: the falls and columns of the fit, and the fit.
    Returns: a value for each reading, in the order of time.
    Formula: e_j = z'M y/z'M z, shift = -S X'W z e_j, z the column of the reading (-1 in the fall
        that it ends, 1 in the one that it begins), W the inverse covariance, S the covariance of
        the coefficients, M = W - W X S X'W.
    Limits: the variances are held. No errors.
    """
    scale = fit.error_mm**2
    d, ties = pivots(falls, fit.ratio)
    diagonal, right = inverse_band(falls, fit.ratio)
    left = [y - sum(map(mul, fit.values, row))
            for y, row in zip(falls.mm, zip(*columns, strict=True), strict=True)]  # fmt: skip
    pulls = [solved(c, d, ties) for c in (*columns, left)]
    found = []
    for i, begins in enumerate(falls.begins):
        if begins:
            own = [p[i] / scale for p in pulls]
            found.append(_out(i, False, own, diagonal[i] / scale, fit))
        own = [-p[i] / scale for p in pulls]
        size = diagonal[i]
        if i + 1 < len(falls.mm) and not falls.begins[i + 1]:
            own = [(p[i + 1] - p[i]) / scale for p in pulls]
            size += diagonal[i + 1] - 2 * right[i]
        found.append(_out(i, True, own, size / scale, fit))
    return found


def _out(fall: int, ends: bool, own: list[float], size: float, fit: Fit) -> OneOut:
    *of_columns, of_left = own
    turned = [sum(map(mul, row, of_columns)) for row in fit.covariance]
    size -= sum(map(mul, of_columns, turned))
    if size <= 1e-9 / fit.error_mm**2:  # nothing else tells where it should lie
        return OneOut(fall, ends, 0.0, 0.0, [0.0] * len(turned))
    error = of_left / size
    return OneOut(fall, ends, error, error * math.sqrt(size), [-t * error for t in turned])


def steps(
    falls: Falls, columns: Sequence[Sequence[float]], fit: Fit, fewest_days: float
) -> list[Step]:
    """Change of the steady part at every fall that leaves enough days on both sides.

    Source: score form of the Chow test with the change's date unknown (Andrews 1993, Econometrica
        61:821-856), from memory.
    Arguments: the falls and columns of the fit, and the fit; fewest_days [day] on either side.
    Returns: for each fall the change c with its standard error; judge the largest of them by
        `sure_step`.
    Formula: c = z'M y/z'M z, se = 1/sqrt(z'M z), z the days of the falls from there on.
    Limits: the variances are held. No errors.
    """
    scale = fit.error_mm**2
    d, ties = pivots(falls, fit.ratio)
    left = [y - sum(map(mul, fit.values, row))
            for y, row in zip(falls.mm, zip(*columns, strict=True), strict=True)]  # fmt: skip
    pulls = [solved(c, d, ties) for c in (*columns, left)]
    total, behind = sum(falls.days), 0.0
    tail = [0.0] * len(pulls)
    later, end = 0.0, len(falls.mm)  # z'W z of the runs that begin later, and where they do
    found = []
    for i in range(len(falls.mm) - 1, -1, -1):
        tail = [t + falls.days[i] * p[i] for t, p in zip(tail, pulls, strict=True)]
        behind += falls.days[i]
        white = forward(falls.days[i:end], ties[i:end])
        size = later + sum(v * v / p for v, p in zip(white, d[i:end], strict=True))
        if falls.begins[i]:
            later, end = size, i
        if min(behind, total - behind) >= fewest_days:
            step = _step(i, [t / scale for t in tail], size / scale, fit)
            found += [step] if step else []
    return found[::-1]


def _step(fall: int, own: list[float], size: float, fit: Fit) -> Step | None:
    *of_columns, of_left = own
    turned = [sum(map(mul, row, of_columns)) for row in fit.covariance]
    left = size - sum(map(mul, of_columns, turned))
    if left <= 1e-9 * size:  # another column says the same
        return None
    return Step(fall, of_left / left, 1 / math.sqrt(left))


def sure_step(found: Sequence[Step], confidence: float = 0.95) -> tuple[Step, float] | None:
    """The likeliest step, with how many standard errors it must reach to count.

    Source: Bonferroni's inequality over the dates looked at.
    Arguments: found, steps; confidence [-], 0.5 to 0.999.
    Returns: the step with the largest |change|/se, and the threshold z [-]; None without steps.
    Formula: z = quantile(1 - (1 - confidence)/(2 n)), n the number of steps.
    Limits: careful, since neighbouring dates are much alike: the critical values of Andrews (1993)
        are about a fifth lower. ValueError outside the range.
    """
    within(confidence, 0.5, 0.999, "the confidence")
    if not found:
        return None
    best = max(found, key=lambda step: abs(step.change) / step.se)
    return best, normal_quantile(1 - (1 - confidence) / (2 * len(found)))


def dilution(falls: Falls, fit: Fit, place: int, noise_mm: float) -> float:
    """Share by which noise in a column draws its coefficient towards nothing.

    Source: regression dilution, e.g. Fuller (1987) Measurement Error Models, ch. 1, from memory,
        with generalised weights.
    Arguments: the falls of the fit, and the fit; place of the coefficient; noise_mm u
        [mm/day^0.5] >= 0, standard deviation of the error of a day's value.
    Returns: l [-], 0 to 1.
    Formula: l = u^2 sum (W_ii days) var(b).
    Limits: errors independent from day to day; first order. ValueError for negative noise.
    """
    not_negative(noise_mm, "the noise")
    diagonal, _ = inverse_band(falls, fit.ratio)
    spoilt = noise_mm**2 * math.fsum(map(mul, diagonal, falls.days)) / fit.error_mm**2
    return min(1.0, spoilt * fit.covariance[place][place])
