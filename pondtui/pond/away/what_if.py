"""What a shut gate or a stopped fall would do to the level: at once, and day by day."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.bowl import Bowl
from pondtui.pond.setup.model import Setup
from pondtui.pond.water.levels import draindown_l, pond_volume_l, reading_up
from pondtui.records import NamedTuple


class Change(NamedTuple):
    """One thing that may happen while nobody is there."""

    what: str  # "pump stopped", "gate of NAME shut"
    at_once_mm: float  # rise of the level, negative: fall
    spills_l: float  # of it that goes over the edge
    evaporates: float  # share of the usual evaporation that the level then shows
    moved_l: float = 0.0  # that come to the floating basin, negative: that leave it
    visits: int | None = None  # days with a visit that the plan then needs; None: not planned
    water_l: float | None = None
    keeps: bool | None = None  # whether those keep the promise


def changes(setup: Setup, bowl: Bowl, up: float, day: date) -> tuple[Change, ...]:
    """The pump, where something runs back, and every gate. From the level as it stands."""
    found = []
    usual = bowl.feeds(up)
    back = draindown_l(setup, day)
    if any(basin.held for basin in setup.basins_on(day)):
        found.append(_change(bowl, up, "pump stopped", back, bowl.feeds(up, held=False) / usual))
    for basin in setup.basins_on(day):
        if basin.gate:
            reading = reading_up(setup, up)
            names = frozenset({basin.name})
            taken = pond_volume_l(setup, reading, day, gate_shut=names)
            taken -= pond_volume_l(setup, reading, day)
            # what stands behind the gate stays fed: the pump runs into it till it spills
            found.append(_change(bowl, up, f"gate of {basin.name} shut", -taken, 1.0))
    return tuple(found)


def _change(bowl: Bowl, up: float, what: str, litres: float, evaporates: float) -> Change:
    after = bowl.after(up, litres)
    over = max(bowl.litres(bowl.spill_up, after), 0.0) if after > bowl.spill_up else 0.0
    return Change(what, min(after, bowl.spill_up) - up, over, evaporates, litres)
