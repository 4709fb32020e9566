"""Changing a description: where its tables stand, and new data with one of them changed.

Works on what tomllib gives. What is not touched stays as it is, unknown keys and tables included.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any, NamedTuple

from pondtui.pond.setup.fields import Table
from pondtui.pond.setup.forms import as_raw, as_typed
from pondtui.pond.setup.tables import TABLES


class Place(NamedTuple):
    """One table of a file: `which` is its number for [[barrel]], its name for [source.NAME]."""

    table: str  # a key of `TABLES`
    which: int | str = 0


def places(data: Mapping[str, Any], table: Table) -> list[Place]:
    """Where a table stands; a table that may stand once has its place also while it is missing."""
    if table.inside:
        outer = TABLES[table.inside]
        return [Place(table.name, place.which) for place in places(data, outer)]
    if not table.many:
        return [Place(table.name)]
    found = data.get(table.name)
    if table.many == "named":
        return [Place(table.name, name) for name in found] if isinstance(found, Mapping) else []
    return [Place(table.name, n) for n in range(len(found))] if isinstance(found, list) else []


def texts(data: Mapping[str, Any], place: Place) -> dict[str, str]:
    """What stands in a form for each key of the table that the program knows."""
    row = _row(data, place) or {}
    return {f.key: as_typed(row[f.key]) for f in TABLES[place.table].fields if f.key in row}


def changed(data: Mapping[str, Any], place: Place, typed: Mapping[str, str]) -> dict[str, Any]:
    """The data with these texts in the table; an empty one takes its key out.

    A text that is as it was leaves the value as it was written.
    """
    new = deepcopy(dict(data))
    before = texts(data, place)
    row = _row(new, place)
    if row is None:
        row = _begin(new, place)
    for field in TABLES[place.table].fields:
        text = typed.get(field.key, before.get(field.key, "")).strip()
        if text == before.get(field.key, ""):
            continue
        if text:
            row[field.key] = as_raw(field, text)
        else:
            row.pop(field.key, None)
    return new


def added(data: Mapping[str, Any], table: str, name: str = "") -> tuple[dict[str, Any], Place]:
    """The data with one more table of that kind, empty yet, and its place."""
    new = deepcopy(dict(data))
    if TABLES[table].many == "named":
        new.setdefault(table, {})[name] = {}
        return new, Place(table, name)
    new.setdefault(table, []).append({})
    return new, Place(table, len(new[table]) - 1)


def without(data: Mapping[str, Any], place: Place) -> dict[str, Any]:
    """The data without a table."""
    new = deepcopy(dict(data))
    table = TABLES[place.table]
    if table.inside:
        owner = _row(new, Place(table.inside, place.which))
        if owner is not None:
            owner.pop(table.name, None)
    elif table.many:
        del new[place.table][place.which]
    else:
        new.pop(place.table, None)
    return new


def _row(data: Mapping[str, Any], place: Place) -> dict[str, Any] | None:
    """The table itself; None where it is missing."""
    table = TABLES[place.table]
    if table.inside:
        owner = _row(data, Place(table.inside, place.which)) or {}
        row = owner.get(table.name)
    else:
        row = data.get(table.name)
        if table.many and row is not None:
            row = row[place.which]
    return row if isinstance(row, dict) else None


def _begin(data: dict[str, Any], place: Place) -> dict[str, Any]:
    """A table that was missing, empty."""
    table = TABLES[place.table]
    owner: dict[str, Any] = data
    if table.inside:
        outer = Place(table.inside, place.which)
        found = _row(data, outer)
        owner = found if found is not None else _begin(data, outer)
    row: dict[str, Any] = owner.setdefault(table.name, {})
    return row
