"""One reader for everything people type as a quantity, and the only importer of Pint.

A number is taken by one strict pattern and the unit word looked up in a closed table; Pint, loaded
with units.txt, gives the factor of words put together from that vocabulary (`g/m3`, `gal/day`)
and never sees raw text.
"""

from __future__ import annotations

import os
import re
from functools import cache
from typing import TYPE_CHECKING, Any

from pondtui.errors import QuantityError
from pondtui.records import NamedTuple
from pondtui.unit_show import show as show
from pondtui.unit_words import CANONICAL as CANONICAL
from pondtui.unit_words import TABLE, Unit, find, nearest
from pondtui.unit_words import normal as normal

if TYPE_CHECKING:
    from pint import UnitRegistry


class Quantity(NamedTuple):
    """What was read."""

    value: float  # in the canonical unit of the dimension
    dimension: str
    unit: str  # normal unit word, such as "US gal"
    number: float  # as typed, in `unit`
    assumed: str = ""  # a sentence such as "read as US gallons", or ""


NOUNS = {
    "length": ("a length", "62 mm"),
    "area": ("an area", "8.5 m2"),
    "volume": ("a volume", "150 L"),
    "mass": ("a mass", "40 g"),
    "time": ("a time", "1 h 20 min"),
    "flow": ("a flow", "11 L/min"),
    "temperature": ("a temperature", "18.5 degC"),
    "temperature_change": ("a change of temperature", "2 degC"),
    "concentration": ("a concentration", "0.6 mg/L"),
    "pressure": ("a pressure", "101.3 kPa"),
    "speed": ("a speed", "2 m/s"),
    "hardness": ("a hardness", "80 mg/L CaCO3"),
    "fraction": ("a share", "40 %"),
    "angle": ("an angle", "51 deg"),
    "rain": ("a depth of rain", "12 mm"),
    "radiation": ("a day's radiation", "22 MJ/m2/day"),
    "viscosity": ("a viscosity", "1.1 mm2/s"),
    "vapour_pressure": ("a vapour pressure", "1.4 kPa"),
    "depth_rate": ("a depth per day", "6 mm/day"),
    "number": ("a plain number", "7.5"),
}
_WITH_GALLONS = {  # examples where gallons are spoken
    "length": "2 7/16 in", "area": "90 ft2", "volume": "40 gal", "mass": "2 oz",
    "flow": "3 gal/min", "temperature": "64 degF", "temperature_change": "4 degF",
    "pressure": "30 inHg", "speed": "5 mph", "rain": "1/2 in", "depth_rate": "1/4 in/day",
}  # fmt: skip
LONGEST = 200  # characters; no quantity needs more
# Beyond these, in the canonical unit, a value is a slip of the pen whatever it is for.
LARGEST = {
    "length": 1e8, "area": 1e7, "volume": 1e8, "mass": 1e10, "time": 1e8, "flow": 1e7,
    "temperature": 200.0, "temperature_change": 200.0, "concentration": 2e6, "pressure": 1e5,
    "speed": 150.0, "hardness": 1e5, "fraction": 1e4, "angle": 360.0, "rain": 1e5,
    "radiation": 200.0, "viscosity": 1e4, "vapour_pressure": 1e3, "depth_rate": 1e5, "number": 1e12,
}  # fmt: skip
_SIGNED = ("temperature", "temperature_change", "angle", "number")
_ASSUMED_WORDS = {  # a shorter word people use: the full one, and the sentence that says so
    "hardness": ({"mg/L": "mg/L CaCO3", "ppm": "mg/L CaCO3"}, "read as mg/L CaCO3"),
    "depth_rate": ({"mm": "mm/day", "cm": "cm/day", "in": "in/day"}, "read as the depth of a day"),
    "angle": ({"": "deg"}, ""),  # nobody gives a latitude in anything else
}
_BASES = {
    "N": "N", "NH3": "NH3", "NH4": "NH4", "NO2": "NO2", "NO3": "NO3",
    "NH3-N": "N", "NH4-N": "N", "NO2-N": "N", "NO3-N": "N", "NH4+": "NH4", "NO3-": "NO3",
    "NO2-": "NO2",
}  # fmt: skip

