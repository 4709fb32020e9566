"""Worksheets on rain from a roof."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import rain
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, area, length, one_of, volume

_ROOFS = "Plastic, glass, tile or slate; no copper, zinc, lead, moss treatment or bitumen."
_MANUAL = "Texas Water Development Board, The Texas Manual on Rainwater Harvesting (2005)"


def _roof_catch(values: Mapping[str, Any]) -> dict[str, float | str]:
    slopes = [name for name in ("slope_length", "width", "pitch") if name in values]
    if "area" in values and slopes:
        raise InputError(
            f"give the plan area or slope_length, width and pitch; {slopes[0]} is left"
        )
    if "area" in values:
        plan = values["area"]
    elif len(slopes) == 3:
        plan = rain.plan_area_m2(values["slope_length"], values["width"], values["pitch"])
    else:
        raise InputError("give the plan area, or slope_length, width and pitch together")
    litres = rain.roof_catch_l(plan, values["rain"], values["runoff"], values["first_flush"])
    return {"plan_area_m2": plan, "volume_l": litres}


def _first_flush(values: Mapping[str, Any]) -> dict[str, float | str]:
    given = one_of(values, "depth", "volume")
    depth = values["depth"] if given == "depth" else values["volume"] / values["area"]
    litres = values["volume"] if given == "volume" else values["depth"] * values["area"]
    results: dict[str, float | str] = {"volume_l": litres, "depth_mm": depth}
    if "pipe" in values:
        above_zero(values, "pipe")
        results["pipe_length_m"] = rain.standpipe_length_m(litres, values["pipe"])
    return results


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="roof-catch",
        group="rain",
        title="What a roof yields",
        inputs=(
            area("area", "plan area of the roof, as seen from above"),
            length("slope_length", "length up the slope, with width and pitch in place of area"),
            length("width", "width of the roof"),
            Input("pitch", "angle", "pitch of the roof", low=0, high=85, required=False),
            Input("rain", "rain", "depth of rain", low=0, high=30_000),
            Input("runoff", "fraction", "share that runs off", "0.85", 0, 1),
            Input("first_flush", "rain", "first rain thrown away", "0 mm", 0, 1000),
        ),
        results=(
            Result("plan_area_m2", "m2", "area that the rain sees"),
            Result("volume_l", "L", "water from the roof"),
        ),
        formula="V = A × max(0, rain − first flush) × runoff; A = slope × width × cos(pitch)",
        source=f"{_MANUAL} ch. 4; exact: 1 mm on 1 m² is 1 L",
        cautions=(
            _ROOFS,
            "Rain water has almost no alkalinity.",
            "The runoff share is taken after the first flush; over many rains the flush counts "
            "once each, so leave it 0 for a year's total.",
        ),
        example={"area": "20 m2", "rain": "10 mm", "first_flush": "0.5 mm"},
        compute=_roof_catch,
    ),
    Worksheet(
        name="first-flush",
        group="rain",
        title="First rain to throw away, and the standpipe that holds it",
        inputs=(
            area("area", "plan area of the roof", required=True),
            length("depth", "depth of the first rain"),
            volume("volume", "volume of the first rain, in place of its depth"),
            length("pipe", "inner diameter of a standpipe"),
        ),
        results=(
            Result("volume_l", "L", "water thrown away"),
            Result("depth_mm", "mm", "depth of rain that it is"),
            Result("pipe_length_m", "m", "length of the standpipe, when its diameter is given"),
        ),
        formula="V = A d; pipe length = V / (π D²/4)",
        source=f"{_MANUAL} ch. 2 pp. 7-8: 1 to 2 US gal per 100 ft²",
        cautions=("After smoke, dust or a long dry time throw more away.",),
        example={"area": "1500 ft2", "volume": "15 US gal", "pipe": "6 in"},
        compute=_first_flush,
    ),
)
