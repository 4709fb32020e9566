"""Worksheets on a pond's volume and level."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import basins, surveys
from pondtui.science.basins import Basin
from pondtui.science.mixing import rise_mm
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, area, length, volume

SHAPES = ("box", "cylinder", "ellipse", "bowl", "cone", "battered", "table")
_SIZES = ("length", "width", "depth", "diameter", "top_diameter", "bottom_diameter")


def _pond_volume(values: Mapping[str, Any]) -> dict[str, float | str]:
    shape = values["shape"]
    sizes = {f"{name}_mm": values[name] for name in _SIZES if name in values}
    if shape == "table" and "areas" not in values:
        raise InputError("areas: a table needs depths and areas such as 0 m:10 m2, 5 m:18 m2")
    if shape == "cone" and "bottom_diameter" not in values:
        raise InputError("bottom_diameter: a cone needs it; 0 mm for a pointed one")
    if shape == "battered" and "side_slope" not in values:
        raise InputError(
            "side_slope: battered sides need it, such as 1.5 (horizontal per vertical)"
        )
    basin = Basin(
        shape,
        **sizes,
        side_slope=values.get("side_slope", 0.0),
        rows=tuple(tuple(row) for row in values.get("areas", ())),
        rule=values["rule"],
    )
    full = basins.full_volume_l(basin)
    bottom = basin.rows[-1][0] if shape == "table" else basin.depth_mm
    drop = values.get("drop", 0.0)
    if drop > bottom:
        raise InputError(f"drop: must be 0 to {bottom:g} mm, the bottom of the pond")
    return {
        "volume_l": full,
        "area_m2": basins.area_m2(basin, drop),
        "drop_volume_l": basins.volume_between_l(basin, 0.0, drop),
    }


def _level_volume(values: Mapping[str, Any]) -> dict[str, float | str]:
    names = ("area", "drop", "volume")
    given = [name for name in names if name in values]
    if len(given) != 2:
        raise InputError("give two of area, drop and volume")
    if "area" not in values:
        above_zero(values, "drop", "volume")
        surface = values["volume"] / values["drop"]
        return {"volume_l": values["volume"], "drop_mm": values["drop"], "area_m2": surface}
    surface = values["area"]
    drop = values["drop"] if "drop" in values else rise_mm(values["volume"], surface)
    litres = values["volume"] if "volume" in values else drop * surface
    return {"volume_l": litres, "drop_mm": drop, "area_m2": surface}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="pond-volume",
        group="pond",
        title="Volume and surface of a pond",
        inputs=(
            Input("shape", "choice", "shape of the pond or of one bay", words=SHAPES),
            length("length", "length at the waterline"),
            length("width", "width at the waterline"),
            length("depth", "depth from the waterline to the lowest point"),
            length("diameter", "diameter of a cylinder"),
            length("top_diameter", "diameter of a cone at the waterline"),
            length("bottom_diameter", "diameter of a cone at the bottom"),
            Input(
                "side_slope",
                "number",
                "slope of battered sides, horizontal per vertical",
                low=0,
                high=100,
                required=False,
            ),
            Input(
                "areas",
                "areas",
                "areas at drops below the waterline, 0 m:10 m2, 5 m:18 m2",
                required=False,
            ),
            Input("rule", "choice", "rule between the areas", "conic", words=surveys.RULES),
            length("drop", "how far the level stands below the waterline"),
        ),
        results=(
            Result("volume_l", "L", "volume when full"),
            Result("area_m2", "m2", "surface at the level of the drop"),
            Result("drop_volume_l", "L", "water between the waterline and the level of the drop"),
        ),
        formula="V = ∫ A(d) dd: prismoidal for straight tapering sides, "
        "2/3 of length × width × depth × π/4 for a bowl; table: conic h/3 (A + A' + √(A A'))",
        source="solid geometry; USDA NRCS Agriculture Handbook 590 (1997) for excavated ponds",
        cautions=(
            "A bay of gravel and reed holds about 40 % water: count it apart.",
            "Average end area overstates a tapering pond by about a tenth.",
        ),
        example={
            "shape": "battered",
            "length": "4 m",
            "width": "3 m",
            "depth": "0.8 m",
            "side_slope": "1.2",
            "drop": "60 mm",
        },
        compute=_pond_volume,
    ),
    Worksheet(
        name="level-volume",
        group="pond",
        title="Level and water: two of area, drop and volume give the third",
        inputs=(
            area("area", "surface of the pond at its level"),
            length("drop", "fall (or rise) of the level"),
            volume("volume", "water lost (or added)"),
        ),
        results=(
            Result("volume_l", "L", "water lost or added"),
            Result("drop_mm", "mm", "fall or rise of the level"),
            Result("area_m2", "m2", "surface of the pond"),
        ),
        formula="V = A d; 1 mm over 1 m² is 1 L",
        source="exact by definition",
        cautions=("The surface shrinks as the level falls: take it at the level of today.",),
        example={"area": "8 m2", "volume": "40 L"},
        compute=_level_volume,
    ),
)
