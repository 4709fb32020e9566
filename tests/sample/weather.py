"""The invented weather of the sample's season: plausible for a mild inland place, no real one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from random import Random
from typing import NamedTuple

from pondtui.science import evaporation
from pondtui.science.sun import daylight_h

# Rain that is not left to chance, mm: two storms, and a quiet end of the season.
FIXED = {date(2026, 5, 30): 31.0, date(2026, 8, 22): 54.0, date(2026, 10, 2): 5.2,
         date(2026, 10, 5): 2.4}  # fmt: skip
QUIET_FROM = date(2026, 9, 29)
STATION_OUT = date(2026, 6, 27)  # a gap in the table, noted by hand in the journal


class Weather(NamedTuple):
    """One day: temperatures in degC, rain in mm, sunshine in hours, wind in m/s."""

    day: date
    tmin: float
    tmax: float
    rain: float
    sun: float
    wind: float


def season(rng: Random, first: date, last: date, latitude: float) -> Iterator[Weather]:
    """Day after day; warm, wet and windy spells last some days each."""
    spell, wet = 0.0, False
    for number in range((last - first).days + 1):
        day = first + timedelta(number)
        place = day.timetuple().tm_yday
        spell = 0.75 * spell + rng.gauss(0, 1.8)
        wet = rng.random() < (0.42 if wet else 0.2)
        rain = round(min(rng.expovariate(1 / 5.0) + 0.4, 24.0), 1) if wet else 0.0
        if day in FIXED or day >= QUIET_FROM:
            rain = FIXED.get(day, 0.0)
            wet = rain > 0
        light = rng.uniform(0.05, 0.4) if wet else rng.uniform(0.35, 0.9)
        mean = 10.2 + 8.3 * math.sin(2 * math.pi * (place - 112) / 365) + spell
        half = (5 + 8 * light + rng.uniform(-1, 1)) / 2
        wind = min(max(rng.gauss(1.8 + 0.8 * wet, 0.6), 0.4), 6.0)
        yield Weather(
            day,
            round(mean - half, 1),
            round(mean + half, 1),
            rain,
            round(light * daylight_h(latitude, place), 1),
            round(wind, 1),
        )


def open_water_mm(weather: Weather, latitude: float, elevation_m: float) -> float:
    """Evaporation of open water on that day, without shelter, by the program's own formula."""
    return evaporation.of_day(
        evaporation.Day(
            weather.tmax,
            weather.tmin,
            latitude,
            weather.day.timetuple().tm_yday,
            elevation_m,
            sun_h=weather.sun,
            wind_m_s=weather.wind,
        )
    ).open_water_mm


def noted(weather: Weather) -> dict[str, str]:
    """The day as a person notes it in the journal."""
    return {"tmin": f"{weather.tmin} degC", "tmax": f"{weather.tmax} degC",
            "wind": f"{weather.wind} m/s", "sun": f"{weather.sun} h"}  # fmt: skip


def table(days: Mapping[date, Weather]) -> str:
    """The days as a weather table; nothing stands where the station was out."""
    rows = ["date,tmin,tmax,rain,sun,wind"]
    for day, each in days.items():
        values = "," * 4 if day == STATION_OUT else ",".join(f"{v:.1f}" for v in each[1:])
        rows.append(f"{day},{values}")
    return "\n".join(rows) + "\n"
