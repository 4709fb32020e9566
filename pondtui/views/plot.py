"""A plot of braille dots or plain signs on a canvas: an area, two scales, a cursor."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor, log10

from pondtui.records import NamedTuple
from pondtui.views.canvas import Canvas

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))  # by row, by column of a cell
_BRAILLE = 0x2800
_EIGHTHS = " ▁▂▃▄▅▆▇█"


class Scale(NamedTuple):
    """Values from low to high over a length of dots."""

    low: float
    high: float

    def share(self, value: float) -> float:
        """Where the value lies: 0 at low, 1 at high."""
        return (value - self.low) / ((self.high - self.low) or 1.0)


class Area(NamedTuple):
    """A rectangle of cells."""

    x: int
    y: int
    width: int
    height: int


def ticks(low: float, high: float, most: int, *, halves: bool = False) -> list[float]:
    """Round values within a range, at most so many: steps of 1, 2 or 5 times a power of ten; with
    `halves` those under 1 are 1/2, 1/4, 1/8 or 1/16, as on an inch rule."""
    reach = high - low
    if reach <= 0 or most < 1:
        return [low]
    step = 10 ** floor(log10(reach / most))
    if halves and reach <= most:
        step = 1 / 16
    while reach / step > most:
        step *= 2 if (step < 1 and halves) or f"{step:e}"[0] in "15" else 2.5
    first = -floor(-low / step + 1e-9)
    return [n * step for n in range(first, floor(high / step + 1e-9) + 1)]


class Dots:
    """Dots of one series; cells that other signs take keep those."""

    def __init__(self, canvas: Canvas, area: Area, across: Scale, up: Scale) -> None:
        self.canvas, self.area, self.across, self.up = canvas, area, across, up
        self._cells: dict[tuple[int, int], int] = {}

    def cell_of(self, x: float, y: float) -> tuple[int, int]:
        """The cell of a point."""
        column, row = self._dot(x, y)
        return self.area.x + column // 2, self.area.y + row // 4

    def _dot(self, x: float, y: float) -> tuple[int, int]:
        wide, high = 2 * self.area.width - 1, 4 * self.area.height - 1
        column = round(min(max(self.across.share(x), 0.0), 1.0) * wide)
        row = round((1 - min(max(self.up.share(y), 0.0), 1.0)) * high)
        return column, row

    def line(self, points: Sequence[tuple[float, float]]) -> None:
        """Join points by dots; one point alone is a dot."""
        dots = [self._dot(x, y) for x, y in points]
        for (x0, y0), (x1, y1) in zip(dots, dots[1:] or dots, strict=False):
            steps = max(abs(x1 - x0), abs(y1 - y0), 1)
            for n in range(steps + 1):
                self._set(round(x0 + (x1 - x0) * n / steps), round(y0 + (y1 - y0) * n / steps))

    def _set(self, column: int, row: int) -> None:
        cell = (self.area.x + column // 2, self.area.y + row // 4)
        self._cells[cell] = self._cells.get(cell, 0) | _DOTS[row % 4][column % 2]

    def draw(self, role: str, plain: str) -> None:
        """Put the dots on the canvas; `plain` stands for a cell of them in the plain set."""
        for (x, y), dots in self._cells.items():
            sign = plain if self.canvas.ascii else chr(_BRAILLE | dots)
            self.canvas.put(x, y, sign, role)


def bars(
    canvas: Canvas, area: Area, heights: Iterable[tuple[float, float]], role: str, sign: str
) -> None:
    """Upright bars: (share across, share of the height); what is not nothing shows at least."""
    tallest: dict[int, float] = {}
    for across, height in heights:
        column = area.x + round(min(max(across, 0.0), 1.0) * (area.width - 1))
        tallest[column] = max(tallest.get(column, 0.0), height)
    for column, height in tallest.items():
        if height <= 0:
            continue
        eighths = max(1, round(min(height, 1.0) * area.height * 8))
        for row in range(area.height):
            part = min(max(eighths - 8 * row, 0), 8)
            if part:
                drawn = sign if canvas.ascii else _EIGHTHS[part]
                canvas.put(column, area.y + area.height - 1 - row, drawn, role)


def end_labels(
    canvas: Canvas, x: int, rows: Iterable[tuple[int, str, str]], low: int, high: int
) -> None:
    """Labels at the ends of series, each on a row of its own; the first ones keep theirs."""
    taken: set[int] = set()
    for row, text, role in rows:
        free = min(
            (r for r in range(low, high + 1) if r not in taken),
            key=lambda r: (abs(r - row), r), default=None,
        )  # fmt: skip
        if free is not None:
            taken.add(free)
            canvas.put(x, free, text, role)
