"""Lines through readings: least squares and Theil-Sen, each with an interval."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from pondtui.records import NamedTuple
from pondtui.science.ranges import within

MOST_POINTS = 2000  # Theil-Sen looks at every pair
# Standard errors on either side of a value that hold 95 % of a normal distribution: its 97.5 %
# quantile, rounded as tables print it (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1;
# the section from memory).
SURE = 1.96


class LeastSquares(NamedTuple):
    """A straight line y = intercept + slope x, with standard errors and an interval."""

    slope: float
    intercept: float
    slope_se: float
    intercept_se: float
    slope_low: float
    slope_high: float
    intercept_low: float
    intercept_high: float


class MedianSlope(NamedTuple):
    """The median of all slopes, with its interval."""

    slope: float
    low: float
    high: float


def normal_quantile(probability: float) -> float:
    """Quantile z of the standard normal distribution.

    Source: Newton's method on the error function, Abramowitz & Stegun (1964) 26.2.29.
    Arguments: probability p [-], 1e-12 to 1 - 1e-12.
    Returns: z [-].
    Formula: Phi(z) = p.
    Limits: within 1e-12 for the middle, 1e-4 at the ends. ValueError outside the range.
    """
    within(probability, 1e-12, 1 - 1e-12, "the probability")
    if probability < 0.5:
        return -normal_quantile(1 - probability)
    z = 0.0  # left of the root of a curve that bends down: every step stays left of it
    for _ in range(100):
        short = probability - (1 - math.erfc(z / math.sqrt(2)) / 2)
        step = short * math.sqrt(2 * math.pi) * math.exp(z * z / 2)
        z += step
        if abs(step) < 1e-15 * (1 + z):
            break
    return z


def t_quantile(probability: float, dof: int) -> float:
    """Quantile t of Student's distribution.

    Source: Abramowitz & Stegun (1964) 26.7.3-26.7.4 (exact finite sums, solved by halving) up to
        200 degrees of freedom, 26.7.5 (Cornish-Fisher expansion) above.
    Arguments: probability p [-], 1e-6 to 1 - 1e-6; dof v [-], whole, 1 or more.
    Returns: t [-].
    Formula: A(t|v) = 2 p - 1.
    Limits: within 1e-9 of itself. ValueError outside the ranges.
    """
    within(probability, 1e-6, 1 - 1e-6, "the probability")
    if dof < 1:
        raise ValueError(f"the degrees of freedom must be 1 or more, not {dof}")
    if probability < 0.5:
        return -t_quantile(1 - probability, dof)
    if dof > 200:
        return _expanded(normal_quantile(probability), dof)
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        middle = (low + high) / 2
        if _inside(middle, dof) < 2 * probability - 1:
            low = middle
        else:
            high = middle
    return math.tan((low + high) / 2) * math.sqrt(dof)


def _inside(angle: float, dof: int) -> float:
    """Probability that |T| < sqrt(dof) tan(angle)."""
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = dof % 2
    term = cosine if odd else 1.0
    total = term if dof > 1 else 0.0
    for k in range(3 if odd else 2, dof - 1, 2):
        term *= cosine * cosine * (k - 1) / k
        total += term
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


def _expanded(z: float, dof: int) -> float:
    """Student's quantile from the normal one, for many degrees of freedom."""
    s = z * z
    a = (s + 1) / 4
    b = (s * (5 * s + 16) + 3) / 96
    c = (s * (s * (3 * s + 19) + 17) - 15) / 384
    d = (s * (s * (s * (79 * s + 776) + 1482) - 1920) - 945) / 92160
    return z * (1 + (a + (b + (c + d / dof) / dof) / dof) / dof)


