"""The gauge with its marks, as rows of text and as numbers for a drawing on a page."""

from __future__ import annotations

from pondtui.pond.away.model import Drawing, Sheet
from pondtui.pond.away.say import Say
from pondtui.pond.setup.model import Mark
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.levels import reading_up
from pondtui.records import NamedTuple
from pondtui.views.canvas import plain
from pondtui.views.pictures import pond_rows

ROLES = {
    "spill": "runs over above it",
    "seep": "seeps above it",
    "target": "where it should stand",
    "top-up": "top up below it",
    "warn": "ring below it",
    "danger": "act below it",
}


class Line(NamedTuple):
    """A mark, or the water."""

    name: str
    reading: str  # as the gauge says it
    role: str  # a mark's, or "water"
    down: float  # 0 at the top of the drawing, 1 at its bottom


def text_rows(sheet: Sheet, drawing: Drawing, width: int, height: int = 14) -> list[str]:
    """The section as text."""
    now = int(sheet.made.timestamp())
    level = None if drawing.level_mm is None else Level(now, drawing.level_mm)
    state = PondState(now, 0, level=level)
    rows = plain(pond_rows(sheet.setup, state, now, width, height, ascii=False))
    return [row.rstrip() for row in rows]


def meanings(sheet: Sheet) -> list[str]:
    """Each mark in a line: its reading, its name, what it means."""
    say = Say(sheet.setup)
    return [
        f"{say.gauge(m.reading_mm)}  {m.name}: {ROLES.get(m.role, m.role)}" for m in _marks(sheet)
    ]


def lines(sheet: Sheet, drawing: Drawing) -> list[Line]:
    """The marks and the water from high to low."""
    say, setup = Say(sheet.setup), sheet.setup
    found = [(m.name, m.reading_mm, m.role) for m in _marks(sheet)]
    if drawing.level_mm is not None:
        found.append(("water, last read", drawing.level_mm, "water"))
    heights = [reading_up(setup, mm) for _, mm, _ in found]
    if not heights:
        return []
    top, bottom = max(heights), min(heights)
    span = (top - bottom) or 1.0
    rows = [
        Line(name, say.gauge(mm), role, (top - reading_up(setup, mm)) / span)
        for name, mm, role in found
    ]
    return sorted(rows, key=lambda row: row.down)


def _marks(sheet: Sheet) -> list[Mark]:
    setup = sheet.setup
    return sorted(setup.marks, key=lambda m: -reading_up(setup, m.reading_mm))
