"""A grid of cells to draw on, read back as rows of spans. No terminal, no colour: only roles."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

from pondtui.records import NamedTuple

LEFT, RIGHT, UP, DOWN = 1, 2, 4, 8

# Line signs by the sides they reach; the plain set knows only straight lines and joints.
_LINES = " ───│╯╰┴│╮╭┬│┤├┼"
_PLAIN_LINES = " ---|+++|+++|+++"

# The lower eighths of a cell: a surface stands at its true height within its row.
_EIGHTHS = " ▁▂▃▄▅▆▇█"


class Span(NamedTuple):
    """A run of cells that are painted alike."""

    text: str
    role: str  # what it shows, such as "water", "earth", "mark", "warn", "danger", "text"


Rows = tuple[tuple[Span, ...], ...]


class Canvas:
    """A grid that is written cell by cell; whatever lies outside is dropped."""

    def __init__(self, width: int, height: int, *, ascii: bool = False) -> None:
        self.width = max(0, width)
        self.height = max(0, height)
        self.ascii = ascii
        self._signs = [[" "] * self.width for _ in range(self.height)]
        self._roles = [["text"] * self.width for _ in range(self.height)]
        self._sides: dict[tuple[int, int], int] = {}

    def put(self, x: int, y: int, text: str, role: str) -> None:
        """Write a text from a cell on, one sign a cell."""
        if not 0 <= y < self.height:
            return
        for column, sign in enumerate(text, start=x):
            if 0 <= column < self.width:
                self._signs[y][column] = sign
                self._roles[y][column] = role

    def line(self, start: tuple[int, int], end: tuple[int, int], role: str) -> None:
        """Draw a level or upright line; where lines meet, a joint appears."""
        (x0, y0), (x1, y1) = start, end
        ahead, back = (RIGHT, LEFT) if y0 == y1 else (DOWN, UP)
        low, high = (min(x0, x1), max(x0, x1)) if y0 == y1 else (min(y0, y1), max(y0, y1))
        for place in range(low, high + 1):
            x, y = (place, y0) if y0 == y1 else (x0, place)
            sides = (back if place > low else 0) | (ahead if place < high else 0)
            self._join(x, y, sides, role)

    def _join(self, x: int, y: int, sides: int, role: str) -> None:
        whole = self._sides.get((x, y), 0) | sides
        self._sides[x, y] = whole
        self.put(x, y, (_PLAIN_LINES if self.ascii else _LINES)[whole], role)

    def rows(self) -> Rows:
        """The drawing: every row has exactly the canvas's width in cells."""
        return tuple(_spans(s, r) for s, r in zip(self._signs, self._roles, strict=True))


def _spans(signs: Sequence[str], roles: Sequence[str]) -> tuple[Span, ...]:
    spans: list[Span] = []
    for sign, role in zip(signs, roles, strict=True):
        if spans and spans[-1].role == role:
            spans[-1] = Span(spans[-1].text + sign, role)
        else:
            spans.append(Span(sign, role))
    return tuple(spans)


def plain(rows: Iterable[Iterable[Span]]) -> list[str]:
    """The drawing without its roles, one string a row."""
    return ["".join(span.text for span in row) for row in rows]


def surface(drop: float, rows: int) -> tuple[int, int]:
    """Row and eighths (1 to 8, from the row's lower edge) of a surface.

    `drop` is how far it lies below the upper edge: 0 at the top, 1 at the floor.
    """
    depth = min(max(drop, 0.0), 1.0) * rows
    row = min(int(depth), rows - 1)
    return row, max(1, 8 - int((depth - row) * 8))


def surface_sign(eighths: int, *, ascii: bool) -> str:
    """The sign that fills a cell from below by so many eighths."""
    return ("_" if eighths < 4 else "~") if ascii else _EIGHTHS[eighths]


def ripple(x: int, y: int, width: int, sign: str = "~") -> str:
    """A stretch of still water: sparse signs, set off from row to row."""
    return "".join(sign if (column + 2 * y) % 4 == 0 else " " for column in range(x, x + width))


def printable(text: str, *, ascii: bool) -> str:
    """A label with signs of one cell each; in the plain set, letters without their accents."""
    parts = unicodedata.normalize("NFKD" if ascii else "NFC", text)
    kept = "".join(c for c in parts if not unicodedata.combining(c))
    if ascii:
        return "".join(c if " " <= c <= "~" else "?" for c in kept)
    return "".join(c if c.isprintable() and _narrow(c) else "?" for c in kept)


def _narrow(sign: str) -> bool:
    return unicodedata.east_asian_width(sign) not in "WF" and unicodedata.category(sign) != "Cf"


def shorten(text: str, width: int, *, ascii: bool) -> str:
    """The text, cut with a sign at its end where it is too long."""
    if len(text) <= width:
        return text
    sign = ".." if ascii else "…"
    return (text[: max(0, width - len(sign))].rstrip() + sign)[: max(0, width)]
