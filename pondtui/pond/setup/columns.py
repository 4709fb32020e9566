"""The columns of weather and log tables: a header, and the unit that its numbers are counted in.

`Rain [mm]`, `Rain (mm)`, and `RH [0.1 mm]` where a table counts in tenths of a unit.
"""

from __future__ import annotations

import re

from pondtui import units
from pondtui.errors import QuantityError
from pondtui.records import NamedTuple

# what a weather table may hold, and the dimension of each
WEATHER: dict[str, str] = {
    "tmin": "temperature",
    "tmax": "temperature",
    "rhmax": "fraction",
    "rhmin": "fraction",
    "rhmean": "fraction",
    "tdew": "temperature",
    "vapour_pressure": "vapour_pressure",
    "wind": "speed",
    "sun": "time",
    "radiation": "radiation",
    "rain": "rain",
}
_UNIT = re.compile(r"(.*?)(?:\[([^\[\]]*)\]|\(([^()]*)\))\s*", re.DOTALL)
_SCALED = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,6})?)\s*([^0-9\s.].*)", re.DOTALL)


class Scale(NamedTuple):
    """How the numbers of a column become canonical ones."""

    unit: str  # normal unit word
    step: float  # units in a count: 0.1 where tenths are written
    zero: float  # what the canonical 0 is called in the unit
    per: float  # units in one canonical unit

    def canonical(self, number: float) -> float:
        """The number in the canonical unit; 58 tenths are 5.8 to the last digit."""
        counted = number / (1 / self.step) if self.step < 1 else number * self.step
        return (counted - self.zero) / self.per

    @property
    def in_tenths(self) -> bool:
        """Whether the column counts in tenths, as some weather services write."""
        return self.step == 0.1

    @property
    def is_rate(self) -> bool:
        """Whether a number says how fast, so that the mean of a day counts and not the sum."""
        return self.unit == "W/m2" or self.unit.endswith("/day")


def split_header(text: str) -> tuple[str, str]:
    """`Rain [mm]` -> (`Rain`, `mm`); the unit is empty where none is named."""
    found = _UNIT.fullmatch(text)
    if not found or not found[1].strip():
        return text.strip(), ""
    return found[1].rstrip(), (found[2] if found[2] is not None else found[3]).strip()


def scale_of(unit: str, dimension: str) -> Scale:
    """The scale of a unit text such as `mm`, `0.1 mm` or `%`. Raises QuantityError."""
    unit = unit.replace("²", "2").replace("³", "3")  # as services print it: MJ/m²
    found = _SCALED.fullmatch(unit.strip())
    step, word = (float(found[1]), found[2]) if found else (1.0, unit.strip())
    if step <= 0:
        raise QuantityError(f"{unit}: a unit counts more than nothing")
    zero = units.in_unit(0.0, dimension, word)
    per = units.in_unit(1.0, dimension, word) - zero
    return Scale(units.normal(word)[0], step, zero, float(f"{per:.14g}"))  # 1.8, not 1.79999...97
