"""The care sheet as Markdown; the tasks of a visit are a task list, an extension of CommonMark."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pondtui.pond.away.model import Block, Drawing, Grid, Items, Sheet, Words
from pondtui.pond.away.tasks import start_of
from pondtui.views.care.drawing import meanings, text_rows
from pondtui.views.care.text import answering

_SPECIAL = re.compile(r"([\\`*_\[\]<>|#&~!])")
_FENCE = "~~~~~~"


def lines(sheet: Sheet) -> list[str]:
    """The whole sheet."""
    sitter = f" For {escape(sheet.sitter)}." if sheet.sitter else ""
    found = [
        f"# {escape(sheet.title)}",
        "",
        f"Made {sheet.made:%a %d %b %Y %H:%M}, {sheet.span}.{sitter} Sheet {sheet.code}.",
    ]
    for part in sheet.parts:
        found += ["", f"## {part.number} {escape(part.title)}"]
        for block in part.blocks:
            found += ["", *_block(sheet, block)]
    if sheet.visits:
        *first, last = answering(sheet)
        found += ["", "## Visits", "", *(f"{escape(line)}\\" for line in first), escape(last)]
    for planned in sheet.visits:
        start = start_of(sheet.setup, planned.visit)
        found += ["", f"### Visit {planned.number}: {start:%a %d %b %Y, about %H:%M}", ""]
        found += [f"- [ ] {t.number} {escape(t.text)} ({escape(t.asks)})" for t in planned.tasks]
    return found


def escape(text: str) -> str:
    """A text that Markdown shows as it stands."""
    return _SPECIAL.sub(r"\\\1", " ".join(text.split()))


def _block(sheet: Sheet, block: Block) -> Iterable[str]:
    if isinstance(block, Words):
        return [escape(block.text)]
    if isinstance(block, Drawing):
        rows = [f"- {escape(line)}" for line in meanings(sheet)]
        return [_FENCE, *text_rows(sheet, block, 80), _FENCE, "", *rows]
    title = [f"**{escape(block.title)}**", ""] if block.title else []
    if isinstance(block, Items):
        return [*title, *_items(block)]
    return [*title, *_grid(block)]


def _items(items: Items) -> Iterable[str]:
    for place, row in enumerate(items.rows, 1):
        sign = {"-": "- ", "x": "- do NOT "}.get(items.sign, f"{place}. ")
        yield f"{sign}{escape(row)}"


def _grid(table: Grid) -> Iterable[str]:
    yield _row(table.head)
    yield _row(["---"] * len(table.head))
    yield from (_row([escape(cell) for cell in row]) for row in table.rows)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"
