"""The invented weather of a sample's season."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from random import Random
from typing import NamedTuple

from pondtui.science import evaporation
from pondtui.science.sun import daylight_h
from pondtui.units import convert
from tests.sample.tale import Climate


class Weather(NamedTuple):
    """One day: temperatures in degC, rain in mm, sunshine in hours, wind in m/s, humidity in %."""

    day: date
    tmin: float
    tmax: float
    rain: float
    sun: float
    wind: float
    humidity: float | None = None


def season(
    rng: Random, climate: Climate, first: date, last: date, latitude: float
) -> Iterator[Weather]:
    """Day after day; warm, wet and windy spells last some days each."""
    spell, wet = 0.0, False
    for number in range((last - first).days + 1):
        day = first + timedelta(number)
        place = day.timetuple().tm_yday
        spell = 0.75 * spell + rng.gauss(0, climate.spell_c)
        wet = rng.random() < climate.wet[wet]
        rain = min(rng.expovariate(1 / climate.rain_mm) + 0.4, climate.most_mm) if wet else 0.0
        if day in climate.fixed or day >= climate.quiet_from or _dry(climate, day):
            rain = climate.fixed.get(day, 0.0)
            wet = rain > 0
        light = rng.uniform(0.05, 0.4) if wet else rng.uniform(*climate.light)
        swing = climate.swing_c * math.sin(2 * math.pi * (place - climate.warmest) / 365)
        mean = climate.mean_c + swing + spell
        half = (5 + 8 * light + rng.uniform(-1, 1)) / 2
        wind = min(max(rng.gauss(climate.wind_m_s + 0.8 * wet, 0.6), 0.4), 6.0)
        yield Weather(
            day,
            round(mean - half, 1),
            round(mean + half, 1),
            round(rain, 1),
            round(light * daylight_h(latitude, place), 1),
            round(wind, 1),
            _humidity(rng, climate, wet),
        )


def _dry(climate: Climate, day: date) -> bool:
    return climate.dry[0] <= day <= climate.dry[1]


def _humidity(rng: Random, climate: Climate, wet: bool) -> float | None:
    usual, more = climate.humidity
    return round(min(rng.gauss(usual + more * wet, 4), 98)) if usual else None


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
            rhmean_pct=weather.humidity,
        )
    ).open_water_mm


def noted(weather: Weather, us: bool) -> dict[str, str]:
    """The day as a person notes it in the journal."""
    if us:
        fields = {"tmin": f"{fahrenheit(weather.tmin):.0f} degF",
                  "tmax": f"{fahrenheit(weather.tmax):.0f} degF",
                  "wind": f"{miles(weather.wind):.0f} mph"}  # fmt: skip
    else:
        fields = {"tmin": f"{weather.tmin} degC", "tmax": f"{weather.tmax} degC",
                  "wind": f"{weather.wind} m/s"}  # fmt: skip
    humidity = {"rhmean": f"{weather.humidity:.0f} %"} if weather.humidity else {}
    return {**fields, **humidity, "sun": f"{weather.sun} h"}


def table(days: Mapping[date, Weather], climate: Climate, us: bool) -> str:
    """The days as a weather table; nothing stands where the station was out."""
    columns = ["date", "low", "high", "rain", "sun", "wind"] if us else [
        "date", "tmin", "tmax", "rain", "sun", "wind"]  # fmt: skip
    if climate.humidity[0]:
        columns.append("humidity")
    rows = [",".join(columns)]
    for day, each in days.items():
        empty = "," * (len(columns) - 2)
        values = empty if day == climate.station_out else _row(each, us)
        rows.append(f"{day},{values}")
    return "\n".join(rows) + "\n"


def _row(each: Weather, us: bool) -> str:
    if not us:
        cells = [f"{v:.1f}" for v in each[1:6]]
    else:
        cells = [f"{fahrenheit(each.tmin):.1f}", f"{fahrenheit(each.tmax):.1f}",
                 f"{each.rain / 25.4:.2f}", f"{each.sun:.1f}",
                 f"{miles(each.wind):.1f}"]  # fmt: skip
    return ",".join([*cells, *([f"{each.humidity:.0f}"] if each.humidity else [])])


def fahrenheit(celsius: float) -> float:
    """The temperature in degF."""
    return convert(celsius, "degC", "degF")


def miles(metres_a_second: float) -> float:
    """The speed in mph."""
    return convert(metres_a_second, "m/s", "mph")
