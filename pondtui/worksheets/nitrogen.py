"""Worksheet of the bases of nitrogen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.science.nitrogen import MOLAR_G, convert
from pondtui.worksheets.registry import Input, Result, Worksheet

BASES = tuple(MOLAR_G)


def _nitrogen(v: Mapping[str, Any]) -> dict[str, float | str]:
    return {"value_mg_per_l": convert(v["value"], v["from"], v["to"])}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="nitrogen",
        group="Water tests",
        title="Nitrogen on another basis",
        inputs=(
            Input("value", "concentration_basis", "reading of the kit or the laboratory"),
            Input("from", "choice", "basis it stands on", words=BASES),
            Input("to", "choice", "basis to turn it into", words=BASES),
        ),
        results=(Result("value_mg_per_l", "mg/L", "the same on the other basis"),),
        formula="value x molar mass of the new basis / molar mass of the old",
        source="IUPAC standard atomic weights (2021)",
        cautions=(
            "Look in the kit's leaflet for its basis: nitrate as N is less than a quarter of the "
            "number as NO3.",
        ),
        example={"value": "50 mg/L", "from": "NO3", "to": "N"},
        compute=_nitrogen,
    ),
)
