"""A basin of the keeper's as the shape that `science.basins` computes with."""

from __future__ import annotations

import math

from pondtui.pond.setup.model import Basin
from pondtui.science import basins


def shape_of(basin: Basin) -> basins.Basin:
    """The basin's outline; how much of it is water stands in `water_share`."""
    return basins.Basin(
        basin.shape,
        length_mm=basin.length_mm,
        width_mm=basin.width_mm,
        depth_mm=basin.depth_mm,
        diameter_mm=basin.diameter_mm,
        top_diameter_mm=basin.top_diameter_mm,
        bottom_diameter_mm=basin.bottom_diameter_mm,
        side_slope=basin.side_slope,
        rows=basin.areas,
    )


def bottom_mm(basin: Basin) -> float:
    """Depth of its deepest point below the level at which its sizes hold."""
    return basin.areas[-1][0] if basin.shape == "table" else basin.depth_mm


def area_at_edge_m2(basin: Basin) -> float:
    """Area of its surface at the level at which its sizes hold. ValueError for bad sizes."""
    return basins.area_m2(shape_of(basin), 0.0)


def across_mm(basin: Basin, down_mm: float) -> float:
    """How wide it looks from the side so far below the edge: its length where it has one, drawn in
    by the slope of its sides, or as its area draws in. ValueError for bad sizes."""
    shape = shape_of(basin)
    if basin.shape == "battered":
        return max(basin.length_mm - 2 * basin.side_slope * down_mm, 0.0)
    area = basins.area_m2(shape, 0.0)
    across = basin.length_mm or basin.diameter_mm or basin.top_diameter_mm or math.sqrt(area) * 1e3
    return across * math.sqrt(basins.area_m2(shape, down_mm) / area)


def full_l(basin: Basin) -> float:
    """Litres that it holds up to the edge, its share of water counted. ValueError for bad sizes."""
    return basins.full_volume_l(shape_of(basin)) * basin.water_share
