"""The numbers behind the water's charts as rows of text, within the columns that there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget_terms import Period
from pondtui.views.broken import broken
from pondtui.views.water import PERIOD_HEADS, period_row
from pondtui.views.water_series import DayRow, WeekRow, day_cells, week_cells
from pondtui.views.water_units import heads

_GAP = 2
_EVENTS = 20  # columns that events need to stand beside the numbers


def periods(found: Sequence[Period], setup: Setup, width: int) -> list[str]:
    """One line a period; where that is too wide one column a period, as many as fit, then the
    next ones below."""
    rows = [(heads(setup).volume, *PERIOD_HEADS[1:]), *(period_row(p, setup) for p in found)]
    told = _aligned(rows)
    if max(map(len, told)) <= width:
        return told
    first = [[cell] for cell in rows[0]]
    wide = max(len(cell) for row in rows[1:] for cell in row) + _GAP
    each = max((width - max(map(len, rows[0]))) // wide, 1)
    told = []
    for start in range(1, len(rows), each):
        turned = zip(*rows[start : start + each], strict=True)
        band = [[*head, *cells] for head, cells in zip(first, turned, strict=True)]
        told += [*_aligned(band, wide), ""]
    return told[:-1]


def weeks(found: Sequence[WeekRow], setup: Setup) -> list[str]:
    """Loss a day, measured and by weather, week by week."""
    unit = f"{heads(setup).depth}/day"
    head = [["week", "measured", "by weather"], ["from", unit, unit]]
    return _aligned([*head, *(week_cells(setup, week) for week in found)])


def days(found: Sequence[DayRow], setup: Setup, width: int) -> list[str]:
    """Day by day; events stand behind the numbers or, where that is too narrow, below them."""
    over = heads(setup)
    rows = [["day", "gauge", "rain", "refill"], ["", over.depth, over.depth, over.volume]]
    cells = [day_cells(setup, day) for day in found]
    numbers = _aligned([*rows, *(row[:-1] for row in cells)])
    events = ["", "events", *(row[-1] for row in cells)]
    beside = max(map(len, numbers)) + _GAP
    return [line for pair in zip(numbers, events, strict=True)
            for line in _with_events(*pair, beside, width)]  # fmt: skip


def _with_events(numbers: str, events: str, beside: int, width: int) -> Iterator[str]:
    if width - beside >= _EVENTS:
        first, *rest = broken(events, width - beside) or [""]
        yield f"{numbers:<{beside}}{first}".rstrip()
        yield from (" " * beside + line for line in rest)
    else:
        yield numbers.rstrip()
        yield from broken(events, width, first="  ", indent="  ")


def _aligned(rows: Sequence[Sequence[str]], least: int = 0) -> list[str]:
    """The first column to the left, numbers to the right."""
    columns = list(zip(*rows, strict=True))
    first = max(map(len, columns[0]))
    wide = [max(least, _GAP + max(map(len, column))) for column in columns[1:]]
    return [
        (f"{row[0]:<{first}}"
         + "".join(f"{cell:>{each}}" for cell, each in zip(row[1:], wide, strict=True)))
        for row in rows
    ]  # fmt: skip
