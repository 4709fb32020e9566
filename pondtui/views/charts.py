"""The charts of the water: the level with its marks, computed against measured loss.

Rows of spans as wide as asked. Nothing rests on colour: every series has its own sign and a label
at its end, gaps stay gaps, and each axis names its unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.seasons import midnight
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.canvas import Canvas, Rows, printable, shorten
from pondtui.views.plot import Area, Dots, Scale, bars, end_labels, ticks
from pondtui.views.water_series import DAY_S, DayRow, Point, WeekRow
from pondtui.views.words import count

RIGHT = 15  # columns of the labels at the right
RAIN_ROWS = 3
LEAST = (40, 10)


class Chart(NamedTuple):
    """What a chart is drawn with."""

    setup: Setup
    width: int
    height: int
    ascii: bool

    @property
    def canvas(self) -> Canvas:
        """An empty canvas of its size."""
        return Canvas(self.width, self.height, ascii=self.ascii)

    def label(self, text: str, width: int) -> str:
        """A label that fits."""
        return shorten(printable(text, ascii=self.ascii), width, ascii=self.ascii)

    @property
    def left(self) -> int:
        """Columns of the scale at the left; the sixteenths of an inch rule want more."""
        return 7 if self.length_unit == "mm" else 9

    @property
    def length_unit(self) -> str:
        """Of levels and rain."""
        return "mm" if self.setup.pond.units == "metric" else "in"

    def length(self, mm: float) -> str:
        """A length without its unit."""
        return f"{mm:.0f}" if self.length_unit == "mm" else f"{mm / 25.4:.1f}"

    def reading(self, mm: float) -> str:
        """A reading of the gauge without its unit, as the rule bears it."""
        if self.length_unit == "mm":
            return f"{mm:.0f}"
        return show(mm, "length", self.setup.pond.units, rule=True).rpartition(" ")[0]


def level_chart(
    chart: Chart, rows: Sequence[Sequence[Point]], days: Sequence[DayRow], cursor: date | None
) -> Rows:
    """The level with the marks near it, rain as bars beneath, refills as ticks between."""
    canvas = chart.canvas
    if not days or chart.width < LEAST[0] or chart.height < LEAST[1]:
        return canvas.rows()
    area = Area(chart.left, 1, chart.width - chart.left - RIGHT, chart.height - RAIN_ROWS - 5)
    down = chart.setup.gauge.reads == "down"
    across = Scale(midnight(chart.setup, days[0].day), midnight(chart.setup, days[-1].day) + DAY_S)
    values = [point.value for row in rows for point in row]
    marks = _near_marks(chart.setup, values)
    all_values = [*values, *(mark.reading_mm for mark in marks)] or [0.0, 100.0]
    low, high = min(all_values), max(all_values)
    pad = max((high - low) * 0.05, 2.0)
    up = Scale(high + pad, low - pad) if down else Scale(low - pad, high + pad)
    title = chart.label(f"{chart.length_unit} on the gauge", chart.width)
    canvas.put(0, 0, title, "quiet")
    upright(chart, canvas, area, up, of_gauge=True)
    labels = _draw_marks(chart, canvas, area, up, marks)
    dots = Dots(canvas, area, across, up)
    for row in rows:
        dots.line([(p.instant, p.value) for p in row])
    dots.draw("text", "*")
    if values:
        last = rows[-1][-1]
        labels.append((dots.cell_of(*last)[1], f"level {chart.reading(last.value)}", "text"))
    end_labels(
        canvas, area.x + area.width + 1,
        [(row, chart.label(text, RIGHT - 1), role) for row, text, role in labels],
        area.y, area.y + area.height - 1,
    )  # fmt: skip
    _refills(chart, canvas, area, days)
    _events(chart, canvas, area, days)
    _rain(chart, canvas, area, days)
    _days_axis(chart, canvas, area, [row.day for row in days])
    if cursor is not None:
        _cursor(canvas, area, across.share(midnight(chart.setup, cursor) + DAY_S / 2), len(title))
    return canvas.rows()


def _near_marks(setup: Setup, values: Sequence[float]) -> list[_Mark]:
    """The marks within the readings, and the nearest one on either side."""
    marks = sorted(_Mark(m.reading_mm, m.name, m.role) for m in setup.marks)
    if not values:
        return marks
    low, high = min(values), max(values)
    inside = [m for m in marks if low <= m.reading_mm <= high]
    below = [m for m in marks if m.reading_mm < low][-1:]
    above = [m for m in marks if m.reading_mm > high][:1]
    reach = max(high - low, 40.0)
    return [*below, *inside, *(m for m in above if m.reading_mm - high <= reach)]


class _Mark(NamedTuple):
    reading_mm: float
    name: str
    role: str


def _draw_marks(
    chart: Chart, canvas: Canvas, area: Area, up: Scale, marks: Sequence[_Mark]
) -> list[tuple[int, str, str]]:
    """Dashed lines with their names at the right."""
    labels = []
    for mark in marks:
        row = area.y + round((1 - up.share(mark.reading_mm)) * (area.height - 1))
        role = mark.role if mark.role in ("warn", "danger") else "mark"
        dash = "- " if chart.ascii else "╌ "
        canvas.put(area.x, row, (dash * area.width)[: area.width], role)
        labels.append((row, mark.name, role))
    return labels


def upright(chart: Chart, canvas: Canvas, area: Area, up: Scale, *, of_gauge: bool = False) -> None:
    """The scale at the left; `of_gauge` as it stands on the rule."""
    metric = chart.length_unit == "mm"
    factor = 1.0 if metric else 25.4
    low, high = sorted((up.low / factor, up.high / factor))
    bar = "|" if chart.ascii else "│"
    for row in range(area.height):
        canvas.put(area.x - 1, area.y + row, bar, "quiet")
    for value in ticks(low, high, max(area.height // 3, 2), halves=of_gauge and not metric):
        row = area.y + round((1 - up.share(value * factor)) * (area.height - 1))
        text = chart.reading(value * factor) if of_gauge else f"{value:g}"
        canvas.put(0, row, text.rjust(chart.left - 2), "quiet")
        canvas.put(area.x - 1, row, "+" if chart.ascii else "┤", "quiet")


def _refills(chart: Chart, canvas: Canvas, area: Area, days: Sequence[DayRow]) -> None:
    row = area.y + area.height
    canvas.put(0, row, "refill", "good")
    for place, day in enumerate(days):
        if day.refill_l > 0:
            column = area.x + _column(place, len(days), area.width)
            canvas.put(column, row, "^" if chart.ascii else "▲", "good")
    number = sum(day.refill_l > 0 for day in days)
    words = f"on {count(number, 'day')}" if number else "none"
    canvas.put(area.x + area.width + 1, row, chart.label(words, RIGHT - 1), "good")


def _events(chart: Chart, canvas: Canvas, area: Area, days: Sequence[DayRow]) -> None:
    """Days on which something happened; the cursor names it."""
    row = area.y + area.height + 1
    canvas.put(0, row, "events", "quiet")
    for place, day in enumerate(days):
        if day.events:
            canvas.put(area.x + _column(place, len(days), area.width), row, "!", "warn")
    number = sum(bool(day.events) for day in days)
    words = f"on {count(number, 'day')}" if number else "none"
    canvas.put(area.x + area.width + 1, row, chart.label(words, RIGHT - 1), "quiet")


def _rain(chart: Chart, canvas: Canvas, area: Area, days: Sequence[DayRow]) -> None:
    most = max((day.rain_mm for day in days), default=0.0)
    under = Area(area.x, area.y + area.height + 2, area.width, RAIN_ROWS)
    canvas.put(0, under.y + RAIN_ROWS - 1, "rain", "surface")
    shares = (_column(place, len(days), area.width) / max(area.width - 1, 1)
              for place in range(len(days)))  # fmt: skip
    heights = [(share, day.rain_mm / most) for share, day in zip(shares, days, strict=True)
               if most > 0 and day.rain_mm > 0]  # fmt: skip
    bars(canvas, under, heights, "surface", "#")
    text = f"most {chart.length(most)} {chart.length_unit}" if most else "none"
    canvas.put(under.x + under.width + 1, under.y + RAIN_ROWS - 1, chart.label(text, RIGHT - 1),
               "surface")  # fmt: skip


def _column(place: int, number: int, width: int) -> int:
    """The column of a day."""
    return min(int((place + 0.5) / max(number, 1) * width), width - 1)


def _days_axis(chart: Chart, canvas: Canvas, area: Area, days: Sequence[date]) -> None:
    """Months, or days where there are few, under the chart."""
    row = chart.height - 2
    canvas.put(area.x, row, ("-" if chart.ascii else "─") * area.width, "quiet")
    few = len(days) <= 62
    free = area.x
    for place, day in enumerate(days):
        if (day.day % 5 == 1 and day.day < 30) if few else day.day == 1 or place == 0:
            column = area.x + _column(place, len(days), area.width)
            text = f"{day.day} {day:%b}" if few or (place == 0 and day.day > 1) else f"{day:%b}"
            if column >= free and column + len(text) <= chart.width:
                canvas.put(column, row, "+" if chart.ascii else "┬", "quiet")
                canvas.put(column, row + 1, text, "quiet")
                free = column + len(text) + 1


def _cursor(canvas: Canvas, area: Area, share: float, title: int) -> None:
    """Where the numbers under the chart are read: an arrow below, and one above by the title."""
    column = area.x + min(int(share * area.width), area.width - 1)
    if column > title:
        canvas.put(column, 0, "v" if canvas.ascii else "▼", "text")
    canvas.put(column, canvas.height - 2, "^" if canvas.ascii else "▲", "text")


def loss_chart(chart: Chart, weeks: Sequence[WeekRow], cursor: date | None) -> Rows:
    """Measured loss as marks, what the weather explains as a line; a week each."""
    canvas = chart.canvas
    if not weeks or chart.width < LEAST[0] or chart.height < LEAST[1]:
        return canvas.rows()
    area = Area(chart.left, 1, chart.width - chart.left - RIGHT, chart.height - 3)
    values = [v for w in weeks for v in (w.measured_mm, w.computed_mm) if v is not None]
    up = Scale(min(0.0, *values, 0.0), max([*values, 1.0]) * 1.05)
    across = Scale(-0.5, len(weeks) - 0.5)
    title = chart.label(f"{chart.length_unit} a day, week by week", chart.width)
    canvas.put(0, 0, title, "quiet")
    upright(chart, canvas, area, up)
    dots = Dots(canvas, area, across, up)
    row: list[tuple[float, float]] = []
    for place, week in enumerate([*weeks, WeekRow(weeks[-1].first, None, None)]):
        if week.computed_mm is not None:
            row.append((place, week.computed_mm))
        elif row:
            dots.line(row)
            row = []
    dots.draw("mark", ".")
    labels = []
    sign = "O" if chart.ascii else "●"
    for place, week in enumerate(weeks):
        if week.measured_mm is not None:
            canvas.put(*dots.cell_of(place, week.measured_mm), sign, "text")
    known = [(p, w) for p, w in enumerate(weeks) if w.measured_mm is not None]
    if known:
        place, week = known[-1]
        line = "." if chart.ascii else "⠒"
        labels = [
            (dots.cell_of(place, week.measured_mm or 0)[1], f"{sign} measured", "text"),
            (dots.cell_of(place, week.computed_mm or 0)[1], f"{line} by weather", "mark"),
        ]
    end_labels(canvas, area.x + area.width + 1, labels, area.y, area.y + area.height - 1)
    _days_axis(chart, canvas, area, [weeks[0].first + timedelta(n) for n in range(7 * len(weeks))])
    if cursor is not None:
        place = min(max((cursor - weeks[0].first).days // 7, 0), len(weeks) - 1)
        _cursor(canvas, area, (place + 0.5) / len(weeks), len(title))
    return canvas.rows()
