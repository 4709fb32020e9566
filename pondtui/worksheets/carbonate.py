"""Worksheets of carbon dioxide and hardness."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import carbonate as ca
from pondtui.units import normal
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Water tests"
UNITS = ", ".join(ca.CACO3_MG_L)


def _carbon_dioxide(v: Mapping[str, Any]) -> dict[str, float | str]:
    return {"co2_mg_per_l": ca.co2_mg_l(v["ph"], v["temp"], v["alkalinity"])}


def _hardness(v: Mapping[str, Any]) -> dict[str, float | str]:
    ions = {"calcium", "magnesium"} & v.keys()
    if "value" in v and not ions:
        caco3_mg_l = v["value"]
    elif "value" not in v and len(ions) == 2:
        caco3_mg_l = ca.hardness_of_ions_mg_l(v["calcium"], v["magnesium"])
    else:
        raise InputError("give value, or calcium and magnesium, and not both")
    unit, _ = normal(v["to"])
    if unit not in ca.CACO3_MG_L:
        raise InputError(f"to: one of {UNITS}, not {v['to']}")
    return {"value": ca.from_caco3_mg_l(caco3_mg_l, unit), "caco3_mg_per_l": caco3_mg_l}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="carbon-dioxide",
        group=GROUP,
        title="Carbon dioxide from pH and alkalinity",
        inputs=(
            Input("ph", "number", "pH of the water", low=5, high=10),
            Input("temp", "temperature", "temperature of the water", low=0, high=40),
            Input("alkalinity", "hardness", "alkalinity (carbonate hardness)"),
        ),
        results=(Result("co2_mg_per_l", "mg/L", "free carbon dioxide"),),
        formula="CO2 = 44.01 x bicarbonate x 10^(pK1 - pH), pK1 by temperature",
        source="Plummer & Busenberg (1982) Geochim. Cosmochim. Acta 46:1011",
        cautions=(
            "Advice, not an alarm: a pH wrong by 0.3 makes it wrong by a factor of two.",
            "Carbon dioxide is highest at dawn.",
        ),
        example={"ph": "6.8", "temp": "25 degC", "alkalinity": "50 mg/L CaCO3"},
        compute=_carbon_dioxide,
    ),
    Worksheet(
        name="hardness",
        group=GROUP,
        title="Hardness and alkalinity in another unit",
        inputs=(
            Input("value", "hardness", "hardness or alkalinity", required=False),
            Input("to", "text", f"unit to turn it into: {UNITS}", "mg/L CaCO3"),
            Input("calcium", "concentration", "calcium of a water report", required=False),
            Input("magnesium", "concentration", "magnesium of a water report", required=False),
        ),
        results=(
            Result("value", "", "in the unit asked for"),
            Result("caco3_mg_per_l", "mg/L CaCO3", "as calcium carbonate"),
        ),
        formula="each unit by its definition; hardness = 2.497 calcium + 4.118 magnesium",
        source="unit definitions, IUPAC standard atomic weights (2021); Standard Methods 2340 B",
        cautions=(
            "Carbonate hardness (KH, alkalinity) and general hardness (GH) are two things.",
            "Calcium and magnesium are the ions themselves, not counted as CaCO3.",
        ),
        example={"value": "50 mg/L CaCO3", "to": "dH"},
        compute=_hardness,
    ),
)
