"""Writing a description that was changed in the program: pond.toml, and procedure.toml beside it.

A changed value is put into the text as it stands, with all comments; where that cannot be done
the file is written anew, and the one that holds the comments is kept for good beside it.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from pondtui.books import pondpatch
from pondtui.books.folder import replace_file
from pondtui.books.pondfile import NAME, PROCEDURE, table_of, text_of
from pondtui.books.pondtext import as_toml
from pondtui.errors import FileError
from pondtui.pond.setup.changes import Changes
from pondtui.records import NamedTuple

FILES = (NAME, PROCEDURE)


class Draft(NamedTuple):
    """Both files of a description, as read and as changed."""

    pond: Changes
    steps: Changes

    def of(self, table: str) -> Changes:
        """The file that a table stands in."""
        return self.steps if table == "step" else self.pond

    @property
    def files(self) -> tuple[tuple[str, Changes], ...]:
        """Each with its name."""
        return (NAME, self.pond), (PROCEDURE, self.steps)


class Written(NamedTuple):
    """The text that would be written, and how many lines of comments it no longer holds."""

    text: str
    comments_lost: int


def read_draft(folder: Path) -> Draft:
    """What stands on the disk, nothing changed yet. Raises FileError for what cannot be read."""
    return Draft(*(Changes(*read_file(folder, name)) for name in FILES))


def read_file(folder: Path, name: str) -> tuple[str, dict[str, Any]]:
    """One file's text and data; a file that is not there is empty. Raises FileError."""
    text, fault = text_of(folder / name, name)
    if fault is None:
        plain = (text or "").replace("\r\n", "\n")
        data, fault = table_of(plain, name)
    if fault is not None:
        raise FileError(str(fault))
    return plain, data


def changed_by_hand(folder: Path, name: str, read: str) -> bool:
    """Whether the file is another one than the text that was read. Raises FileError."""
    text, fault = text_of(folder / name, name)
    if fault is not None:
        raise FileError(str(fault))
    return (text or "").replace("\r\n", "\n") != read


def as_written(changes: Changes) -> Written:
    """The changed file. Raises FileError for what TOML cannot hold."""
    try:
        patched = pondpatch.patched(changes)
        text = as_toml(changes.data) if patched is None else patched
    except (TypeError, ValueError) as error:
        raise FileError(f"it is not saved: {error}") from None
    return Written(text, max(comments(changes.text) - comments(text), 0))


def write(folder: Path, name: str, written: Written, read: str) -> None:
    """Write a file whole; as it was it is kept as NAME.before. Raises FileError.

    Where comments go, it is kept as NAME.comments too: the next writing would take the other away.
    """
    if read:
        if written.comments_lost:
            replace_file(folder / f"{name}.comments", read)
        replace_file(folder / f"{name}.before", read)
    replace_file(folder / name, written.text)


def comments(text: str) -> int:
    """How many lines hold a comment; a sign # within quotes is none."""
    bare = re.sub(_QUOTED, "", text)
    return sum("#" in line for line in bare.split("\n"))


# What does not close goes on to the end: to look again from each quote would cost the square.
_QUOTED = re.compile(
    r'"""(?:\\.|[^\\])*?(?:"""|\\?\Z)|'
    r"'''.*?(?:'''|\Z)|"
    r'"(?:\\.|[^"\\\n])*+\\?"?|'
    r"'[^'\n]*+'?|"
    r"(?<=#)[^\n]*",
    re.DOTALL,
)
