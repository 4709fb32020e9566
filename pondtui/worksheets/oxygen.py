"""Worksheet of oxygen: what water of this temperature holds at this place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import oxygen as ox
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Water tests"


def _pressure_kpa(v: Mapping[str, Any]) -> float:
    if "pressure" in v:
        if {"altitude", "sea_level_pressure"} & v.keys():
            raise InputError("pressure is that of the place itself: leave altitude out")
        return float(v["pressure"])
    if "altitude" in v:
        sea_level_kpa = v.get("sea_level_pressure", ox.STANDARD_KPA)
        return ox.station_pressure_kpa(v["altitude"] / 1000, sea_level_kpa)
    if "sea_level_pressure" in v:
        raise InputError("sea_level_pressure needs altitude, the height above the sea")
    return ox.STANDARD_KPA


def _oxygen_saturation(v: Mapping[str, Any]) -> dict[str, float | str]:
    pressure_kpa = _pressure_kpa(v)
    results: dict[str, float | str] = {
        "saturation_mg_per_l": ox.saturation_mg_l(v["temp"], pressure_kpa)
    }
    if "oxygen" in v:
        results["percent"] = ox.percent(v["oxygen"], v["temp"], pressure_kpa)
    return results


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="oxygen-saturation",
        group=GROUP,
        title="Oxygen that water can hold",
        inputs=(
            Input("temp", "temperature", "temperature of the water", low=0, high=40),
            Input(
                "pressure",
                "pressure",
                "air pressure at the pond itself",
                low=45,
                high=115,
                required=False,
            ),
            Input(
                "altitude",
                "length",
                "height above the sea",
                low=-500e3,
                high=6000e3,
                required=False,
                signed=True,
            ),
            Input(
                "sea_level_pressure",
                "pressure",
                "air pressure as weather reports give it",
                low=85,
                high=110,
                required=False,
            ),
            Input("oxygen", "concentration", "oxygen that was measured", required=False),
        ),
        results=(
            Result("saturation_mg_per_l", "mg/L", "oxygen in air-saturated water"),
            Result("percent", "%", "the measured oxygen in parts of it"),
        ),
        formula="Benson & Krause at one atmosphere x (P - u)(1 - theta P) / ((1 - u)(1 - theta))",
        source="Benson & Krause (1984) Limnol. Oceanogr. 29:620; Standard Methods 4500-O; "
        "ICAO standard atmosphere (1993)",
        cautions=(
            "Weather reports give pressure reduced to the sea: give it with the altitude.",
            "Fish need 5 mg/L; below 4 aerate at once (UF/IFAS FA27). Measure at dawn.",
        ),
        example={"temp": "25 degC", "oxygen": "7.0 mg/L"},
        compute=_oxygen_saturation,
    ),
)
