"""Worksheets of devices that treat running water: carbon filters and dosers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import chlorine as cl
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Automation"


def _carbon_contact(v: Mapping[str, Any]) -> dict[str, float | str]:
    given = {"bed", "flow", "contact"} & v.keys()
    if len(given) != 2:
        raise InputError("give two of bed, flow and contact; the third is worked out")
    if "contact" not in v:
        bed, flow = v["bed"], v["flow"]
    elif "bed" in v:
        bed, flow = v["bed"], v["bed"] / v["contact"]
    else:
        bed, flow = v["flow"] * v["contact"], v["flow"]
    contact = cl.carbon_contact_min(bed, flow)
    return {"bed_l": bed, "flow_l_per_min": flow, "contact_min": contact}


def _doser_rate(v: Mapping[str, Any]) -> dict[str, float | str]:
    rate = cl.doser_ml_per_min(
        v["label_dose"] * 1000, v["label_volume"], v["flow"], v["stock_factor"]
    )
    return {"dose_ml_per_min": rate}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="carbon-contact",
        group=GROUP,
        title="Contact time of a carbon filter",
        inputs=(
            Input("bed", "volume", "volume of the carbon", required=False),
            Input("flow", "flow", "flow through it", required=False),
            Input("contact", "time", "empty-bed contact time", low=1e-6, required=False),
        ),
        results=(
            Result("bed_l", "L", "volume of the carbon"),
            Result("flow_l_per_min", "L/min", "flow through it"),
            Result("contact_min", "min", "empty-bed contact time"),
        ),
        formula="contact = bed / flow",
        source="definition; 2 min for free chlorine and 10 min for chloramine: dialysis practice",
        cautions=(
            "About 2 min take free chlorine, 10 min chloramine; a litre of carbon on an open hose "
            "has a few seconds.",
            "A filter sold for taste is not a filter for fish.",
            "Count the litres until it is exhausted, and test TOTAL chlorine after it.",
        ),
        example={"bed": "1 L", "contact": "2 min"},
        compute=_carbon_contact,
    ),
    Worksheet(
        name="doser-rate",
        group=GROUP,
        title="Rate of a conditioner doser",
        inputs=(
            Input("label_dose", "volume", "the label's dose"),
            Input("label_volume", "volume", "the water that this dose is for"),
            Input("flow", "flow", "flow of tap water"),
            Input(
                "stock_factor",
                "number",
                "parts of dosing liquid made from one part of product",
                "1",
                low=0.001,
                high=1e4,
            ),
        ),
        results=(Result("dose_ml_per_min", "mL/min", "rate of the doser"),),
        formula="flow x label dose / label volume x stock factor",
        source="label-rate arithmetic",
        cautions=(
            "Tap flow varies: a rate set once is right for one flow only.",
            "A doser on a live hose is a cross-connection: inject after the air gap, or use an "
            "approved device.",
            "Test TOTAL chlorine before the water reaches the pond.",
        ),
        example={"label_dose": "5 mL", "label_volume": "40 L", "flow": "8 L/min"},
        compute=_doser_rate,
    ),
)
