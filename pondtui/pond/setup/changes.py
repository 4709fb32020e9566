"""A description while it is being changed: what was read, what stands in the forms, and both as one
where the file was changed by hand meanwhile.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from pondtui.pond.setup import edit
from pondtui.pond.setup.edit import FORMS, Place
from pondtui.pond.setup.forms import as_typed

Data = dict[str, Any]


class Changes:
    """One file: its text and data as read (`base`), and its data as changed (`data`)."""

    def __init__(self, text: str, base: Mapping[str, Any]) -> None:
        self.text = text
        self.base: Data = deepcopy(dict(base))
        self.data: Data = deepcopy(self.base)
        # for each table that stands several times, which row of `base` each row was
        self._origins: dict[str, list[int | None]] = {}

    @property
    def changed(self) -> bool:
        """Whether anything differs from what was read."""
        return self.data != self.base or list(self.data) != list(self.base)

    def typed(self, place: Place) -> dict[str, str]:
        """What stands in the form of a table."""
        return edit.texts(self.data, place)

    def put(self, place: Place, typed: Mapping[str, str]) -> None:
        """Take texts into a table; a text as it was read brings the value back as it was."""
        before = self._before(place) or {}
        if edit.row_of(self.data, place) is None and not any(t.strip() for t in typed.values()):
            return
        self.data = edit.changed(self.data, place, typed)
        row = edit.row_of(self.data, place)
        if row is None:
            return
        for key, raw in before.items():
            if key in typed and typed[key].strip() == as_typed(raw):
                row[key] = deepcopy(raw)
        if not row and not before and not FORMS[place.table].many:
            self.data = edit.without(self.data, place)  # begun and emptied again

    def add(self, table: str, name: str = "") -> Place:
        """One more table of a kind, empty yet."""
        origins = self.origins(table)
        self.data, place = edit.added(self.data, table, name)
        origins.append(None)
        return place

    def copy(self, place: Place) -> Place:
        """A copy of one of several tables, right behind it."""
        row = edit.row_of(self.data, place)
        to = self.add(place.table)
        self.data[place.table][to.which] = deepcopy(row)
        return self.move(to, int(place.which) + 1 - int(to.which))

    def remove(self, place: Place) -> None:
        """Take a table away, with those inside it."""
        if FORMS[place.table].many == "list" and isinstance(place.which, int):
            del self.origins(place.table)[place.which]
        self.data = edit.without(self.data, place)
        if self.data.get(place.table) in ([], {}):
            del self.data[place.table]

    def move(self, place: Place, by: int) -> Place:
        """Move one of several tables up or down."""
        self.data, to = edit.moved(self.data, place, by)
        if isinstance(place.which, int) and isinstance(to.which, int):
            origins = self.origins(place.table)
            origins.insert(to.which, origins.pop(place.which))
        return to

    def forget(self) -> None:
        """Back to what was read."""
        self.data, self._origins = deepcopy(self.base), {}

    def written(self, text: str) -> None:
        """What stands here is on the disk now, as this text."""
        self.text, self.base, self._origins = text, deepcopy(self.data), {}

    def take_up(self, data: Mapping[str, Any], origins: Mapping[str, list[int | None]]) -> None:
        """Lay changes that were kept over what was read: data, and which row of it each row was.

        Raises ValueError where the rows do not fit the tables.
        """
        self.data, self._origins = deepcopy(dict(data)), {}
        for table in self.listed:
            rows, old = list(origins.get(table, ())), range(_length(self.base.get(table)))
            known = [row for row in rows if row is not None]
            if len(rows) != _length(self.data[table]) or len(set(known)) < len(known):
                raise ValueError(f"rows of {table}")
            if any(type(row) is not int or row not in old for row in known):
                raise ValueError(f"rows of {table}")
            self._origins[table] = rows

    def rebase(self, text: str, base: Mapping[str, Any]) -> None:
        """The file was changed by hand: take it as read now, with the changes laid over it.

        Where both changed one value, what was typed here stays.
        """
        merged = self._merged(base)
        self.text, self.base, self.data = text, deepcopy(dict(base)), merged
        self._origins = {
            table: _aligned(merged[table], self.base.get(table, []))
            for table in merged
            if table in FORMS and isinstance(merged[table], list)
        }

    def differs(self, place: Place) -> bool:
        """Whether a table is another one than it was when it was read."""
        return edit.row_of(self.data, place) != self._before(place)

    def was(self, place: Place) -> str:
        """The name that a table had when it was read; empty for a new one."""
        name = (self._before(place) or {}).get("name", "")
        return name if isinstance(name, str) else ""

    def _before(self, place: Place) -> Mapping[str, Any] | None:
        """The table as it was read."""
        outer = FORMS[place.table].inside or place.table
        which: int | str | None = place.which
        if FORMS[outer].many == "list" and isinstance(which, int):
            which = self.origins(outer)[which]
        if which is None or (FORMS[outer].many == "named" and which not in self._named(outer)):
            return None
        return edit.row_of(self.base, Place(place.table, which))

    def _named(self, table: str) -> Mapping[str, Any]:
        found = self.base.get(table)
        return found if isinstance(found, Mapping) else {}

    def origins(self, table: str) -> list[int | None]:
        """For each row of a table that stands several times, which row it was as read."""
        if table not in self._origins:
            self._origins[table] = list(range(_length(self.data.get(table))))
        return self._origins[table]

    @property
    def listed(self) -> list[str]:
        """The tables here that stand several times."""
        return [table for table in self.data if isinstance(self.data[table], list)]

    def _merged(self, theirs: Mapping[str, Any]) -> Data:
        """Base, changes and the new reading as one."""
        new = deepcopy(dict(theirs))
        for key in {**self.base, **self.data}:
            mine, before = self.data.get(key), self.base.get(key)
            if mine == before:
                continue
            there = new.get(key)
            if key in FORMS and FORMS[key].many == "list":
                new[key] = self._rows(key, there if isinstance(there, list) else [])
            else:
                _lay_over(new, key, before, mine)
        return new

    def _rows(self, table: str, theirs: list[Any]) -> list[Any]:
        """The rows of a table as they stand here, each with what was changed by hand in it."""
        base = self.base.get(table, [])
        partners = _aligned(base, theirs)
        rows: list[Any] = []
        for row, origin in zip(self.data.get(table, []), self.origins(table), strict=True):
            partner = partners[origin] if origin is not None else None
            if origin is None:
                rows.append(deepcopy(row))
            elif partner is not None:
                both = {"row": deepcopy(theirs[partner])}
                _lay_over(both, "row", base[origin], row)
                rows.append(both["row"])
            elif row != base[origin]:
                rows.append(deepcopy(row))  # taken out by hand, but changed here
        known = {partner for partner in partners if partner is not None}
        return rows + [deepcopy(row) for nth, row in enumerate(theirs) if nth not in known]


def _length(found: Any) -> int:
    return len(found) if isinstance(found, list) else 0


def _lay_over(into: Data, key: str, before: Any, mine: Any) -> None:
    """Change one value as it was changed here: tables key by key, all else whole."""
    if mine == before:
        return
    if mine is None:
        into.pop(key, None)
    elif isinstance(mine, dict) and isinstance(before, dict) and isinstance(into.get(key), dict):
        for name in {**before, **mine}:
            _lay_over(into[key], name, before.get(name), mine.get(name))
    else:
        into[key] = deepcopy(mine)


def _aligned(rows: list[Any], others: list[Any]) -> list[int | None]:
    """For each row its partner among the others: the same name and day, or else the same place."""
    free = dict.fromkeys(range(len(others)))
    found: list[int | None] = []
    for row in rows:
        same = next((n for n in free if _label(others[n]) == _label(row) != (None, None)), None)
        free.pop(same if same is not None else -1, None)
        found.append(same)
    for nth, row in enumerate(rows):
        if found[nth] is None and nth in free and _label(row)[0] is None:
            found[nth] = nth
            free.pop(nth)
    return found


def _label(row: Any) -> tuple[Any, Any]:
    if not isinstance(row, dict):
        return None, None
    return row.get("name", row.get("id")), row.get("from")
