"""Water through a hole: how fast it runs, how long a vessel takes, how two vessels level out."""

from __future__ import annotations

import math

from pondtui.science.ranges import not_negative, positive, within

GRAVITY_M_S2 = 9.80665


def circle_m2(diameter_mm: float) -> float:
    """Area a of a round hole.

    Source: plane geometry.
    Arguments: diameter_mm d [mm] > 0.
    Returns: a [m2].
    Formula: a = pi d^2/4.
    Limits: round holes. ValueError for a diameter that is not above zero.
    """
    positive(diameter_mm, "the diameter")
    return math.pi * diameter_mm**2 / 4e6


def flow_l_per_day(hole_m2: float, head_m: float, cd: float = 0.6) -> float:
    """Flow Q of a leak through a hole under a steady head.

    Source: Torricelli's law with a discharge coefficient.
    Arguments: hole_m2 a [m2] > 0; head_m h [m] >= 0, water above the hole; cd C [-], 0.01 to 1.
    Returns: Q [L/day].
    Formula: Q = C a sqrt(2 g h).
    Limits: a hole in a thin wall that runs free; soil behind it slows the flow. ValueError outside
        the ranges.
    """
    positive(hole_m2, "the area of the hole")
    not_negative(head_m, "the head")
    _coefficient(cd)
    return cd * hole_m2 * math.sqrt(2 * GRAVITY_M_S2 * head_m) * 1000 * 86_400


def drain_time_s(
    vessel_m2: float,
    hole_m2: float,
    start_m: float,
    end_m: float = 0.0,
    cd: float = 0.6,
    gravity_m_s2: float = GRAVITY_M_S2,
) -> float:
    """Time t in which a vessel with upright walls falls from one depth to another.

    Source: Torricelli's law integrated over depth, as in Cengel & Cimbala, Fluid Mechanics,
        Example 5-2.
    Arguments: vessel_m2 A [m2] > 0; hole_m2 a [m2] > 0; start_m h0 and end_m h1 [m] above the hole,
        0 <= h1 <= h0; cd C [-], 0.01 to 1; gravity_m_s2 g [m/s2] > 0.
    Returns: t [s].
    Formula: t = 2 A (sqrt(h0) - sqrt(h1)) / (C a sqrt(2 g)).
    Limits: hole much smaller than the vessel, no hose behind it. ValueError outside the ranges.
    """
    not_negative(end_m, "the depth at the end")
    if not end_m <= start_m < math.inf:
        raise ValueError(f"the depth at the start must be at least the end's {end_m:g} m")
    rate = _root_rate(vessel_m2, hole_m2, cd, gravity_m_s2)
    return (math.sqrt(start_m) - math.sqrt(end_m)) / rate


def depth_after_m(
    vessel_m2: float,
    hole_m2: float,
    start_m: float,
    elapsed_s: float,
    cd: float = 0.6,
    gravity_m_s2: float = GRAVITY_M_S2,
) -> float:
    """Depth h left above a hole after a time: the inverse of `drain_time_s`.

    Source: as for `drain_time_s`.
    Arguments: as for `drain_time_s`; elapsed_s t [s] >= 0.
    Returns: h [m]; 0 once the hole has run dry.
    Formula: h = (sqrt(h0) - C a sqrt(2 g) t / (2 A))^2.
    Limits: as for `drain_time_s`. ValueError outside the ranges.
    """
    not_negative(start_m, "the depth at the start")
    not_negative(elapsed_s, "the time")
    left = math.sqrt(start_m) - _root_rate(vessel_m2, hole_m2, cd, gravity_m_s2) * elapsed_s
    return max(0.0, left) ** 2


def level_out_time_s(
    first_m2: float,
    second_m2: float,
    start_m: float,
    end_m: float,
    hole_m2: float,
    cd: float = 0.6,
) -> float:
    """Time t in which the difference of level between two joined vessels falls.

    Source: Torricelli's law for a drowned opening between two vessels, integrated over the
        difference (standard hydraulics texts, e.g. Choudhary & Prakash, Fluid Mechanics, ch. 6).
    Arguments: first_m2 A1 and second_m2 A2 [m2] > 0; start_m d0 and end_m d1 [m], 0 <= d1 <= d0;
        hole_m2 a [m2] > 0; cd C [-], 0.01 to 1.
    Returns: t [s].
    Formula: t = 2 A1 A2 (sqrt(d0) - sqrt(d1)) / (C a sqrt(2 g) (A1 + A2)).
    Limits: upright walls, opening under water on both sides. ValueError outside the ranges.
    """
    positive(first_m2, "the area of the first vessel")
    positive(second_m2, "the area of the second vessel")
    joined = 1 / (1 / first_m2 + 1 / second_m2)
    return drain_time_s(joined, hole_m2, start_m, end_m, cd)


def _root_rate(vessel_m2: float, hole_m2: float, cd: float, gravity_m_s2: float) -> float:
    """How fast the square root of the depth falls [sqrt(m)/s]."""
    positive(vessel_m2, "the area of the vessel")
    positive(hole_m2, "the area of the hole")
    positive(gravity_m_s2, "gravity")
    _coefficient(cd)
    return cd * hole_m2 * math.sqrt(2 * gravity_m_s2) / (2 * vessel_m2)


def _coefficient(cd: float) -> None:
    within(cd, 0.01, 1, "the discharge coefficient")
