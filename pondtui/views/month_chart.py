"""The budget as bars, month by month: in, out, and what is not explained."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.views.canvas import Rows
from pondtui.views.charts import Chart
from pondtui.views.water_series import MonthRow
from pondtui.views.water_units import heads, volume


def month_chart(chart: Chart, months: Sequence[MonthRow], place: int | None) -> Rows:
    """In, out and what is not explained, a bar each, month by month."""
    canvas = chart.canvas
    name = max((len(m.name) for m in months), default=0) + 2
    numbers = 9
    room = chart.width - name - 14 - numbers
    most = max((max(m.came_l, m.left_l, abs(m.rest_l)) for m in months), default=0.0) or 1.0
    signs = ("#", "=", "?") if chart.ascii else ("█", "▒", "░")
    unit = heads(chart.setup).volume
    head = f"{unit}, month by month; {signs[2]} not explained, ! beyond the errors"
    canvas.put(0, 0, chart.label(head, chart.width), "quiet")
    tall = 3 if len(months) * 3 < chart.height else 2
    first = _window(len(months), (chart.height - 1) // tall, place)
    for nth, month in enumerate(months[first:]):
        y = 1 + nth * tall
        chosen = place is not None and first + nth == place
        canvas.put(0, y, (">" if chosen else " ") + month.name, "mark" if chosen else "text")
        role = "danger" if month.beyond else "quiet"
        if tall == 2:
            rest = f" {signs[2]} {volume(chart.setup, month.rest_l)}{'!' if month.beyond else ''}"
            canvas.put(0, y + 1, rest[:name], role)
        parts: list[tuple[str, float, str, str]] = [
            ("in", month.came_l, signs[0], "good"), ("out", month.left_l, signs[1], "surface"),
        ]  # fmt: skip
        if tall == 3:
            parts.append(("not explained", month.rest_l, signs[2], role))
        for row, (word, litres, sign, role) in enumerate(parts):
            canvas.put(name, y + row, f"{word:<13}", role)
            number = volume(chart.setup, litres) + ("!" if role == "danger" else "")
            canvas.put(name + 13, y + row, number.rjust(numbers - 1), role)
            length = max(round(abs(litres) / most * room), 1 if litres else 0)
            canvas.put(name + 14 + numbers, y + row, sign * length, role)
    return canvas.rows()


def _window(number: int, shown: int, place: int | None) -> int:
    """The first of so many that is shown, so that the chosen one is."""
    return min(max((place or 0) - shown + 1, 0), max(number - shown, 0))
