"""The pond and the barrel as far as they are described: outlines to scale, and what they hold."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial

from pondtui.pond.refill.rates import TapTest, rate_per_l
from pondtui.pond.setup import barrels
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.setup.shapes import across_mm, area_at_edge_m2, bottom_mm, full_l
from pondtui.pond.water.levels import drop_mm, litres_between
from pondtui.records import NamedTuple
from pondtui.units import read, show
from pondtui.views.canvas import Canvas, Rows
from pondtui.views.words import litres

_TALL = 2.0  # a cell is about twice as high as it is wide
_LABELS = 22  # columns for the words beside a drawing
_UNTRUE = 0.1  # part by which a drawing's width may be off before that is said


class Line(NamedTuple):
    """A level in a drawing: how far below the top, what it is called, how it is painted."""

    down_mm: float
    text: str
    role: str


class Outline(NamedTuple):
    """A vessel from the side."""

    across_mm: float  # at its top
    high_mm: float
    wide_at: Callable[[float], float]  # width in mm so far below the top
    water_mm: float  # how far below the top the water stands
    lines: tuple[Line, ...] = ()


def pond_outline(
    setup: Setup,
    day: date,
    *,
    across_known: bool = True,
    depth_known: bool = True,
    level: str = "",
) -> Outline | None:
    """The basin that floats, brimful or at a reading; None where its sizes make no basin. A size
    that is not known is drawn as it is likely to be, and asked for in its label."""
    basin = setup.floating(day)
    if basin is None:
        return None
    try:
        across = across_mm(basin, 0.0)
    except ValueError:
        return None
    down = bottom_mm(basin)
    say = _said(setup)
    wide_text = f"{say(across)} across" if across_known else "how long?"
    deep_text = f"{say(down)} deep" if depth_known else "how deep?"
    lines = [Line(0, wide_text, "mark"), Line(down, deep_text, "mark")]
    water = 0.0
    if level:
        water = max(drop_mm(setup, basin, _reading(setup, level)), 0.0)
        lines.append(Line(water, f"water {level}", "text"))
    return Outline(across, down, partial(across_mm, basin), water, tuple(lines))


def barrel_outline(
    setup: Setup, barrel: Barrel, *, high_known: bool, full: bool, outlet: bool
) -> Outline:
    """A barrel filled to its full line; `full` and the like tell whether those are known."""
    high = barrels.brim_mm(barrel)
    across = barrel.length_mm if barrel.shape == "lying" else barrel.diameter_mm or barrel.width_mm
    say = _said(setup)
    lines = [Line(0, f"brim {say(high)}" if high_known else "how high?", "quiet")]
    if full:
        lines.append(Line(high - barrel.full_line_mm, f"full line {say(barrel.full_line_mm)}",
                          "mark"))  # fmt: skip
    if outlet:
        lines.append(Line(high - barrel.outlet_mm, f"outlet {say(barrel.outlet_mm)}", "text"))
    water = high - barrel.full_line_mm if full else high
    return Outline(across, high, lambda _down: across, water, tuple(lines))


def to_scale(width: int, height: int, outline: Outline, *, ascii: bool) -> Rows:
    """The outline as large as it can be, as wide for its height as it is in truth."""
    canvas = Canvas(width, height, ascii=ascii)
    room = max(width - _LABELS - 2, 8)
    mm = max(outline.across_mm / room, outline.high_mm / (_TALL * max(height - 1, 1)), 1e-6)
    rows = max(1, min(height - 1, int(outline.high_mm / (_TALL * mm) + 1e-6)))
    mm = max(outline.high_mm / (_TALL * rows), 1e-6)  # whole rows decide: the width follows them
    widest = max(2, min(room, round(outline.across_mm / mm)))
    untrue = abs(widest * mm / (outline.across_mm or 1) - 1) > _UNTRUE
    earth = ":" if ascii else "░"
    for row in range(rows):
        down = (row + 0.5) / rows * outline.high_mm
        wide = max(1, min(widest, round(outline.wide_at(down) / mm)))
        left = (widest - wide) // 2
        wet = down >= outline.water_mm
        canvas.put(0, row, earth * (left + 1), "earth")
        canvas.put(left + 1, row, ("~" if wet else " ") * wide, "water" if wet else "text")
        canvas.put(left + 1 + wide, row, earth * (widest - left - wide + 1), "earth")
    canvas.put(0, rows, earth * (widest + 2), "earth")
    taken: set[int] = set()
    for line in sorted(outline.lines, key=lambda line: line.down_mm):
        row = min(rows - 1, int(line.down_mm / (outline.high_mm or 1) * rows))
        while row in taken and row < height - 1:
            row += 1
        taken.add(row)
        canvas.put(widest + 3, row, f"- {line.text}", line.role)
    if untrue:  # far flatter or slimmer than signs can show
        free = next((row for row in (rows, *range(rows)) if row not in taken), rows)
        canvas.put(widest + 3, free, "not to scale", "quiet")
    return canvas.rows()


def pond_figures(setup: Setup, day: date) -> str:
    """What the pond holds: `4.0 m2 at the edge, 3 040 L, 67 L for each 10 mm`."""
    basin = setup.floating(day)
    if basin is None:
        return ""
    try:
        area, volume = area_at_edge_m2(basin) * basin.water_share, full_l(basin)
    except ValueError:
        return ""
    step = 10.0 if setup.pond.units == "metric" else 25.4
    each = f"{litres(setup, area * step)} for each {_said(setup)(step)}"
    return f"{show(area, 'area', setup.pond.units)} at the edge, {litres(setup, volume)}, {each}"


def level_figures(setup: Setup, level: str, day: date) -> str:
    """What the first reading means: `200 L would bring it from 62 mm to full, 30 mm`."""
    target = next((mark for mark in setup.marks if mark.role == "target"), None)
    if target is None:
        return ""
    missing = litres_between(setup, _reading(setup, level), target.reading_mm, day)
    goal = f"{target.name}, {_said(setup)(target.reading_mm)}"
    if missing <= 0:
        return f"the water stands at or above {goal}: no refill is needed"
    return f"{litres(setup, missing)} would bring it to {goal}"


def _reading(setup: Setup, level: str) -> float:
    return read(level, "length", gallon=setup.gallon, signed=True).value


def barrel_figures(setup: Setup, barrel: Barrel, day: date, tap_test: TapTest = None) -> str:
    """What the barrel holds, how long it fills, what it is dosed with, as far as that is known."""
    full, heel = barrels.full_line_l(barrel), barrels.heel_l(barrel)
    told = [f"{litres(setup, full)} to the full line", f"{litres(setup, heel)} stay as the heel"]
    source = setup.sources.get(barrel.source)
    if source is not None and source.flow_l_min:
        minutes = (full - heel) / source.flow_l_min
        told.append(f"{show(minutes, 'time', setup.pond.units)} to fill")
    rate = rate_per_l(setup, barrel.source, day, tap_test) if barrel.source != "rain" else None
    conditioner = setup.conditioner_on(day)
    if rate is not None and conditioner is not None:
        told.append(f"dose {rate.per_l * full:.3g} {conditioner.unit}")
    return ", ".join(told)


def _said(setup: Setup) -> Callable[[float], str]:
    def say(value_mm: float) -> str:
        if setup.pond.units == "metric":
            return f"{value_mm:.0f} mm" if value_mm < 1000 else f"{value_mm / 1000:.3g} m"
        return show(value_mm, "length", setup.pond.units, rule=value_mm < 1800)

    return say
