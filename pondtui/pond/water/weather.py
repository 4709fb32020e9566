"""A day's weather as values: what can be, and how the hours of a day make one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import fsum
from typing import Any

from pondtui.records import NamedTuple
from pondtui.science.sun import daylight_h

AROUND = timedelta(60)  # about the days looked at: further away no weather has a part in them
SHARE_OF_DAY = 0.9  # of a day's hours that must be there before they speak for it
HOUR_MJ = 130.0  # 1500 W/m2, more than any sun: what an hour's radiation may be as a day's rate
RECORDER_H = 0.5  # a sunshine recorder may run over by so much


class WeatherDay(NamedTuple):
    """Weather of one day; None is what was not measured."""

    day: date
    tmin_c: float | None = None
    tmax_c: float | None = None
    rhmax: float | None = None  # humidities as a share, 0 to 1
    rhmin: float | None = None
    rhmean: float | None = None
    tdew_c: float | None = None
    vapour_kpa: float | None = None
    wind_m_s: float | None = None  # at the height that pond.toml names
    sun_h: float | None = None
    radiation_mj: float | None = None  # MJ/m2 in the day
    rain_mm: float | None = None  # of the rain day that begins on this date


def month_days(year: int, month: int) -> int:
    """Days of a month. (`calendar` knows it too, and loads the locales, which take a look at the
    pond longer than all of its weather.)"""
    return 31 if month == 12 else (date(year, month + 1, 1) - timedelta(1)).day


def between(days: Mapping[date, WeatherDay], first: date, last: date) -> dict[date, WeatherDay]:
    """Those from first to last, both included, without a walk over all the years."""
    wanted = (first + timedelta(number) for number in range((last - first).days + 1))
    return {day: days[day] for day in wanted if day in days}


class Kept(NamedTuple):
    """How a column of a weather table is kept."""

    field: str  # of WeatherDay
    per_canonical: float  # canonical units (of `units`) in one of the field's
    low: float
    high: float
    unit: str  # for messages
    of_hours: str  # how a day is made of its hours: sum, mean, min, max


# Limits lie outside what is measured on earth, but for rain: a garden's gauge holds far less.
KEPT: dict[str, Kept] = {
    "tmin": Kept("tmin_c", 1, -90, 60, "degC", "min"),
    "tmax": Kept("tmax_c", 1, -90, 60, "degC", "max"),
    "rhmax": Kept("rhmax", 1, 0, 1, "of 1", "max"),
    "rhmin": Kept("rhmin", 1, 0, 1, "of 1", "min"),
    "rhmean": Kept("rhmean", 1, 0, 1, "of 1", "mean"),
    "tdew": Kept("tdew_c", 1, -90, 40, "degC", "mean"),
    "vapour_pressure": Kept("vapour_kpa", 1, 0, 10, "kPa", "mean"),
    "wind": Kept("wind_m_s", 1, 0, 60, "m/s", "mean"),
    "sun": Kept("sun_h", 60, 0, 24, "h", "sum"),
    "radiation": Kept("radiation_mj", 1, 0, 50, "MJ/m2", "sum"),
    "rain": Kept("rain_mm", 1, 0, 500, "mm", "sum"),
}
MEANING = {kept.field: name for name, kept in KEPT.items()}


def out_of_range(name: str, value: float, high: float | None = None) -> str:
    """Why a value of that meaning cannot be; "" where it can. `high` replaces a day's limit."""
    kept = KEPT[name] if high is None else KEPT[name]._replace(high=high)
    if kept.low <= value <= kept.high:
        return ""
    if kept.unit == "of 1":
        return f"{name} of {value:.4g} times full humidity cannot be: 0 to 100 %"
    return f"{name} of {value:.6g} {kept.unit} cannot be: {kept.low:g} to {kept.high:g} {kept.unit}"


def contradictions(day: WeatherDay, latitude: float | None) -> tuple[WeatherDay, list[str]]:
    """The day without the values that deny each other, and what they were."""
    said = []
    for low, high in (("tmin_c", "tmax_c"), ("rhmin", "rhmax")):
        least, most = getattr(day, low), getattr(day, high)
        if least is not None and most is not None and least > most:
            said.append(f"{MEANING[low]} is above {MEANING[high]}: both are left out")
            dropped: dict[str, Any] = {low: None, high: None}
            day = day._replace(**dropped)
    if day.tdew_c is not None and day.tmax_c is not None and day.tdew_c > day.tmax_c:
        said.append("the dew point is above tmax: it is left out")
        day = day._replace(tdew_c=None)
    wrong = "" if day.radiation_mj is None else out_of_range("radiation", day.radiation_mj)
    if wrong:
        said.append(f"{wrong}: left out")
        day = day._replace(radiation_mj=None)
    if day.sun_h is not None and latitude is not None:
        light = daylight_h(latitude, day.day.timetuple().tm_yday)
        if day.sun_h > light + RECORDER_H:
            said.append(f"{day.sun_h:.4g} h of sun in a day of {light:.1f} h: they are left out")
            day = day._replace(sun_h=None)
    return day, said


def of_hours(values: Sequence[float], how: str) -> float:
    """One value of a day's values; a sum is exact, so that the order of the rows cannot show."""
    if how == "min":
        return min(values)
    if how == "max":
        return max(values)
    total = fsum(values)
    return total / len(values) if how == "mean" else total
