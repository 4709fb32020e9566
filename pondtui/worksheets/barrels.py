"""Worksheets on a barrel and its filling."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import vessels
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, flow, length, one_of, volume
from pondtui.worksheets.sizes import area as area_input

VESSEL_INPUTS = (
    Input(
        "shape",
        "choice",
        "upright barrel, lying barrel, or any straight-sided vessel",
        words=vessels.SHAPES,
    ),
    length("diameter", "inner diameter of a round vessel"),
    length("width", "inner width of a straight vessel"),
    length("breadth", "inner breadth of a straight vessel"),
    area_input("area", "floor area of a straight vessel, in place of width and breadth"),
    length("height", "inner height of a standing vessel"),
    length("length", "inner length of a lying barrel"),
)
_SIZES = {
    "diameter": "diameter_mm",
    "width": "width_mm",
    "breadth": "breadth_mm",
    "area": "area_m2",
    "length": "length_mm",
}


def vessel_sizes(values: Mapping[str, Any]) -> dict[str, float]:
    """The sizes of a vessel as `science.vessels` names them."""
    if "area" in values and ("width" in values or "breadth" in values):
        raise InputError("give the area or the width and breadth, not both")
    return {size: values[name] for name, size in _SIZES.items() if name in values}


def _barrel_volume(values: Mapping[str, Any]) -> dict[str, float | str]:
    shape, sizes = values["shape"], vessel_sizes(values)
    if shape == "lying":
        full = vessels.full_l(shape, **sizes)
    else:
        # a standing vessel has only one upright size, whichever word was used for it
        height = values[one_of(values, "height", "length")]
        sizes.pop("length_mm", None)
        full = vessels.full_l(shape, height_mm=height, **sizes)
    if one_of(values, "depth", "volume") == "depth":
        depth: float = values["depth"]
        litres = vessels.volume_l(shape, depth, **sizes)
        if shape != "lying" and depth > height * (1 + 1e-12):
            raise InputError(f"the depth must be 0 to {height:g} mm, not {depth:g} mm")
    else:
        litres = values["volume"]
        if litres > full * (1 + 1e-12):
            raise InputError(f"the volume must be 0 to {full:g} L, not {litres:g} L")
        depth = vessels.depth_mm(shape, litres, **sizes)
    return {"volume_l": litres, "fraction": litres / full, "depth_mm": depth}


def _fill_time(values: Mapping[str, Any]) -> dict[str, float | str]:
    return {"time_min": values["volume"] / values["flow"]}


def _flow_by_bucket(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "time")
    return {"flow_l_per_min": values["volume"] / values["time"]}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="barrel-volume",
        group="barrel",
        title="What a barrel holds at a depth, and back",
        inputs=(
            *VESSEL_INPUTS,
            length("depth", "depth of the water, measured from the lowest point inside"),
            volume("volume", "volume of the water, in place of the depth"),
        ),
        results=(
            Result("volume_l", "L", "water in the vessel"),
            Result("fraction", "", "share of the full vessel"),
            Result("depth_mm", "mm", "depth of the water"),
        ),
        formula="V = A h; lying: V = L D²/8 (t − sin t), t = 4 asin(√(h/D))",
        source="solid geometry; circular segment, Perry's Chemical Engineers' Handbook",
        cautions=(
            "Measure inside; a bulging barrel holds more than its straight sizes say.",
            "What stands below the outlet stays in the barrel.",
        ),
        example={"shape": "lying", "diameter": "580 mm", "length": "900 mm", "depth": "173 mm"},
        compute=_barrel_volume,
    ),
    Worksheet(
        name="fill-time",
        group="barrel",
        title="How long a fill takes",
        inputs=(
            volume("volume", "water to fill in", required=True),
            flow("flow", "flow of the tap", required=True),
        ),
        results=(Result("time_min", "min", "time of the fill"),),
        formula="t = V / Q",
        source="arithmetic",
        cautions=("Tap flow varies: be back at 80 % of this time and stay near.",),
        example={"volume": "200 L", "flow": "12 L/min"},
        compute=_fill_time,
    ),
    Worksheet(
        name="flow-by-bucket",
        group="barrel",
        title="Flow of a tap by bucket and watch",
        inputs=(
            volume("volume", "water caught in the bucket", required=True),
            Input("time", "time", "time it took", low=0),
        ),
        results=(Result("flow_l_per_min", "L/min", "flow of the tap"),),
        formula="Q = V / t",
        source="arithmetic",
        cautions=("Take the mean of three; other taps in the house change the flow.",),
        example={"volume": "10 L", "time": "50 s"},
        compute=_flow_by_bucket,
    ),
)
