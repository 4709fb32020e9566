"""Water in a barrel or tank: depth to volume and back, for upright, lying and straight vessels.

Shapes: `upright` is a round vessel standing on its end, `lying` a round vessel on its side
(flat ends), `straight` any other vessel with upright walls, given by width and breadth or by its
area. Depths are measured from the lowest point inside.
"""

from __future__ import annotations

import math

SHAPES = ("upright", "lying", "straight")


def volume_l(
    shape: str,
    depth_mm: float,
    *,
    diameter_mm: float = 0.0,
    length_mm: float = 0.0,
    width_mm: float = 0.0,
    breadth_mm: float = 0.0,
    area_m2: float = 0.0,
) -> float:
    """Volume V of the water that stands at a depth h.

    Source: solid geometry; circular segment as in Perry's Chemical Engineers' Handbook, "Volume of
        partially filled horizontal cylinders" (exact formula, from memory).
    Arguments: shape; depth_mm h [mm], 0 or more, at most the diameter of a lying vessel;
        diameter_mm D [mm] > 0 (upright, lying); length_mm L [mm] > 0 (lying); width_mm and
        breadth_mm [mm] > 0 or area_m2 [m2] > 0 (straight).
    Returns: V [L].
    Formula: V = A h; lying: V = L D^2/8 (t - sin t) with t = 4 asin(sqrt(h/D)).
    Limits: flat ends and true walls; bulging barrels hold more. ValueError for a depth outside the
        vessel, a missing size or an unknown shape.
    """
    if shape != "lying":
        area = floor_m2(
            shape,
            diameter_mm=diameter_mm,
            width_mm=width_mm,
            breadth_mm=breadth_mm,
            area_m2=area_m2,
        )
        if not 0 <= depth_mm < math.inf:
            raise ValueError(f"the depth must be 0 mm or more, not {depth_mm:g} mm")
        return area * depth_mm
    _sizes(shape, diameter_mm=diameter_mm, length_mm=length_mm)
    _depth_in(depth_mm, diameter_mm)
    angle = 4 * math.asin(math.sqrt(depth_mm / diameter_mm))
    return length_mm * diameter_mm**2 / 8 * _less_sine(angle) / 1e6


def depth_mm(
    shape: str,
    volume_l: float,
    *,
    diameter_mm: float = 0.0,
    length_mm: float = 0.0,
    width_mm: float = 0.0,
    breadth_mm: float = 0.0,
    area_m2: float = 0.0,
) -> float:
    """Depth h at which a volume V stands: the inverse of `volume_l`.

    Source: solid geometry; the segment's angle by Newton's method.
    Arguments: shape; volume_l V [L], 0 or more, at most the full volume of a lying vessel; sizes as
        for `volume_l`.
    Returns: h [mm].
    Formula: h = V/A; lying: t - sin t = 8 V/(L D^2), h = D sin^2(t/4).
    Limits: as for `volume_l`. ValueError for a volume outside the vessel, a missing size or an
        unknown shape.
    """
    if shape != "lying":
        area = floor_m2(
            shape,
            diameter_mm=diameter_mm,
            width_mm=width_mm,
            breadth_mm=breadth_mm,
            area_m2=area_m2,
        )
        if not 0 <= volume_l < math.inf:
            raise ValueError(f"the volume must be 0 L or more, not {volume_l:g} L")
        return volume_l / area
    whole = full_l(shape, diameter_mm=diameter_mm, length_mm=length_mm)
    # A sum of litres may pass the brim by a rounding error; a real excess is refused.
    if not 0 <= volume_l <= whole * (1 + 1e-12):
        raise ValueError(f"the volume must be 0 to {whole:g} L, not {volume_l:g} L")
    share = min(1.0, volume_l / whole)
    if share > 0.5:
        return diameter_mm - diameter_mm * _segment_depth(1 - share)
    return diameter_mm * _segment_depth(share)


def surface_m2(
    shape: str,
    depth_mm: float,
    *,
    diameter_mm: float = 0.0,
    length_mm: float = 0.0,
    width_mm: float = 0.0,
    breadth_mm: float = 0.0,
    area_m2: float = 0.0,
) -> float:
    """Area A of the water's surface at a depth h.

    Source: solid geometry (chord of a circle).
    Arguments: as for `volume_l`.
    Returns: A [m2].
    Formula: upright pi D^2/4; straight width x breadth; lying A = 2 L sqrt(h (D - h)).
    Limits: as for `volume_l`. ValueError as there.
    """
    if shape != "lying":
        return floor_m2(
            shape,
            diameter_mm=diameter_mm,
            width_mm=width_mm,
            breadth_mm=breadth_mm,
            area_m2=area_m2,
        )
    _sizes(shape, diameter_mm=diameter_mm, length_mm=length_mm)
    _depth_in(depth_mm, diameter_mm)
    return 2 * length_mm * math.sqrt(depth_mm * (diameter_mm - depth_mm)) / 1e6


