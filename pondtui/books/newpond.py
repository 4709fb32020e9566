"""A new pond folder: the description, an empty journal, and what git needs to join journals."""

from __future__ import annotations

from pathlib import Path

from pondtui.books.folder import GIT_ATTRIBUTES, PondFolder, reason, replace_file
from pondtui.errors import FileError


def refuse_existing(path: Path) -> None:
    """Raises FileError where a pond, or no folder, stands already."""
    folder = PondFolder(path)
    if folder.pond.exists() or folder.journal.exists():
        raise FileError(f"{path} is a pond folder already: nothing is changed; name another one")
    if path.exists() and not path.is_dir():
        raise FileError(f"{path} is a file, not a folder: name another place")


def create(path: Path, description: str) -> None:
    """Write the folder; the description comes last, so that half a pond is no pond.

    Raises FileError; an existing pond is never touched.
    """
    refuse_existing(path)
    folder = PondFolder(path)
    try:
        folder.journal.mkdir(parents=True)
    except OSError as error:
        raise FileError(f"{path} cannot be made: {reason(error)}") from None
    if not folder.git_attributes.exists():
        replace_file(folder.git_attributes, GIT_ATTRIBUTES)
    replace_file(folder.pond, description)
