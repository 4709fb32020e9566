"""Flow through a pipe or hose by gravity, and how a vessel empties through it.

Quasi-steady: at every depth the flow is the one that friction allows at that head. The head is
measured from the water down to the free end, or to the pond's surface where the end is drowned.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence

from pondtui.records import NamedTuple
from pondtui.science import vessels
from pondtui.science.friction import churchill
from pondtui.science.holes import GRAVITY_M_S2
from pondtui.science.ranges import not_negative, positive

SMOOTH_HOSE_MM = 0.0015  # roughness of plastic pipe, Cengel & Cimbala Table 8-2, from memory
PLAIN_FITTINGS = 1.5  # a sharp entrance 0.5 and the exit 1.0
NO_HEAD_M = 1e-9  # a head too small to count
STEP = 0.02  # largest step of the logarithm of the velocity along a drain curve
COARSE = 0.08  # the same where only the time of the whole is wanted


class Line(NamedTuple):
    """A pipe or hose from a vessel's outlet down to its end."""

    bore_mm: float
    length_mm: float
    drop_mm: float = 0.0  # from the outlet down to the free end, or to the pond's surface; signed
    roughness_mm: float = SMOOTH_HOSE_MM
    fittings: float = PLAIN_FITTINGS  # sum of loss coefficients, entrance and exit included
    viscosity_mm2_s: float = 1.139  # of water at 15 degC


class Vessel(NamedTuple):
    """What is drained; sizes that its shape does not use stay 0."""

    shape: str  # upright, lying or straight
    diameter_mm: float = 0.0
    length_mm: float = 0.0
    width_mm: float = 0.0
    breadth_mm: float = 0.0
    area_m2: float = 0.0

    def volume_l(self, depth_mm: float) -> float:
        """Water that stands at a depth, as `vessels.volume_l` says."""
        shape, *sizes = self
        return vessels.volume_l(shape, depth_mm, **dict(zip(self._fields[1:], sizes, strict=True)))


class Release(NamedTuple):
    """One release that was timed: the barrel fell from one depth to another."""

    start_mm: float
    end_mm: float
    time_s: float


def head_m(line: Line, velocity_m_s: float) -> float:
    """Head H that drives a velocity v through a line.

    Source: energy equation with Darcy-Weisbach friction; Churchill (1977) for f.
    Arguments: line with bore D > 0, length L >= 0, roughness e 0 to 5 % of the bore [mm], loss
        coefficients K >= 0 (K or L above 0), viscosity nu [mm2/s] > 0; velocity_m_s v [m/s] > 0.
    Returns: H [m].
    Formula: g H = v^2/2 (K + f L/D), f = f(v D/nu, e/D).
    Limits: pipe runs full. Hazen-Williams does not hold for garden hose. ValueError outside the
        ranges.
    """
    _check(line)
    positive(velocity_m_s, "the velocity")
    return _head(line, velocity_m_s)


def velocity_m_s(line: Line, head_m: float) -> float:
    """Velocity v that a head H drives through a line: the inverse of `head_m`.

    Source: as for `head_m`; the root is bracketed and closed in on.
    Arguments: line as for `head_m`; head_m H [m] >= 0; below a nanometre it counts as none.
    Returns: v [m/s].
    Formula: g H = v^2/2 (K + f L/D).
    Limits: as for `head_m`. ValueError outside the ranges.
    """
    _check(line)
    not_negative(head_m, "the head")
    if head_m <= NO_HEAD_M:
        return 0.0
    wanted = math.log(head_m)

    def miss(log_velocity: float) -> float:
        return math.log(_head(line, math.exp(log_velocity))) - wanted

    # Neither the fittings alone nor smooth friction alone can let more through than this.
    bounds = []
    if line.fittings > 0:
        bounds.append(math.sqrt(2 * GRAVITY_M_S2 * head_m / line.fittings))
    smooth = 32 * line.viscosity_mm2_s * line.length_mm / line.bore_mm**2 / 1000
    if smooth > 0:
        bounds.append(GRAVITY_M_S2 * head_m / smooth)
    fastest = math.log(min(bounds))
    # The head grows at least as fast as the velocity, so this much slower is slow enough.
    most = miss(fastest)
    slowest = fastest - max(0.0, most) - 1e-6
    return math.exp(_root(miss, slowest, fastest + 1e-6, fastest, fastest - most / 1.9))


def flow_l_min(line: Line, head_m: float) -> float:
    """Flow Q that a head H drives through a line.

    Source: as for `head_m`.
    Arguments: as for `velocity_m_s`.
    Returns: Q [L/min].
    Formula: Q = v pi D^2/4.
    Limits: as for `head_m`. ValueError outside the ranges.
    """
    return velocity_m_s(line, head_m) * _bore_m2(line) * 60_000


