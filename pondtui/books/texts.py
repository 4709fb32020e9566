"""Reading a small text file that a person named, whole."""

from __future__ import annotations

from pathlib import Path

from pondtui.errors import FileError

LARGEST = 5 * 2**20  # bytes; a table of a garden pond is far smaller


def read_text(name: str) -> str:
    """The text of the file. Raises FileError with one sentence."""
    try:
        with Path(name).expanduser().open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:  # ValueError: a name that no file can have
        reason = getattr(error, "strerror", None) or error
        raise FileError(f"{name}: cannot be read: {reason}") from None
    if len(data) > LARGEST:
        raise FileError(f"{name}: larger than 5 MiB: take a part of it")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"{name}: not UTF-8 text: save it as UTF-8") from None
