"""Example values in the units that a keeper speaks: what is registered in one system, told in
another, rounded as one would write it down."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from pondtui.errors import QuantityError
from pondtui.units import Quantity, in_unit, read, show

_IMPERIAL = {"in", "ft", "yd", "ft2", "in2", "ft3", "acre", "degF", "lb", "oz", "mph", "inHg"}
_TOLD = ("length", "volume", "area", "mass", "flow", "temperature", "temperature_change", "rain",
         "depth_rate", "pressure", "speed")  # fmt: skip
_RULE_MM = 1800.0  # up to where lengths are read from a rule
_PARTS = (1, 2, 4, 8, 16)  # of an inch, the coarsest first
_NEAR = 0.025  # how far an example on a rule may lie from the registered one
_PIECE = re.compile(r"[0-9][0-9.]* ?[A-Za-z]+2?")  # a quantity within words


def system_of(units: Iterable[str], gallon: str | None) -> str:
    """The units that were typed: us, imperial or metric; inches are those of the gallon's land."""
    words = {word for unit in units for word in unit.replace("/", " ").split()}
    if "US" in words or "imp" in words:
        return "us" if "US" in words else "imperial"
    return (gallon or "us") if words & _IMPERIAL else "metric"


def spoken(text: str, kind: str, system: str | None) -> str:
    """A value as typed for an input of this kind, in the units of "metric", "us" or "imperial".

    It stays as it is where it is in these units already, where it has none, and without a system.
    """
    if system is None:
        return text
    if kind in ("areas", "text"):
        return _PIECE.sub(lambda piece: spoken(piece[0], "length|area", system), text)
    for dimension in kind.split("|"):
        if dimension in _TOLD:
            try:
                quantity = read(text, dimension, signed=True)
            except QuantityError:
                continue  # a word, or a quantity of the next dimension
            return _told(quantity, text, system)
    return text


def canonical(text: str, kind: str) -> float | None:
    """What a text of this kind amounts to; None where it is no single quantity."""
    for dimension in kind.split("|"):
        if dimension in _TOLD:
            try:
                return read(text, dimension, signed=True).value
            except QuantityError:
                continue
    return None


def _told(quantity: Quantity, text: str, system: str) -> str:
    value, dimension = quantity.value, quantity.dimension
    gallon = None if system == "metric" else system
    if system_of([quantity.unit], gallon) == system:
        return text
    if not value and dimension == "volume":
        return "0 L" if gallon is None else f"0 {'US' if gallon == 'us' else 'imp'} gal"
    shown = show(value, dimension, system)
    if gallon and shown == show(value, dimension, "metric"):
        return text  # both speak of it in the same unit: drops, grams
    if gallon and dimension == "length" and value < _RULE_MM and (ruled := _on_a_rule(value)):
        return ruled
    unit = shown.split(" ", 1)[1]
    return f"{_rounded(in_unit(value, dimension, unit), whole=dimension == 'temperature')} {unit}"


def _on_a_rule(value_mm: float) -> str:
    """The coarsest mark of an inch rule that is near enough; nothing where none is."""
    for parts in _PARTS:
        mark_mm = round(value_mm / 25.4 * parts) / parts * 25.4
        if abs(mark_mm - value_mm) <= _NEAR * abs(value_mm):
            return show(mark_mm, "length", "us", rule=True)
    return ""


def _rounded(number: float, *, whole: bool) -> str:
    """Two figures, three from a thousand on, or a whole number of degrees; no exponent."""
    figures = 3 if abs(number) >= 1000 else 2
    places = 0 if whole or not number else figures - 1 - math.floor(math.log10(abs(number)))
    text = f"{round(number, places):.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
