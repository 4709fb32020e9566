"""Evaporation of a day from whatever weather there is.

One method serves every level of data: FAO-56 Penman-Monteith, with FAO-56's own ways of filling
what was not measured. Grass evaporation times 1.05 stands for open water under 2 m deep.
"""

from __future__ import annotations

import math

from pondtui.records import NamedTuple
from pondtui.science import sun, vapour
from pondtui.science.ranges import within

SHALLOW_WATER = 1.05  # FAO-56 Table 12, open water under 2 m deep
LEAST_WIND_M_S = 0.5  # FAO-56 p. 63: below it the formula says too little
USUAL_WIND_M_S = 2.0  # FAO-56 p. 63: where none was measured
LATENT = 0.408  # mm of water per MJ/m2


class Day(NamedTuple):
    """Weather of one day; None is what was not measured."""

    tmax_c: float
    tmin_c: float
    latitude_deg: float  # south negative
    day_of_year: int  # 1 to 366
    elevation_m: float = 0.0
    vapour_kpa: float | None = None
    dew_c: float | None = None
    dry_c: float | None = None  # with wet_c
    wet_c: float | None = None
    rhmax_pct: float | None = None
    rhmin_pct: float | None = None  # with rhmax_pct
    rhmean_pct: float | None = None
    wind_m_s: float | None = None
    wind_height_m: float = 2.0
    radiation_mj: float | None = None
    sun_h: float | None = None
    coast: bool = False


class Evaporation(NamedTuple):
    """What a day's weather takes, and the values on the way there."""

    reference_mm: float  # short grass
    open_water_mm: float  # shallow open water, without shelter
    penman_mm: float | None  # upper estimate, only with a full station
    net_radiation_mj: float  # of grass
    water_net_radiation_mj: float
    solar_mj: float
    wind_2m_m_s: float
    extraterrestrial_mj: float
    daylight_h: float
    vapour_kpa: float
    method: str
    full_station: bool  # radiation or sunshine, humidity and wind were all measured


def wind_at_2m_m_s(wind_m_s: float, height_m: float) -> float:
    """Wind speed u2 at 2 m from the wind at another height.

    Source: FAO-56 (1998) Eq. 47.
    Arguments: wind_m_s u [m/s], 0 to 150; height_m z [m], 0.2 to 200.
    Returns: u2 [m/s].
    Formula: u2 = u 4.87/ln(67.8 z - 5.42).
    Limits: over short grass. ValueError outside the ranges.
    """
    within(wind_m_s, 0, 150, "the wind", "m/s")
    within(height_m, 0.2, 200, "the height of the wind", "m")
    if height_m == 2:
        return wind_m_s
    return wind_m_s * 4.87 / math.log(67.8 * height_m - 5.42)


def penman_monteith_mm(
    tmax_c: float,
    tmin_c: float,
    net_radiation_mj: float,
    vapour_kpa: float,
    wind_2m_m_s: float,
    pressure_kpa: float,
    ground_heat_mj: float = 0.0,
) -> float:
    """Reference evaporation ETo of short grass.

    Source: FAO-56 (1998) Eq. 6.
    Arguments: tmax_c, tmin_c [degC]; net_radiation_mj Rn [MJ/m2/day]; vapour_kpa ea [kPa];
        wind_2m_m_s u2 [m/s]; pressure_kpa P [kPa]; ground_heat_mj G [MJ/m2/day], 0 for a day.
    Returns: ETo [mm/day]; negative means dew.
    Formula: ETo = (0.408 D (Rn - G) + g 900/(T + 273) u2 (es - ea)) / (D + g (1 + 0.34 u2)).
    Limits: whole days. Some prints have 273.16 for 273. ValueError for temperatures outside -90 to
        100 degC.
    """
    mean = (tmax_c + tmin_c) / 2
    slope = vapour.slope_kpa_c(mean)
    gamma = vapour.psychrometric_kpa_c(pressure_kpa)
    deficit = max(0.0, vapour.mean_saturation_kpa(tmax_c, tmin_c) - vapour_kpa)
    radiation = LATENT * slope * (net_radiation_mj - ground_heat_mj)
    drying = gamma * 900 / (mean + 273) * wind_2m_m_s * deficit
    return (radiation + drying) / (slope + gamma * (1 + 0.34 * wind_2m_m_s))


