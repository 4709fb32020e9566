"""Back-test: do bands of levels foretold seven days ahead hold what they say, under real weather?

Every station-year is left out of the weather that its forecast knows. The ponds are synthetic.
The figure reached is shown at the end of the run, whatever it is.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta

import pytest

from pondtui.pond.away.falling import falling
from pondtui.pond.away.outlook import Outlook, outlook, start_day
from pondtui.pond.away.weather_ahead import DayAhead
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.evaporation import FULL, DayEvaporation
from pondtui.pond.water.loss import estimate
from tests.pond.away.foretold import other_years
from tests.simulator import LATITUDE, SPILL_MM, YEARS, ZONE, pond
from tests.stations import SOUTH_LATITUDE, SOUTH_YEARS, northern, southern

SEASONS = int(os.environ.get("PONDTUI_FORECASTS", "120"))
READ_DAYS, AHEAD_DAYS = 60, 7
ERROR_MM, DAILY_MM = 2.0, 0.5
Figures = Callable[[str], None]


class Truth:
    """One pond: its readings up to a day, its real course, and what the forecast may know."""

    def __init__(self, seed: int, weather: Mapping[date, DayAhead], year: int, south: bool) -> None:
        chance = random.Random(seed)
        month = chance.choice((12, 1) if south else (6, 7, 8))
        first = date(year, month, 1 + chance.randrange(28)) - timedelta(READ_DAYS)
        self.setup = pond(ERROR_MM)
        latitude = SOUTH_LATITUDE if south else LATITUDE
        self.setup = self.setup._replace(pond=self.setup.pond._replace(latitude=latitude))
        self.factor = chance.uniform(0.6, 1.1)
        self.steady = chance.choice((0.0, 0.0, 1.0, 2.5))
        days = [first + timedelta(n) for n in range(READ_DAYS + AHEAD_DAYS + 1)]
        self.whole = all(day in weather for day in days)
        up, levels, rained = -60.0, [], []
        self.course: dict[date, float] = {}
        for place, day in enumerate(days if self.whole else []):
            self.course[day] = up
            at = int(datetime(day.year, day.month, day.day, 1, tzinfo=ZONE).timestamp())
            if place <= READ_DAYS:
                by = Entry(at, "", "level", {"by": "MO"}, {"by": "MO"})
                levels.append(Level(at, float(round(-up + chance.gauss(0, ERROR_MM))), "on", by))
                before = weather[days[place - 1]].rain_mm if place else 0.0
                rained += [(at + 60, before)] if before else []
            up -= self.factor * weather[day].evaporated_mm + self.steady
            up = min(up + weather[day].rain_mm + chance.gauss(0, DAILY_MM), -SPILL_MM)
        if self.whole:
            self.state = PondState(
                levels[-1].instant + 3600, 0, level=levels[-1], levels=tuple(levels),
                rain=tuple(rained),
            )  # fmt: skip
            self.today = days[READ_DAYS]
            self.computed = {d: DayEvaporation(weather[d].evaporated_mm, FULL, "real")
                             for d in days[: READ_DAYS + 1]}  # fmt: skip

    def foretold(self, weather: Mapping[date, DayAhead]) -> Outlook:
        """What would have been said on the last day of the readings."""
        setup, state = self.setup, self.state
        loss = estimate(setup, state, self.computed, None, None, state.now)
        first = start_day(setup, state, state.now)
        ahead = other_years(weather, first, AHEAD_DAYS + 2, self.today)
        found = outlook(setup, state, falling(setup, state, loss), ahead, AHEAD_DAYS)
        assert isinstance(found, Outlook)
        return found


def held(south: bool, seasons: int) -> tuple[float, int]:
    """Share of ponds whose real level lay within the 80 % band after seven days."""
    weather = southern() if south else northern()
    years = SOUTH_YEARS[1:] if south else YEARS
    within = total = 0
    for seed in range(seasons):
        one = Truth(seed, weather, years[seed % len(years)], south)
        if not one.whole:
            continue
        last = one.foretold(weather).levels[-1]
        truth = -one.course[last.day]
        total += 1
        within += last.p10_mm <= truth <= last.p90_mm
    return within / total, total


@pytest.mark.parametrize("south", [False, True], ids=["north", "south"])
def test_four_bands_in_five_hold_the_level_of_the_seventh_day(
    south: bool, figures: Figures
) -> None:
    share, total = held(south, SEASONS)
    name = "15 southern" if south else f"{len(YEARS)} northern"
    figures(f"80 % bands seven days ahead held {share:.1%} of {total} ponds, {name} station-years")
    assert 0.70 <= share <= 0.90