_NUMBER = (
    r"(?:(?P<whole>[0-9]{1,12}) )?(?P<top>[0-9]{1,6})/(?P<bottom>[0-9]{1,6})"
    r"|(?P<decimal>(?:[0-9]{1,15}(?:\.[0-9]{1,25})?|\.[0-9]{1,25})(?:[eE][+-]?[0-9]{1,2})?)"
)
_SIMPLE = re.compile(rf"(?P<sign>[+-]?) ?(?:{_NUMBER})(?P<unit>(?![0-9.]).*)")
_PART = (  # compiled where it is first used, as others below: a start waits for none of them
    r"([0-9]{1,9}(?: [0-9]{1,3}/[0-9]{1,3}|/[0-9]{1,3}|\.[0-9]{1,9})?) ?([^\W\d]+|['\"])"
)
_ODD_DIGITS = re.compile(r"[+-]?(?:[0-9]+_[0-9]|[0-9]+ [0-9]{3}(?![0-9/]))")
_RANGE = re.compile(r"[0-9./]+ ?- ?[0-9]")
_BY_HAND = str.maketrans({
    "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "\u2212": "-", "\u2044": "/",
    "\u00b5": "u", "\u03bc": "u", "\u00ba": "°", "\u02da": "°", "\u00b7": "*", "\u00d7": "*",
    "\u2032": "'", "\u2033": '"', "\u2019": "'", "\u201d": '"', "\u2103": "°C", "\u2109": "°F",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3",
    "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "₂": "2", "₃": "3", "₄": "4",
})  # fmt: skip


def read(
    text: str,
    dimension: str,
    *,
    gallon: str | None = None,
    what: str = "",
    signed: bool = False,
    example: str = "",
) -> Quantity:
    """The quantity that a person wrote.

    `gallon` ("us", "imperial" or None) is what a bare gallon means here, `what` names the value in
    a refusal and `example` what one writes there, `signed` lets a length or another amount be
    negative. Raises QuantityError.
    """
    such = example or (gallon and _WITH_GALLONS.get(dimension)) or NOUNS[dimension][1]
    try:
        if len(text) > LONGEST:
            noun = NOUNS[dimension][0]
            raise QuantityError(f"{noun} such as {such}, not {len(text)} characters")
        quantity = _read(_clean(text), dimension, gallon, such)
        if quantity.value < 0 and not (signed or dimension in _SIGNED):
            raise QuantityError(f"{NOUNS[dimension][0]} is never negative: {text.strip()}")
        if abs(quantity.value) > LARGEST[dimension]:
            raise QuantityError(f"{text.strip()} is beyond every pond")
        return quantity
    except QuantityError as error:
        raise QuantityError(f"{what}: {error}" if what else str(error)) from None


def read_number(text: str, what: str = "") -> float:
    """A plain number. Raises QuantityError."""
    return read(text, "number", what=what).value


def read_measured(
    text: str, dimension: str, *, gallon: str | None = None, what: str = ""
) -> tuple[float, bool, str]:
    """A test's value: canonical value, whether it is "below the first step" (`<0.02 mg/L`), basis.

    Raises QuantityError.
    """
    amount, basis = split_basis(text)
    amount = _clean(amount)
    below = amount.startswith("<")
    value = read(amount.removeprefix("<"), dimension, gallon=gallon, what=what).value
    return value, below, basis


def split_basis(text: str) -> tuple[str, str]:
    """`0.5 mg/L as N` -> (`0.5 mg/L`, `N`); no basis gives an empty one."""
    head, mark, tail = _clean(text).rpartition(" as ")
    if not mark:
        head, _, tail = _clean(text).rpartition(" ")
    basis = _BASES.get(tail.strip().upper())
    return (head.strip(), basis) if basis and head else (text.strip(), "")


