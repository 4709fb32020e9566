"""Worksheets of amounts to weigh out: treatments, salt and bicarbonate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.science import salts
from pondtui.science.nitrogen import convert
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Treatments"
PLANTS = "Snails and plants die of salt and copper: treat fish in a tub where you can."
VOLUME = "Count the water alone: bays of gravel and reed hold about 40 % water."


def _treatment_amount(v: Mapping[str, Any]) -> dict[str, float | str]:
    amount = salts.dose_g(v["volume"], v["target"], v["active"])
    return {"mass_g": amount, "volume_ml": amount}  # ppm by volume: mL where the other is g


def _salt_for_nitrite(v: Mapping[str, Any]) -> dict[str, float | str]:
    nitrite = convert(v["nitrite"], v["basis"], "NO2")
    return {"salt_g": salts.salt_for_nitrite_g(nitrite, v["chloride"], v["volume"], v["ratio"])}


def _salt_for_percent(v: Mapping[str, Any]) -> dict[str, float | str]:
    return {"salt_g": salts.salt_for_percent_g(v["volume"], v["target"])}


def _bicarbonate(v: Mapping[str, Any]) -> dict[str, float | str]:
    return {"mass_g": salts.bicarbonate_g(v["rise"], v["volume"])}


_WATER = Input("volume", "volume", "water to treat")
SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="treatment-amount",
        group=GROUP,
        title="Amount for a concentration",
        inputs=(
            _WATER,
            Input("target", "concentration", "concentration of the active part"),
            Input("active", "fraction", "active part of the product", "100 %", low=1e-6, high=1),
        ),
        results=(
            Result("mass_g", "g", "of a product that is weighed"),
            Result("volume_ml", "mL", "of a liquid, where ppm means parts by volume"),
        ),
        formula="volume x target / active",
        source="definition; SRAC 410 (Masser & Jensen 1991)",
        cautions=(VOLUME, PLANTS, "Conditioner destroys many medicines; the label stands above."),
        example={"volume": "4000 L", "target": "2 ppm", "active": "50 %"},
        compute=_treatment_amount,
    ),
    Worksheet(
        name="salt-for-nitrite",
        group=GROUP,
        title="Salt against nitrite",
        inputs=(
            Input("nitrite", "concentration_basis", "nitrite as the kit reads it"),
            Input("basis", "choice", "what the kit counts it as", words=("N", "NO2")),
            Input("chloride", "concentration", "chloride already in the pond"),
            _WATER,
            Input("ratio", "number", "chloride for each part of nitrite", "10", low=0, high=100),
        ),
        results=(Result("salt_g", "g", "pure salt"),),
        formula="(ratio x nitrite as NO2 - chloride) x 58.44 / 35.45 x volume, never below none",
        source="SRAC 462 (Durborow, Crosby & Brunson 1997); IUPAC standard atomic weights (2021)",
        cautions=(
            "Pure salt without iodide or anti-caking agents, dissolved first, over some hours.",
            "Salt shields fish and leaves the nitrite: find its cause.",
            VOLUME,
            PLANTS,
        ),
        example={
            "nitrite": "2 mg/L",
            "basis": "NO2",
            "chloride": "5 mg/L",
            "volume": "4000 L",
        },
        compute=_salt_for_nitrite,
    ),
    Worksheet(
        name="salt-for-percent",
        group=GROUP,
        title="Salt for a strength in percent",
        inputs=(
            _WATER,
            Input("target", "fraction", "strength, weight by volume", low=0, high=0.1),
        ),
        results=(Result("salt_g", "g", "pure salt, in salt-free water"),),
        formula="10 g in a litre for each percent",
        source="definition",
        cautions=("Salt already there counts: it leaves only with changed water.", VOLUME, PLANTS),
        example={"volume": "4000 L", "target": "0.3 %"},
        compute=_salt_for_percent,
    ),
    Worksheet(
        name="bicarbonate",
        group=GROUP,
        title="Bicarbonate for alkalinity",
        inputs=(Input("rise", "hardness", "rise of alkalinity wanted"), _WATER),
        results=(Result("mass_g", "g", "sodium bicarbonate (baking soda)"),),
        formula="rise x 84.01 / 50.04 x volume",
        source="IUPAC standard atomic weights (2021)",
        cautions=(
            "Baking soda, not baking powder; dissolve it first, a part each day.",
            "It lifts a low pH: where ammonia is high, more of it becomes harmful.",
            VOLUME,
        ),
        example={"rise": "30 mg/L CaCO3", "volume": "4000 L"},
        compute=_bicarbonate,
    ),
)
