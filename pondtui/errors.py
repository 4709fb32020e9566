"""The few errors of the program, and the problems that reading text finds.

    PondError              one sentence for the person; `exit_code` for the command line
    ├── UsageError         the words of a call are wrong (2)
    │   └── InputError     a value cannot be taken: unit, range, combination (2)
    │       └── QuantityError   a text is not the quantity that was asked for (2)
    └── FileError          a file or folder cannot be read or written (3)

Reading never raises: it returns what was good and a list of `Problem`.
"""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.records import NamedTuple


class PondError(Exception):
    """Something a person can act on; the message is one sentence that says what to do."""

    exit_code = 70


class UsageError(PondError):
    """The words of the call are wrong."""

    exit_code = 2


class InputError(UsageError):
    """A value cannot be taken: wrong unit, outside the range, or at odds with another value."""


class QuantityError(InputError):
    """A text is not the quantity that was asked for."""


class FileError(PondError):
    """A file or folder cannot be read or written."""

    exit_code = 3


class Problem(NamedTuple):
    """One thing that is wrong (`problem`) or worth a look (`remark`) in a text the keeper owns."""

    path: str  # file the text stands in, as shown to the keeper
    line: int  # counted from 1; 0 when the whole file is meant
    column: int  # counted from 1; 0 when the whole line is meant
    message: str  # one sentence with the way out
    text: str = ""  # the line itself, shown above a caret
    severity: str = "problem"  # "problem" or "remark"

    def __str__(self) -> str:
        place = self.path + (f":{self.line}" if self.line else "")
        return f"{place}: {self.message}"


def nearest(word: str, known: Sequence[str]) -> str:
    """` (did you mean X?)` for the most alike of the known words, or nothing."""
    from difflib import get_close_matches  # only a mistake needs it

    close = get_close_matches(word.lower(), known, n=1)
    return f" (did you mean {close[0]}?)" if close else ""
