"""One field of a form: its label, what it takes, within which limits, in the keeper's units."""

from __future__ import annotations

import tomllib

from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.forms import as_typed
from pondtui.units import CANONICAL, NOUNS, show

_KINDS = {
    "name": "a name", "text": "words", "yesno": "yes or no", "whole": "a whole number",
    "date": "a day", "monthday": "month-day", "clock": "a time of day", "zone": "a time zone",
    "texts": "texts, parted by ;", "windows": "windows, parted by ;",
    "weekdays": "weekdays, parted by ;", "span": "first and last day, parted by ;",
    "areas": "rows of depth, area, parted by ;", "amount": "an amount",
    "feeding": "rows of from, to, how often, parted by ;",
    "devices": "rows of name, holds, mark, parted by ;",
    "twelve": "twelve numbers, January first, parted by ;", "reorder": "an amount",
}  # fmt: skip
LETTERS = ("text", "texts", "name")  # where every sign may be part of what is typed


def label(field: Field) -> str:
    """The key in words."""
    return field.key.replace("_", " ")


def words(field: Field) -> tuple[str, ...]:
    """What may be chosen, where it is a choice."""
    return ("yes", "no") if field.type == "yesno" else field.words


def example(field: Field) -> str:
    """The example as it is typed into a form."""
    return as_typed(tomllib.loads(f"x = {field.example}")["x"])


def placeholder(field: Field) -> str:
    """What stands in the empty field."""
    if field.required:
        return f"needed, such as {example(field)}"
    if field.default:
        return f"{_default(field)} when left out"
    return f"such as {example(field)}"


def _default(field: Field) -> str:
    return {"true": "yes", "false": "no"}.get(field.default, field.default)


def takes(field: Field, system: str) -> str:
    """`lower edge of the outlet ...; a length such as 70 mm; between 0 mm and 20 m`."""
    parts = [field.help, _kind(field), _limits(field, system)]
    if field.default:
        parts.append(f"{_default(field)} when left out")
    elif field.required:
        parts.append("needed")
    return "; ".join(part for part in parts if part)


def _kind(field: Field) -> str:
    if field.words:
        return f"one of {', '.join(field.words)} (Space turns)"
    if field.type == "yesno":
        return "yes or no (Space turns)"
    dimension = field.type.rpartition(":")[2]
    noun = _KINDS.get(field.type) or (NOUNS[dimension][0] if dimension in NOUNS else "")
    if field.type.startswith("column:"):
        noun = "a header with its unit in brackets" if dimension else "a header"
    if field.type.startswith("bounds:"):
        noun = "limits, parted by ;"
    return f"{noun} such as {example(field)}".strip()


def _limits(field: Field, system: str) -> str:
    """The range in the keeper's own units."""
    low, high = (_bound(field, bound, system) for bound in (field.low, field.high))
    if low and high:
        return f"between {low} and {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _bound(field: Field, bound: float | None, system: str) -> str:
    if bound is None:
        return ""
    dimension = field.type.rpartition(":")[2]
    if dimension in CANONICAL and dimension not in ("number", "angle", "fraction"):
        return show(bound, dimension, system)
    return f"{bound:g}" + (" degrees" if dimension == "angle" else "")
