"""Reading what a keeper typed for one input of a worksheet, and saying what it takes."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

from pondtui.errors import InputError, QuantityError
from pondtui.records import NamedTuple
from pondtui.units import NOUNS, Quantity, in_unit, normal, read, show, split_basis
from pondtui.worksheets.registry import Input
from pondtui.worksheets.spoken import spoken

_YES = ("yes", "y", "true", "on")
_NO = ("no", "n", "false", "off")
_EXAMPLES = {
    "yesno": "yes or no",
    "date": "a date such as 2026-06-03",
    "text": "words",
    "file": "a file",
    "areas": "depths and areas such as 0 m:10 m2, 5 m:18 m2",
    "concentration_basis": "a concentration such as 0.5 mg/L as N",
}


class Value(NamedTuple):
    """What was read for one input."""

    value: Any
    unit: str = ""  # normal unit word as typed
    assumed: str = ""
    dimension: str = ""
    basis: str = ""


def describe(field: Input, system: str | None = None) -> str:
    """What an input takes, in a few words: `a volume such as 11 mL`, in the units of a system."""
    if field.words:
        return "one of " + ", ".join(field.words)
    if field.kind in _EXAMPLES:
        return spoken(_EXAMPLES[field.kind], field.kind, system)
    kinds = [(kind, *NOUNS[kind]) for kind in field.kind.split("|")]
    return " or ".join(
        f"{noun} such as {spoken(example, kind, system)}" for kind, noun, example in kinds
    )


def limits(field: Input, unit: str = "", system: str | None = None) -> str:
    """The range that an input takes, in the given unit, else in that of a system; empty without
    limits."""
    low, high = (
        _in_unit(bound, field, unit or _own_unit(bound, field, system))
        for bound in (field.low, field.high)
    )
    if low and high:
        return f"between {low} and {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def take(
    field: Input, text: str, gallon: str | None, read_file: Callable[[str], str] | None
) -> Value:
    """The value of one input from its text. Raises InputError naming the input."""
    text = text.strip()
    if field.kind == "choice":
        return Value(choice(field, text))
    if field.kind == "yesno":
        return Value(_yes_or_no(field, text))
    if field.kind == "date":
        return Value(_date(field, text))
    if field.kind == "areas":
        return Value(_areas(field, text, gallon))
    if field.kind == "text":
        return Value(text)
    if field.kind == "file":
        if read_file is None:
            raise InputError(f"{field.name}: files can only be read on the command line")
        return Value(read_file(text))
    return _quantity(field, text, gallon)


def choice(field: Input, text: str) -> str:
    """The word of the list that was meant. Raises InputError with the list."""
    meant = (text.casefold(), normal(text, "us")[0].casefold())  # a unit may be spelled otherwise
    for word in field.words:
        if word.casefold() in meant:
            return word
    raise InputError(f"{field.name}: one of {', '.join(field.words)}, not {text}")


def _yes_or_no(field: Input, text: str) -> bool:
    if text.casefold() in _YES + _NO:
        return text.casefold() in _YES
    raise InputError(f"{field.name}: yes or no, not {text}")


def _date(field: Input, text: str) -> date:
    # the pattern first: fromisoformat takes week dates and dates without dashes too
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise InputError(f"{field.name}: the calendar has no {text}") from None
    raise InputError(f"{field.name}: a date such as 2026-06-03, not {text}")


def _areas(field: Input, text: str, gallon: str | None) -> list[tuple[float, float]]:
    """`0 m:10 m2, 5 m:18 m2` as pairs of depth [mm] and area [m2]."""
    rows = []
    for part in re.split(r"[,;]", text):
        depth, mark, area = part.partition(":")
        if not mark:
            raise InputError(
                f"{field.name}: {_EXAMPLES['areas']}, with points in the numbers, not {text}"
            )
        rows.append(
            (
                read(depth, "length", gallon=gallon, what=field.name).value,
                read(area, "area", gallon=gallon, what=field.name).value,
            )
        )
    return rows


def _quantity(field: Input, text: str, gallon: str | None) -> Value:
    """A number or a quantity within the limits of its input."""
    basis = ""
    if field.kind == "concentration_basis":
        text, basis = split_basis(text)
    quantity = _read_any(field, text, gallon)
    low, high = field.low, field.high
    if low is None and field.kind in ("number", "angle") and not field.signed:
        low = 0.0
        field = field._replace(low=low)
    slack = 1e-12 * abs(quantity.value)  # a limit typed in another unit is still inside
    if (low is not None and quantity.value < low - slack) or (
        high is not None and quantity.value > high + slack
    ):
        raise InputError(f"{field.name}: {limits(field, quantity.unit)}, not {text}")
    dimension = quantity.dimension if "|" in field.kind else ""
    return Value(quantity.value, quantity.unit, quantity.assumed, dimension, basis)


def _read_any(field: Input, text: str, gallon: str | None) -> Quantity:
    """The first of the kinds that takes the text. Raises QuantityError."""
    kinds = _dimensions(field)
    first: QuantityError | None = None
    for kind in kinds:
        try:
            return read(text, kind, gallon=gallon, what=field.name, signed=field.signed)
        except QuantityError as error:
            first = first or error
    if len(kinds) > 1 and " such as " in str(first) and str(first).endswith(f"not {text}"):
        raise QuantityError(f"{field.name}: {describe(field, gallon)}, not {text}")
    raise first or QuantityError(f"{field.name}: {text}")


def _own_unit(bound: float | None, field: Input, system: str | None) -> str:
    """The unit word that a keeper has for a limit; nothing where it is the metric one."""
    if bound is None or system in (None, "metric"):
        return ""
    dimension = _dimensions(field)[0]
    own = show(bound, dimension, system or "")
    return "" if own == show(bound, dimension, "metric") else own.split(" ", 1)[1]


def _in_unit(bound: float | None, field: Input, unit: str) -> str:
    """A limit in the unit that was typed, for a sentence."""
    if bound is None:
        return ""
    dimension = _dimensions(field)[0]
    if not unit:
        return show(bound, dimension, "metric")
    number = in_unit(bound, dimension, unit)
    text = f"{number:.6g}"
    if "e+" in text:
        text = f"{number:.0f}"
    elif "e-" in text:
        text = f"{float(text):.12f}".rstrip("0")
    return f"{text} {unit}"


def _dimensions(field: Input) -> list[str]:
    return field.kind.replace("concentration_basis", "concentration").split("|")
