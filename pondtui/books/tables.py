"""A table of a station or a logger, read cell by cell: never raises, names what is wrong.

RFC 4180, and what is found beside it: `;` or tab between cells, decimal commas, lines before the
header, `#` comments, a byte order mark, any ends of line, UTF-16. A cell is text and nothing is
ever computed from it, so that a formula in it does no harm.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

from pondtui.books.folder import reason
from pondtui.books.texts import read_bytes
from pondtui.clean import visible
from pondtui.errors import Problem
from pondtui.records import NamedTuple

LARGEST = 5 * 2**20  # bytes of a file
LONGEST_LINE = 8 * 1024
_QUOTED_LINES = 20  # a quoted cell over more lines than this is a stray quote
_SURVEYED = 400  # lines that tell the separator; some services write 50 before the header
_QUOTED = re.compile(r'"[^"]*"')
# compiled where they are first used
_POINT = r'(?m)(?:^|[;\t])[ "]*[+-]?\d+\.\d+[ "]*(?=[;\t\n])'
_COMMA = r'(?m)(?:^|[;\t])[ "]*[+-]?\d+,\d+[ "]*(?=[;\t\n])'
_THOUSANDS = r'"[+-]?\d{1,3},\d{3}(?:\.\d*)?"'


class Row(NamedTuple):
    """A row of the table."""

    line: int  # counted from 1
    cells: list[str]  # as many as the header has


class Table(NamedTuple):
    """What a file holds; no rows where it is no table, with a problem that says why."""

    name: str  # as shown to the keeper
    header: tuple[str, ...]
    rows: list[Row]
    problems: list[Problem]
    separator: str = ","
    comma_is_decimal: bool | None = None  # None: a comma may mean either
    lines: tuple[str, ...] = ()

    def fault(self, line: int, message: str, column: int = 0) -> Problem:
        """A problem at a line; `column` is a cell's place in its row, 0 for the whole line."""
        text = self.lines[line - 1] if line else ""
        at = 1 + sum(len(cell) + 1 for cell in text.split(self.separator)[:column]) if column else 0
        return Problem(self.name, line, at, visible(message), visible(text[:200]))


def read_table(path: Path, name: str) -> Table:
    """The table that a file holds."""
    try:
        raw = read_bytes(path, LARGEST)
    except (OSError, ValueError) as error:  # ValueError: a name that no file can have
        why = reason(error) if isinstance(error, OSError) else str(error)
        return _nothing(name, f"this file cannot be read: {why}")
    return parse_table(raw, name)


def parse_table(raw: bytes, name: str) -> Table:
    """The table that these bytes hold."""
    if len(raw) > LARGEST:
        return _nothing(name, "this table is larger than 5 MiB and left out: split it by years")
    text, fault = _decode(raw)
    if text is None:
        line = 1 + raw.count(b"\n", 0, fault.start) if fault else 0
        return _nothing(name, fault.message if fault else "", line)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    lines = tuple(text.split("\n"))
    bare = _QUOTED.sub("", text[: LONGEST_LINE * 32]).split("\n")
    separator, width = _survey(bare)
    found = _header(lines, separator, width)
    if found is None:
        message = "no line names the columns: put one on top, such as date,tmin [degC],tmax [degC]"
        return _nothing(name, message)
    at, header = found
    table = Table(name, header, [], [], separator, _decimal(text, separator), lines)
    _read_rows(table, at + 1)
    if not table.rows and not table.problems:
        table.problems.append(table.fault(0, "the table has a header and no rows"))
    return table


# --- bytes to text --------------------------------------------------------------------------------


class _Undecodable(NamedTuple):
    start: int
    message: str


