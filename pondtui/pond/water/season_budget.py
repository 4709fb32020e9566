"""The budget of some days beside the same days of the year before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState
from pondtui.pond.water.budget import Budget, budget
from pondtui.pond.water.seasons import local_day, season_of, year_before
from pondtui.pond.water.weather import WeatherDay
from pondtui.records import NamedTuple


class TwoYears(NamedTuple):
    """Both budgets; None for a year before that nobody kept."""

    now: Budget
    before: Budget | None


def with_year_before(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    weather: Mapping[date, WeatherDay],
    first: date,
    last: date,
    *,
    by: str = "month",
) -> TwoYears:
    """The days asked for, both included. Raises InputError where no basin floats."""
    now = budget(setup, state, entries, weather, first, last, by=by)
    past = year_before(first), year_before(last)
    kept = any(past[0] <= local_day(setup, r.instant) <= past[1] for r in state.levels)
    return TwoYears(now, budget(setup, state, entries, weather, *past) if kept else None)


def season_so_far(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    weather: Mapping[date, WeatherDay],
) -> TwoYears:
    """The season that goes on, or the last one, up to now. Raises InputError where no basin
    floats."""
    today = local_day(setup, state.now)
    season = season_of(setup, today)
    last = min(season.last, today)
    return with_year_before(setup, state, entries, weather, season.first, last)
