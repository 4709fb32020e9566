"""pond.toml on disk: read with every problem at its line, written whole with the previous beside.

What the file holds and how it is checked stands in `pond.setup.read`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from pondtui.books.folder import PondFolder, reason, replace_file
from pondtui.clean import visible
from pondtui.errors import FileError, Problem
from pondtui.pond.refill.own_steps import read_own_steps
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import OwnStep, Setup
from pondtui.pond.setup.read import read_findings

NAME = "pond.toml"
PROCEDURE = "procedure.toml"
PREVIOUS = "pond.toml.before"
LARGEST = 256 * 1024  # bytes
# tomllib's time and memory grow with the square of a dotted key's length.
LONGEST_LINE = 8 * 1024


class LoadedPond(NamedTuple):
    """What was read: `setup` is None where nothing of a pond could be understood."""

    setup: Setup | None
    problems: list[Problem]
    data: dict[str, Any]  # as tomllib gives it, unknown keys included
    text: str


def load(folder: Path) -> LoadedPond:
    """The pond of a folder, its own refill steps included.

    Never raises for what stands on disk: problems tell it.
    """
    text, fault = text_of(PondFolder(folder).pond, NAME)
    if text is None:
        return LoadedPond(None, [fault] if fault else [_missing()], {}, "")
    pond = parse(text)
    if pond.setup is None:
        return pond
    steps, problems = _own_steps(PondFolder(folder).procedure)
    return pond._replace(
        setup=pond.setup._replace(own_steps=steps), problems=[*pond.problems, *problems]
    )


def parse(text: str) -> LoadedPond:
    """The pond that the text of a pond.toml describes."""
    text = text.replace("\r\n", "\n")
    data, fault = table_of(text, NAME)
    if fault is not None:
        return LoadedPond(None, [fault], {}, text)
    setup, findings = read_findings(data)
    return LoadedPond(setup, [_at_line(finding, text) for finding in findings], data, text)


def _own_steps(path: Path) -> tuple[tuple[OwnStep, ...], list[Problem]]:
    """The steps of procedure.toml; a file that cannot be read leaves the fixed steps alone."""
    text, fault = text_of(path, PROCEDURE)
    if text is None:
        return (), [fault] if fault else []
    data, fault = table_of(text.replace("\r\n", "\n"), PROCEDURE)
    return ((), [fault]) if fault is not None else read_own_steps(data, PROCEDURE)


def text_of(path: Path, name: str) -> tuple[str | None, Problem | None]:
    """The file's text; (None, None) where there is no such file, else why it cannot be read."""
    try:
        with open(path, "rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        return None, None
    except IsADirectoryError:
        return None, Problem(name, 0, 0, "a folder stands in its place: move it away")
    except OSError as error:
        return None, Problem(name, 0, 0, f"it cannot be read: {reason(error)}")
    if len(raw) > LARGEST:
        message = "it is larger than 256 KiB, which no pond needs: put back an older copy"
        return None, Problem(name, 0, 0, message)
    try:
        return raw.removeprefix(b"\xef\xbb\xbf").decode(), None
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = "it is not UTF-8 text: save it as UTF-8 in your editor"
        return None, Problem(name, line, 0, message)


def table_of(text: str, name: str) -> tuple[dict[str, Any], Problem | None]:
    """The table that a TOML text describes, or why it describes none."""
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            message = "this line is longer than 8 KiB: part it in several"
            return {}, Problem(name, number, 0, message)
    try:
        return tomllib.loads(text), None
    except RecursionError:
        return {}, Problem(name, 0, 0, "brackets stand in brackets too deep: close them")
    except ValueError as error:  # TOMLDecodeError is one; a number of 5,000 digits is another
        return {}, _syntax(error, text, name)


def _missing() -> Problem:
    message = "there is no pond.toml in this folder: make one with `pondtui new`"
    return Problem(NAME, 0, 0, message)


def save(folder: Path, data: Mapping[str, Any]) -> None:
    """Write pond.toml whole; the file as it was is kept as pond.toml.before. Raises FileError.

    Everything in `data` is written, keys that the program does not know included. Comments are not
    kept; they stand in the file beside it.
    """
    from pondtui.books.pondtext import as_toml

    path = PondFolder(folder).pond
    try:
        text = as_toml(data)
        before = path.read_bytes().decode() if path.exists() else None
    except OSError as error:
        raise FileError(f"{path} is not saved: {reason(error)}") from None
    except (TypeError, ValueError) as error:
        raise FileError(f"{path} is not saved: {error}") from None
    if before is not None and before != text:
        replace_file(folder / PREVIOUS, before)
    replace_file(path, text)


def line_of(text: str, table: str, key: str, nth: int = 0) -> int:
    """Line of a key in the nth table of that name, or of the table; 0 where neither is found.

    `table` is "" for the top of the file, "source.tap" for a named table, "barrel.roof" for a
    table inside the nth [[barrel]]. A line inside a text of several lines may be taken for one.
    """
    outer = table.partition(".")[0]
    short = (f"{table}.{key}", table, outer)  # `pond.name = ...`, `mark = [{...}]`
    here, count, header = table == "", -1, 0
    for number, line in enumerate(text.split("\n"), 1):
        if found := _HEADER.match(line):
            name = _plain(found[2])
            if found[1] == "[[" and name == outer:
                count += 1
            here = name == table and max(count, 0) == nth
            header = number if here else header
        elif found := _KEY.match(line):
            if here and key and _plain(found[1]) == key:
                return number
            header = header or (number if _plain(found[1]) in short else 0)
    return header


_HEADER = re.compile(r"\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"\s*([^=#]+?)\s*=")
_PLACE = re.compile(r"(.*?) \(at line (\d+), column (\d+)\)", re.DOTALL)


def _plain(name: str) -> str:
    """A dotted name without quotes and spaces around its parts."""
    return ".".join(part.strip().strip("\"'") for part in name.split("."))


def _at_line(finding: Finding, text: str) -> Problem:
    """A finding as a problem at its line, with the column where the value or the key begins."""
    inside, _, key = finding.key.rpartition(".")
    table = f"{finding.table}.{inside}" if inside else finding.table
    number = line_of(text, table, key, finding.nth) or line_of(text, finding.table, "", finding.nth)
    line = text.split("\n")[number - 1] if number else ""
    column = 0
    if found := _KEY.match(line):
        column = len(line) - len(line[found.end() :].lstrip()) + 1
    return Problem(NAME, number, column, finding.message, visible(line), finding.severity)


def _syntax(error: ValueError, text: str, name: str) -> Problem:
    """What tomllib says, at its place, with the way out."""
    found = _PLACE.fullmatch(str(error))
    if not isinstance(error, tomllib.TOMLDecodeError):
        number, column, what = 0, 0, "a number in it has thousands of digits"
    elif found:
        number, column, what = int(found[2]), int(found[3]), found[1]
    else:
        number, column, what = 0, 0, str(error).partition(" (")[0]
        if "end of document" in str(error):
            number = text.rstrip().count("\n") + 1
    line = text.split("\n")[number - 1] if number else ""
    message = (
        f"not TOML: {what[:1].lower()}{what[1:]}; write key = value, texts and amounts in quotes, "
        "and correct this first: nothing else can be read"
    )
    return Problem(name, number, column, visible(message), visible(line))
