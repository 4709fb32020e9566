"""Worksheets that turn what a tape, a stick and a watch show into the sizes of a description."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import pipes, vessels
from pondtui.science.basins import Basin, area_m2, full_volume_l
from pondtui.science.pipes import Line, Release, Vessel
from pondtui.science.rain import plan_area_m2
from pondtui.units import read, show
from pondtui.worksheets.barrels import VESSEL_INPUTS, vessel_sizes
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, length, one_of

ROWS = 6  # depths of a survey
_OUTLINES = {"oval": math.pi / 4, "rectangle": 1.0}
_ROW = re.compile(r"(.+?)\s*:\s*(.+?)\s+[x×]\s+(.+)", re.IGNORECASE)
_ROW_EXAMPLE = "40 cm: 2.6 m x 1.5 m"


def _girth(values: Mapping[str, Any]) -> dict[str, float | str]:
    diameter = vessels.diameter_of_girth_mm(values["girth"], values["wall"])
    results: dict[str, float | str] = {"diameter_mm": diameter}
    if "height" in values:
        results["volume_l"] = vessels.full_l(
            "upright", height_mm=values["height"], diameter_mm=diameter
        )
    return results


def _dipstick(values: Mapping[str, Any]) -> dict[str, float | str]:
    if one_of(values, "wet", "dry") == "wet":
        return {"height_mm": values["wet"]}
    if "stick" not in values:
        raise InputError("stick: the dry end is taken off the whole stick: how long is it?")
    if values["dry"] > values["stick"]:
        raise InputError("dry: no more of the stick can be dry than it is long")
    return {"height_mm": values["stick"] - values["dry"]}


def _survey(values: Mapping[str, Any]) -> dict[str, float | str]:
    share, rows = _OUTLINES[values["outline"]], []
    for name in (f"row_{number}" for number in range(1, ROWS + 1)):
        if text := values.get(name, ""):
            rows.append(_row(name, text, share))
    rows.sort()
    system = "us" if re.search(r"[0-9]\s*(in|ft|\"|')", values["row_1"]) else "metric"
    if len(rows) < 2:
        raise InputError("row_2: at least two depths, the waterline (0 cm) and the bottom")
    basin = Basin("table", rows=tuple(rows))
    return {
        "volume_l": full_volume_l(basin),
        "area_m2": area_m2(basin, 0.0),
        "areas": "; ".join(
            f"{show(depth, 'length', system)}, {show(area, 'area', system)}" for depth, area in rows
        ),
    }


def _row(name: str, text: str, share: float) -> tuple[float, float]:
    """Depth [mm] and area [m2] of `40 cm: 2.6 m x 1.5 m`."""
    found = _ROW.fullmatch(text)
    if not found:
        raise InputError(f"{name}: depth, length and width such as {_ROW_EXAMPLE}, not {text}")
    depth, long, wide = (read(part, "length", what=name).value for part in found.groups())
    return depth, long * wide * share / 1e6


def _slope(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "down")
    return {"side_slope": values["inwards"] / values["down"]}


def _watched(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "time", "bore")
    line = Line(values["bore"], values["pipe_length"], values["drop"])
    start, end, outlet = values["depth_start"], values["depth_end"], values["outlet"]
    vessel = Vessel(values["shape"], **vessel_sizes(values))
    release = Release(start, end, values["time"] * 60)
    fittings = pipes.fit_fittings(vessel, line, [release], outlet)
    fitted = line._replace(fittings=fittings)
    whole = pipes.drain_curve(vessel, fitted, start, None, outlet)[-1][0]
    return {"fittings": fittings, "time_s": whole}


def _roof(values: Mapping[str, Any]) -> dict[str, float | str]:
    return {"area_m2": plan_area_m2(values["along"], values["across"], 0.0)}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="barrel-girth",
        group="measuring",
        title="A round barrel by its girth",
        inputs=(
            length("girth", "a tape laid round it at half its height", required=True),
            length("wall", "thickness of its wall", "3 mm"),
            length("height", "inner height to the brim, for what it holds"),
        ),
        results=(
            Result("diameter_mm", "mm", "inner diameter"),
            Result("volume_l", "L", "what it holds to the brim"),
        ),
        formula="D = girth / π - 2 wall, V = π/4 D² h",
        source="geometry of the circle",
        cautions=("Ribs make the tape too long: lay it between them.",),
        example={"girth": "182 cm", "wall": "3 mm", "height": "90 cm"},
        compute=_girth,
    ),
    Worksheet(
        name="dipstick",
        group="measuring",
        title="Height of the water or of an outlet by a stick",
        inputs=(
            length("wet", "as far as the stick is wet"),
            length("dry", "in place of that: its dry end"),
            length("stick", "length of the whole stick, with the dry end"),
        ),
        results=(Result("height_mm", "mm", "height above the bottom"),),
        formula="h = wet, or stick - dry",
        source="arithmetic",
        cautions=(
            "For an outlet: fill, open it, wait until nothing runs any more, then dip.",
            "Hold the stick upright, at the lowest place of the bottom.",
        ),
        example={"wet": "71 mm"},
        compute=_dipstick,
    ),
    Worksheet(
        name="pond-survey",
        group="measuring",
        title="A pond by its length and width at several depths",
        inputs=(
            Input("outline", "choice", "how it looks from above", "oval", words=tuple(_OUTLINES)),
            Input("row_1", "text", "at the waterline, such as 0 cm: 3.2 m x 2.1 m"),
            *(
                Input(f"row_{n}", "text", f"deeper, such as {_ROW_EXAMPLE}", required=n == 2)
                for n in range(2, ROWS + 1)
            ),
        ),
        results=(
            Result("volume_l", "L", "volume when full"),
            Result("area_m2", "m2", "surface at the waterline"),
            Result("areas", "", "depths and areas for pond.toml"),
        ),
        formula="area = length x width, x π/4 for an oval; V = conic h/3 (A + A' + √(A A'))",
        source="solid geometry",
        cautions=(
            "A free form lies between oval and rectangle; a bay that juts out is counted apart.",
        ),
        example={
            "outline": "oval",
            "row_1": "0 cm: 3.2 m x 2.1 m",
            "row_2": "40 cm: 2.6 m x 1.5 m",
            "row_3": "75 cm: 1.2 m x 0.8 m",
        },
        compute=_survey,
    ),
    Worksheet(
        name="side-slope",
        group="measuring",
        title="How flat a side is",
        inputs=(
            length("inwards", "how far the side comes in", required=True),
            length("down", "while it goes down so far", required=True),
        ),
        results=(Result("side_slope", "", "horizontal per vertical"),),
        formula="slope = inwards / down",
        source="arithmetic",
        cautions=("Measure all four sides and take the mean.",),
        example={"inwards": "15 cm", "down": "1 m"},
        compute=_slope,
    ),
    Worksheet(
        name="watched-release",
        group="measuring",
        title="Losses of a hose from one barrel watched while it ran out",
        inputs=(
            *VESSEL_INPUTS,
            length("outlet", "lower edge of the outlet above the bottom", "0 mm"),
            length("depth_start", "water above the bottom at the start", required=True),
            length("depth_end", "water above the bottom at the end", required=True),
            Input("time", "time", "the time between", low=0),
            Input(
                "drop",
                "length",
                "from the outlet down to the free end or the pond's surface",
                "0 mm",
                -1e5,
                1e5,
                signed=True,
            ),
            length("bore", "inner diameter of the hose", required=True),
            length("pipe_length", "length of the hose", required=True),
        ),
        results=(
            Result("fittings", "", "loss coefficient of tap, bends and exit"),
            Result("time_s", "s", "from the start until it runs no more"),
        ),
        formula="the K at which ∫ A(h)/Q(h) dh is the time that was taken",
        source="Darcy-Weisbach; Churchill (1977) Chem. Eng. 84(24):91-92",
        cautions=("Releases that are timed in Refill go before it from the second one on.",),
        example={
            "shape": "upright",
            "diameter": "57 cm",
            "height": "90 cm",
            "outlet": "70 mm",
            "depth_start": "84 cm",
            "depth_end": "20 cm",
            "time": "14 min",
            "drop": "35 cm",
            "bore": "19 mm",
            "pipe_length": "9 m",
        },
        compute=_watched,
    ),
    Worksheet(
        name="roof-area",
        group="measuring",
        title="A roof as the rain sees it",
        inputs=(
            length("along", "along the eaves", required=True),
            length("across", "across on the ground, not along the slope", required=True),
        ),
        results=(Result("area_m2", "m2", "area seen from above"),),
        formula="A = along x across",
        source="arithmetic",
        cautions=("Only the part that drains to this pipe.",),
        example={"along": "4 m", "across": "3 m"},
        compute=_roof,
    ),
)
