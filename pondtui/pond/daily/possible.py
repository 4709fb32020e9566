"""What no look can have seen: more in a barrel than it holds."""

from __future__ import annotations

from datetime import date

from pondtui.pond.setup.barrels import brim_l, brim_mm
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.units import show

BRIM_ERROR_L = 2.0  # of reading a rule or a gauge glass: common practice, no source


def impossible(setup: Setup, entry: Entry, day: date) -> str:
    """Why a look into a barrel cannot be right, in one sentence; "" where it can."""
    if entry.kind != "dip":
        return ""
    barrel = setup.barrel_on(str(entry.get("barrel")), day)
    if barrel is None:
        return ""
    system, most = setup.pond.units, brim_l(barrel)
    left, depth = entry.get("left"), entry.get("depth")
    if left is not None and left > most + BRIM_ERROR_L:
        said = show(left, "volume", system)
        return (
            f"left: {said} is more than {barrel.name} holds to its brim, "
            f"{show(most, 'volume', system)}: look again"
        )
    if depth is not None and depth > brim_mm(barrel) + 1:
        said, brim = (show(mm, "length", system) for mm in (depth, brim_mm(barrel)))
        return f"depth: {said} lies above the brim of {barrel.name} at {brim}: measure again"
    return ""
