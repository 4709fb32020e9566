"""The water's charts as SVG: shapes and escaped words, no script, no style of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from html import escape

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.seasons import midnight
from pondtui.views.plot import Scale, ticks
from pondtui.views.water_series import DAY_S, DayRow, MonthRow, Point, WeekRow
from pondtui.views.water_units import heads, volume

WIDE, LEFT, RIGHT, TOP = 800.0, 50.0, 160.0, 26.0
HIGH, RAIN_HIGH, FOOT = 230.0, 60.0, 24.0


def level_svg(setup: Setup, rows: Sequence[Sequence[Point]], days: Sequence[DayRow]) -> str:
    """Level with marks, refills as triangles, rain as bars."""
    if not days:
        return ""
    values = [p.value for row in rows for p in row]
    values += [m.reading_mm for m in setup.marks if m.role != "danger"]
    low, high = min(values, default=0.0), max(values, default=100.0)
    pad = max((high - low) * 0.05, 2.0)
    down = setup.gauge.reads == "down"
    up = Scale(high + pad, low - pad) if down else Scale(low - pad, high + pad)
    start = midnight(setup, days[0].day)
    across = Scale(start, midnight(setup, days[-1].day + timedelta(1)))
    parts = [*_axes(setup, up, across, [d.day for d in days])]
    for mark in setup.marks:
        if not min(up) <= mark.reading_mm <= max(up):
            continue
        y = _y(up, mark.reading_mm)
        parts.append(f'<line class="mark" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{y}" y2="{y}"/>')
        parts.append(_text(WIDE - RIGHT + 6, y + 4, mark.name))
    for row in rows:
        points = " ".join(f"{_x(across, p.instant)},{_y(up, p.value)}" for p in row)
        parts.append(f'<polyline class="level" points="{points}"/>')
    most = max(d.rain_mm for d in days) or 1.0
    base = TOP + HIGH + 14 + RAIN_HIGH
    for day in days:
        x = _x(across, midnight(setup, day.day) + DAY_S / 2)
        if day.refill_l > 0:
            y = TOP + HIGH + 2
            parts.append(f'<path class="refill" d="M{x - 4} {y + 9} L{x + 4} {y + 9} L{x} {y} Z"/>')
        if day.events:
            named = escape(", ".join(day.events))
            parts.append(
                f'<text x="{x}" y="{TOP + 10}" text-anchor="middle">!<title>{named}</title></text>'
            )
        if day.rain_mm > 0:
            tall = round(day.rain_mm / most * RAIN_HIGH, 1)
            parts.append(
                f'<rect class="rain" x="{x - 1.5}" y="{round(base - tall, 1)}" width="3" '
                f'height="{tall}"/>'
            )
    rain = _length(setup, max(d.rain_mm for d in days))
    parts.append(_text(WIDE - RIGHT + 6, TOP + HIGH + 12, "refills"))
    parts.append(_text(WIDE - RIGHT + 6, base, f"rain, most {rain} a day"))
    return _svg("Level, marks, refills and rain", parts, base + FOOT, base)


def loss_svg(setup: Setup, weeks: Sequence[WeekRow]) -> str:
    """Measured loss as dots, what the weather explains as a line."""
    values = [v for w in weeks for v in (w.measured_mm, w.computed_mm) if v is not None]
    if not values:
        return ""
    up = Scale(min(0.0, *values), max(*values, 1.0) * 1.05)
    start = midnight(setup, weeks[0].first)
    across = Scale(start, start + 7 * DAY_S * len(weeks))
    span = [weeks[0].first + timedelta(n) for n in range(7 * len(weeks))]
    parts = [*_axes(setup, up, across, span)]
    row: list[str] = []
    rows = [row]
    for week in weeks:
        x = _x(across, midnight(setup, week.first) + 3.5 * DAY_S)
        if week.computed_mm is None or week.measured_mm is None:
            row = []
            rows.append(row)
            continue
        row.append(f"{x},{_y(up, week.computed_mm)}")
        parts.append(f'<circle class="measured" cx="{x}" cy="{_y(up, week.measured_mm)}" r="4"/>')
    parts += [f'<polyline class="computed" points="{" ".join(r)}"/>' for r in rows if r]
    parts.append(_text(WIDE - RIGHT + 6, TOP + 12, "dots: measured"))
    parts.append(_text(WIDE - RIGHT + 6, TOP + 28, "line: by weather"))
    return _svg("Loss a day, week by week", parts, TOP + HIGH + FOOT, TOP + HIGH)


def month_svg(setup: Setup, months: Sequence[MonthRow]) -> str:
    """In and out as bars, month by month; a hatched bar is not explained."""
    if not months:
        return ""
    most = max(max(m.came_l, m.left_l, abs(m.rest_l)) for m in months) or 1.0
    room = WIDE - LEFT - 60 - RIGHT
    parts = []
    y = TOP
    for month in months:
        parts.append(_text(0, y + 24, month.name))
        for kind, litres in (("in", month.came_l), ("out", month.left_l), ("rest", month.rest_l)):
            wide = round(max(abs(litres) / most * room, 0.5), 1)
            parts.append(
                f'<rect class="{kind}" x="{LEFT + 60}" y="{y}" width="{wide}" height="10"/>'
            )
            word = {"rest": "not explained"}.get(kind, kind)
            parts.append(_text(LEFT + 66 + wide, y + 9, f"{word} {volume(setup, litres)}"))
            y += 12
        y += 10
    return _svg(f"In, out and not explained, {heads(setup).volume}", parts, y, 0.0)


def _axes(setup: Setup, up: Scale, across: Scale, days: Sequence[date]) -> Iterator[str]:
    metric = setup.pond.units == "metric"
    factor = 1.0 if metric else 25.4
    low, high = sorted((up.low / factor, up.high / factor))
    for value in ticks(low, high, 6):
        y = _y(up, value * factor)
        yield f'<line class="grid" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{y}" y2="{y}"/>'
        yield _text(LEFT - 6, y + 4, f"{value:g}", "end")
    yield _text(LEFT - 6, TOP - 10, "mm" if metric else "in", "end")
    for day in days:
        if day.day == 1 or (len(days) < 40 and day.day % 7 == 1):
            x = _x(across, midnight(setup, day))
            yield f'<line class="grid" x1="{x}" x2="{x}" y1="{TOP}" y2="{TOP + HIGH}"/>'
            text = f"{day:%b}" if len(days) >= 40 else f"{day.day} {day:%b}"
            yield f'<text class="day" x="{x + 2}" y="FOOT">{text}</text>'


def _svg(title: str, parts: Sequence[str], height: float, foot: float) -> str:
    body = "".join(parts).replace('y="FOOT"', f'y="{round(foot + 16, 1)}"')
    return (
        f'<svg viewBox="0 0 {WIDE:.0f} {height:.0f}" role="img" aria-label="{escape(title)}">'
        f"<title>{escape(title)}</title>{body}</svg>"
    )


def _x(across: Scale, value: float) -> float:
    return round(LEFT + across.share(value) * (WIDE - LEFT - RIGHT), 1)


def _y(up: Scale, value: float) -> float:
    return round(TOP + (1 - up.share(value)) * HIGH, 1)


def _text(x: float, y: float, text: str, anchor: str = "start") -> str:
    return f'<text x="{x}" y="{round(y, 1)}" text-anchor="{anchor}">{escape(text)}</text>'


def _length(setup: Setup, mm: float) -> str:
    return f"{mm:.0f} mm" if setup.pond.units == "metric" else f"{mm / 25.4:.1f} in"
