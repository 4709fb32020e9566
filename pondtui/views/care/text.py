"""The care sheet as plain text: of 80 columns for paper, narrower where a screen is."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from pondtui.pond.away.model import Block, Drawing, Grid, Items, Planned, Sheet, Words
from pondtui.pond.away.tasks import start_of
from pondtui.units import show
from pondtui.views.broken import HARD, broken, tied
from pondtui.views.care.drawing import meanings, text_rows

WIDTH = 76  # fits a terminal of 80 columns with its margins and scroll bar
LEAST = 24  # columns under which a line is no longer laid out
_TALL = 4  # lines of a row beyond which a narrow table is told row by row
# within a telephone number, before the year of a date, before the number of a part
_GROUPS = re.compile(
    r"(?<=[0-9]) (?=[0-9])|(?<=[A-Z][a-z]{2}) (?=[0-9]{4}\b)|(?<=\bpart) (?=[0-9])"
)
_SIGNS = {"-": "- ", "x": "x  NOT: "}
_TITLE = 40  # of the pond's name in a visit's first line
ANSWER = (
    "Answer in one message, in any order: the number, then ok, or no and why,",
    "Answer with what it reads where a reading is asked for.",
    "Answer such as: 0.1 ok 0.2 {reading} 0.3 no: gate shut",
)
_BLANK = "____"  # to write on
_READING_MM = 71.4  # of the example answer


def lines(sheet: Sheet, width: int = WIDTH) -> list[str]:
    """The whole sheet, in lines of at most so many columns (24 to 76).

    Printed, saved and sent it has the 76; a screen that has less room says so.
    """
    width = min(max(width, LEAST), WIDTH)
    rule = "=" * width
    found = [*_wrapped(sheet.title.upper(), width), *_wrapped(_facts(sheet), width)]
    for part in sheet.parts:
        found += ["", *_wrapped(f"{part.number} {part.title.upper()}", width), rule]
        for place, block in enumerate(part.blocks):
            found += ([""] if place else []) + _block(sheet, block, width)
    if sheet.visits:
        found += ["", "VISITS", rule]
        found += [line for told in answering(sheet) for line in _wrapped(told, width)]
    for planned in sheet.visits:
        found += ["", *message(sheet, planned, width)]
    return found


def answering(sheet: Sheet) -> list[str]:
    """How to answer, with a reading as this pond's gauge shows it."""
    system = sheet.setup.pond.units
    reading = show(_READING_MM, "length", system, digits=0, rule=system != "metric")
    return [line.format(reading=reading) for line in ANSWER]


def message(sheet: Sheet, planned: Planned, width: int = WIDTH) -> list[str]:
    """One visit, short enough to be sent on its own."""
    start = start_of(sheet.setup, planned.visit)
    name = textwrap.shorten(sheet.setup.pond.name, _TITLE, placeholder="…")
    head = (
        f"VISIT {planned.number} of {len(sheet.visits)}  {start:%a %d %b %Y, about %H:%M}  {name}"
    )
    found = _wrapped(head, width)
    for task in planned.tasks:
        found += _wrapped(f"{task.number} {task.text} ({task.asks})", width, "    ")
    return found


def _facts(sheet: Sheet) -> str:
    sitter = f" For {sheet.sitter}." if sheet.sitter else ""
    return (
        f"Made {sheet.made:%a %d %b %Y %H:%M}, {sheet.span}.{sitter} Sheet {sheet.code}. "
        "Keep it dry and at hand."
    )


def _wrapped(text: str, width: int, indent: str = "", first: str = "") -> list[str]:
    return broken(_grouped(text, width), width, first=first, indent=indent) or [first.rstrip()]


def _grouped(text: str, width: int) -> str:
    """On paper a telephone number has room; elsewhere it is held together, and a date as well."""
    return text if width == WIDTH else _GROUPS.sub(HARD, text)


def _block(sheet: Sheet, block: Block, width: int) -> list[str]:
    if isinstance(block, Words):
        return _wrapped(block.text, width)
    if isinstance(block, Drawing):
        told = [line for row in meanings(sheet) for line in _wrapped(row, width, "    ")]
        return [*text_rows(sheet, block, width), *told]
    title = _wrapped(block.title, width) if block.title else []
    if isinstance(block, Items):
        return [*title, *_items(block, width)]
    return [*title, *grid(block, width)]


def _items(items: Items, width: int) -> Iterable[str]:
    for place, row in enumerate(items.rows, 1):
        sign = _SIGNS.get(items.sign, f"{place}. ")
        yield from _wrapped(row, width, " " * len(sign), sign)


def grid(table: Grid, width: int = WIDTH) -> list[str]:
    """A table; cells that do not fit go on in the next line. A log has lines to write on.

    Narrower than paper, where a column would cut a word or a row grow tall, it is told row by row.
    """
    table = table._replace(
        rows=tuple(tuple(_grouped(cell, width) for cell in row) for row in table.rows)
    )
    widths = _widths(table, width)
    if not widths:
        return list(_row_by_row(table, width))
    rows = [
        _row([cell or "_" * w for cell, w in zip(row, widths, strict=True)]
             if _empty(row) else row, widths)
        for row in table.rows
    ]  # fmt: skip
    if width < WIDTH and any(len(row) > _TALL for row in rows):
        return list(_row_by_row(table, width))
    found = _row(table.head, widths)
    found.append("  ".join("-" * width for width in widths))
    return found + [line for row in rows for line in row]


def _empty(row: Sequence[str]) -> bool:
    return not any(row[1:])


def _widths(table: Grid, width: int) -> list[int]:
    """Each column as wide as its longest cell; the widest give way until all fit. None at all
    where that would cut a word."""
    columns = list(zip(table.head, *table.rows, strict=True))
    widths = [max(map(len, column)) for column in columns]
    least = [0 if width == WIDTH else max(map(_longest, column)) for column in columns]
    if all(map(_empty, table.rows)):
        widths = [max(each, 10) for each in widths]
        least[0] = 0 if width == WIDTH else widths[0]  # a line to write on may be short
    while sum(widths) + 2 * (len(widths) - 1) > width:
        loose = [each if each > low else 0 for each, low in zip(widths, least, strict=True)]
        if not any(loose):
            return []
        widths[loose.index(max(loose))] -= 1
    return widths


def _longest(cell: str) -> int:
    """Signs of the longest part of a cell that is not broken."""
    return max(map(len, tied(cell).split(" ")))


def _row(cells: Sequence[str], widths: Sequence[int]) -> list[str]:
    parts = [broken(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    height = max(map(len, parts))
    found = []
    for line in range(height):
        texts = [part[line] if line < len(part) else "" for part in parts]
        padded = (f"{text:<{width}}" for text, width in zip(texts, widths, strict=True))
        found.append("  ".join(padded).rstrip())
    return found


def _row_by_row(table: Grid, width: int) -> Iterator[str]:
    """Each row from its first cell on, every other behind its head; what is "-" is not told."""
    for row in table.rows:
        line = row[0] or _BLANK
        if table.amounts_l or not row[0]:
            line = f"{table.head[0]}: {line}"
        for head, cell in zip(table.head[1:], row[1:], strict=True):
            told = f"{head}: {_BLANK if _empty(row) else cell}"
            if cell == "-":
                continue
            if len(f"{line}  {told}") <= width:
                line = f"{line}  {told}"
            else:
                yield from _wrapped(line, width, "    ")
                line = f"  {told}"
        yield from _wrapped(line, width, "    ")
