"""The outlook's fan: the level of the next days between its 10 and 90 % courses, with the marks.

The band is filled, its middle has a sign of its own, and each is named at its end.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from pondtui.pond.away.outlook import DayLevel, Outlook
from pondtui.pond.setup.model import Mark
from pondtui.views.canvas import Canvas, Rows
from pondtui.views.charts import LEAST, RIGHT, Chart, upright
from pondtui.views.plot import Area, Scale, end_labels


def fan_chart(chart: Chart, found: Outlook) -> Rows:
    """As wide and high as asked; empty where there is no room."""
    canvas, levels = chart.canvas, found.levels
    if chart.width < LEAST[0] or chart.height < LEAST[1]:
        return canvas.rows()
    area = Area(chart.left, 1, chart.width - chart.left - RIGHT, chart.height - 3)
    shown = [mm for one in levels for mm in one[1:]]
    marks = _near(chart.setup.marks, min(shown), max(shown))
    values = [*shown, *(mark.reading_mm for mark in marks)]
    pad = max((max(values) - min(values)) * 0.05, 2.0)
    low, high = min(values) - pad, max(values) + pad
    up = Scale(high, low) if chart.setup.gauge.reads == "down" else Scale(low, high)
    title = "gauge with no help" + ("" if found.stated else ", in hot weather")
    canvas.put(0, 0, chart.label(f"{chart.length_unit} on the {title}", chart.width), "quiet")
    upright(chart, canvas, area, up, of_gauge=True)
    labels = []
    for mark in marks:
        row = _row(area, up, mark.reading_mm)
        role = mark.role if mark.role in ("warn", "danger") else "mark"
        dash = "- " if chart.ascii else "╌ "
        canvas.put(area.x, row, (dash * area.width)[: area.width], role)
        labels.append((row, mark.name, role))
    _band(chart, canvas, area, up, levels)
    low_mm, middle_mm, high_mm = levels[-1][1:]
    names = ("about", "least", "most") if not found.stated else ("50 %", "10 %", "90 %")
    ends = [(_row(area, up, mm), f"{name} {chart.reading(mm)}", "text")
            for name, mm in zip(names, (middle_mm, low_mm, high_mm), strict=True)]  # fmt: skip
    told = [(row, chart.label(text, RIGHT - 1), role) for row, text, role in (*ends, *labels)]
    end_labels(canvas, area.x + area.width + 1, told, area.y, area.y + area.height - 1)
    _days(chart, canvas, area, levels)
    return canvas.rows()


def _near(marks: Sequence[Mark], low: float, high: float) -> list[Mark]:
    """The marks that the levels come to, and the next one on either side."""
    ordered = sorted(marks, key=lambda mark: mark.reading_mm)
    inside = [m for m in ordered if low <= m.reading_mm <= high]
    before = [m for m in ordered if m.reading_mm < low][-1:]
    after = [m for m in ordered if m.reading_mm > high][:1]
    return [*before, *inside, *after]


def _row(area: Area, up: Scale, mm: float) -> int:
    share = min(max(up.share(mm), 0.0), 1.0)
    return area.y + round((1 - share) * (area.height - 1))


def _band(chart: Chart, canvas: Canvas, area: Area, up: Scale, levels: Sequence[DayLevel]) -> None:
    """Every column the day, or the place between two days, that it stands for."""
    fill, middle = (":", "o") if chart.ascii else ("░", "●")
    for column in range(area.width):
        at = column / max(area.width - 1, 1) * (len(levels) - 1)
        place = min(int(at), max(len(levels) - 2, 0))
        one, other = levels[place], levels[min(place + 1, len(levels) - 1)]
        part = at - place
        mm = [a + part * (b - a) for a, b in zip(one[1:], other[1:], strict=True)]
        ends = sorted((_row(area, up, mm[0]), _row(area, up, mm[2])))
        for row in range(ends[0], ends[1] + 1):
            canvas.put(area.x + column, row, fill, "surface")
        canvas.put(area.x + column, _row(area, up, mm[1]), middle, "text")


def _days(chart: Chart, canvas: Canvas, area: Area, levels: Sequence[DayLevel]) -> None:
    row = area.y + area.height
    canvas.put(area.x, row, ("-" if chart.ascii else "─") * area.width, "quiet")
    count = max(len(levels) - 1, 1)
    columns = [area.x + round(n / count * (area.width - 1)) for n in range(len(levels))]
    free = area.x
    for (column, one), (after, _) in pairwise([*zip(columns, levels, strict=True),
                                              (chart.width, levels[-1])]):  # fmt: skip
        text = f"{one.day.day} {one.day:%b}"
        if column >= free and column + len(text) <= max(after, area.x + area.width):
            canvas.put(column, row + 1, text, "quiet")
            free = column + len(text) + 2
