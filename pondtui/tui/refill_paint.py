"""The checklist of a batch and the amount of its step, painted."""

from __future__ import annotations

from functools import lru_cache

from textual.content import Content

from pondtui.tui import paint
from pondtui.views.digits import big_digits
from pondtui.views.refill import Row

_WIDTH = 25  # columns of the checklist
_ROLE = {"done": "good", "passed": "danger", "on": "mark", "waiting": "mark", "to do": "quiet"}
_SIGN = {"done": "✓", "passed": "!", "on": "▶", "waiting": "▶", "to do": "·"}
_ASCII = {"done": "x", "passed": "!", "on": ">", "waiting": ">", "to do": "."}


@lru_cache(maxsize=8)  # while water runs the steps stay as they were
def checklist(rows: tuple[Row, ...], height: int, *, ascii: bool) -> Content:
    """The steps that fit, the one that is on among them; titles of stages go first."""
    if len(rows) > height:
        rows = tuple(row for row in rows if row.status)
    on = next((i for i, row in enumerate(rows) if row.status in ("on", "waiting")), len(rows))
    first = max(min(on - height // 2, len(rows) - height), 0)
    return paint.joined([_line(row, ascii) for row in rows[first : first + height]])


def _line(row: Row, ascii: bool) -> Content:
    if not row.status:
        return paint.words(row.text.upper()[:_WIDTH], "quiet")
    sign = (_ASCII if ascii else _SIGN)[row.status]
    if row.status == "passed":
        sign = "! PASSED"
    text = f"{sign} {row.text}"[:_WIDTH]
    return paint.words(text, _ROLE[row.status], bold=row.status in ("on", "waiting"))


def large(amount: str, screen_height: int, ascii: bool) -> Content:
    """An amount in digits that can be read from the barrel, where the screen has room for them."""
    if not amount:
        return Content("")
    if screen_height < 18 or len(amount) > 9:
        return paint.words(amount, bold=True)
    lines = big_digits(amount, ascii, height=3 if screen_height < 30 else 5)
    return paint.joined([paint.words(line, bold=True) for line in lines])