def least_squares(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> LeastSquares:
    """Straight line by ordinary least squares, with Student intervals.

    Source: any statistics text, e.g. NIST/SEMATECH e-Handbook 4.1.4.1; sums about the means.
    Arguments: x, y [any], equally many, 3 or more, x not all the same; confidence [-], 0.5 to
        0.999.
    Returns: slope, intercept, their standard errors and intervals [units of y over x, y].
    Formula: slope = Sxy/Sxx; s^2 = SSE/(n - 2); se = s/sqrt(Sxx);
        se0 = s sqrt(1/n + xm^2/Sxx); interval = value +- t(n - 2) se.
    Limits: errors independent and even; levels between refills are not (their errors are shared by
        neighbours). ValueError outside the ranges.
    """
    _check(x, y, confidence)
    n = len(x)
    if n < 3:
        raise ValueError("a line with an interval needs at least three points")
    middle_x, middle_y = math.fsum(x) / n, math.fsum(y) / n
    dx, dy = [v - middle_x for v in x], [v - middle_y for v in y]
    spread = math.fsum(v * v for v in dx)
    slope = math.fsum(a * b for a, b in zip(dx, dy, strict=True)) / spread
    intercept = middle_y - slope * middle_x
    errors = math.fsum((b - slope * a) ** 2 for a, b in zip(dx, dy, strict=True))
    scatter = math.sqrt(errors / (n - 2))
    slope_se = scatter / math.sqrt(spread)
    intercept_se = scatter * math.sqrt(1 / n + middle_x**2 / spread)
    t = t_quantile((1 + confidence) / 2, n - 2)
    return LeastSquares(
        slope, intercept, slope_se, intercept_se,
        slope - t * slope_se, slope + t * slope_se,
        intercept - t * intercept_se, intercept + t * intercept_se,
    )  # fmt: skip


def theil_sen(x: Sequence[float], y: Sequence[float], confidence: float = 0.95) -> MedianSlope:
    """Median of the slopes between all pairs, which a few wild readings do not move.

    Source: Sen (1968) J. Am. Stat. Assoc. 63:1379-1389; interval from the variance of Kendall's S
        with ties.
    Arguments: as for `least_squares`, 2 to 2000 points.
    Returns: slope, low, high [units of y over x].
    Formula: slope = median (yj - yi)/(xj - xi); ranks (N -+ z sqrt(var S))/2 of the sorted slopes,
        var S = (n (n - 1)(2 n + 5) - sum t (t - 1)(2 t + 5))/18.
    Limits: the interval is rough under 10 points. ValueError outside the ranges.
    """
    _check(x, y, confidence)
    if len(x) > MOST_POINTS:
        raise ValueError(f"at most {MOST_POINTS} points, not {len(x)}")
    points = list(zip(x, y, strict=True))
    slopes = sorted((d - b) / (c - a) for (a, b), (c, d) in combinations(points, 2) if a != c)
    count, n = len(slopes), len(points)
    ties = sum(_tied(values) for values in (x, y))
    spread = math.sqrt(max(0.0, (n * (n - 1) * (2 * n + 5) - ties) / 18))
    reach = normal_quantile((1 + confidence) / 2) * spread
    upper = min(round((count + reach) / 2), count - 1)
    lower = max(round((count - reach) / 2) - 1, 0)
    middle = (slopes[(count - 1) // 2] + slopes[count // 2]) / 2
    return MedianSlope(middle, slopes[lower], slopes[upper])


def _tied(values: Sequence[float]) -> int:
    counts: dict[float, int] = {}
    for value in values:
        counts[value] = counts.get(value, 0) + 1
    return sum(t * (t - 1) * (2 * t + 5) for t in counts.values())


def _check(x: Sequence[float], y: Sequence[float], confidence: float) -> None:
    within(confidence, 0.5, 0.999, "the confidence")
    if len(x) != len(y):
        raise ValueError(f"as many y as x are needed, not {len(y)} and {len(x)}")
    if not all(math.isfinite(value) for value in (*x, *y)):
        raise ValueError("every x and y must be a plain number")
    if len(set(x)) < 2:
        raise ValueError("a line needs at least two different x")
