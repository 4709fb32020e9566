"""A value of pond.toml as it stands in a form's field, and back: one line of plain text.

Lists are parted by `;` and rows by `,` within: `0 mm, 0.84 m2; 200 mm, 0.70 m2`.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from pondtui.pond.setup.fields import Field

_NUMBERS = ("number", "fraction", "angle", "whole")
_LISTS = ("texts", "windows", "weekdays", "span", "twelve")
_ROWS = ("areas", "devices", "feeding")


def as_typed(raw: object) -> str:
    """What stands in the form for a raw value of the file."""
    if isinstance(raw, list):
        return "; ".join(
            ", ".join(as_typed(cell) for cell in item) if isinstance(item, list) else as_typed(item)
            for item in raw
        )
    return str(raw).lower() if isinstance(raw, bool) else str(raw)


def as_raw(field: Field, typed: str) -> Any:
    """The value for the file of what was typed; what does not fit stays text, and is refused."""
    typed = typed.strip()
    if field.type in _ROWS:
        return [[cell.strip() for cell in row.split(",")] for row in _parts(typed)]
    if field.type in _LISTS or field.type.startswith("bounds:"):
        items = _parts(typed)
        plain = field.type in ("twelve", "bounds:number")
        return [_number(item) for item in items] if plain else items
    if field.type == "yesno":
        return {"true": True, "yes": True, "false": False, "no": False}.get(typed.lower(), typed)
    if field.type == "date":
        try:
            return date.fromisoformat(typed) if re.fullmatch(r"\d{4}-\d\d-\d\d", typed) else typed
        except ValueError:
            return typed
    return _number(typed) if field.type in _NUMBERS else typed


def _parts(typed: str) -> list[str]:
    return [part.strip() for part in typed.split(";")]


def _number(typed: str) -> int | float | str:
    """A plain number, or the text where it is none."""
    if re.fullmatch(r"[+-]?[0-9]{1,15}", typed):
        return int(typed)
    if re.fullmatch(r"[+-]?[0-9]{1,15}\.[0-9]{1,15}", typed):
        return float(typed)
    return typed
