"""Volumes of the budget in the pond's own unit, for columns and charts."""

from __future__ import annotations

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget_terms import INS, OUTS, Terms
from pondtui.pond.water.spent import price_per_l
from pondtui.records import NamedTuple
from pondtui.units import convert


class Heads(NamedTuple):
    """What stands over the columns."""

    volume: str
    depth: str
    money: str  # "" where the water has no price


def heads(setup: Setup) -> Heads:
    """Units of the columns."""
    system = setup.pond.units
    volume = {"us": "US gal", "imperial": "imp gal"}.get(system, "L")
    money = (setup.pond.currency or "money") if price_per_l(setup) is not None else ""
    return Heads(volume, "mm" if system == "metric" else "in", money)


def volume(setup: Setup, value_l: float) -> str:
    """Litres or gallons without their unit, for a column."""
    unit = heads(setup).volume
    amount = value_l if unit == "L" else convert(value_l, "L", unit)
    if abs(amount) < 0.05:
        return "0"
    return f"{round(amount)}" if abs(amount) >= 9.5 else f"{amount:.1f}"


def sums(terms: Terms) -> tuple[float, float]:
    """What came in, and what left by ways that are known."""
    came = sum(getattr(terms, name) or 0.0 for name in INS)
    return came, sum(getattr(terms, name) or 0.0 for name in OUTS if name != "residual")
