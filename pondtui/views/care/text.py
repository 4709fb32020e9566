"""The care sheet as plain text of 80 columns; each visit fits a message."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence

from pondtui.pond.away.model import Block, Drawing, Grid, Items, Planned, Sheet, Words
from pondtui.pond.away.tasks import start_of
from pondtui.units import show
from pondtui.views.care.drawing import meanings, text_rows

WIDTH = 76  # fits a terminal of 80 columns with its margins and scroll bar
_SIGNS = {"-": "- ", "x": "x  NOT: "}
_TITLE = 40  # of the pond's name in a visit's first line
ANSWER = (
    "Answer in one message, in any order: the number, then ok, or no and why,",
    "Answer with what it reads where a reading is asked for.",
    "Answer such as: 0.1 ok 0.2 {reading} 0.3 no: gate shut",
)
_UNIT = re.compile(
    r"(?<=[0-9]) (?=[^\W\d_]|[°%]|[0-9]+/[0-9])|(?<=\bUS) (?=gal|fl)|(?<=\bimp) (?=gal|fl)"
)
_HARD = "\u00a0"  # a blank at which no line is broken
_READING_MM = 71.4  # of the example answer


def lines(sheet: Sheet) -> list[str]:
    """The whole sheet."""
    found = [*_wrapped(sheet.title.upper()), *_wrapped(_facts(sheet))]
    for part in sheet.parts:
        found += ["", f"{part.number} {part.title.upper()}", "=" * WIDTH]
        for place, block in enumerate(part.blocks):
            found += ([""] if place else []) + _block(sheet, block)
    if sheet.visits:
        found += ["", "VISITS", "=" * WIDTH, *answering(sheet)]
    for planned in sheet.visits:
        found += ["", *message(sheet, planned)]
    return found


def answering(sheet: Sheet) -> list[str]:
    """How to answer, with a reading as this pond's gauge shows it."""
    system = sheet.setup.pond.units
    reading = show(_READING_MM, "length", system, digits=0, rule=system != "metric")
    return [line.format(reading=reading) for line in ANSWER]


def message(sheet: Sheet, planned: Planned) -> list[str]:
    """One visit, short enough to be sent on its own."""
    start = start_of(sheet.setup, planned.visit)
    name = textwrap.shorten(sheet.setup.pond.name, _TITLE, placeholder="…")
    head = (
        f"VISIT {planned.number} of {len(sheet.visits)}  {start:%a %d %b %Y, about %H:%M}  {name}"
    )
    found = _wrapped(head)
    for task in planned.tasks:
        found += _wrapped(f"{task.number} {task.text} ({task.asks})", "    ")
    return found


def _facts(sheet: Sheet) -> str:
    sitter = f" For {sheet.sitter}." if sheet.sitter else ""
    return (
        f"Made {sheet.made:%a %d %b %Y %H:%M}, {sheet.span}.{sitter} Sheet {sheet.code}. "
        "Keep it dry and at hand."
    )


def _wrapped(text: str, indent: str = "", first: str = "") -> list[str]:
    return _broken(text, WIDTH, first, indent) or [first.rstrip()]


def _broken(text: str, width: int, first: str = "", indent: str = "") -> list[str]:
    """Lines in which every number stands beside its unit."""
    found = textwrap.wrap(
        _UNIT.sub(_HARD, text),
        width,
        initial_indent=first,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
    return [line.replace(_HARD, " ") for line in found]


def _block(sheet: Sheet, block: Block) -> list[str]:
    if isinstance(block, Words):
        return _wrapped(block.text)
    if isinstance(block, Drawing):
        told = [line for row in meanings(sheet) for line in _wrapped(row, "    ")]
        return [*text_rows(sheet, block, WIDTH), *told]
    title = _wrapped(block.title) if block.title else []
    if isinstance(block, Items):
        return [*title, *_items(block)]
    return [*title, *grid(block)]


def _items(items: Items) -> Iterable[str]:
    for place, row in enumerate(items.rows, 1):
        sign = _SIGNS.get(items.sign, f"{place}. ")
        yield from _wrapped(row, " " * len(sign), sign)


def grid(table: Grid) -> list[str]:
    """A table; cells that do not fit go on in the next line. A log has lines to write on."""
    widths = _widths(table)
    found = _row(table.head, widths)
    found.append("  ".join("-" * width for width in widths))
    for row in table.rows:
        blank = not any(row[1:])
        found += _row([cell or "_" * w for cell, w in zip(row, widths, strict=True)]
                      if blank else row, widths)  # fmt: skip
    return found


def _widths(table: Grid) -> list[int]:
    """Each column as wide as its longest cell; the widest give way until all fit."""
    columns = list(zip(table.head, *table.rows, strict=True))
    widths = [max(map(len, column)) for column in columns]
    if not any(any(row[1:]) for row in table.rows):
        widths = [max(width, 10) for width in widths]
    while sum(widths) + 2 * (len(widths) - 1) > WIDTH:
        widths[widths.index(max(widths))] -= 1
    return widths


def _row(cells: Sequence[str], widths: Sequence[int]) -> list[str]:
    parts = [_broken(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    height = max(map(len, parts))
    found = []
    for line in range(height):
        texts = [part[line] if line < len(part) else "" for part in parts]
        padded = (f"{text:<{width}}" for text, width in zip(texts, widths, strict=True))
        found.append("  ".join(padded).rstrip())
    return found
