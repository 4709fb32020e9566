"""Falls of a level between readings, fitted by what follows the weather and what does not.

Neighbouring falls share a reading, so their errors are tied; each day is disturbed a little as
well. Both are in the covariance, whose inverse is applied in one pass over the readings.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from operator import mul, truediv

from pondtui.records import NamedTuple
from pondtui.science.ranges import positive

ERROR_WORTH = 6.0  # readings' worth of trust in the gauge's stated error
RATIO_REACH = 3.2  # how far, in log, the variance ratio may stray from its start
RATIO_SD = 1.4  # log sd of the variance ratio about its start: twice or half the noise is likely
REACH = 2  # grid steps either way
SHARP = 14.0  # a grid finer than this over the root of the falls' number tells no more
ROUNDS = 2  # of the scale's fixed point, begun where the last ratio left it


class Falls(NamedTuple):
    """Falls between readings, runs one behind the other."""

    mm: Sequence[float]
    days: Sequence[float]  # length of each fall
    begins: Sequence[bool]  # the fall is the first of an unbroken run
    noise_days: Sequence[float]  # days' worth of disturbance in each fall


class Prior(NamedTuple):
    """What is known of a coefficient beforehand: normal."""

    mean: float
    sd: float


class Fit(NamedTuple):
    """Coefficients in the order of the columns."""

    values: list[float]
    covariance: list[list[float]]
    error_mm: float  # standard error of a reading
    daily_mm: float  # standard deviation of a day's disturbance
    dof: float
    ratio: float  # daily_mm^2/error_mm^2


class _Sums(NamedTuple):
    gram: list[list[float]]
    logdet: float


def fit(
    falls: Falls,
    columns: Sequence[Sequence[float]],
    priors: Sequence[Prior | None],
    error_mm: float,
    daily_mm: float,
    *,
    search: bool = True,
) -> Fit:
    """Coefficients b of the falls by generalised least squares, variances by REML.

    Source: GLS: Aitken (1935) Proc. R. Soc. Edinb. 55:42-48; REML: Patterson & Thompson (1971)
        Biometrika 58:545-554, both from memory; normal priors enter as rows of their own.
    Arguments: falls [mm, day], one or more, each longer than 0; columns, what each fall would be
        for b = 1, one list a coefficient; priors, None for a flat one; error_mm e [mm] > 0, the
        gauge's stated error; daily_mm w [mm/day^0.5] > 0, first guess of a day's disturbance;
        search, False keeps to the first guess of the variances' ratio, which takes a fifth of the
        time.
    Returns: b with covariance, e and w as found, degrees of freedom.
    Formula: fall = X b + noise; noise covariance e^2 tridiag(-1, 2, -1) + w^2 diag(days);
        the ratio w^2/e^2 by REML with a log-normal prior about its start, e^2 by its fixed point
        with an inverse chi-square prior of 6 readings about the stated error.
    Limits: flat coefficients must be told apart by the falls. ValueError for no falls, a variance
        that is not positive, or columns that say the same.
    """
    positive(error_mm, "the reading error")
    positive(daily_mm, "the day-to-day noise")
    if not falls.mm:
        raise ValueError("a fit needs at least one fall")
    start = math.log((daily_mm / error_mm) ** 2)
    scale = error_mm**2

    def cost(log_ratio: float) -> float:
        nonlocal scale
        sums = _sums(falls, columns, math.exp(log_ratio))
        scale, found, _, _, _ = _solve(sums, len(falls.mm), priors, error_mm, scale)
        return found + ((log_ratio - start) / RATIO_SD) ** 2

    best, step = start, RATIO_REACH / REACH
    if search:
        best = _lowest(cost, start, step)
        while step > SHARP / math.sqrt(len(falls.mm)):
            step /= 4
            best = _lowest(cost, best, step)
    ratio = math.exp(best)
    sums = _sums(falls, columns, ratio)
    scale, _, values, covariance, dof = _solve(sums, len(falls.mm), priors, error_mm, scale)
    return Fit(values, covariance, math.sqrt(scale), math.sqrt(ratio * scale), dof, ratio)


def _lowest(cost: Callable[[float], float], middle: float, step: float) -> float:
    """Where a parabola through the lowest of some even points and its neighbours is lowest."""
    x = [middle + step * k for k in range(-REACH, REACH + 1)]
    y = [cost(value) for value in x]
    k = min(range(len(y)), key=y.__getitem__)
    if k in (0, len(y) - 1):
        return x[k]
    bend = y[k - 1] - 2 * y[k] + y[k + 1]
    return x[k] + step * (y[k - 1] - y[k + 1]) / (2 * bend) if bend > 0 else x[k]


def pivots(falls: Falls, ratio: float) -> tuple[list[float], list[float]]:
    """Pivots d and multipliers g of the covariance over e^2, factored as L diag(d) L'."""
    found, ties = [], []
    last = 0.0
    for days, begins in zip(falls.noise_days, falls.begins, strict=True):
        tie = 0.0 if begins else 1 / last
        last = 2 + ratio * days - tie
        found.append(last)
        ties.append(tie)
    return found, ties


