"""The keeper's own copy of an invented pond, and the clock that goes with it.

The copy's season is always now: the moment for which the pond was invented stands in its
now.txt, and how far that lay from the real clock at the first opening is kept beside the copy.
"""

from __future__ import annotations

import shutil
from datetime import datetime, timedelta
from pathlib import Path

from pondtui.errors import FileError

NOW_FILE = "now.txt"


def names(source: Path) -> list[str]:
    """The invented ponds that ship with the program."""
    return sorted(path.parent.name for path in source.glob(f"*/{NOW_FILE}"))


def open_copy(source: Path, folder: Path, now: datetime, fresh: bool) -> timedelta:
    """Make the copy of `source` at `folder` unless it is there; how far its clock is ahead.

    Raises FileError for a sample or clock file that makes no sense, OSError for the disk.
    """
    beside = folder.with_name(f"{folder.name}-clock.txt")
    if fresh and folder.exists():
        shutil.rmtree(folder)
        beside.unlink(missing_ok=True)
    if not folder.exists():
        _copy(source, folder)
    if not beside.exists():
        ahead = _invented_now(source / NOW_FILE) - now
        beside.write_text(f"{ahead.total_seconds():.0f}\n", encoding="ascii")
    return _read_ahead(beside)


def _copy(source: Path, folder: Path) -> None:
    """Copy the bytes, not the modes: an installed sample may be read-only."""
    part = folder.with_name(f"{folder.name}.part")
    shutil.rmtree(part, ignore_errors=True)
    for path in sorted(source.rglob("*")):
        if path.is_file() and path.name != NOW_FILE:
            target = part / path.relative_to(source)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())
    part.rename(folder)


def _invented_now(path: Path) -> datetime:
    try:
        moment = datetime.fromisoformat(path.read_text(encoding="ascii").strip())
    except ValueError as error:
        raise FileError(f"{path}: holds no moment such as 2026-08-14 18:20:00+02:00") from error
    if moment.tzinfo is None:
        raise FileError(f"{path}: the moment needs its offset, such as +02:00")
    return moment


def _read_ahead(path: Path) -> timedelta:
    try:
        return timedelta(seconds=int(path.read_text(encoding="ascii")))
    except (ValueError, OverflowError) as error:
        raise FileError(
            f"{path}: holds no number of seconds; `pondtui sample --fresh` begins a new copy"
        ) from error
