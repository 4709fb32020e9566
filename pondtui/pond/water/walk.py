"""From reading to reading: what came into the pond and what left it, day by day.

Between two readings the water that both show is known, and so is what was put in; what no term
explains is the residual of that stretch. Each stretch is cut at midnights, so that any span of
whole days adds up by construction.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.evaporated import Spread
from pondtui.pond.water.evaporation import DayEvaporation
from pondtui.pond.water.held import Held, Switch
from pondtui.pond.water.levels import pond_volume_l
from pondtui.pond.water.rain_spans import DAY_S, Rain
from pondtui.pond.water.seasons import local_day, midnight
from pondtui.pond.water.stretch import Cell, Piece, Rates, Stretch
from pondtui.records import NamedTuple


class Walk(NamedTuple):
    """All days between the first and the last reading."""

    cells: tuple[Cell, ...]
    first: Level
    last: Level


def walk(
    setup: Setup,
    state: PondState,
    levels: Sequence[Level],
    evaporation: Mapping[date, DayEvaporation],
    rains: Sequence[Rain],
    switches: Sequence[Switch],
    rates: Rates,
) -> Walk | None:
    """The days between readings; None with fewer than two. Raises InputError with no floating
    basin."""
    if len(levels) < 2:
        return None
    stretches = _pieces(setup, levels, evaporation, rains, switches)
    held = Held(setup)
    cells: dict[date, Cell] = {}
    before = _volume(setup, levels[0], stretches[0][0].switch, 0.0)
    for (a, b), pieces in zip(pairwise(levels), stretches, strict=True):
        stretch = Stretch(setup, state, a, b, local_day(setup, a.instant), rates)
        for piece in pieces:
            held.pass_by(piece, rates.factor)
        switch = _at(switches, b.instant)
        after = _volume(setup, b, switch, 0.0 if switch.pump_on else held.gained_l)
        stretch.go(pieces, before, after, cells)
        before = after
    return Walk(tuple(cells.values()), levels[0], levels[-1])


def _volume(setup: Setup, level: Level, switch: Switch, gained_l: float) -> float:
    """Litres in the whole pond at a reading; `gained_l` is what basins off the pump took in."""
    return gained_l + pond_volume_l(
        setup, level.reading_mm, local_day(setup, level.instant),
        pump_on=switch.pump_on, gate_shut=switch.gates_shut,
    )  # fmt: skip


def _at(switches: Sequence[Switch], instant: int) -> Switch:
    """How pump and gates stood at an instant, what happened at it included."""
    place = bisect_right(switches, instant, key=lambda s: s.instant) - 1
    return switches[place] if place >= 0 else Switch(0)


def _pieces(
    setup: Setup,
    levels: Sequence[Level],
    evaporation: Mapping[date, DayEvaporation],
    rains: Sequence[Rain],
    switches: Sequence[Switch],
) -> list[list[Piece]]:
    """The pieces of each stretch between two readings."""
    first, last = levels[0].instant, levels[-1].instant
    readings = {level.instant for level in levels}
    cuts = sorted(
        readings
        | set(_midnights(setup, first, last))
        | {s.instant for s in switches if first < s.instant < last}
    )
    spread = Spread(setup, evaporation, cuts)
    fallen = _fallen(cuts, rains)
    found: list[list[Piece]] = []
    for place, (start, end) in enumerate(pairwise(cuts)):
        if start in readings:
            found.append([])
        found[-1].append(
            Piece(
                start, end, local_day(setup, start), (end - start) / DAY_S,
                spread.mm(place, place + 1), local_day(setup, start) in evaporation,
                tuple(fallen[place]), _at(switches, start),
            )
        )  # fmt: skip
    return found


def _midnights(setup: Setup, first: int, last: int) -> Iterable[int]:
    day = local_day(setup, first) + timedelta(1)
    while (at := midnight(setup, day)) < last:
        yield at
        day += timedelta(1)


def _fallen(cuts: Sequence[int], rains: Sequence[Rain]) -> list[list[tuple[Rain, float]]]:
    """The rains of each piece, each with its share that falls there."""
    found: list[list[tuple[Rain, float]]] = [[] for _ in range(len(cuts) - 1)]
    for rain in rains:
        length = rain.until - rain.since
        if length <= 0:
            place = bisect_left(cuts, rain.until) - 1
            if 0 <= place < len(found):
                found[place].append((rain, 1.0))
            continue
        place = max(bisect_right(cuts, rain.since) - 1, 0)
        while place < len(found) and cuts[place] < rain.until:
            share = (min(cuts[place + 1], rain.until) - max(cuts[place], rain.since)) / length
            if share > 0:
                found[place].append((rain, share))
            place += 1
    return found