def forward(column: Sequence[float], ties: Sequence[float]) -> list[float]:
    """L^-1 column."""
    last = 0.0
    found = []
    for value, tie in zip(column, ties, strict=True):
        last = value + tie * last
        found.append(last)
    return found


def solved(column: Sequence[float], d: Sequence[float], ties: Sequence[float]) -> list[float]:
    """The inverse of the covariance over e^2, times a column."""
    found = list(map(truediv, forward(column, ties), d))
    for i in range(len(found) - 1, 0, -1):
        found[i - 1] += ties[i] * found[i]
    return found


def _sums(falls: Falls, columns: Sequence[Sequence[float]], ratio: float) -> _Sums:
    """Products of the columns and the falls under the inverse of the covariance over e^2."""
    d, ties = pivots(falls, ratio)
    roots = list(map(math.sqrt, d))
    white = [list(map(truediv, forward(c, ties), roots)) for c in (*columns, falls.mm)]
    gram = [[sum(map(mul, a, b)) for b in white[: i + 1]] for i, a in enumerate(white)]
    full = [[gram[max(i, j)][min(i, j)] for j in range(len(white))] for i in range(len(white))]
    return _Sums(full, math.fsum(map(math.log, d)))


def _solve(
    sums: _Sums, count: int, priors: Sequence[Prior | None], error_mm: float, scale: float
) -> tuple[float, float, list[float], list[list[float]], float]:
    """At one variance ratio: e^2, -2 log REML, coefficients, covariance, degrees of freedom."""
    size = len(priors)
    *rows, last = sums.gram
    sharp = [0.0 if p is None else p.sd**-2 for p in priors]
    known = [0.0 if p is None else p.mean * s for p, s in zip(priors, sharp, strict=True)]
    square = last[size]
    for _ in range(ROUNDS):
        precise = [
            [rows[i][j] / scale + (sharp[i] if i == j else 0.0) for j in range(size)]
            for i in range(size)
        ]
        inverse, logdet = inverted(precise)
        pull = [last[i] / scale + known[i] for i in range(size)]
        values = [sum(map(mul, row, pull)) for row in inverse]
        fitted = [sum(map(mul, rows[i], values)) for i in range(size)]
        errors = square - 2 * sum(map(mul, values, last)) + sum(map(mul, values, fitted))
        used = size - sum(inverse[i][i] * sharp[i] for i in range(size))
        dof = count - used + ERROR_WORTH
        before, scale = scale, (max(errors, 0.0) + ERROR_WORTH * error_mm**2) / dof
    off = sum(s * (v - p.mean) ** 2 for p, s, v in zip(priors, sharp, values, strict=True) if p)
    cost = (count + ERROR_WORTH) * math.log(before) + sums.logdet + logdet
    cost += (max(errors, 0.0) + ERROR_WORTH * error_mm**2) / before + off
    return scale, cost, values, inverse, dof


def inverted(matrix: Sequence[Sequence[float]]) -> tuple[list[list[float]], float]:
    """Inverse and log determinant of a small symmetric positive matrix, by elimination.

    Raises ValueError where columns cannot be told apart.
    """
    work = [list(row) for row in matrix]
    logdet = 0.0
    for i, row in enumerate(work):
        head = row[i]
        if not head > 1e-12 * matrix[i][i]:
            raise ValueError("the falls cannot tell the coefficients apart")
        logdet += math.log(head)
        row[i] = 1.0  # the inverse grows where the matrix goes
        row[:] = [value / head for value in row]
        for other in work:
            if other is not row:
                part, other[i] = other[i], 0.0
                other[:] = [a - part * b for a, b in zip(other, row, strict=True)]
    return work, logdet
