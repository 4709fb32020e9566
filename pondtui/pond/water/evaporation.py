"""Evaporation and rain of every day, by the best of what is known of its weather.

Open water without shelter: the site factor of the pond is not in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.water.weather import WeatherDay, contradictions, month_days, out_of_range
from pondtui.records import NamedTuple
from pondtui.science.evaporation import Day, of_day

FULL, SUNNY, TEMPERATURE, MEANS = TIERS = (  # the best first
    "full station",
    "radiation",
    "temperature only",
    "monthly means",
)


class DayEvaporation(NamedTuple):
    """What a day takes from open water."""

    mm: float
    tier: str  # one of TIERS
    method: str  # what was measured and what was filled in
    uncertain: bool = False  # smoke or dust: the sun did not reach the water as computed


def daily(
    setup: Setup,
    weather_days: Mapping[date, WeatherDay],
    entries: Iterable[Entry],
    first: date,
    last: date,
) -> dict[date, DayEvaporation]:
    """Open-water evaporation of each day from first to last, both included.

    Of live `entries`, `weather` ones go before the tables and `smoke` marks a day. A day of which
    nothing is known is absent: without temperatures and latitude the month's mean of pond.toml
    counts, and without that there is none.
    """
    noted, smoke = _by_hand(setup, entries)
    days: dict[date, DayEvaporation] = {}
    for number in range((last - first).days + 1):
        day = first + timedelta(number)
        weather = with_hand(weather_days.get(day), noted.get(day), setup.pond.latitude)
        found = _computed(setup, weather) if weather else None
        found = found or _month_mean(setup, day)
        if found:
            days[day] = found._replace(uncertain=found.uncertain or day in smoke)
    return days


def _by_hand(
    setup: Setup, entries: Iterable[Entry]
) -> tuple[dict[date, WeatherDay], frozenset[date]]:
    """Weather that was noted by hand, later entries before earlier ones, and days of smoke."""
    zone = ZoneInfo(setup.pond.time_zone)
    noted: dict[date, WeatherDay] = {}
    smoke: set[date] = set()
    for entry in live_of(entries).of(("weather",), ("event", "smoke")):
        if entry.kind == "weather":
            day = entry.values["day"]
            noted[day] = _noted(entry, noted.get(day, WeatherDay(day)))
        elif entry.get("what") == "smoke":
            smoke.add(datetime.fromtimestamp(entry.instant, UTC).astimezone(zone).date())
    return noted, frozenset(smoke)


def _noted(entry: Entry, before: WeatherDay) -> WeatherDay:
    """The day with what the entry says; values that cannot be are passed over."""
    values = {name: entry.get(name) for name in ("tmin", "tmax", "rhmean", "wind")}
    values["sun"] = entry.get("sun") / 60 if entry.get("sun") is not None else None
    kept = {n: v for n, v in values.items() if v is not None and not out_of_range(n, v)}
    return before._replace(
        tmin_c=kept.get("tmin", before.tmin_c),
        tmax_c=kept.get("tmax", before.tmax_c),
        rhmean=kept.get("rhmean", before.rhmean),
        wind_m_s=kept.get("wind", before.wind_m_s),
        sun_h=kept.get("sun", before.sun_h),
    )


def with_hand(
    table: WeatherDay | None, hand: WeatherDay | None, latitude: float | None
) -> WeatherDay | None:
    """A day of the tables with what was noted by hand, which goes before it.

    A hand's value takes the table's other values of the same thing away: they would win else.
    """
    if hand is None or table is None:
        both = hand or table
        return contradictions(both, latitude)[0] if both else None
    if hand.rhmean is not None:
        table = table._replace(rhmax=None, rhmin=None, tdew_c=None, vapour_kpa=None)
    if hand.sun_h is not None:
        table = table._replace(radiation_mj=None)
    if hand.tmin_c is not None and table.tmax_c is not None and hand.tmin_c > table.tmax_c:
        table = table._replace(tmax_c=None)
    if hand.tmax_c is not None and table.tmin_c is not None and hand.tmax_c < table.tmin_c:
        table = table._replace(tmin_c=None)
    said: dict[str, Any] = {n: v for n, v in hand._asdict().items() if v is not None}
    merged = table._replace(**said)
    return contradictions(merged, latitude)[0]


_of_day = lru_cache(maxsize=2048)(of_day)  # budget, loss and outlook ask for the same days


def _computed(setup: Setup, weather: WeatherDay) -> DayEvaporation | None:
    """By FAO-56 with its own filling; None where temperatures or the latitude lack."""
    if weather.tmax_c is None or weather.tmin_c is None or setup.pond.latitude is None:
        return None
    pair = weather.rhmax is not None and weather.rhmin is not None
    day = Day(
        weather.tmax_c,
        weather.tmin_c,
        setup.pond.latitude,
        weather.day.timetuple().tm_yday,
        setup.pond.elevation_m or 0.0,
        vapour_kpa=weather.vapour_kpa,
        dew_c=weather.tdew_c,
        rhmax_pct=_percent(weather.rhmax),
        rhmin_pct=_percent(weather.rhmin) if pair else None,
        rhmean_pct=_percent(weather.rhmean),
        wind_m_s=weather.wind_m_s,
        wind_height_m=setup.weather.wind_height_m,
        radiation_mj=weather.radiation_mj,
        sun_h=weather.sun_h,
    )
    result = _of_day(day)
    if result.full_station:
        tier = FULL
    else:
        measured = weather.radiation_mj is not None or weather.sun_h is not None
        tier = SUNNY if measured else TEMPERATURE
    return DayEvaporation(result.open_water_mm, tier, result.method)


def _percent(share: float | None) -> float | None:
    return None if share is None else 100 * share


def _month_mean(setup: Setup, day: date) -> DayEvaporation | None:
    """The month's mean of pond.toml, which is of open water already."""
    means = setup.weather.monthly_evaporation_mm
    if len(means) != 12:
        return None
    mm = means[day.month - 1] / month_days(day.year, day.month)
    return DayEvaporation(mm, MEANS, "mean of the month in pond.toml")