def penman_open_water_mm(
    tmax_c: float,
    tmin_c: float,
    water_net_radiation_mj: float,
    vapour_kpa: float,
    wind_2m_m_s: float,
    pressure_kpa: float,
) -> float:
    """Evaporation E of open water after Penman.

    Source: Penman (1956) as in McMahon et al. (2013) HESS 17:1331-1363, Eq. 12 and supplement S4.
    Arguments: as for `penman_monteith_mm`, Rn with the albedo of water, 0.08.
    Returns: E [mm/day]; negative means dew.
    Formula: E = (D Rn 0.408 + g (1.313 + 1.381 u2) (es - ea)) / (D + g).
    Limits: no heat stored in the water; an upper estimate for a sheltered pond. Penman (1948) has
        the wind function 2.626 + 1.381 u2. ValueError as for `penman_monteith_mm`.
    """
    slope = vapour.slope_kpa_c((tmax_c + tmin_c) / 2)
    gamma = vapour.psychrometric_kpa_c(pressure_kpa)
    deficit = max(0.0, vapour.mean_saturation_kpa(tmax_c, tmin_c) - vapour_kpa)
    drying = gamma * (1.313 + 1.381 * wind_2m_m_s) * deficit
    return (slope * LATENT * water_net_radiation_mj + drying) / (slope + gamma)


def hargreaves_mm(tmax_c: float, tmin_c: float, extraterrestrial_mj: float) -> float:
    """Reference evaporation ETo from temperatures alone.

    Source: Hargreaves & Samani (1985), FAO-56 (1998) Eq. 52.
    Arguments: tmax_c >= tmin_c [degC]; extraterrestrial_mj Ra [MJ/m2/day] >= 0.
    Returns: ETo [mm/day], 0 or more.
    Formula: ETo = 0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) 0.408 Ra.
    Limits: weeks, not days; too much in humid, too little in windy places. McMahon et al. (2013)
        let the coefficient vary with the range, which gives other numbers. ValueError for
        tmax below tmin.
    """
    if not tmax_c >= tmin_c:
        raise ValueError(f"tmax, {tmax_c:g} degC, must not be below tmin, {tmin_c:g} degC")
    mean = (tmax_c + tmin_c) / 2
    warmth = 0.0023 * (mean + 17.8) * math.sqrt(tmax_c - tmin_c)
    return max(0.0, warmth * LATENT * extraterrestrial_mj)


