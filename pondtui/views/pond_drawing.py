"""The pond in cross-section: banks, water at its true height, marks with their labels."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from pondtui.records import NamedTuple
from pondtui.views.canvas import Canvas, Rows, ripple, shorten, surface, surface_sign
from pondtui.views.labels import Label, Placed, draw, fit, lanes_of, place

# Sign, word, paint and weight of a mark's role; the sign stays where there is no room for the word.
_ROLES = {
    "danger": ("!! ", "danger", "danger", 6),
    "warn": ("! ", "warning", "warn", 5),
    "spill": ("", "spills", "mark", 4),
    "seep": ("", "seeps above", "mark", 4),
    "target": ("", "target", "mark", 3),
    "top-up": ("", "top up", "mark", 3),
}
_OTHER = ("", "", "mark", 2)
_WATER_WEIGHT = 9
_NARROWEST_BASIN = 12


class _Plan(NamedTuple):
    """Where things stand on the canvas."""

    first: int  # row of the upper edge
    rows: int  # rows from the upper edge to the floor
    width: int  # columns of the basin with its banks
    level_row: int | None  # counted from the upper edge
    eighths: int
    slope: float  # columns a row


class _Gauge(NamedTuple):
    """How readings are worded and where they stand."""

    level: float | None
    higher_is_smaller: bool
    say: Callable[[float], str]
    row_of: Callable[[float], int]  # counted from the upper edge


def pond_section(
    width: int,
    height: int,
    *,
    level: float | None,
    marks: Sequence[tuple[str, float, str]],
    higher_is_smaller: bool,
    floor_reading: float,
    top_reading: float,
    ascii: bool = False,
    say: Callable[[float], str] = "{:.0f} mm".format,
) -> Rows:
    """The section of a pond, `height` rows of exactly `width` cells.

    `level` and the marks (name, reading, role) are gauge readings; `top_reading` is drawn at the
    upper edge, `floor_reading` at the floor. A gauge whose numbers grow downwards has
    `higher_is_smaller`. `say` words a reading for people. Too small a room gets a list of words.
    """
    first = 1 if height >= 8 else 0  # a row of sky where there is room
    rows = max(1, height - first - 1)
    canvas = Canvas(width, height, ascii=ascii)
    known = level if level is not None and math.isfinite(level) else None

    def drop(reading: float) -> float:
        return (reading - top_reading) / ((floor_reading - top_reading) or 1.0)

    def row_of(reading: float) -> int:
        return surface(drop(reading), rows)[0]

    gauge = _Gauge(known, higher_is_smaller, say, row_of)
    labels = _labels(marks, gauge, in_full=True)
    if _longest(labels) > width // 2:
        labels = _labels(marks, gauge, in_full=False)
    full = _longest(labels)
    placed = place([label._replace(row=label.row + first) for label in labels], height)
    leaders = lanes_of(placed) + 4
    room = min(full, width - leaders - _NARROWEST_BASIN)
    if height < 4 or room < min(full, 12):
        return _list(canvas, labels, known)
    basin = width - room - leaders
    level_row, eighths = (None, 0) if known is None else surface(drop(known), rows)
    plan = _Plan(first, rows, basin, level_row, eighths, min(1.0, basin * 0.25 / rows))
    _basin(canvas, plan)
    _mark_lines(canvas, plan, placed)
    if known is None:
        _no_reading(canvas, plan)
    draw(canvas, placed, basin, width - room)
    return canvas.rows()


def _longest(labels: Sequence[Label]) -> int:
    return max((len(label.text) for label in labels), default=0)


def _labels(
    marks: Sequence[tuple[str, float, str]], gauge: _Gauge, *, in_full: bool
) -> list[Label]:
    """From high to low: several may stand in one row."""
    labels: list[tuple[float, Label]] = []
    for name, reading, role in marks:
        if math.isfinite(reading):
            sign, word, paint, weight = _ROLES.get(role, _OTHER)
            head = f"{sign}{name}" + (f", {word}" if word and in_full else "")
            row = gauge.row_of(reading)
            labels.append((reading, Label(row, head, gauge.say(reading), paint, weight)))
    if gauge.level is not None:
        row, tail = gauge.row_of(gauge.level), gauge.say(gauge.level)
        if in_full and gauge.higher_is_smaller:
            side = "above" if gauge.level < 0 else "below"
            tail = f"{gauge.say(abs(gauge.level))} {side} the edge"
        elif in_full:
            tail += " on the rule"
        labels.append((gauge.level, Label(row, "WATER", tail, "surface", _WATER_WEIGHT)))
    labels.sort(key=lambda each: each[0], reverse=not gauge.higher_is_smaller)
    return [label for _, label in labels]


def _inset(plan: _Plan, row: int) -> int:
    return max(2, plan.width // 12) + int(row * plan.slope)


def _basin(canvas: Canvas, plan: _Plan) -> None:
    earth = ":" if canvas.ascii else "░"
    for row in range(plan.rows):
        y, inset = plan.first + row, _inset(plan, row)
        sloping = _inset(plan, row + 1) != inset
        left, right = ("\\", "/") if canvas.ascii else ("╲", "╱")
        if not sloping:
            left = right = "|" if canvas.ascii else "│"
        canvas.put(0, y, earth * inset + left, "earth")
        canvas.put(plan.width - inset - 1, y, right + earth * inset, "earth")
        _water_row(canvas, plan, row, inset + 1, plan.width - 2 * inset - 2)
    canvas.put(0, plan.first + plan.rows, earth * plan.width, "earth")
    if plan.first:
        for x in (0, 1, plan.width - 2):
            canvas.put(x, 0, "Y" if canvas.ascii else "ψ", "plant")


def _water_row(canvas: Canvas, plan: _Plan, row: int, x: int, width: int) -> None:
    if plan.level_row is None or row < plan.level_row:
        return
    if row == plan.level_row:
        sign = surface_sign(plan.eighths, ascii=canvas.ascii)
        canvas.put(x, plan.first + row, sign * width, "surface")
    else:
        canvas.put(x, plan.first + row, ripple(x, row, width), "water")


def _mark_lines(canvas: Canvas, plan: _Plan, placed: Sequence[Placed]) -> None:
    """Dotted lines over the basin, and each tick from the water's edge over the bank."""
    for label in sorted((p.label for p in placed), key=lambda label: label.weight):
        row = label.row - plan.first
        if not label.weight or not 0 <= row < plan.rows:
            continue
        inset = _inset(plan, row)
        canvas.line((plan.width - inset - 1, label.row), (plan.width, label.row), label.role)
        if row == plan.level_row:
            continue
        wet = plan.level_row is not None and row > plan.level_row
        dots = ("." if canvas.ascii else "╌") * (plan.width - 2 * inset - 2)
        canvas.put(inset + 1, label.row, dots, f"{label.role}-wet" if wet else label.role)


def _no_reading(canvas: Canvas, plan: _Plan) -> None:
    words = ["no reading yet"] if plan.width >= 26 else ["no", "reading", "yet"]
    start = plan.first + max(0, (plan.rows - len(words)) // 2)
    for y, word in enumerate(words[: plan.rows], start=start):
        canvas.put((plan.width - len(word) - 2) // 2, y, f" {word} ", "warn")


def _list(canvas: Canvas, labels: Sequence[Label], level: float | None) -> Rows:
    """Words from high to low, where there is no room for a drawing."""
    ordered = list(labels)
    if level is None:
        ordered.insert(0, Label(0, "", "no reading yet", "warn", _WATER_WEIGHT))
    while len(ordered) > max(1, canvas.height):
        ordered.remove(min(ordered, key=lambda label: label.weight))
    for y, label in enumerate(ordered):
        text = shorten(fit(label, canvas.width, canvas.ascii), canvas.width, ascii=canvas.ascii)
        canvas.put(0, y, text, label.role)
    return canvas.rows()
