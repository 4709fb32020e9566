"""Weather of days to come: blocks of the same dates of past years, else a hot day again and again.

Evaporation is of open water, without the pond's shelter.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from types import MappingProxyType

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, live_of
from pondtui.pond.water.evaporation import MEANS, DayEvaporation, daily
from pondtui.pond.water.rainfall import Caught, caught_by_hand, rain_by_day
from pondtui.pond.water.weather import WeatherDay, month_days
from pondtui.records import NamedTuple

FEWEST_YEARS = 3  # of the same dates, for a chance to be stated
BLOCK_DAYS = 10  # of one year in a row: hot and wet spells last some days
SHIFT_DAYS = 7  # either way of the date
WHOLE = 0.9  # share of a year's days that must be known
HOT = 0.9  # quantile of the days that are known
HOT_MONTH = 1.3  # a hot fortnight over its month's mean: common practice, no source
RECENT_DAYS = 30

PAST_YEARS, HOT_DAYS, NO_WEATHER = "past years", "hot days", "no weather"


class DayAhead(NamedTuple):
    """One day."""

    evaporated_mm: float
    rain_mm: float


class WeatherAhead(NamedTuple):
    """Where the weather of the days from `first` on comes from."""

    kind: str  # PAST_YEARS, HOT_DAYS or NO_WEATHER
    first: date
    years: tuple[tuple[DayAhead, ...], ...] = ()  # from `first` less SHIFT_DAYS
    hot: tuple[DayAhead, ...] = ()  # where there are too few years
    known: Mapping[date, DayAhead] = MappingProxyType({})  # days that are over
    names: tuple[int, ...] = ()  # the years


def weather_ahead(
    setup: Setup,
    tables: Mapping[date, WeatherDay],
    entries: Iterable[Entry],
    first: date,
    days: int,
    today: date,
) -> WeatherAhead:
    """What to draw the days from `first` on from; days before `today` are taken as they were."""
    entries = live_of(entries)
    caught = caught_by_hand(entries)
    years = {}
    oldest = min(tables).year if tables else today.year
    for year in range(oldest, today.year + 1):
        found = _year(setup, tables, entries, caught, _moved(first, year), days, today)
        if found:
            years[year] = found
    known = _known(
        setup, tables, entries, caught, min(first, today - timedelta(RECENT_DAYS)), today
    )
    past = {day: one for day, one in known.items() if first <= day < today}
    if len(years) >= FEWEST_YEARS:
        return WeatherAhead(PAST_YEARS, first, tuple(years.values()), (), past, tuple(years))
    hot = _hot(setup, [d.evaporated_mm for d in (*known.values(), *_days_of(years))], first, days)
    return WeatherAhead(HOT_DAYS if hot else NO_WEATHER, first, (), hot, past, tuple(years))


def draw(ahead: WeatherAhead, days: int, chance: random.Random) -> list[DayAhead]:
    """So many days from `first` on: known ones as they were, the rest in blocks."""
    found = _drawn(ahead, days, chance)
    for day, one in ahead.known.items():
        place = (day - ahead.first).days
        if 0 <= place < days:
            found[place] = one
    return found


def _drawn(ahead: WeatherAhead, days: int, chance: random.Random) -> list[DayAhead]:
    if ahead.kind == NO_WEATHER:
        return [DayAhead(0.0, 0.0)] * days
    if ahead.kind == HOT_DAYS:
        return list(ahead.hot[:days])
    found: list[DayAhead] = []
    while len(found) < days:
        year = chance.choice(ahead.years)
        start = len(found) + chance.randint(0, 2 * SHIFT_DAYS)
        found += year[start : start + BLOCK_DAYS]
    return found[:days]


def _moved(day: date, year: int) -> date:
    """The same date of another year; the 28th for the 29th of February."""
    return day.replace(year=year, day=min(day.day, month_days(year, day.month)))


def _year(
    setup: Setup,
    tables: Mapping[date, WeatherDay],
    entries: Live,
    caught: Sequence[Caught],
    first: date,
    days: int,
    today: date,
) -> tuple[DayAhead, ...]:
    """The same dates of one year, a week more on either side; empty where too few are known."""
    begin = first - timedelta(SHIFT_DAYS)
    wanted = [begin + timedelta(n) for n in range(days + 2 * SHIFT_DAYS + 1)]
    if wanted[-1] >= today or sum(day in tables for day in wanted) < WHOLE * len(wanted):
        return ()
    known = _known(setup, tables, entries, caught, wanted[0], wanted[-1] + timedelta(1))
    if len(known) < WHOLE * len(wanted):
        return ()
    mean = sum(d.evaporated_mm for d in known.values()) / len(known)
    return tuple(known.get(day, DayAhead(mean, 0.0)) for day in wanted)


def _known(
    setup: Setup,
    tables: Mapping[date, WeatherDay],
    entries: Live,
    caught: Sequence[Caught],
    first: date,
    end: date,
) -> dict[date, DayAhead]:
    """Days whose weather was measured, `end` not among them. No rain known counts as none."""
    last = end - timedelta(1)
    rain = rain_by_day(setup, tables, caught, first, last)
    found = daily(setup, tables, entries, first, last)
    return {
        day: DayAhead(one.mm, rain[day].mm if day in rain else 0.0)
        for day, one in found.items()
        if _measured(one)
    }


def _measured(day: DayEvaporation) -> bool:
    return day.tier != MEANS


def _days_of(years: Mapping[int, tuple[DayAhead, ...]]) -> list[DayAhead]:
    return [day for year in years.values() for day in year]


def _hot(setup: Setup, known: list[float], first: date, days: int) -> tuple[DayAhead, ...]:
    """Every day as hot as one in ten that are known; by the months' means where none is."""
    wanted = [first + timedelta(n) for n in range(days)]
    means = setup.weather.monthly_evaporation_mm
    by_month = [0.0] * days
    if len(means) == 12:
        by_month = [HOT_MONTH * means[d.month - 1] / month_days(d.year, d.month) for d in wanted]
    if not known:
        return tuple(DayAhead(mm, 0.0) for mm in by_month) if any(by_month) else ()
    hot = sorted(known)[min(int(HOT * len(known)), len(known) - 1)]
    return tuple(DayAhead(max(hot, mm), 0.0) for mm in by_month)
