"""Ponds and bays: surface area at a level, and the water between two levels.

A level is given as its drop below the top (the reference mark at which the sizes were taken).
Above the top the walls are taken as upright, since a pond can stand a little over its mark; below
the bottom there is no water.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from pondtui.records import NamedTuple
from pondtui.science import surveys

Curve = Callable[[float], float]


class Basin(NamedTuple):
    """One body of water; sizes that its shape does not use stay 0."""

    shape: str  # box, cylinder, ellipse, bowl, cone, battered or table
    length_mm: float = 0.0  # at the waterline (box, ellipse, bowl, battered)
    width_mm: float = 0.0  # at the waterline (box, ellipse, bowl, battered)
    depth_mm: float = 0.0  # from the top to the lowest point; a table carries its own
    diameter_mm: float = 0.0  # cylinder
    top_diameter_mm: float = 0.0  # cone
    bottom_diameter_mm: float = 0.0  # cone; 0 for a pointed one
    side_slope: float = 0.0  # battered: horizontal per vertical
    rows: tuple[tuple[float, float], ...] = ()  # table: (drop in mm, area in m2), from the top down
    rule: str = "conic"  # table: how the area runs between two rows


def area_m2(basin: Basin, drop_mm: float) -> float:
    """Area A of the surface when the level stands a drop d below the top.

    Source: solid geometry; table rules as in `volume_between_l`.
    Arguments: basin with sizes [mm] > 0 (rows [mm], [m2]); drop_mm d [mm], negative above the top.
    Returns: A [m2].
    Formula: box L W; cylinder pi D^2/4; ellipse pi L W/4; bowl pi L W/4 (1 - d^2/H^2); cone
        pi/4 (D + (D' - D) d/H)^2; battered (L - 2 s d)(W - 2 s d); table by its rule.
    Limits: the top's area above the top, 0 below the bottom. ValueError for a missing size, sides
        that meet above the bottom, rows out of order or an unknown shape.
    """
    area, _, bottom = _curves(basin)
    if drop_mm > bottom:
        return 0.0
    return area(max(0.0, drop_mm))


def volume_between_l(basin: Basin, drop_a_mm: float, drop_b_mm: float) -> float:
    """Volume V of the water between two levels, a above b.

    Source: integral of the area over depth; for straight tapering sides this is the prismoidal
        formula, V = h/6 (A + 4 Am + A') (USDA NRCS Agriculture Handbook 590, 1997, excavated
        ponds, from memory). Tables: conic h/3 (A + A' + sqrt(A A')), average end area h (A + A')/2,
        prismoidal over pairs of equally spaced rows h/3 (A + 4 A' + A'').
    Arguments: basin as for `area_m2`; drop_a_mm, drop_b_mm [mm] below the top, any sign.
    Returns: V [L]; negative when a lies below b.
    Formula: V = integral of A(d) from a to b (1 mm over 1 m2 is 1 L).
    Limits: average end area overstates by about a tenth on tapering sides. Between rows the
        prismoidal rule bends the area as a parabola, which may dip below zero at a very sharp foot.
        ValueError as for `area_m2`.
    """
    return _above_l(basin, drop_b_mm) - _above_l(basin, drop_a_mm)


def full_volume_l(basin: Basin) -> float:
    """Volume V of the basin filled to its top.

    Source: as for `volume_between_l`.
    Arguments: basin as for `area_m2`.
    Returns: V [L].
    Formula: V = integral of A(d) from the top to the bottom.
    Limits: as for `volume_between_l`. ValueError as for `area_m2`.
    """
    _, volume, bottom = _curves(basin)
    return volume(bottom)


def drop_after_l(basin: Basin, drop_mm: float, added_l: float) -> float:
    """New drop d' after a volume V was added at a drop d, or taken when V is negative.

    Source: inverse of `volume_between_l`, by halving.
    Arguments: basin as for `area_m2`; drop_mm d [mm], negative above the top; added_l V [L].
    Returns: d' [mm]; the bottom when more is taken than there is, negative above the top.
    Formula: volume between d' and d = V.
    Limits: upright walls above the top. ValueError as for `area_m2`.
    """
    area, volume, bottom = _curves(basin)
    start = min(drop_mm, bottom)
    before = volume(start) if start > 0 else start * area(0.0)
    wanted = before - added_l
    if wanted <= 0:
        return wanted / area(0.0)
    if wanted >= volume(bottom):
        return bottom
    high, low = 0.0, bottom
    for _ in range(60):
        middle = (high + low) / 2
        if volume(middle) < wanted:
            high = middle
        else:
            low = middle
    return (high + low) / 2


def _above_l(basin: Basin, drop_mm: float) -> float:
    """Water between the top and a level; negative when the level stands above the top."""
    area, volume, bottom = _curves(basin)
    if drop_mm < 0:
        return drop_mm * area(0.0)
    return volume(min(drop_mm, bottom))


@lru_cache(maxsize=32)
def _curves(basin: Basin) -> tuple[Curve, Curve, float]:
    """Area and volume from the top as functions of the drop, and the drop of the bottom."""
    if basin.shape == "table":
        return surveys.curves(basin.rows, basin.rule)
    if basin.shape not in _SHAPES:
        known = ", ".join([*_SHAPES, "table"])
        raise ValueError(f"the shape must be one of {known}, not {basin.shape!r}")
    needed, build = _SHAPES[basin.shape]
    for name in (*needed, "depth"):
        if not 0 < getattr(basin, f"{name}_mm") < math.inf:
            word = name.replace("_", " ")
            raise ValueError(f"this {basin.shape} basin needs a {word} above 0 mm")
    area, volume = build(basin)
    return area, volume, basin.depth_mm


def _upright(top_m2: float) -> tuple[Curve, Curve]:
    return lambda _drop: top_m2, lambda drop: top_m2 * drop


def _box(basin: Basin) -> tuple[Curve, Curve]:
    return _upright(basin.length_mm * basin.width_mm / 1e6)


def _cylinder(basin: Basin) -> tuple[Curve, Curve]:
    return _upright(math.pi * basin.diameter_mm**2 / 4e6)


def _ellipse(basin: Basin) -> tuple[Curve, Curve]:
    return _upright(math.pi * basin.length_mm * basin.width_mm / 4e6)


def _bowl(basin: Basin) -> tuple[Curve, Curve]:
    top, depth = math.pi * basin.length_mm * basin.width_mm / 4e6, basin.depth_mm
    return (
        lambda drop: top * (1 - (drop / depth) ** 2),
        lambda drop: top * drop * (1 - (drop / depth) ** 2 / 3),
    )


def _tapering(length: float, width: float, narrower: float, shorter: float) -> tuple[Curve, Curve]:
    """A rectangle whose sides shrink evenly with the drop, and its integral."""
    return (
        lambda drop: (length - shorter * drop) * (width - narrower * drop),
        lambda drop: (
            drop
            * (
                length * width
                - (length * narrower + width * shorter) * drop / 2
                + shorter * narrower * drop**2 / 3
            )
        ),
    )


def _cone(basin: Basin) -> tuple[Curve, Curve]:
    bottom = basin.bottom_diameter_mm
    if not 0 <= bottom < math.inf:
        raise ValueError("the bottom diameter of this cone basin must be 0 mm or more")
    scale = math.sqrt(math.pi / 4e6)
    shrink = scale * (basin.top_diameter_mm - bottom) / basin.depth_mm
    side = scale * basin.top_diameter_mm
    return _tapering(side, side, shrink, shrink)


def _battered(basin: Basin) -> tuple[Curve, Curve]:
    slope, shortest = basin.side_slope, min(basin.length_mm, basin.width_mm)
    if not 0 <= slope < math.inf:
        raise ValueError("the side slope must be 0 or more, horizontal per vertical")
    # A rounding error must not refuse a pond whose sides just meet in a line at the bottom.
    if 2 * slope * basin.depth_mm > shortest * (1 + 1e-9):
        meet = shortest / 2 / slope
        raise ValueError(f"with this side slope the sides meet {meet:g} mm down, above the bottom")
    shrink = 2 * slope / 1e3
    return _tapering(basin.length_mm / 1e3, basin.width_mm / 1e3, shrink, shrink)


_SHAPES: dict[str, tuple[tuple[str, ...], Callable[[Basin], tuple[Curve, Curve]]]] = {
    "box": (("length", "width"), _box),
    "cylinder": (("diameter",), _cylinder),
    "ellipse": (("length", "width"), _ellipse),
    "bowl": (("length", "width"), _bowl),
    "cone": (("top_diameter",), _cone),
    "battered": (("length", "width"), _battered),
}
