"""From the journal and the weather tables to the outlook. Nothing of the planner is loaded here: a
look at the pond shall not wait for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from pondtui.pond.away.falling import Falling, TooLittle, falling
from pondtui.pond.away.outlook import Outlook, check_days, outlook, start_day
from pondtui.pond.away.weather_ahead import WeatherAhead, weather_ahead
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState
from pondtui.pond.water.evaporation import daily
from pondtui.pond.water.loss import LOSS_DAYS, of_runs
from pondtui.pond.water.rained import table_rain
from pondtui.pond.water.runs import Runs, unbroken_runs
from pondtui.pond.water.seasons import midnight
from pondtui.pond.water.weather import AROUND, WeatherDay, between


def foretell(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    tables: Mapping[date, WeatherDay],
    days: int,
    *,
    in_short: bool = False,
    runs: Runs | None = None,
) -> Outlook | TooLittle:
    """The level of the next days. `runs`: the readings of the last `LOSS_DAYS`, where they were
    taken apart already. Raises InputError where no basin floats or for wrong days."""
    check_days(days)
    rests = known(setup, state, entries, tables, days, runs)
    return outlook(setup, state, *rests, days, in_short=in_short)


def known(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    tables: Mapping[date, WeatherDay],
    days: int,
    runs: Runs | None = None,
) -> tuple[Falling | TooLittle, WeatherAhead]:
    """How the level falls, and the weather from the day of the last reading on."""
    today = local_time(setup, state.now).date()
    since = today - timedelta(LOSS_DAYS)
    begin = midnight(setup, since)
    if runs is None:
        evaporation = daily(setup, tables, entries, since, today + timedelta(1))
        rain = table_rain(setup, between(tables, since - AROUND, today))
        runs = unbroken_runs(setup, state, evaporation, begin, state.now, rain)
    readings = sum(begin <= r.instant <= state.now for r in state.levels)
    loss = of_runs(setup, runs, readings, in_short=True)
    first = start_day(setup, state, state.now)
    steps = max((today - first).days, 0) + days + 1
    return (
        falling(setup, state, loss),
        weather_ahead(setup, tables, entries, first, steps, today),
    )
