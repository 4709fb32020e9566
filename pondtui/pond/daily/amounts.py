"""Amounts of a supply as the keeper counts it: mL, g, pieces, bottles."""

from __future__ import annotations

import re

from pondtui import units
from pondtui.errors import QuantityError
from pondtui.records import NamedTuple

_COUNTED = re.compile(r"(\d{1,6}(?:\.\d{1,3})?) ?([a-z]{1,20})?")


class Amount(NamedTuple):
    """So much of a unit: mL, g, "" for pieces, or the keeper's own word such as bottle."""

    value: float
    unit: str

    def __str__(self) -> str:
        number = f"{self.value:.3g}" if self.value < 1000 else f"{self.value:.0f}"
        many = "s" if self.unit not in ("mL", "g", "") and self.value != 1 else ""
        return f"{number} {self.unit}{many}".strip()


def amount_of(text: str | None, gallon: str | None) -> Amount | None:
    """The amount that a text means; None for no amount at all."""
    if not text:
        return None
    found = _COUNTED.fullmatch(text.strip().casefold())
    if found and not found[2]:
        return Amount(float(found[1]), "")
    for dimension, unit, scale in (("volume", "mL", 1000.0), ("mass", "g", 1.0)):
        try:
            return Amount(units.read(text, dimension, gallon=gallon).value * scale, unit)
        except QuantityError:
            continue
    if not found:
        return None
    word = found[2]
    return Amount(float(found[1]), word[:-1] if len(word) > 2 and word.endswith("s") else word)
