"""The weather of the last months as the alarms look at it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from pondtui.pond.daily.times import local_day
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, live_of
from pondtui.pond.state.model import PondState
from pondtui.pond.water.evaporation import DayEvaporation, daily
from pondtui.pond.water.loss import LOSS_DAYS, LossAlarm, alarm_in
from pondtui.pond.water.rained import table_rain
from pondtui.pond.water.runs import Runs, unbroken_runs
from pondtui.pond.water.seasons import midnight
from pondtui.pond.water.weather import WeatherDay
from pondtui.records import NamedTuple


class Climate(NamedTuple):
    """What the weather tables and the journal say of the weather."""

    days: Mapping[date, WeatherDay]
    evaporation: Mapping[date, DayEvaporation]  # open water, without the pond's shelter
    steady: LossAlarm | None  # a loss that does not follow the weather, in two windows
    runs: Runs | None = None  # the readings of the last days, taken apart; None where none floats


def climate(
    setup: Setup,
    state: PondState,
    tables: Mapping[date, WeatherDay],
    entries: Iterable[Entry],
    now: int,
) -> Climate:
    """The weather of the pond at `now`; takes a moment, since the loss is fitted twice."""
    live = live_of(entries)
    last = local_day(setup, now)
    first = last - timedelta(LOSS_DAYS)
    evaporation = daily(setup, tables, live, first, last + timedelta(1))
    steady = runs = None
    if setup.floating(last) is not None:
        rain, since = table_rain(setup, tables), midnight(setup, first)
        runs = unbroken_runs(setup, state, evaporation, since, now, rain)
        steady = alarm_in(setup, runs, now)
    return Climate(_with_hand(tables, live), evaporation, steady, runs)


def _with_hand(tables: Mapping[date, WeatherDay], live: Live) -> dict[date, WeatherDay]:
    """The days of the tables, and over them the temperatures that were noted by hand."""
    days = dict(tables)
    for entry in live.of(("weather",)):
        day = entry.get("day")
        before = days.get(day, WeatherDay(day))
        tmin, tmax = entry.get("tmin"), entry.get("tmax")
        days[day] = before._replace(
            tmin_c=before.tmin_c if tmin is None else tmin,
            tmax_c=before.tmax_c if tmax is None else tmax,
        )
    return days
