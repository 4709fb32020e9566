"""The budget as bars, month by month: in, out, and what is not explained."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.views.canvas import Rows
from pondtui.views.charts import Chart
from pondtui.views.water_series import MonthRow
from pondtui.views.water_units import heads, volume

NUMBER = 9  # columns of a number
SIGNS, PLAIN = ("█", "▒", "░"), ("#", "=", "?")


def month_chart(chart: Chart, months: Sequence[MonthRow], place: int | None) -> Rows:
    """In, out and what is not explained, month by month: a bar each, or where there is less room
    the last one as a number under the month's name."""
    canvas = chart.canvas
    signs = PLAIN if chart.ascii else SIGNS
    head = f"{heads(chart.setup).volume}, month by month; {signs[2]} not explained, ! over the "
    canvas.put(0, 0, chart.label(f"{head}errors", chart.width), "quiet")
    most = max((max(m.came_l, m.left_l, abs(m.rest_l)) for m in months), default=0.0) or 1.0
    tall = 3 if len(months) * 3 < chart.height else 2
    rests = [f" {signs[2]} {_number(chart, m.rest_l, m.beyond)}" for m in months]
    name = max((len(text) for text in (*rests, *(m.name for m in months))), default=0) + 2
    word = 14 if tall == 3 else 4
    first = _window(len(months), (chart.height - 1) // tall, place)
    for nth, month in enumerate(months[first:], first):
        y = 1 + (nth - first) * tall
        chosen = nth == place
        canvas.put(0, y, (">" if chosen else " ") + month.name, "mark" if chosen else "text")
        role = "danger" if month.beyond else "quiet"
        parts = [("in", month.came_l, "good"), ("out", month.left_l, "surface")]
        if tall == 3:
            parts.append(("not explained", month.rest_l, role))
        else:
            canvas.put(0, y + 1, rests[nth], role)
        for row, (said, litres, painted) in enumerate(parts, y):
            canvas.put(name, row, said, painted)
            number = _number(chart, litres, painted == "danger")
            canvas.put(name + word, row, number.rjust(NUMBER - 1), painted)
            room = chart.width - name - word - NUMBER
            length = max(round(abs(litres) / most * room), 1 if litres else 0)
            canvas.put(name + word + NUMBER, row, signs[row - y] * length, painted)
    return canvas.rows()


def _number(chart: Chart, litres: float, beyond: bool) -> str:
    return volume(chart.setup, litres) + ("!" if beyond else "")


def _window(number: int, shown: int, place: int | None) -> int:
    """The first of so many that is shown, so that the chosen one is."""
    return min(max((place or 0) - shown + 1, 0), max(number - shown, 0))
