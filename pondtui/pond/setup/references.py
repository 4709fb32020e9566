"""What names a thing of the description: other tables, and entries of the journal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from pondtui.pond.state.entry import Entry

# table -> the other keys that may hold its name
_IN_FILE = {
    "basin": (("barrel", "into"),),
    "source": (("barrel", "source"),),
    "person": (("chore", "person"),),
    "chore": (("chore", "after"), ("supply", "used_by")),
    "step": (("step", "after"),),
}
# table -> fields of entries that may hold its name, and the kinds that count (none: all)
_IN_JOURNAL: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "barrel": (("barrel", "where"), ()),
    "basin": (("to", "kind"), ("release", "direct", "event")),
    "source": (("source",), ()),
    "chore": (("name",), ("chore",)),
    "supply": (("item",), ("supply",)),
    "person": (("by", "sitter"), ()),
    "step": (("step",), ()),
}


def candidates(data: Mapping[str, Any], table: str, key: str) -> list[str]:
    """The names that a field may hold, as the description has them; none where it names nothing."""
    found: list[str] = []
    for named, places in _IN_FILE.items():
        if (table, key) in places:
            rows = data.get(named)
            if isinstance(rows, Mapping):
                found += [str(name) for name in rows]
            listed = rows if isinstance(rows, list) else []
            names = [row.get("name") for row in listed if isinstance(row, dict)]
            found += [name for name in names if isinstance(name, str) and name not in found]
    return found


def naming_tables(data: Mapping[str, Any], table: str, name: str) -> list[str]:
    """The other tables that name it: `barrel "yard": into`."""
    found = []
    for other, key in _IN_FILE.get(table, ()):
        rows = data.get(other)
        for row in rows if isinstance(rows, list) else []:
            if isinstance(row, dict) and name in _words(row.get(key)):
                found.append(f'{other} "{row.get("name", row.get("id", ""))}": {key}')
    return found


def naming_entries(entries: Iterable[Entry], table: str, names: tuple[str, ...]) -> int:
    """How many entries of the journal name it."""
    fields, kinds = _IN_JOURNAL.get(table, ((), ()))
    return sum(
        any(entry.fields.get(field) in names for field in fields)
        for entry in entries
        if not kinds or entry.kind in kinds
    )


def _words(raw: object) -> list[str]:
    return [word.strip() for word in raw.split(",")] if isinstance(raw, str) else []