def _decode(raw: bytes) -> tuple[str | None, _Undecodable | None]:
    """The text, or where and why it is none."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        encoding = "utf-16"
    elif raw[1:400:2].count(0) > 100 or (len(raw) >= 4 and raw[1:2] == raw[3:4] == b"\0"):
        encoding = "utf-16-le"
    elif raw[0:400:2].count(0) > 100 or (len(raw) >= 4 and raw[0:1] == raw[2:3] == b"\0"):
        encoding = "utf-16-be"
    else:
        encoding = "utf-8-sig"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError as error:
        what = "UTF-16" if encoding.startswith("utf-16") else "UTF-8"
        old = ", perhaps an older encoding such as Windows-1252" if what == "UTF-8" else ""
        message = f"the table is not {what} text{old}: save it as UTF-8; until then it is left out"
        return None, _Undecodable(error.start, message)
    if "\0" in text:
        return None, _Undecodable(0, "this is no text but a file of another kind: export it as CSV")
    return text, None


def _nothing(name: str, message: str, line: int = 0) -> Table:
    return Table(name, (), [], [Problem(name, line, 0, message)])


# --- lines to cells -------------------------------------------------------------------------------


def _survey(lines: list[str]) -> tuple[str, int]:
    """The sign between cells and how many stand in a line: what most lines agree on."""
    best = (0, ",", 0)
    full = [line for line in lines[:_SURVEYED] if line.strip()]
    for separator in (";", "\t", ","):
        counts = Counter(count for line in full if (count := line.count(separator)))
        if counts:
            count, agree = counts.most_common(1)[0]
            if agree > best[0]:
                best = (agree, separator, count)
    return best[1], best[2]


def _header(
    lines: tuple[str, ...], separator: str, width: int
) -> tuple[int, tuple[str, ...]] | None:
    """The first line as wide as the table that begins with a word; `#` before it is dropped."""
    for slack in (0, 1) if width else ():
        for at, line in enumerate(lines[:_SURVEYED]):
            text = line.lstrip("# ")
            if abs(text.count(separator) - width) > slack or text[:1].isdigit():
                continue
            split = _split(text, separator)
            if not split.stray and any(cell[:1].isalpha() for cell in split.cells):
                return at, tuple(visible(" ".join(cell.split())) for cell in split.cells)
    return None


def _decimal(text: str, separator: str) -> bool | None:
    """Whether a comma in a number is a decimal one; None where it may be another."""
    if separator == ",":  # a quoted "12,5" means a decimal; "1,250" may be thousands
        return None if re.search(_THOUSANDS, text) else True
    return None if re.search(_COMMA, text) and re.search(_POINT, text) else True


def _read_rows(table: Table, start: int) -> None:
    """Fill the table's rows and problems from the lines behind the header."""
    lines, wide, at = table.lines, len(table.header), start
    while at < len(lines):
        line, number = lines[at], at + 1
        at += 1
        if not line.strip() or line[0] == "#":
            continue
        if len(line) > LONGEST_LINE:
            table.problems.append(table.fault(number, "this line is longer than 8 KiB: left out"))
            continue
        split = _split(line, table.separator)
        cells: list[str] | None = split.cells
        if split.half is not None:
            cells, at = _over_lines(table, number - 1, wide, split)
        if cells is None or (split.stray and split.half is None):
            stray = split.stray
            message = f"a quote opens at column {stray} and does not close its cell: row left out"
            table.problems.append(table.fault(number, message)._replace(column=stray))
            continue
        if len(cells) > wide and not any(cell.strip() for cell in cells[wide:]):
            cells = cells[:wide]
        if len(cells) != wide:
            message = f"{wide} cells are named in the header, {len(cells)} here: row left out"
            table.problems.append(table.fault(number, message))
            continue
        table.rows.append(Row(number, cells))


def _over_lines(table: Table, at: int, wide: int, begun: _Split) -> tuple[list[str] | None, int]:
    """A row whose quoted cell holds ends of line, and the line behind it.

    Only where the row is whole then and has swallowed no row: else the quote is a stray one.
    """
    length = len(table.lines[at])
    for end in range(at + 1, min(at + _QUOTED_LINES, len(table.lines))):
        line = table.lines[end]
        length += 1 + len(line)
        if length > LONGEST_LINE or ('"' not in line and _is_row(line, table.separator, wide)):
            break
        begun = _split(line, table.separator, begun)
        if begun.half is None:
            whole = not begun.stray and len(begun.cells) == wide
            return (begun.cells, end + 1) if whole else (None, at + 1)
    return None, at + 1


def _is_row(line: str, separator: str, wide: int) -> bool:
    return line.count(separator) == wide - 1


class _Split(NamedTuple):
    """The cells of a line, or of the lines up to here."""

    cells: list[str]
    stray: int = 0  # column of a quote that does not close its cell; 0: there is none
    half: str | None = None  # of the quoted cell that is still open at the end; None: none is


def _split(line: str, separator: str, begun: _Split | None = None) -> _Split:
    """The cells of a line with quotes, going on where `begun` left a quoted cell open."""
    if begun is None and '"' not in line:
        return _Split(line.split(separator))
    cells, half = (begun.cells, begun.half) if begun else ([], None)
    at = 0
    while True:
        begin = at
        if half is None:
            at = _past_blanks(line, at)
            if line[at : at + 1] != '"':
                end = line.find(separator, at)
                if end < 0:
                    return _Split([*cells, line[begin:]])
                cells.append(line[begin:end])
                at = end + 1
                continue
            at += 1
        cell, end = _quoted(line, at)
        if half is not None:
            cell = f"{half}\n{cell}"
        if end < 0:
            return _Split(cells, at, cell)
        end = _past_blanks(line, end)
        if line[end : end + 1] not in ("", separator):
            return _Split(cells, at)
        cells.append(cell)
        if end >= len(line):
            return _Split(cells)
        at, half = end + 1, None


def _past_blanks(line: str, at: int) -> int:
    while line[at : at + 1] == " ":
        at += 1
    return at


def _quoted(line: str, at: int) -> tuple[str, int]:
    """A quoted cell from behind its first quote, and the place behind its last; -1: it is open."""
    parts: list[str] = []
    while True:
        end = line.find('"', at)
        if end < 0:
            return "".join([*parts, line[at:]]), -1
        parts.append(line[at:end])
        if line[end + 1 : end + 2] != '"':
            return "".join(parts), end + 1
        parts.append('"')
        at = end + 2
