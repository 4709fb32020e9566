"""`pondtui where`: which folders and files are in use, and what they can do."""

from __future__ import annotations

from typing import Any

import pondtui
from pondtui.books.settings import NAME
from pondtui.books.store import Store
from pondtui.cli.context import Context
from pondtui.cli.help import columns
from pondtui.cli.words import Call
from pondtui.errors import PondError
from pondtui.paths import config_dir, data_dir


def run(call: Call, context: Context) -> int:
    """Show the folders of the program and, where there is one, of the pond."""
    context.take_no_words(call)
    data: dict[str, Any] = {
        "version": pondtui.__version__,
        "settings_file": str(config_dir() / NAME),
        "data_folder": str(data_dir()),
        "device": context.device,
        "now": context.now.isoformat(" "),
        "pond_folder": None,
    }
    rows = [
        ("version", data["version"]),
        ("settings", data["settings_file"]),
        ("data", data["data_folder"]),
        ("device", data["device"]),
        ("clock", data["now"] + (" (set by PONDTUI_NOW)" if context.clock.fixed else "")),
    ]
    try:
        data["pond_folder"] = str(context.folder)
    except PondError as error:
        rows.append(("pond", str(error)))
    else:
        rows += _pond(context, data)
    context.answer(data, columns(rows))
    return 0


def _pond(context: Context, data: dict[str, Any]) -> list[tuple[str, str]]:
    journal = context.journal
    locks = Store(context.folder, context.device).locks
    data["journal_files"] = [file._asdict() for file in journal.files]
    data["locks"] = locks
    data["read_only"] = journal.read_only
    rows = [("pond", data["pond_folder"])]
    for file in journal.files:
        torn = ", its last line is torn" if file.torn else ""
        rows.append(("journal", f"{file.path}: {file.entries} entries, {file.size} bytes{torn}"))
    if not journal.files:
        rows.append(("journal", "no file yet"))
    how = "locked while a line is written" if locks else "this disk knows no locks: one writer only"
    rows.append(("writing", "read-only: see `pondtui check`" if journal.read_only else how))
    return rows
