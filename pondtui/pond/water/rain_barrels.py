"""What rain barrels should hold by now: what is known, and what the roof has brought since."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from pondtui.pond.setup.barrels import full_line_l
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.science.rain import roof_catch_l

WORTH_L = 1.0  # less than this is not worth a look


class RainBarrel(NamedTuple):
    """A rain barrel: `known_l` is from the journal, the rest a guess until somebody dips it."""

    name: str
    known_l: float
    rain_mm: float  # since it was last looked at, filled or drawn from
    caught_l: float  # by the roof, first flush taken off
    expected_l: float  # no more than to its full line
    spilled_l: float  # that found no room

    @property
    def more_l(self) -> float:
        """What should stand in it beyond what is known."""
        return self.expected_l - self.known_l


def rain_barrels(setup: Setup, state: PondState, now: int) -> tuple[RainBarrel, ...]:
    """Every barrel under a roof. Each rain entry counts as one rain with its own first flush."""
    day = datetime.fromtimestamp(now, UTC).astimezone(ZoneInfo(setup.pond.time_zone)).date()
    found = []
    for barrel in setup.barrels_on(day):
        water = state.barrels.get(barrel.name)
        if barrel.source != "rain" or barrel.roof is None or water is None:
            continue
        rains = [mm for instant, mm in state.rain if instant > water.changed]
        roof = barrel.roof
        caught = sum(
            roof_catch_l(roof.area_m2, mm, roof.runoff, roof.first_flush_mm) for mm in rains
        )
        most = max(full_line_l(barrel), water.held_l)
        expected = min(water.held_l + caught, most)
        spilled = water.held_l + caught - expected
        found.append(RainBarrel(barrel.name, water.held_l, sum(rains), caught, expected, spilled))
    return tuple(found)


def worth_a_look(barrel: RainBarrel) -> bool:
    """Whether it should hold so much more that a dip is worth the walk."""
    return barrel.more_l >= WORTH_L
