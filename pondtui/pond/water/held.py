"""Basins that stand at a spill edge: when the pump and the gates let them, and when not."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Protocol

from pondtui.pond.setup.model import Basin, Setup
from pondtui.pond.setup.shapes import area_at_edge_m2
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, live_of
from pondtui.pond.water.levels import draindown_l
from pondtui.records import NamedTuple


class Switch(NamedTuple):
    """How pump and gates stand from an instant on."""

    instant: int
    pump_on: bool = True
    gates_shut: frozenset[str] = frozenset()


class Passing(Protocol):
    """What is asked of a stretch of time."""

    @property
    def day(self) -> date: ...
    @property
    def evaporation_mm(self) -> float: ...
    @property
    def rain_mm(self) -> float: ...
    @property
    def switch(self) -> Switch: ...


def switches(setup: Setup, entries: Iterable[Entry], since: int, until: int) -> list[Switch]:
    """Every change of pump and gates that counts between two instants, oldest first; `entries` are
    the live ones in order.

    A gate event names its basin in `kind`; one that names none speaks of every gate.
    """
    gates = frozenset(basin.name for basin in setup.basins if basin.gate)
    live = live_of(entries)
    found: list[Switch] = []
    now = Switch(0)
    events = live.of(("event",), until=until)  # from the first on: a gate stays shut for years
    for entry in sorted([*events, *_read(live, since, until)], key=lambda e: e.order):
        told = _told(entry, now, gates)
        if told[1:] != now[1:]:
            now = told
            found.append(now)
    return found


def _read(live: Live, since: int, until: int) -> list[Entry]:
    """The readings of the time, and those before it as far back as one that tells of the pump."""
    found = []
    for entry in live.backwards(("level",), until):
        found.append(entry)
        if entry.instant < since and entry.get("pump") in ("on", "off"):
            break
    return found


def _told(entry: Entry, now: Switch, gates: frozenset[str]) -> Switch:
    """How they stand after an entry."""
    if entry.kind == "level":
        if entry.get("pump") == ("off" if now.pump_on else "on"):
            return now._replace(instant=entry.instant, pump_on=not now.pump_on)
        return now
    what = str(entry.get("what"))
    if what in ("pump-on", "pump-off"):
        return now._replace(instant=entry.instant, pump_on=what == "pump-on")
    if what in ("gate-shut", "gate-open"):
        named = frozenset((str(entry.get("kind")),)) & gates or gates
        shut = now.gates_shut | named if what == "gate-shut" else now.gates_shut - named
        return now._replace(instant=entry.instant, gates_shut=shut)
    return now


class Held:
    """The water of the held basins while no pump fills them up: they lose and catch their own."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self.gained_l = 0.0  # since the pump stopped, beside what ran back then

    def pass_by(self, piece: Passing, factor: float) -> None:
        """A stretch of time goes by; a basin that is full again runs over into the pond."""
        if piece.switch.pump_on:
            self.gained_l = 0.0
            return
        area = sum(area_at_edge_m2(b) for b in self._basins(piece.day))
        gained = self.gained_l + (piece.rain_mm - factor * piece.evaporation_mm) * area
        self.gained_l = min(gained, draindown_l(self.setup, piece.day, piece.switch.gates_shut))

    def _basins(self, day: date) -> list[Basin]:
        return [basin for basin in self.setup.basins_on(day) if basin.held]