def full_l(
    shape: str,
    *,
    height_mm: float = 0.0,
    diameter_mm: float = 0.0,
    length_mm: float = 0.0,
    width_mm: float = 0.0,
    breadth_mm: float = 0.0,
    area_m2: float = 0.0,
) -> float:
    """Volume V of the vessel filled to the brim.

    Source: solid geometry.
    Arguments: height_mm H [mm] > 0 (upright, straight); other sizes as for `volume_l`.
    Returns: V [L].
    Formula: V = A H; lying: V = pi D^2/4 L.
    Limits: as for `volume_l`. ValueError for a missing size or an unknown shape.
    """
    if shape == "lying":
        _sizes(shape, diameter_mm=diameter_mm, length_mm=length_mm)
        return math.pi * diameter_mm**2 / 4 * length_mm / 1e6
    _sizes(shape, height_mm=height_mm)
    return height_mm * floor_m2(
        shape, diameter_mm=diameter_mm, width_mm=width_mm, breadth_mm=breadth_mm, area_m2=area_m2
    )


def floor_m2(
    shape: str,
    *,
    diameter_mm: float = 0.0,
    width_mm: float = 0.0,
    breadth_mm: float = 0.0,
    area_m2: float = 0.0,
) -> float:
    """Area A of the level cut through a vessel with upright walls.

    Source: plane geometry.
    Arguments: diameter_mm D [mm] (upright); area_m2 [m2], or width_mm and breadth_mm [mm]
        (straight); all > 0.
    Returns: A [m2].
    Formula: pi D^2/4, or width x breadth, or the area itself.
    Limits: not for lying vessels. ValueError for a missing size or an unknown shape.
    """
    if shape == "upright":
        _sizes(shape, diameter_mm=diameter_mm)
        return math.pi * diameter_mm**2 / 4 / 1e6
    if shape != "straight":
        raise ValueError(f"the shape must be one of {', '.join(SHAPES)}, not {shape!r}")
    if 0 < area_m2 < math.inf:
        return area_m2
    _sizes(shape, width_mm=width_mm, breadth_mm=breadth_mm)
    return width_mm * breadth_mm / 1e6


def _sizes(shape: str, **sizes: float) -> None:
    for name, value in sizes.items():
        if not 0 < value < math.inf:
            size = name.removesuffix("_mm")
            raise ValueError(f"this {shape} vessel needs a {size} above 0 mm")


def _depth_in(depth_mm: float, diameter_mm: float) -> None:
    if not 0 <= depth_mm <= diameter_mm:
        raise ValueError(f"the depth must be 0 to {diameter_mm:g} mm, not {depth_mm:g} mm")


def _less_sine(angle: float) -> float:
    """t - sin t; by its series where the difference would lose digits."""
    if angle > 0.3:
        return angle - math.sin(angle)
    square = angle * angle
    tail = 1 - square / 110 * (1 - square / 156)
    return angle * square / 6 * (1 - square / 20 * (1 - square / 42 * (1 - square / 72 * tail)))


def _segment_depth(share: float) -> float:
    """Depth over diameter of a circular segment that holds a share (0 to 0.5) of the circle."""
    wanted = 2 * math.pi * share
    # Below the root, and the curve bends upwards: one step overshoots, the rest fall onto the root.
    angle = (6 * wanted) ** (1 / 3)
    for _ in range(30):
        slope = 2 * math.sin(angle / 2) ** 2
        if slope == 0:
            break
        step = (_less_sine(angle) - wanted) / slope
        angle -= step
        if abs(step) <= 1e-15 * angle:
            break
    return math.sin(angle / 4) ** 2


def diameter_of_girth_mm(girth_mm: float, wall_mm: float) -> float:
    """Inner diameter D of a round vessel by a tape laid round it.

    Source: geometry of the circle.
    Arguments: girth_mm g, the outer circumference [mm] > 0; wall_mm w, thickness of the wall [mm]
        >= 0, less than half the outer diameter.
    Returns: D [mm].
    Formula: D = g/pi - 2 w.
    Limits: between ribs, on a vessel that is round there. ValueError where nothing is left inside.
    """
    diameter = girth_mm / math.pi - 2 * wall_mm
    if diameter <= 0:
        raise ValueError("wall: twice the wall is more than the barrel is across")
    return diameter
