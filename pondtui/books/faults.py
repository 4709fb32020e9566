"""The file that keeps the trace of a fault of ours, so that it can be reported."""

from __future__ import annotations

from pathlib import Path


def record(folder: Path, trace: str) -> Path | None:
    """Keep the trace of the last fault; None where even that cannot be written."""
    path = folder / "last-fault.txt"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path.write_text(trace, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return None
    return path
