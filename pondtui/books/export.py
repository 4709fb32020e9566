"""The journal handed to other programs: a list of objects, as JSON or as a table."""

from __future__ import annotations

import csv
import io
import json
from datetime import tzinfo
from typing import Any

from pondtui.books.journal import Journal
from pondtui.books.lines import render_fields
from pondtui.books.stamps import render_stamp
from pondtui.pond.state.entry import Dose, Entry, Measured, Rate
from pondtui.pond.state.kinds import KINDS

_SUFFIX = {
    "length": "_mm",
    "volume": "_l",
    "time": "_min",
    "temperature": "_c",
    "concentration": "_mg_per_l",
    "hardness": "_caco3_mg_per_l",
    "speed": "_m_per_s",
}
# what a spreadsheet takes for the begin of a formula; the wide forms, in some languages
_COMPUTED = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_COLUMNS = ("stamp", "kind", "fields", "note", "file", "line", "struck")


def entry_rows(journal: Journal, tz: tzinfo) -> list[dict[str, Any]]:
    """One object an entry, in order, struck ones too: the `export entries --as json` promise."""
    return [
        {
            "stamp": _full_stamp(entry, tz),
            "kind": entry.kind,
            "fields": dict(entry.fields),
            "values": numbers(entry),
            "note": entry.note,
            "file": entry.path,
            "line": entry.line,
            "struck": journal.is_struck(entry),
        }
        for entry in journal.entries
    ]


def as_json(rows: list[dict[str, Any]]) -> str:
    """The rows as JSON text."""
    return json.dumps(rows, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def as_csv(rows: list[dict[str, Any]]) -> str:
    """The rows as a table with a column for every value; no cell is taken for a formula."""
    values = sorted({name for row in rows for name in row["values"]})
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow([*_COLUMNS, *values])
    for row in rows:
        plain = row | {"fields": render_fields(row["fields"]), "struck": _yes(row["struck"])}
        cells = [plain[name] for name in _COLUMNS]
        cells += [row["values"].get(name, "") for name in values]
        table.writerow([_no_formula(cell) for cell in cells])
    return text.getvalue()


def numbers(entry: Entry) -> dict[str, float | bool]:
    """The numbers of an entry, the unit in the key: `reading_mm`, `ammonia_n_mg_per_l`."""
    spec = KINDS.get(entry.kind)
    found: dict[str, float | bool] = {}
    for name, value in entry.values.items():
        field = spec.field(name) if spec else None
        if field is None or isinstance(value, (str, bool)):
            continue
        kind = "length" if field.type == "level" else field.type.removeprefix("measured:")
        suffix = _SUFFIX.get(kind, "")
        if isinstance(value, Measured):
            basis = f"_{value.basis.lower()}" if value.basis else ""
            found[f"{name}{basis}{suffix}"] = value.value
            if value.below:
                found[f"{name}_below"] = True
        elif isinstance(value, Dose):
            found[f"{name}_{value.unit.lower()}"] = value.amount
        elif isinstance(value, Rate):
            found[f"{name}_{value.unit.lower()}_per_l"] = value.per_l
        elif isinstance(value, (int, float)):
            found[f"{name}{suffix}"] = value
    return found


def _full_stamp(entry: Entry, tz: tzinfo) -> str:
    """The stamp as written; where it lacks seconds or an offset, in full."""
    stamp = entry.stamp
    whole = len(stamp) > 19 and stamp[16] == ":" and (stamp[-1] == "Z" or stamp[-6] in "+-")
    return stamp if whole else render_stamp(entry.instant, tz)


def _yes(flag: bool) -> str:
    return "yes" if flag else "no"


def _no_formula(cell: Any) -> Any:
    """A quote in front of what a spreadsheet would compute; numbers stay numbers."""
    if isinstance(cell, str) and cell.startswith(_COMPUTED):
        return f"'{cell}"
    return cell