def of_day(day: Day) -> Evaporation:
    """Evaporation of a day, what was not measured filled in.

    Source: FAO-56 (1998) Eq. 6 with chapter 3's filling: radiation Eq. 50, dew point = Tmin,
        wind 2 m/s; open water Table 12; Penman (1956) beside it.
    Arguments: day, temperatures -90 to 60 degC, latitude -90 to 90 deg.
    Returns: reference, open water and Penman evaporation [mm/day], 0 or more, and the values on the
        way; `method` says what was measured and what was filled in.
    Formula: open water = 1.05 ETo.
    Limits: with temperatures alone good to 0.4-0.5 mm a day: weeks, not days. Dew counts as 0.
        ValueError for values outside the ranges or that do not go together.
    """
    if not day.tmax_c >= day.tmin_c:
        raise ValueError(f"tmax, {day.tmax_c:g} degC, must not be below tmin, {day.tmin_c:g} degC")
    within(day.tmax_c, -90, 60, "tmax", "degC")
    within(day.tmin_c, -90, 60, "tmin", "degC")
    pressure = vapour.pressure_kpa(day.elevation_m)
    above = sun.extraterrestrial_mj(day.latitude_deg, day.day_of_year)
    light = sun.daylight_h(day.latitude_deg, day.day_of_year)
    solar, solar_from = _solar(day, above, light)
    humid, humid_from = _vapour(day, pressure)
    wind = USUAL_WIND_M_S
    if day.wind_m_s is not None:
        wind = max(LEAST_WIND_M_S, wind_at_2m_m_s(day.wind_m_s, day.wind_height_m))
    clear = sun.clear_sky_mj(above, day.elevation_m)
    sky = (day.tmax_c, day.tmin_c, humid, solar, clear)
    grass = sun.net_radiation_mj(solar, sun.net_longwave_mj(*sky), sun.GRASS_ALBEDO)
    lost = sun.net_longwave_mj(*sky, sun.WATER_ZERO_K)
    water = sun.net_radiation_mj(solar, lost, sun.WATER_ALBEDO)
    air = (humid, wind, pressure)
    reference = max(0.0, penman_monteith_mm(day.tmax_c, day.tmin_c, grass, *air))
    measured = (day.radiation_mj, day.sun_h) != (None, None) and day.wind_m_s is not None
    full = measured and humid_from != _DRY_GUESS
    penman = max(0.0, penman_open_water_mm(day.tmax_c, day.tmin_c, water, *air)) if full else None
    wind_from = "wind 2 m/s taken" if day.wind_m_s is None else "wind measured"
    method = f"FAO-56 Penman-Monteith; {solar_from}; {humid_from}; {wind_from}"
    return Evaporation(
        reference, SHALLOW_WATER * reference, penman, grass, water, solar, wind, above, light,
        humid, method, full,
    )  # fmt: skip


_DRY_GUESS = "humidity from tmin"


def _solar(day: Day, above_mj: float, light_h: float) -> tuple[float, str]:
    """Solar radiation, and where it comes from."""
    if day.radiation_mj is not None:
        within(day.radiation_mj, 0, 60, "the radiation", "MJ/m2/day")
        return day.radiation_mj, "radiation measured"
    if day.sun_h is not None:
        solar = sun.solar_from_sunshine_mj(above_mj, day.sun_h, light_h)
        return solar, "radiation from sunshine"
    solar = sun.solar_from_temperature_mj(
        above_mj, day.tmax_c, day.tmin_c, day.elevation_m, day.coast
    )
    return solar, "radiation from temperatures"


def _vapour(day: Day, pressure_kpa: float) -> tuple[float, str]:
    """Vapour pressure by the best of what was measured, and where it comes from."""
    tmax, tmin = day.tmax_c, day.tmin_c
    if day.vapour_kpa is not None:
        within(day.vapour_kpa, 0, 10, "the vapour pressure", "kPa")
        return day.vapour_kpa, "humidity from vapour pressure"
    if day.dew_c is not None:
        return vapour.saturation_kpa(day.dew_c), "humidity from dew point"
    if (day.dry_c is None) != (day.wet_c is None):
        raise ValueError("a dry bulb and a wet bulb are needed together")
    if day.dry_c is not None and day.wet_c is not None:
        bulbs = vapour.from_psychrometer_kpa(day.dry_c, day.wet_c, pressure_kpa)
        return bulbs, "humidity from dry and wet bulb"
    if day.rhmax_pct is not None and day.rhmin_pct is not None:
        extremes = vapour.from_extremes_kpa(tmax, tmin, day.rhmax_pct, day.rhmin_pct)
        return extremes, "humidity from rhmax and rhmin"
    if day.rhmean_pct is not None:
        return vapour.from_mean_kpa(tmax, tmin, day.rhmean_pct), "humidity from rhmean"
    if day.rhmax_pct is not None:
        return vapour.from_largest_kpa(tmin, day.rhmax_pct), "humidity from rhmax"
    if day.rhmin_pct is not None:
        raise ValueError("the least humidity needs the largest beside it")
    return vapour.saturation_kpa(tmin), _DRY_GUESS
