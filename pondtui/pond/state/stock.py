"""How much conditioner is left: the latest count, what was bought since, less every dose since."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime

from pondtui import units
from pondtui.errors import QuantityError
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry

ITEM = "conditioner"


def conditioner_left(setup: Setup, entries: Iterable[Entry], day: date) -> float | None:
    """mL (g of a dry product) left, in the unit that doses are counted in; None if never counted.

    `entries` are the supply, treat and direct entries in order. Without a count the bottle is taken
    as full on the day it was opened. Never below 0.
    """
    conditioner = setup.conditioner_on(day)
    if conditioner is None:
        return None
    left = conditioner.bottle_ml if conditioner.opened is not None else None
    opened = conditioner.opened or date.min
    for entry in entries:
        if entry.kind == "supply":
            if str(entry.get("item")).strip().lower() == ITEM:
                left = _counted(entry, conditioner.unit, left, setup.gallon)
                if amount(entry.fields.get("left"), conditioner.unit, setup.gallon) is not None:
                    opened = date.min  # from a count on every dose is taken off
            continue
        dose = entry.get("dose")
        when = datetime.fromtimestamp(entry.instant, UTC).date()
        if left is not None and dose is not None and dose.unit == conditioner.unit:
            left -= dose.amount if when >= opened else 0.0
    return None if left is None else max(left, 0.0)


def _counted(entry: Entry, unit: str, left: float | None, gallon: str | None) -> float | None:
    counted = amount(entry.fields.get("left"), unit, gallon)
    if counted is not None:
        return counted
    got = amount(entry.fields.get("got"), unit, gallon)
    return left if got is None else (left or 0.0) + got


def amount(text: str | None, unit: str, gallon: str | None) -> float | None:
    """An amount of the item in the unit of its doses; None where it is counted otherwise."""
    if not text:
        return None
    try:
        if unit == "mL":
            return units.read(text, "volume", gallon=gallon).value * 1000
        return units.read(text, "mass").value
    except QuantityError:
        return None  # counted in bottles or spoons: nothing to subtract doses from
