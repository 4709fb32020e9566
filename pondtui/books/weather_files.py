"""Putting a weather table into the pond's folder, and its columns into pond.toml."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Mapping
from pathlib import Path

from pondtui.books.folder import PondFolder, reason, sync_folder
from pondtui.books.pondfile import load, save
from pondtui.books.texts import LARGEST, read_bytes
from pondtui.errors import FileError


def put_table(folder: Path, name: str) -> tuple[Path, str]:
    """Copy the file into weather/ under a safe name, byte for byte; its path and what was done.

    A table that is there already is not copied again; one that has grown takes the place of the
    shorter one; any other stays beside its namesake. Raises FileError.
    """
    source = Path(os.path.expanduser(name))
    target = PondFolder(folder).weather
    try:
        data = read_bytes(source, LARGEST)
        if len(data) > LARGEST:
            raise FileError(f"{name} has grown larger than 5 MiB: split it by years")
        target.mkdir(exist_ok=True)
        stem = re.sub(r"[^a-z0-9]+", "-", source.stem.lower()).strip("-")[:40].strip("-")
        for number in range(1, 1000):
            path = target / f"{stem or 'weather'}{f'-{number}' if number > 1 else ''}.csv"
            there = read_bytes(path, LARGEST) if path.exists() else None
            if there == data:
                return path, "there already"
            if there is None or (there and data.startswith(there)):
                _replace(path, data)
                return path, "copied" if there is None else "taken in place of the shorter one"
    except OSError as error:
        raise FileError(f"{error.filename or name} is not saved: {reason(error)}") from None
    raise FileError(f"{target}: too many tables are called {stem}: give this one another name")


def add_columns(folder: Path, columns: Mapping[str, str]) -> None:
    """Name columns in [weather.columns]; all else in pond.toml stays. Raises FileError."""
    data = load(folder).data
    weather = dict(data.get("weather", {}))
    named = {name: _with_brackets(text) for name, text in columns.items()}
    weather["columns"] = {**named, **weather.get("columns", {})}
    save(folder, {**data, "weather": weather})


def _with_brackets(text: str) -> str:
    """`Tmin (degC)` as `Tmin [degC]`, which pond.toml takes."""
    return re.sub(r"\(([^()]*)\)$", r"[\1]", text)


def _replace(path: Path, data: bytes) -> None:
    """Write whole or not at all. Raises OSError."""
    handle, temporary = tempfile.mkstemp(".tmp", f".{path.name}.", path.parent)
    try:
        with open(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(temporary, path)
    except OSError:
        os.unlink(temporary)
        raise
    sync_folder(path.parent)
