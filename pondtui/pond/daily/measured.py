"""A reading's value as it is told to the keeper."""

from __future__ import annotations

from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.kit import degrees
from pondtui.pond.setup.model import Setup
from pondtui.units import show

WORKED_OUT = {"ammonia_un_ionised": "mg/L as N", "carbon_dioxide": "mg/L"}


def value_words(setup: Setup, row: Judged) -> str:
    """As the kit said it, or as it was worked out; a range where it is one."""
    system = setup.pond.units
    if row.name in WORKED_OUT:
        unit = WORKED_OUT[row.name]
        digits = 3 if row.name == "ammonia_un_ionised" else 0
        if row.low is not None and row.high is not None and row.high > row.low:
            return f"{row.low:.{digits}f} to {row.high:.{digits}f} {unit}"
        return f"{row.value:.{digits}f} {unit}"
    if row.name == "temp_change":
        return show(row.value, "temperature_change", system)
    if row.name == "ph_change":
        return f"{row.value:.1f}"
    if row.name in ("alkalinity", "hardness"):
        return f"{'<' * row.below}{degrees(setup, row.value)}"
    if row.name == "temp":
        return show(row.value, "temperature", system)
    return row.written or f"{row.value:g}"
