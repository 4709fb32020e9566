"""A barrel with its water, full line, outlet and the heel that stays below the outlet."""

from __future__ import annotations

import math
from functools import lru_cache
from textwrap import wrap

from pondtui.records import NamedTuple
from pondtui.views.canvas import Canvas, Rows, ripple, shorten, surface, surface_sign
from pondtui.views.labels import Label, draw, fit, lanes_of, place

# Words and paint of what stands in the barrel, and the sign that floats in it.
WATERS = {
    "untreated": ("UNTREATED", "danger", "×", "x"),
    "treated": ("treated", "warn", "+", "+"),
    "clear": ("tested clear", "good", "~", "~"),
    "rain": ("rain water", "water", "'", "'"),
    "unknown": ("UNKNOWN", "danger", "?", "?"),
}
_SPOUT = 5  # columns kept free on the left for the spout
_NARROWEST = 8
_LANES = 2  # columns kept for leaders that turn; more are taken from the labels' blank end
_FULL, _LEVEL, _OUTLET, _HEEL, _FLOOR = range(5)  # places that a label can point at


class _Plan(NamedTuple):
    """Where things stand on the canvas. Rows are counted from the top of the inside."""

    x: int  # column of the left wall
    first: int  # row of the top of the inside
    width: int  # columns inside
    rows: int  # rows inside
    lying: bool
    level_row: int | None
    eighths: int
    outlet_row: int
    full_row: int


@lru_cache(maxsize=8)  # who goes to and fro between barrels sees few drawings
def barrel(
    width: int,
    height: int,
    *,
    shape: str,
    depth_fraction: float,
    outlet_fraction: float,
    full_fraction: float,
    water: str,
    ascii: bool = False,
    amount: str = "",
    heel: str = "",
) -> Rows:
    """A barrel as it stands, `height` rows of exactly `width` cells.

    The fractions are heights above the lowest point inside over the inside height (the diameter
    of a lying barrel). `shape` is upright, lying or straight; `water` a key of `WATERS`.
    `amount` and `heel` are worded volumes. A narrow room gets the words under the barrel, too
    small a room nothing but the words.
    """
    canvas = Canvas(width, height, ascii=ascii)
    depth = depth_fraction if math.isfinite(depth_fraction) else 0.0
    words = _words(depth, outlet_fraction, water, amount, heel)
    room = max(len(label.text) for label in words)
    inside = width - room - _LANES - _SPOUT - 5
    below = 0
    if inside < _NARROWEST:  # no room for words beside it: the barrel above, the words under it
        under = (label for label in words if label.row in (_LEVEL, _HEEL, _FLOOR))
        words = [line for label in under for line in _folded(label, width)]
        inside, below = width - _SPOUT - 3, len(words)
    plan = _plan(height - below, inside, shape, depth, outlet_fraction, full_fraction)
    if inside < _NARROWEST or height - below < 6:
        return _list(canvas, _words(depth, outlet_fraction, water, amount, heel))
    labels = [label._replace(row=_row(plan, label.row)) for label in words]
    _water(canvas, plan, water, outlet_fraction > 0)
    _walls(canvas, plan, round_edges=shape != "straight")
    _spout(canvas, plan)
    if below:
        return _list(canvas, labels, first=height - below)
    _leaders_to_wall(canvas, plan, labels)
    placed = place(labels, height)
    tick_x = plan.x + plan.width + 2
    draw(canvas, placed, tick_x, tick_x + lanes_of(placed) + 3)
    return canvas.rows()


