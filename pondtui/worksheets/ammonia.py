"""Worksheets of ammonia: its harmful share, and EPA's limits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.science import ammonia as am
from pondtui.science.nitrogen import convert
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Water tests"


def _free_ammonia(v: Mapping[str, Any]) -> dict[str, float | str]:
    fraction = am.un_ionised_fraction(v["ph"], v["temp"])
    nh3_n = convert(v["ammonia"], v["basis"], "N") * fraction
    return {
        "fraction": fraction,
        "nh3_n_mg_per_l": nh3_n,
        "nh3_mg_per_l": convert(nh3_n, "N", "NH3"),
    }


def _ammonia_limits(v: Mapping[str, Any]) -> dict[str, float | str]:
    found = am.limits(
        v["ph"],
        v["temp"],
        mussels=v["mussels"],
        salmonids=v["salmonids"],
        early_life=v["early_life"],
    )
    return {
        "acute_n_mg_per_l": found.acute_n_mg_l,
        "chronic_n_mg_per_l": found.chronic_n_mg_l,
        "four_day_n_mg_per_l": found.four_day_n_mg_l,
    }


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="free-ammonia",
        group=GROUP,
        title="Un-ionised ammonia in a total ammonia reading",
        inputs=(
            Input("ammonia", "concentration_basis", "total ammonia as the kit reads it"),
            Input("basis", "choice", "what the kit counts it as", words=("N", "NH3", "NH4")),
            Input("ph", "number", "pH of the pond", low=4, high=11),
            Input("temp", "temperature", "temperature of the water", low=0, high=40),
        ),
        results=(
            Result("fraction", "", "share that is un-ionised, 0 to 1"),
            Result("nh3_n_mg_per_l", "mg/L", "un-ionised ammonia as N"),
            Result("nh3_mg_per_l", "mg/L", "the same as NH3"),
        ),
        formula="fraction = 1 / (1 + 10^(0.09018 + 2729.92 / (T + 273.15) - pH))",
        source="Emerson et al. (1975) J. Fish. Res. Board Can. 32:2379; UF/IFAS FA16",
        cautions=(
            "0.05 mg/L un-ionised as N may harm fish (UF/IFAS FA16).",
            "A kit's step and a pH wrong by 0.3 make this a range of a factor of two and more.",
            "pH rises through a sunny day: take the afternoon's for the worst case.",
            "Conditioner can make ammonia kits read high.",
        ),
        example={"ammonia": "1.0 mg/L", "basis": "N", "ph": "8.0", "temp": "24 degC"},
        compute=_free_ammonia,
    ),
    Worksheet(
        name="ammonia-limits",
        group=GROUP,
        title="Limits of total ammonia for water life",
        inputs=(
            Input("ph", "number", "pH of the water", low=5, high=10),
            Input("temp", "temperature", "temperature of the water", low=0, high=40),
            Input("mussels", "yesno", "mussels present", "yes"),
            Input("salmonids", "yesno", "trout or their kin present", "yes"),
            Input("early_life", "yesno", "eggs or fry present", "yes"),
        ),
        results=(
            Result("acute_n_mg_per_l", "mg/L", "mean of one hour, total ammonia as N"),
            Result("chronic_n_mg_per_l", "mg/L", "mean of thirty days, total ammonia as N"),
            Result("four_day_n_mg_per_l", "mg/L", "highest mean of four days, total ammonia as N"),
        ),
        formula="EPA 2013 criteria by pH and temperature; four days = 2.5 x chronic",
        source="EPA 822-R-13-001 (2013) and its Appendix N",
        cautions=(
            "EPA's tables cover pH 6.5 to 9.0 and 0 to 30 degC; beyond it is extrapolation.",
            "A lined pond has no mussels, but their limit is the cautious one.",
        ),
        example={"ph": "7.0", "temp": "20 degC"},
        compute=_ammonia_limits,
    ),
)
