"""One field of a form: its label, what it takes, within which limits, in the keeper's units."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.forms import as_typed
from pondtui.pond.setup.table_checks import BARREL_SIZES, BASIN_SIZES
from pondtui.units import CANONICAL, NOUNS, read, show

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
_SIZES = {"basin": BASIN_SIZES, "barrel": BARREL_SIZES}
# (table, field, its word): the fields that mean something only with that word
_ONLY = {
    ("conditioner", "kind", "liquid"): ("label_dose", "label_volume", "chloramine_multiplier",
                                        "rated_for", "largest_multiple"),
    ("conditioner", "kind", "dry"): ("agent", "purity", "margin", "stock"),
    ("barrel", "delivery", "carried"): ("bucket",),
    ("barrel", "delivery", "piped"): ("pipe_bore", "pipe_length", "fittings", "drop",
                                      "end_under_water"),
    ("step", "kind", "wait"): ("minutes",),
    ("step", "kind", "number"): ("unit",),
}  # fmt: skip
_SPOKEN = ("length", "volume", "area", "flow", "temperature", "temperature_change", "rain")
_RULE_MM = 1800.0  # up to where lengths are read from a rule
LETTERS = ("text", "texts", "name")  # where every sign may be part of what is typed


def label(field: Field) -> str:
    """The key in words."""
    return field.key.replace("_", " ")


def words(field: Field) -> tuple[str, ...]:
    """What may be chosen, where it is a choice."""
    return ("yes", "no") if field.type == "yesno" else field.words


def example(field: Field, system: str = "metric") -> str:
    """The example as it is typed into a form, in the keeper's own units."""
    return _in_units(field, as_typed(tomllib.loads(f"x = {field.example}")["x"]), system)


def _in_units(field: Field, text: str, system: str) -> str:
    """An amount of ours in inches, gallons and the like, where the keeper speaks those."""
    if system == "metric" or field.type not in _SPOKEN:
        return text
    value = read(text, field.type, signed=True).value
    if field.type == "volume" and not value:
        return f"0 {'US' if system == 'us' else 'imp'} gal"
    if field.type == "length" and value < _RULE_MM:
        return show(value, "length", system, rule=True)
    return show(value, field.type, system)


def placeholder(table: str, field: Field, texts: Mapping[str, str], system: str) -> str:
    """What stands in the empty field, as the other fields of the table stand."""
    if reason := unused(table, field.key, texts):
        return reason
    if field.required:
        return f"needed, such as {example(field, system)}"
    if field.default:
        return f"{_default(field, system)} when left out"
    return f"such as {example(field, system)}"


def unused(table: str, key: str, texts: Mapping[str, str]) -> str:
    """Why a field means nothing as the others stand: `not of a lying one`; else nothing."""
    shape = texts.get("shape", "")
    sizes = _SIZES.get(table, {})
    if shape in sizes and key not in sizes[shape] and any(key in keys for keys in sizes.values()):
        return f"not where shape is {shape}"
    for (where, other, word), keys in _ONLY.items():
        if table == where and key in keys and texts.get(other, "") not in ("", word):
            return f"only where {other} is {word}"
    return ""


def _default(field: Field, system: str) -> str:
    words = {"true": "yes", "false": "no"}
    return words.get(field.default) or _in_units(field, field.default, system)


def takes(field: Field, system: str) -> str:
    """`lower edge of the outlet ...; a length such as 70 mm; between 0 mm and 20 m`."""
    parts = [field.help, _kind(field, system), _limits(field, system)]
    if field.default:
        parts.append(f"{_default(field, system)} when left out")
    elif field.required:
        parts.append("needed")
    return "; ".join(part for part in parts if part)


def _kind(field: Field, system: str) -> str:
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
    return f"{noun} such as {example(field, system)}".strip()


def _limits(field: Field, system: str) -> str:
    """The range in the keeper's own units."""
    bounds = (field.low, field.high)
    low, high = ("" if _beyond(field, b) else _bound(field, b, system) for b in bounds)
    if low and high:
        return f"between {low} and {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _beyond(field: Field, bound: float | None) -> bool:
    """Whether a limit only keeps typing errors out: no garden has a kilometre in it."""
    return field.type == "length" and field.scale == 1 and abs(bound or 0.0) >= 1e6


def _bound(field: Field, bound: float | None, system: str) -> str:
    if bound is None:
        return ""
    dimension = field.type.rpartition(":")[2]
    if dimension in CANONICAL and dimension not in ("number", "angle", "fraction"):
        return show(bound, dimension, system)
    return f"{bound:g}" + (" degrees" if dimension == "angle" else "")
