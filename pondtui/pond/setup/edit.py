"""Changing a description: where its tables stand, and new data with one of them changed.

Works on what tomllib gives. What is not touched stays as it is, unknown keys and tables included.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from pondtui.pond.setup.fields import Table
from pondtui.pond.setup.forms import as_raw, as_typed
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.tables_steps import STEP
from pondtui.records import NamedTuple

FORMS: dict[str, Table] = {**TABLES, STEP.name: STEP}  # the own steps stand in procedure.toml


class Place(NamedTuple):
    """One table of a file: `which` is its number for [[barrel]], its name for [source.NAME]."""

    table: str  # a key of `FORMS`
    which: int | str = 0


def places(data: Mapping[str, Any], table: Table) -> list[Place]:
    """Where a table stands; a table that may stand once has its place also while it is missing."""
    if table.inside:
        outer = FORMS[table.inside]
        return [Place(table.name, place.which) for place in places(data, outer)]
    if not table.many:
        return [Place(table.name)]
    found = data.get(table.name)
    if table.many == "named":
        return [Place(table.name, name) for name in found] if isinstance(found, Mapping) else []
    return [Place(table.name, n) for n in range(len(found))] if isinstance(found, list) else []


def misshapen(data: Mapping[str, Any], table: Table) -> bool:
    """Whether something else stands where these tables belong: only a hand can put that right."""
    if table.inside:
        rows = [row_of(data, place) for place in places(data, FORMS[table.inside])]
        inner = [row[table.name] for row in rows if row and table.name in row]
        return not all(isinstance(item, Mapping) for item in inner)
    found = data.get(table.name)
    if found is None:
        return False
    if table.many == "list":
        return not (isinstance(found, list) and all(isinstance(row, Mapping) for row in found))
    if not isinstance(found, Mapping):
        return True
    return table.many == "named" and not all(isinstance(v, Mapping) for v in found.values())


def texts(data: Mapping[str, Any], place: Place) -> dict[str, str]:
    """What stands in a form for each key of the table that the program knows."""
    row = row_of(data, place) or {}
    return {f.key: as_typed(row[f.key]) for f in FORMS[place.table].fields if f.key in row}


def changed(data: Mapping[str, Any], place: Place, typed: Mapping[str, str]) -> dict[str, Any]:
    """The data with these texts in the table; an empty one takes its key out.

    A text that is as it was leaves the value as it was written.
    """
    new = deepcopy(dict(data))
    before = texts(data, place)
    row = row_of(new, place)
    if row is None:
        row = _begin(new, place)
    for field in FORMS[place.table].fields:
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
    if FORMS[table].many == "named":
        new.setdefault(table, {})[name] = {}
        return new, Place(table, name)
    new.setdefault(table, []).append({})
    return new, Place(table, len(new[table]) - 1)


def moved(data: Mapping[str, Any], place: Place, by: int) -> tuple[dict[str, Any], Place]:
    """The data with one of several tables so many places down (negative: up), and its place."""
    new = deepcopy(dict(data))
    if FORMS[place.table].many != "list" or not isinstance(place.which, int):
        return new, place
    rows = new[place.table]
    to = min(max(place.which + by, 0), len(rows) - 1)
    rows.insert(to, rows.pop(place.which))
    return new, Place(place.table, to)


def without(data: Mapping[str, Any], place: Place) -> dict[str, Any]:
    """The data without a table."""
    new = deepcopy(dict(data))
    table = FORMS[place.table]
    if table.inside:
        owner = row_of(new, Place(table.inside, place.which))
        if owner is not None:
            owner.pop(table.name, None)
    elif table.many:
        del new[place.table][place.which]
    else:
        new.pop(place.table, None)
    return new


def row_of(data: Mapping[str, Any], place: Place) -> dict[str, Any] | None:
    """The table itself; None where it is missing."""
    table = FORMS[place.table]
    if table.inside:
        owner = row_of(data, Place(table.inside, place.which)) or {}
        row = owner.get(table.name)
    else:
        row = data.get(table.name)
        if table.many and row is not None:
            row = row[place.which]
    return row if isinstance(row, dict) else None


def _begin(data: dict[str, Any], place: Place) -> dict[str, Any]:
    """A table that was missing, empty."""
    table = FORMS[place.table]
    owner: dict[str, Any] = data
    if table.inside:
        outer = Place(table.inside, place.which)
        found = row_of(data, outer)
        owner = found if found is not None else _begin(data, outer)
    row: dict[str, Any] = owner.setdefault(table.name, {})
    return row
