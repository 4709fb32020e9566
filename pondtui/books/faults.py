"""The file that keeps the trace of a fault of ours, so that it can be reported."""

from __future__ import annotations

from pathlib import Path

from pondtui.books.folder import replace_file
from pondtui.errors import FileError


def record(folder: Path, trace: str) -> Path | None:
    """Keep the trace of the last fault; None where even that cannot be written."""
    path = folder / "last-fault.txt"
    try:
        replace_file(path, trace.encode("utf-8", "backslashreplace").decode())
    except FileError:
        return None
    return path
