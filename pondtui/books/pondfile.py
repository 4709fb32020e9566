"""pond.toml on disk: read with every problem at its line, written whole with the previous beside.

What the file holds and how it is checked stands in `pond.setup.read`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from pondtui.books.folder import PondFolder, reason, replace_file
from pondtui.books.texts import read_bytes
from pondtui.books.tomltext import LARGEST, NoTomlError, parse_toml
from pondtui.clean import visible
from pondtui.errors import FileError, Problem
from pondtui.pond.refill.own_steps import read_own_steps
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import OwnStep, Setup
from pondtui.pond.setup.read import read_findings
from pondtui.records import NamedTuple

NAME = "pond.toml"
PROCEDURE = "procedure.toml"
PREVIOUS = "pond.toml.before"
MOST_PROBLEMS = 100
LONGEST_SHOWN = 200  # characters of a line beside its problem


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
    worst = sorted(findings, key=lambda f: f.severity != "problem")[:MOST_PROBLEMS]
    told = findings if len(findings) <= MOST_PROBLEMS else worst
    problems = [_at_line(finding, text) for finding in told]
    if len(told) < len(findings):
        message = f"and {len(findings) - len(told)} more: mend these and look again"
        problems.append(Problem(NAME, 0, 0, message, "", told[0].severity))
    return LoadedPond(setup, problems, data, text)


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
        raw = read_bytes(path, LARGEST)
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
    try:
        return parse_toml(text), None
    except NoTomlError as error:
        line = text.split("\n")[error.line - 1][:LONGEST_SHOWN] if error.line else ""
        message = visible(str(error))
        return {}, Problem(name, error.line, error.column, message, visible(line))


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
        before = read_bytes(path, LARGEST).decode() if path.exists() else None
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
    for number, brackets, name in _signposts(text):
        if brackets:
            if brackets == "[[" and name == outer:
                count += 1
            here = name == table and max(count, 0) == nth
            header = number if here else header
        else:
            if here and key and name == key:
                return number
            header = header or (number if name in short else 0)
    return header


# No two parts of these may take the same character: a line of blanks would cost its cube.
_HEADER = re.compile(r"\s*(\[\[?)([^\[\]]+)\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"([^=#]+)=")


@lru_cache(maxsize=1)
def _signposts(text: str) -> list[tuple[int, str, str]]:
    """Number, brackets and name of every header, number and name of every key; once for all."""
    found = []
    for number, line in enumerate(text.split("\n"), 1):
        if header := _HEADER.match(line):
            found.append((number, header[1], _plain(header[2])))
        elif key := _KEY.match(line):
            found.append((number, "", _plain(key[1])))
    return found


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
