"""Writing what others are to read: a sheet, a table, a calendar, a page."""

from __future__ import annotations

import os
from pathlib import Path

from pondtui.books.folder import reason, replace_file
from pondtui.errors import FileError

_FOLDERS = ("journal", "weather")
_RESERVED = ("pond.toml", "procedure.toml", ".gitattributes")


def write_out(folder: Path, path: Path, text: str, *, private: bool = False) -> None:
    """Write the file; one with private details can be read by its owner alone.

    Raises FileError for a folder, for a file of the pond in `folder` by whatever way the path leads
    there, and for what the disk refuses.
    """
    try:
        target, home = Path(os.path.realpath(path)), Path(os.path.realpath(folder))
        if target.is_dir() or not path.name:
            raise FileError(f"{path}: a folder, not a file: name the file to write")
        inside = target.relative_to(home) if target.is_relative_to(home) else Path()
        if (inside.parts[:1] and inside.parts[0] in _FOLDERS) or inside.name.startswith(_RESERVED):
            raise FileError(f"{path}: one of the pond's own files: write somewhere else")
        if private and target.exists():
            os.chmod(target, 0o600)
    except OSError as error:
        raise FileError(f"{path} cannot be made private: {reason(error)}") from None
    except ValueError:
        raise FileError(f"{path}: no file can be called so: name another one") from None
    replace_file(path, text)
