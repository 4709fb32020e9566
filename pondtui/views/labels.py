"""Labels beside a drawing: one a row, never overlapping, each joined to its true height."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.records import NamedTuple
from pondtui.views.canvas import Canvas, printable, shorten


class Label(NamedTuple):
    """A text that belongs to a height."""

    row: int  # the row it points at
    head: str  # may be cut where there is no room
    tail: str  # kept whole: the number
    role: str
    weight: int = 1  # the heaviest stay nearest to their row and are dropped last; 0: no leader

    @property
    def text(self) -> str:
        """The whole label."""
        return f"{self.head} {self.tail}".strip()


class Placed(NamedTuple):
    """A label, the row it stands in, and the column its leader turns in (0: it runs straight)."""

    label: Label
    row: int
    lane: int


def place(labels: Sequence[Label], rows: int) -> list[Placed]:
    """Spread labels over the rows, each as near to its height as the others allow; those of one
    height in the order given.

    Labels that find no row are dropped, the lightest first, and the last row says how many.
    """
    kept = sorted(_fitting(labels, rows), key=lambda label: label.row)
    spots = _spread([(label.row, label.weight) for label in kept], rows)
    lanes = [0] * len(kept)
    for i, label in enumerate(kept):  # pushed up: the upper one turns first
        if spots[i] < label.row:
            joined = i > 0 and spots[i - 1] < kept[i - 1].row and spots[i - 1] == spots[i] - 1
            lanes[i] = lanes[i - 1] + 1 if joined else 1
    for i in reversed(range(len(kept))):  # pushed down: the lower one turns first
        if spots[i] > kept[i].row:
            below = i + 1
            joined = (
                below < len(kept)
                and spots[below] > kept[below].row
                and spots[below] == spots[i] + 1
            )
            lanes[i] = lanes[below] + 1 if joined else 1
    return [Placed(*placed) for placed in zip(kept, spots, lanes, strict=True)]


def _fitting(labels: Sequence[Label], rows: int) -> list[Label]:
    if len(labels) <= rows or rows < 1:
        return list(labels)[: max(0, rows)]
    heaviest = sorted(range(len(labels)), key=lambda at: -labels[at].weight)[: rows - 1]
    best = [labels[at] for at in sorted(heaviest)]  # of one row, the upper ones stay the upper ones
    more = len(labels) - len(best)
    return [*best, Label(rows - 1, "", f"+ {more} more", "quiet", 0)]


def _spread(wanted: Sequence[tuple[int, int]], rows: int) -> list[int]:
    """Rows of their own for sorted wishes: least moved, by weight (pooled neighbours)."""
    pools: list[tuple[float, int, int]] = []  # mean shift-free row, weight, members
    for index, (row, weight) in enumerate(wanted):
        mean, heavy, count = float(row - index), weight, 1
        while pools and pools[-1][0] > mean:
            before, weighed, members = pools.pop()
            mean = (before * weighed + mean * heavy) / (weighed + heavy)
            heavy, count = weighed + heavy, members + count
        pools.append((mean, heavy, count))
    free = [round(mean) for mean, _, count in pools for _ in range(count)]
    last = rows - len(wanted)
    return [min(max(row, 0), last) + index for index, row in enumerate(free)]


def lanes_of(placed: Sequence[Placed]) -> int:
    """How many columns the leaders need to turn in."""
    return max((p.lane for p in placed), default=0)


def draw(canvas: Canvas, placed: Sequence[Placed], tick_x: int, label_x: int) -> None:
    """Draw each leader from its height at `tick_x` to its label at `label_x`."""
    for spot in sorted(placed, key=lambda p: p.label.weight):
        label, row, lane = spot
        turn, end = tick_x + lane, label_x - 2
        if label.weight and lane:
            canvas.line((tick_x, label.row), (turn, label.row), label.role)
            canvas.line((turn, label.row), (turn, row), label.role)
            canvas.line((turn, row), (end, row), label.role)
        elif label.weight:
            canvas.line((tick_x, label.row), (end, label.row), label.role)
        canvas.put(label_x, row, fit(label, canvas.width - label_x, canvas.ascii), label.role)


def fit(label: Label, width: int, ascii: bool) -> str:
    """The label in so many cells: the name is cut before the number is."""
    head, tail = printable(label.head, ascii=ascii), printable(label.tail, ascii=ascii)
    room = width - len(tail) - 1
    if not head or room < 3:
        return shorten(tail, width, ascii=ascii)
    return f"{shorten(head, room, ascii=ascii)} {tail}".strip()
