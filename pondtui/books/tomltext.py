"""TOML as people write it, read within bounds: a reader's time and depth grow faster than its text.

Measured with the standard library's reader: one dotted key of 64 KiB takes seconds, a key inside a
thousand brackets ends in an error of the interpreter itself.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

LARGEST = 256 * 1024  # bytes
LONGEST_LINE = 8 * 1024
MOST_DOTS = 200  # in a line; a dotted key costs the square of its parts
MOST_SIGNS = 6000  # of = and [ together; a pond with all that can be described has some 500
_PLACE = re.compile(r"(.*?) \(at line (\d+), column (\d+)\)", re.DOTALL)
_WAY_OUT = (
    "write key = value, texts and amounts in quotes, "
    "and correct this first: nothing else can be read"
)


class NoTomlError(ValueError):
    """A text that is no TOML, or more than is read; the message is one sentence."""

    def __init__(self, message: str, line: int = 0, column: int = 0) -> None:
        super().__init__(message)
        self.line = line  # counted from 1; 0 where the whole text is meant
        self.column = column


def parse_toml(text: str) -> dict[str, Any]:
    """The table that a TOML text describes. Raises NoTomlError."""
    _refuse_too_much(text)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise NoTomlError("brackets stand in brackets too deep: close them") from None
    except tomllib.TOMLDecodeError as error:
        raise _syntax(str(error), text) from None
    except ValueError:
        message = f"not TOML: a number in it has thousands of digits; {_WAY_OUT}"
        raise NoTomlError(message) from None


def _refuse_too_much(text: str) -> None:
    if text.count("=") + text.count("[") > MOST_SIGNS:
        message = "it holds thousands of keys, which no file of ours does: put back an older copy"
        raise NoTomlError(message)
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            raise NoTomlError("this line is longer than 8 KiB: part it in several", number)
        if line.count(".") > MOST_DOTS:
            raise NoTomlError(f"more than {MOST_DOTS} points in a line: part it in several", number)


def _syntax(said: str, text: str) -> NoTomlError:
    """What the reader says, at its place, with the way out."""
    found = _PLACE.fullmatch(said)
    if found:
        number, column, what = int(found[2]), int(found[3]), found[1]
    else:
        number, column, what = 0, 0, said.partition(" (")[0]
        if "end of document" in said:
            number = text.rstrip().count("\n") + 1
    message = f"not TOML: {what[:1].lower()}{what[1:]}; {_WAY_OUT}"
    return NoTomlError(message, number, column)