def read_rate(text: str, *, gallon: str | None = None, what: str = "") -> tuple[float, str, float]:
    """A label's rate, `8 mL per 100 L`: amount, its unit ("mL" or "g"), per how many litres.

    Raises QuantityError.
    """
    name = f"{what}: " if what else ""
    amount, mark, volume = _clean(text).replace(" per ", "/", 1).rpartition("/")
    if not mark:
        raise QuantityError(f"{name}a rate such as 8 mL per 100 L, not {text.strip()}")
    if not volume.strip()[:1].isdigit():
        volume = f"1 {volume}"
    litres = read(volume, "volume", gallon=gallon, what=what).value
    if litres <= 0:
        raise QuantityError(f"{name}a rate is per some volume, not per nothing: {text.strip()}")
    try:
        return read(amount, "volume", gallon=gallon).value * 1000, "mL", litres
    except QuantityError:
        return read(amount, "mass", what=what).value, "g", litres


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """The same quantity in another unit word. Raises QuantityError where the two do not agree."""
    start, _ = normal(from_unit)
    end, _ = normal(to_unit)
    for dimension in TABLE:
        source, target = _unit(start, dimension), _unit(end, dimension)
        if source and target:
            return source.canonical(value) / target.factor + target.zero
    raise QuantityError(f"{from_unit} cannot be turned into {to_unit}")


def in_unit(value: float, dimension: str, word: str) -> float:
    """A canonical value as the number of another unit word of its dimension.

    Raises QuantityError where the word is none of this dimension.
    """
    unit = _unit(normal(word)[0], dimension)
    if unit is None:
        raise QuantityError(f"{word} is no unit of {NOUNS[dimension][0]}")
    return value / unit.factor + unit.zero


def dimension_of(unit: str) -> str:
    """The plainest dimension of a unit word. Raises QuantityError for an unknown one."""
    word, _ = normal(unit)
    for dimension in TABLE:
        if _unit(word, dimension):
            return dimension
    raise QuantityError(f"there is no unit {unit!r}")


def _clean(text: str) -> str:
    """Typographic characters in plain ones; superscripts only after a letter, 5² is no 52."""
    text = re.sub(r"(?<=[A-Za-z])[²³]", lambda sign: "23"["²³".index(sign[0])], text)
    return re.sub(" +", " ", text.translate(_BY_HAND)).strip()


def _read(text: str, dimension: str, gallon: str | None, such: str) -> Quantity:
    noun = NOUNS[dimension][0]
    if dimension == "angle" and text[-1:] in ("N", "S") and text[:1] not in ("+", "-"):
        text = ("-" if text[-1] == "S" else "") + text[:-1].rstrip()  # a latitude as maps print it
    _refuse_number_slips(text)
    found = _SIMPLE.fullmatch(text)
    if not found:
        raise QuantityError(f"{noun} such as {such}, not {text or 'nothing'}")
    number = _number(found)
    word, assumed = normal(found["unit"].strip(), gallon)
    if dimension in _ASSUMED_WORDS and word in _ASSUMED_WORDS[dimension][0]:
        word, assumed = _ASSUMED_WORDS[dimension][0][word], _ASSUMED_WORDS[dimension][1]
    if not word and number == 0 and dimension != "temperature":
        word = CANONICAL[dimension]  # nothing is nothing in every unit
    unit = _unit(word, dimension)
    if unit is None:
        if dimension in ("time", "length", "mass") and re.search("[0-9]", found["unit"]):
            return _compound(text, dimension, such)
        raise QuantityError(_why_not(text, word, found["unit"].strip(), dimension, such))
    return Quantity(unit.canonical(number), dimension, word, number, assumed)


def _refuse_number_slips(text: str) -> None:
    """Say what to write where a number is written in a way that could be misread."""
    comma = re.search(r"[0-9],[0-9]", text)
    if comma and text.count(",") == 1:
        hint = f"use a point: {text.replace(',', '.')}"
        if re.search(r",[0-9]{3}(?![0-9])", text) and "." not in text:
            hint += f" (or no comma: {text.replace(',', '')})"
        raise QuantityError(hint)
    if comma:
        raise QuantityError(f"write the number without commas: {text.replace(',', '')}")
    if _ODD_DIGITS.match(text):
        raise QuantityError(f"write the number in plain digits, such as 1500: {text}")
    if _RANGE.match(text):
        raise QuantityError(f"one amount, its fraction after a space (2 7/16), not {text}")


def _number(found: re.Match[str]) -> float:
    """The number of a match of _NUMBER. Raises QuantityError for a fraction that is none."""
    if found["decimal"]:
        number = float(found["decimal"])
    else:
        top, bottom = int(found["top"]), int(found["bottom"])
        if bottom == 0 or (found["whole"] and top >= bottom):
            raise QuantityError(f"{found[0].strip()} holds no proper fraction")
        number = int(found["whole"] or 0) + top / bottom
    return -number if found["sign"] == "-" and number else number


