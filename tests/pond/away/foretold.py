"""Ponds whose weather is known, for outlook and plan: built of real years, without tables on disk.

The truth of a year is hidden from the forecast: it knows that year up to a day, and the others.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from pondtui.pond.away.weather_ahead import (
    PAST_YEARS,
    SHIFT_DAYS,
    DayAhead,
    WeatherAhead,
)


def other_years(
    weather: Mapping[date, DayAhead], first: date, days: int, today: date
) -> WeatherAhead:
    """The same dates of every other year, as `weather_ahead` would find them in tables."""
    years, names = [], []
    for year in sorted({day.year for day in weather}):
        begin = first.replace(year=year, day=min(first.day, 28)) - timedelta(SHIFT_DAYS)
        wanted = [begin + timedelta(n) for n in range(days + 2 * SHIFT_DAYS + 1)]
        if year != first.year and all(day in weather for day in wanted):
            years.append(tuple(weather[day] for day in wanted))
            names.append(year)
    known = {d: one for d, one in weather.items() if first <= d < today}
    return WeatherAhead(PAST_YEARS, first, tuple(years), (), known, tuple(names))
