"""Amounts in hurried lines and forms: a bare number gets the unit of its field on this pond."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pondtui import units
from pondtui.errors import InputError, QuantityError
from pondtui.pond.daily.kit import off_the_kit
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.kinds import Field, Kind

_BARE = re.compile(r"-?\d{1,6}(?:\.\d{1,4})?|(?:\d{1,3} )?\d{1,2}/\d{1,2}")
_MOST_WORDS = 5  # of one amount: 0.5 mg/L as N, 2 7/16 in, 40 US gal
UNITS = {
    "length": ("mm", "in", "in"),
    "temperature": ("degC", "degF", "degF"),
    "volume": ("L", "US gal", "imp gal"),
    "dose": ("mL", "mL", "mL"),
    "time": ("h", "h", "h"),
}
_SYSTEMS = ("metric", "us", "imperial")
_DIMENSIONS = {"dose": ("volume", "mass"), "level": ("length",)}


def with_unit(setup: Setup, kind: str, field: Field, text: str) -> str:
    """The text, a bare number in the field's own unit on this pond.

    Raises InputError for a 0 of a kit whose first step nobody said.
    """
    if kind == "test" and field.type.startswith("measured:"):
        text = off_the_kit(setup, field.name, text)
        concentration = field.type == "measured:concentration"
        return f"{text} mg/L" if concentration and _BARE.fullmatch(text) else text
    own = UNITS.get(field.type)
    if own is None or not _BARE.fullmatch(text):
        return text
    return f"{text} {own[_SYSTEMS.index(setup.pond.units)]}"


def take_amount(
    setup: Setup, kind: Kind, name: str, words: Sequence[str]
) -> tuple[str, Sequence[str]]:
    """The amount at the head of the words with its unit, and the words behind it.

    Raises InputError where there is none.
    """
    field = kind.field(name)
    assert field is not None  # the table of kinds has it
    for many in range(min(_MOST_WORDS, len(words)), 0, -1):
        text = " ".join(words[:many])
        if _BARE.fullmatch(text) or _reads(field, text, setup.gallon):
            return with_unit(setup, kind.name, field, text), words[many:]
    what = f"{kind.name}: {name}" if name not in ("reading", "volume", "depth") else kind.name
    metric = setup.pond.units == "metric"
    sample = {"length": "62" if metric else "2 7/16", "temperature": "18.5" if metric else "64"}
    example = sample.get(field.type, "90")
    typed = " ".join(words[:1]) or "nothing"
    raise InputError(f"{what}: a number such as {example}, not {typed}")


def _reads(field: Field, text: str, gallon: str | None) -> bool:
    """Whether the text is an amount of the field, whole."""
    if field.type.startswith("measured:"):
        dimension = field.type.removeprefix("measured:")
        try:
            units.read_measured(text, dimension, gallon=gallon)
        except QuantityError:
            return False
        return True
    for dimension in _DIMENSIONS.get(field.type, (field.type,)):
        try:
            units.read(text, dimension, gallon=gallon, signed=True)
        except QuantityError:
            continue
        return True
    return False
