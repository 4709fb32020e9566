"""A barrel's volumes: what stands below its outlet, up to its full line and to its brim."""

from __future__ import annotations

from typing import TypedDict

from pondtui.pond.setup.model import Barrel
from pondtui.science import vessels


class Sizes(TypedDict):
    """The sizes of a vessel by the names that `science.vessels` gives them."""

    diameter_mm: float
    length_mm: float
    width_mm: float
    breadth_mm: float


def sizes(barrel: Barrel) -> Sizes:
    """The barrel's sizes for the functions of `science.vessels`."""
    return {
        "diameter_mm": barrel.diameter_mm,
        "length_mm": barrel.length_mm,
        "width_mm": barrel.width_mm,
        "breadth_mm": barrel.breadth_mm,
    }


def brim_mm(barrel: Barrel) -> float:
    """Height of the brim above the bottom: a lying barrel's diameter."""
    return barrel.diameter_mm if barrel.shape == "lying" else barrel.height_mm


def volume_l(barrel: Barrel, depth_mm: float) -> float:
    """Litres that stand in it at a depth; none below the bottom, no more than to the brim."""
    depth = min(max(depth_mm, 0.0), brim_mm(barrel))
    return vessels.volume_l(barrel.shape, depth, **sizes(barrel))


def depth_mm(barrel: Barrel, volume_l: float) -> float:
    """Depth at which litres stand in it; nothing for none, the brim for more than it holds."""
    litres = min(max(volume_l, 0.0), brim_l(barrel))
    return vessels.depth_mm(barrel.shape, litres, **sizes(barrel))


def heel_l(barrel: Barrel) -> float:
    """Litres that stay below the outlet."""
    return volume_l(barrel, barrel.outlet_mm)


def full_line_l(barrel: Barrel) -> float:
    """Litres up to the line to which it is filled."""
    return volume_l(barrel, barrel.full_line_mm)


def brim_l(barrel: Barrel) -> float:
    """Litres up to the brim."""
    return vessels.full_l(barrel.shape, height_mm=barrel.height_mm, **sizes(barrel))