def drain_curve(
    vessel: Vessel,
    line: Line,
    start_mm: float,
    end_mm: float | None = None,
    outlet_mm: float = 0.0,
) -> list[tuple[float, float]]:
    """Depth h against time t while a vessel empties through a line.

    Source: volume balance with the flow of `flow_l_min`: dt = dV/Q.
    Arguments: vessel and line as in this module; start_mm and end_mm [mm] above the vessel's lowest
        point, outlet <= end <= start; outlet_mm [mm] >= 0. Without an end: down to where the
        flow stops, or one millimetre above that where the last millimetre never ends.
    Returns: [(t [s], h [mm]), ...] from (0, start), times rising and depths falling.
    Formula: t = sum of dV (1/Q + 1/Q')/2 over steps of 2 % in velocity; H = h - outlet + drop.
    Limits: outlet covered, pond level steady; accurate to about 1e-4. ValueError for depths outside
        the vessel, an end below the outlet, or an end that the water never reaches.
    """
    end_mm = _end_mm(vessel, line, start_mm, end_mm, outlet_mm)
    if start_mm == end_mm:
        return [(0.0, start_mm)]
    return _march(vessel, line, start_mm, end_mm, outlet_mm - line.drop_mm)


def _end_mm(
    vessel: Vessel, line: Line, start_mm: float, end_mm: float | None, outlet_mm: float
) -> float:
    """Where a vessel that drains ends. Raises ValueError as `drain_curve` does."""
    _check(line)
    not_negative(outlet_mm, "the height of the outlet")
    lowest = outlet_mm + max(0.0, -line.drop_mm)
    still = line.drop_mm <= NO_HEAD_M * 1000  # the head is gone at the lowest level
    if end_mm is None:
        end_mm = min(start_mm, lowest + (1.0 if still else 0.0))
    if not lowest <= end_mm <= start_mm:
        raise ValueError(
            f"the depths must fall and stay above {lowest:g} mm, not {start_mm:g} to {end_mm:g} mm"
        )
    vessel.volume_l(start_mm)  # refuses a depth that the vessel does not have
    if start_mm > end_mm and end_mm - outlet_mm + line.drop_mm <= NO_HEAD_M * 1000:
        raise ValueError(f"the water never quite falls to {lowest:g} mm; give an end above it")
    return end_mm


def _march(
    vessel: Vessel, line: Line, start_mm: float, end_mm: float, foot_mm: float
) -> list[tuple[float, float]]:
    """The points of a drain curve; `foot_mm` is the depth at which the head would be gone."""
    fast = velocity_m_s(line, (start_mm - foot_mm) / 1000)
    slow = velocity_m_s(line, (end_mm - foot_mm) / 1000)
    steps = min(1000, max(40, math.ceil(math.log(fast / slow) / STEP)))
    points = [(0.0, start_mm)]
    time, velocity, litres = 0.0, fast, vessel.volume_l(start_mm)
    for step in range(1, steps + 1):
        # even steps in velocity: the head that belongs to it needs no solving
        after = fast * (slow / fast) ** (step / steps)
        depth = end_mm
        if step < steps:
            level = _head(line, after) * 1000 + foot_mm
            depth = min(points[-1][1], max(end_mm, level))
        left = vessel.volume_l(depth)
        seconds_per_m = (1 / velocity + 1 / after) / 2
        time += max(0.0, litres - left) / 1000 / _bore_m2(line) * seconds_per_m
        points.append((time, depth))
        litres, velocity = left, after
    return points


def _drain_s(vessel: Vessel, line: Line, start_mm: float, end_mm: float, foot_mm: float) -> float:
    """The last time of a drain curve alone, s: by parts t = W/Q at the start + integral of W/Q over
    ln Q, with W the volume above the end; Simpson's rule, which needs far fewer steps."""
    fast = velocity_m_s(line, (start_mm - foot_mm) / 1000)
    slow = velocity_m_s(line, (end_mm - foot_mm) / 1000)
    span = math.log(fast / slow)
    steps = 2 * min(50, max(5, math.ceil(span / (2 * COARSE))))
    last, share, total = vessel.volume_l(end_mm), 0.0, 0.0
    for step in range(1, steps + 1):
        velocity = slow * math.exp(span * step / steps)
        depth = start_mm
        if step < steps:
            depth = min(start_mm, max(end_mm, _head(line, velocity) * 1000 + foot_mm))
        share = (vessel.volume_l(depth) - last) / velocity
        total += share * (4 if step % 2 else 2)
    total = (total - share) * span / steps / 3 + share
    return total / 1000 / _bore_m2(line)


def depth_after_mm(curve: Sequence[tuple[float, float]], time_s: float) -> float:
    """Depth h at a time t along a drain curve.

    Source: straight lines between the points of `drain_curve`.
    Arguments: curve, at least one point; time_s t [s] >= 0.
    Returns: h [mm]; the curve's end after its last time.
    Formula: linear interpolation.
    Limits: those of the curve. ValueError for a negative time.
    """
    not_negative(time_s, "the time")
    index = bisect_left(curve, time_s, key=lambda point: point[0])
    if index == 0:
        return curve[0][1]
    if index == len(curve):
        return curve[-1][1]
    (before, high), (after, low) = curve[index - 1], curve[index]
    return high - (high - low) * (time_s - before) / (after - before)