def _compound(text: str, dimension: str, such: str) -> Quantity:
    """`1 h 20 min`, `1 ft 3 1/2 in`, `2 lb 4 oz`: whole amounts, falling units."""
    noun = NOUNS[dimension][0]
    parts = re.findall(_PART, text)
    rest = re.sub(r"[ ,]|\band\b", "", re.sub(_PART, "", text))
    total, smallest = 0.0, float("inf")
    first: Unit | None = None
    for place, (number, spelled) in enumerate(parts):
        unit = _unit(normal(spelled)[0], dimension)
        whole = number.isdigit() or place == len(parts) - 1
        if unit is None or not whole or unit.factor >= smallest or rest:
            raise QuantityError(f"{noun} such as {such}, not {text}")
        total += _read(f"{number} {spelled}", dimension, None, such).value
        smallest, first = unit.factor, first or unit
    if first is None:
        raise QuantityError(f"{noun} such as {such}, not {text}")
    return Quantity(total, dimension, first.word, total / first.factor, "")


def _why_not(text: str, word: str, typed: str, dimension: str, such: str) -> str:
    """One sentence on why this unit does not do."""
    noun = NOUNS[dimension][0]
    if not word:
        return f"say the unit, such as {such}"
    if dimension in ("number", "fraction") or any(_unit(word, other) for other in TABLE):
        return f"{noun} such as {such}, not {text}"
    near = nearest(typed, dimension)
    hint = f"did you mean {near}?" if near else f"say {noun} such as {such}"
    return f"there is no unit {typed!r}; {hint}"


def _unit(word: str, dimension: str) -> Unit | None:
    """The unit of a normal word, from the table or put together from its vocabulary."""
    unit = find(word, dimension)
    if unit or not _is_compound(word) or any(find(word, other) for other in TABLE):
        return unit
    factor = _pint_factor(word, dimension)
    return Unit(word, dimension, factor) if factor is not None else None


# --- words put together from the vocabulary -------------------------------------------------------


def _is_compound(word: str) -> bool:
    return ("/" in word or "*" in word) and bool(_compounds().fullmatch(word))


@cache
def _compounds() -> re.Pattern[str]:
    """Up to four words of the vocabulary, multiplied or divided; most starts meet none."""
    parts = ("length", "area", "volume", "mass", "time", "pressure", "concentration")
    words = [word for dimension in parts for word in TABLE[dimension] if "/" not in word]
    atom = "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
    return re.compile(rf"(?:{atom})(?:[/*](?:{atom})){{1,3}}")


_HARDNESS = {"mg/L CaCO3": "mg_CaCO3_per_L", "mg/L HCO3": "mg_HCO3_per_L"} | {
    f"{word}/L": f"{word}_per_L" for word in ("meq", "mmol")
}


@cache
def registry() -> UnitRegistry[Any]:
    """Pint with our own vocabulary and nothing else; imported at the first call only."""
    from pint import UnitRegistry

    path = os.path.join(os.path.dirname(__file__), "units.txt")
    return UnitRegistry(path, on_redefinition="raise")


def pint_expression(word: str) -> str:
    """A normal unit word as Pint spells it: `US gal/m3` -> `US_gal/m**3`."""
    if word in _HARDNESS:
        return _HARDNESS[word]
    spelled = word.replace("%", "percent").replace("*", " * ").replace(" * ", "*")
    spelled = re.sub(r"(?<=[A-Za-z]) (?=[a-z])", "_", spelled)
    return re.sub(r"(?<=[A-Za-z])([23])(?![0-9A-Za-z])", r"**\1", spelled) or "dimensionless"


@cache
def _pint_factor(word: str, dimension: str) -> float | None:
    """Canonical units in one `word`; None where the dimension is another."""
    if dimension in ("temperature", "temperature_change", "hardness", "fraction", "number"):
        return None
    units = registry()
    quantity = units.Quantity(1.0, pint_expression(word))
    canonical = pint_expression(CANONICAL[dimension])
    if not quantity.is_compatible_with(canonical):
        return None
    return float(quantity.to(canonical).magnitude)
