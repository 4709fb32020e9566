"""Worksheets on what may go wrong: backflow, weight, a valve that sticks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science.mixing import mixed, water_mass_kg
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, flow, length, volume

_LEAST_GAP_MM = {"us": 25.4, "uk": 20.0}


def _air_gap(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "bore")
    times = 3 if values["near_wall"] else 2
    # Where nobody says which rule holds, the wider gap is the safe one.
    least = _LEAST_GAP_MM[values.get("rule", "us")]
    return {"gap_mm": max(times * values["bore"], least)}


def _water_weight(values: Mapping[str, Any]) -> dict[str, float | str]:
    return {"mass_kg": water_mass_kg(values["volume"])}


def _stuck_valve(values: Mapping[str, Any]) -> dict[str, float | str]:
    ran = values["flow"] * values["time"]
    results: dict[str, float | str] = {"volume_l": ran}
    if "price" in values:
        above_zero(values, "price_per")
        results["cost"] = ran / values["price_per"] * values["price"]
    stays = ran
    if "room" in values:
        stays = min(ran, values["room"])
        results["spilled_l"] = ran - stays
    if "chlorine" in values:
        if "pond" not in values:
            raise InputError("pond: needed to work out the chlorine in it")
        above_zero(values, "pond")
        results["pond_mg_per_l"] = _chlorine(values["pond"], stays, ran, values["chlorine"])
    return results


def _chlorine(pond_l: float, stays_l: float, ran_l: float, tap_mg_l: float) -> float:
    """Chlorine in the pond: first it fills up, then what runs in pushes mixed water out."""
    full = pond_l + stays_l
    before = mixed(pond_l, 0.0, stays_l, tap_mg_l)
    return tap_mg_l - (tap_mg_l - before) * math.exp(-(ran_l - stays_l) / full)


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="air-gap",
        group="safety",
        title="Air gap between the hose and the rim",
        inputs=(
            length("bore", "inner diameter of the hose or spout", required=True),
            Input("near_wall", "yesno", "walls close beside the spout", "no"),
            Input(
                "rule",
                "choice",
                "us: at least 1 in; uk: at least 20 mm",
                words=("us", "uk"),
                required=False,
                by_gallon=(("us", "us"), ("imperial", "uk")),
            ),
        ),
        results=(Result("gap_mm", "mm", "least height of the hose end above the rim"),),
        formula="gap = 2 × bore (3 × near walls), at least 1 in (US) or 20 mm (UK)",
        source="ASME A112.1.2; UK Water Supply (Water Fittings) Regulations; municipal codes",
        cautions=(
            "Local plumbing rules stand above this.",
            "Never join pond or barrel to drinking water without an air gap.",
        ),
        example={"bore": "13 mm", "rule": "us"},
        compute=_air_gap,
    ),
    Worksheet(
        name="water-weight",
        group="safety",
        title="What the water in a barrel weighs",
        inputs=(volume("volume", "water in the barrel", required=True),),
        results=(Result("mass_kg", "kg", "weight of the water"),),
        formula="m = V × 1 kg/L",
        source="density of water, Kell (1975) J. Chem. Eng. Data 20:97-105",
        cautions=("A full barrel can crush: stand it level and tie it.",),
        example={"volume": "200 L"},
        compute=_water_weight,
    ),
    Worksheet(
        name="stuck-valve",
        group="safety",
        title="What a valve or hose left running does",
        inputs=(
            flow("flow", "flow of the tap", required=True),
            Input("time", "time", "time until somebody sees it", low=0),
            Input("price", "number", "price of water", low=0, required=False),
            Input("price_per", "volume", "the volume that the price is for", "1 m3", low=0),
            volume("pond", "water in the pond before"),
            volume("room", "water that the pond still takes before it spills"),
            Input("chlorine", "concentration", "total chlorine of the tap", low=0, required=False),
        ),
        results=(
            Result("volume_l", "L", "water that ran"),
            Result("cost", "", "what it costs, when a price is given"),
            Result("spilled_l", "L", "water spilled, when the room is given"),
            Result("pond_mg_per_l", "mg/L", "chlorine in the pond, when pond and chlorine are"),
        ),
        formula="V = Q t; c = c_tap − (c_tap − c₁) e^(−spilled/full), c₁ the mix without spilling",
        source="volume and mass balance; overflow as a stirred tank",
        cautions=(
            "Chlorine decays and clings: the pond may see less, but count on this much.",
            "Dose for the whole pond and aerate when tap water got in.",
        ),
        example={
            "flow": "12 L/min",
            "time": "8 h",
            "price": "4.20",
            "pond": "5000 L",
            "room": "300 L",
            "chlorine": "1 mg/L",
        },
        compute=_stuck_valve,
    ),
)