def time_to_s(curve: Sequence[tuple[float, float]], depth_mm: float) -> float:
    """Time t at which a drain curve comes down to a depth h.

    Source: straight lines between the points of `drain_curve`.
    Arguments: curve, at least one point; depth_mm h [mm].
    Returns: t [s]; 0 above the curve's start, its last time below its end.
    Formula: linear interpolation, the inverse of `depth_after_mm`.
    Limits: those of the curve.
    """
    index = bisect_left(curve, -depth_mm, key=lambda point: -point[1])
    if index == 0:
        return curve[0][0]
    if index == len(curve):
        return curve[-1][0]
    (before, high), (after, low) = curve[index - 1], curve[index]
    return before + (after - before) * (high - depth_mm) / (high - low)


def fit_fittings(
    vessel: Vessel, line: Line, releases: Sequence[Release], outlet_mm: float = 0.0
) -> float:
    """Loss coefficient K of a line, from releases that were timed.

    Source: inverse of `drain_curve`; each release gives its own K and the median is taken, so that
        one mistimed release does not move it.
    Arguments: vessel, line (its own fittings are not used) and outlet as for `drain_curve`;
        releases, at least one, with start > end [mm] and time [s] > 0.
    Returns: K [-], 0 to 10,000.
    Formula: median over releases of the K at which the computed time is the timed one.
    Limits: K also takes up what is wrong with bore and length; sure to 1e-4 of the computed time; a
        release faster than a line without fittings counts as 0. ValueError for no release or as for
        `drain_curve`.
    """
    if not releases:
        raise ValueError("at least one timed release is needed to fit the line")
    fitted = sorted(_fittings_of(vessel, line, release, outlet_mm) for release in releases)
    middle = len(fitted) // 2
    if len(fitted) % 2:
        return fitted[middle]
    return (fitted[middle - 1] + fitted[middle]) / 2


def _fittings_of(vessel: Vessel, line: Line, release: Release, outlet_mm: float) -> float:
    positive(release.time_s, "the time of a release")
    if not release.end_mm < release.start_mm:
        raise ValueError("a timed release must end lower than it began")

    least, most = (0.0 if line.length_mm > 0 else 1e-3), 10_000.0
    first = min(max(line.fittings, least, 1e-3), most)
    start, end = release.start_mm, release.end_mm
    _end_mm(vessel, line._replace(fittings=first), start, end, outlet_mm)
    foot = outlet_mm - line.drop_mm

    def miss(fittings: float) -> float:
        seconds = _drain_s(vessel, line._replace(fittings=fittings), start, end, foot)
        return (seconds / release.time_s) ** 2 - 1  # nearly straight in K

    # What the hose's friction adds to K, at the middle of the release: the time goes by their sum.
    middle_m = ((release.start_mm + release.end_mm) / 2 - outlet_mm + line.drop_mm) / 1000
    velocity = velocity_m_s(line._replace(fittings=first), middle_m)
    friction = 2 * GRAVITY_M_S2 * middle_m / velocity**2 - first
    second = (first + friction) / (1 + miss(first)) - friction
    return _root(miss, least, most, first, second, within=1e-4)


def _check(line: Line) -> None:
    positive(line.bore_mm, "the bore")
    not_negative(line.length_mm, "the length of the pipe")
    not_negative(line.fittings, "the loss coefficient of the fittings")
    positive(line.viscosity_mm2_s, "the viscosity")
    if not 0 <= line.roughness_mm <= 0.05 * line.bore_mm:
        most = 0.05 * line.bore_mm
        raise ValueError(f"the roughness must be 0 to {most:g} mm, not {line.roughness_mm:g} mm")
    if line.fittings == 0 and line.length_mm == 0:
        raise ValueError("a line needs a length or a loss coefficient above zero")


def _bore_m2(line: Line) -> float:
    return math.pi * line.bore_mm**2 / 4e6


def _head(line: Line, velocity_m_s: float) -> float:
    reynolds = velocity_m_s * line.bore_mm * 1000 / line.viscosity_mm2_s
    friction = churchill(reynolds, line.roughness_mm / line.bore_mm)
    losses = line.fittings + friction * line.length_mm / line.bore_mm
    return velocity_m_s**2 / 2 * losses / GRAVITY_M_S2


def _root(
    miss: Callable[[float], float],
    low: float,
    high: float,
    first: float,
    second: float,
    within: float = 1e-12,
) -> float:
    """Root of a rising function between two bounds, or the bound that it lies beyond: the secant
    of the two latest tries, halving the bracket where that leaves it, until it misses by less than
    `within`."""
    before, there, guess = first, miss(first), second
    low, high = (first, high) if there < 0 else (low, first)
    for _ in range(100):
        guess = min(max(guess, low), high)
        here = miss(guess)
        if (guess == low and here >= 0) or (guess == high and here <= 0):
            return guess
        low, high = (guess, high) if here < 0 else (low, guess)
        if here == there or abs(here) < within or high - low < 1e-15 * abs(high):
            return guess
        ahead = guess - here * (guess - before) / (here - there)
        before, there = guess, here
        guess = ahead if low < ahead < high else (low + high) / 2
    return guess