def _plan(height: int, inside: int, shape: str, depth: float, outlet: float, full: float) -> _Plan:
    rows, lying = max(1, height - 3), shape == "lying"
    if lying:
        rows = min(rows, max(5, inside * 2 // 5))
    else:
        inside = min(inside, max(_NARROWEST, int(rows * 1.8)))
    level_row, eighths = surface(1 - depth, rows) if depth > 0 else (None, 0)
    # The row whose foot is nearest to the outlet's lower edge; a heel always keeps a row.
    lowest = max(0, rows - 2) if outlet > 0 else rows - 1
    outlet_row = min(max(round((1 - outlet) * rows) - 1, 0), lowest)
    full_row = surface(1 - full, rows)[0]
    first = max(1, height - 2 - rows)
    return _Plan(_SPOUT, first, inside, rows, lying, level_row, eighths, outlet_row, full_row)


def _words(depth: float, outlet: float, water: str, amount: str, heel: str) -> list[Label]:
    """What stands beside the barrel; the rows are places in `_row` until the plan is known."""
    word, paint, _, _ = WATERS[water]
    labels = [Label(_FULL, "full line", "", "mark", 3), Label(_OUTLET, "outlet", "", "text", 5)]
    if depth <= 0:
        return [*labels, Label(_FLOOR, "EMPTY", "", "text", 9)]
    if depth <= outlet:
        return [*labels, Label(_LEVEL, "", f"{amount} {word}".strip(), paint, 9)]
    if outlet > 0:
        labels.append(Label(_HEEL, "heel", f"{heel} stays".strip(), "quiet", 2))
    return [*labels, Label(_LEVEL, "", f"{amount} {word}".strip(), paint, 9)]


def _row(plan: _Plan, place: int) -> int:
    rows = {
        _FULL: plan.full_row,
        _LEVEL: plan.level_row or 0,
        _OUTLET: plan.outlet_row,
        _HEEL: (plan.outlet_row + plan.rows) // 2,
        _FLOOR: plan.rows - 1,
    }
    return plan.first + rows[place]


def _inset(plan: _Plan, row: int) -> int:
    """Columns by which a lying barrel's round ends draw in at a row; 0 for a standing one."""
    if not plan.lying:
        return 0
    from_axis = min(1.0, abs((row + 0.5) / plan.rows * 2 - 1))
    return round(min(plan.rows, plan.width // 4) * 0.8 * (1 - math.sqrt(1 - from_axis**2)))


def _water(canvas: Canvas, plan: _Plan, water: str, has_heel: bool) -> None:
    _, paint, sign, plain_sign = WATERS[water]
    for row in range(plan.rows):
        y, inset = plan.first + row, _inset(plan, row)
        x, width = plan.x + 1 + inset, plan.width - 2 * inset
        if row == plan.full_row and row != plan.level_row:
            wet = plan.level_row is not None and row > plan.level_row
            dots = "." if canvas.ascii else "╌"
            canvas.put(x, y, dots * width, "mark-wet" if wet else "mark")
        elif plan.level_row is not None and row == plan.level_row:
            canvas.put(x, y, surface_sign(plan.eighths, ascii=canvas.ascii) * width, "surface")
        elif plan.level_row is not None and row > plan.level_row:
            if row > plan.outlet_row and has_heel:
                heel_sign = ":" if canvas.ascii else "∙"
                canvas.put(x, y, (heel_sign + " ") * (width // 2) + " " * (width % 2), "heel")
            else:
                drops = ripple(x, row, width, plain_sign if canvas.ascii else sign)
                canvas.put(x, y, drops, "water")
    _word_in_water(canvas, plan, WATERS[water][0], paint)


def _word_in_water(canvas: Canvas, plan: _Plan, word: str, paint: str) -> None:
    """The water's own word, large enough to read at dusk, in the middle of what can run out."""
    if plan.level_row is None:
        return
    free = [r for r in range(plan.level_row + 1, plan.outlet_row + 1) if r != plan.full_row]
    if not free or len(word) + 4 > plan.width - 2 * _inset(plan, free[len(free) // 2]):
        return
    x = plan.x + 1 + (plan.width - len(word) - 2) // 2
    canvas.put(x, plan.first + free[len(free) // 2], f" {word} ", f"{paint}-wet")


def _walls(canvas: Canvas, plan: _Plan, *, round_edges: bool) -> None:
    plain = canvas.ascii
    upright = "|" if plain else "│"
    lean_in, lean_out = ("\\", "/") if plain else ("╲", "╱")
    for row in range(plan.rows):
        y, inset = plan.first + row, _inset(plan, row)
        left = right = upright
        if plan.lying and (row == 0 or _inset(plan, row - 1) > inset):
            left, right = lean_out, lean_in
        elif plan.lying and (row == plan.rows - 1 or _inset(plan, row + 1) > inset):
            left, right = lean_in, lean_out
        canvas.put(plan.x + inset, y, left, "vessel")
        canvas.put(plan.x + plan.width + 1 - inset, y, right, "vessel")
    flat = "-" if plain else "─"
    corners = "++++" if plain else ("╭╮╰╯" if round_edges else "┌┐└┘")
    inset = _inset(plan, 0) + (1 if plan.lying else 0)
    run = flat * (plan.width - 2 * inset)
    below = plan.first + plan.rows
    canvas.put(plan.x + inset, plan.first - 1, corners[0] + run + corners[1], "vessel")
    canvas.put(plan.x + inset, below, corners[2] + run + corners[3], "vessel")
    _stand(canvas, plan, below + 1)


def _stand(canvas: Canvas, plan: _Plan, y: int) -> None:
    """Blocks under a standing barrel, two cradles under a lying one."""
    if not plan.lying:
        canvas.put(plan.x, y, ("=" if canvas.ascii else "═") * (plan.width + 2), "earth")
        return
    cradle = "/^\\" if canvas.ascii else "╱▔╲"
    canvas.put(plan.x + plan.width // 5, y, cradle, "earth")
    canvas.put(plan.x + plan.width - plan.width // 5 - 1, y, cradle, "earth")


def _spout(canvas: Canvas, plan: _Plan) -> None:
    """A short pipe out of the left wall; its end hangs down."""
    y, wall = plan.first + plan.outlet_row, plan.x + _inset(plan, plan.outlet_row)
    pipe, bend, end, joint = ("=", "+", "v", "#") if canvas.ascii else ("═", "╔", "▼", "╡")
    canvas.put(plan.x - 4, y, bend + pipe * (wall - plan.x + 3) + joint, "vessel")
    canvas.put(plan.x - 4, y + 1, end, "surface")


def _leaders_to_wall(canvas: Canvas, plan: _Plan, labels: list[Label]) -> None:
    for label in sorted(labels, key=lambda label: label.weight):
        inset = _inset(plan, label.row - plan.first)
        right = plan.x + plan.width + 1
        canvas.line((right - inset + 1, label.row), (right + 1, label.row), label.role)


def _folded(label: Label, width: int) -> list[Label]:
    """A label that is too long for one row, in several."""
    if len(label.text) <= width:
        return [label]
    return [label._replace(head="", tail=line) for line in wrap(label.text, max(width, 1))]


def _list(canvas: Canvas, labels: list[Label], first: int = 0) -> Rows:
    """Words from a row on, the water first, where there is no room for them at their places."""
    ordered = sorted(labels, key=lambda label: -label.weight)
    for y, label in enumerate(ordered[: canvas.height - first], first):
        text = shorten(fit(label, canvas.width, canvas.ascii), canvas.width, ascii=canvas.ascii)
        canvas.put(0, y, text, label.role)
    return canvas.rows()
