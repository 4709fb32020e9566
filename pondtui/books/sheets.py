"""The care sheets that were printed: the file itself, and the tasks that a report answers.

`sheets/` may be deleted; then a report finds its tasks again only when the sheet is made anew.
"""

from __future__ import annotations

import contextlib
import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from pondtui.books.folder import replace_file
from pondtui.books.texts import read_text
from pondtui.errors import FileError
from pondtui.pond.away.model import Sheet, Task
from pondtui.records import NamedTuple

_FORMAT = 1


class Record(NamedTuple):
    """What a report needs of the sheet that it answers; nothing private."""

    code: str
    made: str  # stamp
    first: date | None
    last: date | None
    sitter: str
    units: str
    tasks: tuple[Task, ...]


def keep_record(folder: Path, sheet: Sheet) -> None:
    """Keep the sheet's tasks beside the pond. Raises FileError."""
    tasks = [task for planned in sheet.visits for task in planned.tasks]
    data = {
        "format": _FORMAT,
        "code": sheet.code,
        "made": sheet.made.isoformat(" "),
        "from": None if sheet.first is None else sheet.first.isoformat(),
        "to": None if sheet.last is None else sheet.last.isoformat(),
        "sitter": sheet.sitter,
        "units": sheet.setup.pond.units,
        "tasks": [task._asdict() | {"fields": dict(task.fields)} for task in tasks],
    }
    name = f"{(sheet.first or sheet.made.date()).isoformat()}-{sheet.code}.json"
    replace_file(folder / "sheets" / name, json.dumps(data, ensure_ascii=False, indent=1) + "\n")


def read_records(folder: Path) -> list[Record]:
    """The sheets that were kept, the newest first; what cannot be read is none."""
    found = []
    for path in sorted((folder / "sheets").glob("*.json")):
        with contextlib.suppress(FileError, ValueError, TypeError, KeyError, RecursionError):
            found.append(_record(json.loads(read_text(str(path)))))
    return sorted(found, key=lambda record: record.made, reverse=True)


def record_now(records: Sequence[Record], today: date, names: Sequence[str]) -> Record | None:
    """The sheet of the absence that goes on, else of the next one: a sitter's own before others,
    the one made last before those that it took the place of; None where none is planned."""
    known = {name.casefold() for name in names if name}

    def rank(record: Record) -> tuple[bool, bool, date]:
        assert record.first is not None
        other = bool(record.sitter) and record.sitter.casefold() not in known
        return (other, record.first > today, max(record.first, today))

    fit = [r for r in records if r.first and r.last and r.last >= today and r.tasks]
    return min(fit, key=rank, default=None)


def find_record(records: Sequence[Record], code: str) -> Record:
    """The sheet of that code, else the newest. Raises FileError where there is none."""
    again = "make it once more with pondtui sheet FROM TO, from the same dates"
    if not records:
        raise FileError(f"no sheet is kept in sheets/: {again}")
    if not code:
        return records[0]
    for record in records:
        if record.code == code:
            return record
    raise FileError(
        f"no sheet {code} is kept in sheets/: {again}, or take the code out of the text"
    )


def _record(data: dict[str, Any]) -> Record:
    """Raises KeyError, TypeError or ValueError for what is no record."""
    if data["format"] != _FORMAT:
        raise ValueError("another format")
    first, last = (date.fromisoformat(data[k]) if data[k] else None for k in ("from", "to"))
    tasks = tuple(_task(each) for each in data["tasks"])
    code, made, sitter, units = (str(data[k]) for k in ("code", "made", "sitter", "units"))
    return Record(code, made, first, last, sitter, units, tasks)


def _task(data: dict[str, Any]) -> Task:
    fields = {str(name): str(value) for name, value in dict(data["fields"]).items()}
    texts = {key: str(data[key]) for key in Task._fields if key not in ("fields", "instant")}
    return Task(**texts, fields=fields, instant=int(data["instant"]))
