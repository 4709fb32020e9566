"""The sun over a pond: radiation, day length, and what reaches and leaves the water."""

from __future__ import annotations

import math
from functools import lru_cache

from pondtui.science.ranges import not_negative, within

STEFAN_BOLTZMANN = 4.903e-9  # MJ/K4/m2/day
GRASS_ALBEDO = 0.23
WATER_ALBEDO = 0.08
POLAR_NIGHT_RATIO = 0.3  # ASCE-EWRI (2005): the least share of clear sky that is counted
GRASS_ZERO_K = 273.16  # 0 degC as FAO-56 prints it in Eq. 39
WATER_ZERO_K = 273.2  # 0 degC as McMahon et al. (2013) print it for open water


@lru_cache(maxsize=400)  # a season asks for the same days at every look
def _sunset(latitude_deg: float, day_of_year: int) -> tuple[float, float, float]:
    """Sunset hour angle [rad] (Eq. 25), sin x sin and cos x cos of latitude and declination."""
    within(latitude_deg, -90, 90, "the latitude", "deg")
    within(day_of_year, 1, 366, "the day of the year")
    latitude = math.radians(latitude_deg)
    declination = 0.409 * math.sin(2 * math.pi / 365 * day_of_year - 1.39)
    steady = math.sin(latitude) * math.sin(declination)
    swing = math.cos(latitude) * math.cos(declination)
    # beyond the polar circles the sun may not set, or not rise
    return math.acos(max(-1.0, min(1.0, -steady / swing))), steady, swing


def extraterrestrial_mj(latitude_deg: float, day_of_year: int) -> float:
    """Extraterrestrial radiation Ra on a level plane.

    Source: FAO-56 (1998) Eq. 21-25.
    Arguments: latitude_deg [deg], -90 to 90, south negative; day_of_year J [-], 1 to 366.
    Returns: Ra [MJ/m2/day]; 0 in the polar night.
    Formula: Ra = 24 60/pi 0.0820 dr (w sin(lat) sin(d) + cos(lat) cos(d) sin(w)),
        dr = 1 + 0.033 cos(2 pi J/365), d = 0.409 sin(2 pi J/365 - 1.39),
        w = acos(-tan(lat) tan(d)).
    Limits: Tables 2.6 print a few months 0.1 higher. ValueError outside the ranges.
    """
    sunset, steady, swing = _sunset(latitude_deg, day_of_year)
    distance = 1 + 0.033 * math.cos(2 * math.pi / 365 * day_of_year)
    level = sunset * steady + swing * math.sin(sunset)
    return max(0.0, 24 * 60 / math.pi * 0.0820 * distance * level)


def daylight_h(latitude_deg: float, day_of_year: int) -> float:
    """Day length N.

    Source: FAO-56 (1998) Eq. 34.
    Arguments: as for `extraterrestrial_mj`.
    Returns: N [h], 0 to 24.
    Formula: N = 24/pi w.
    Limits: centre of the sun, no refraction: minutes shorter than almanacs. ValueError outside the
        ranges.
    """
    return 24 / math.pi * _sunset(latitude_deg, day_of_year)[0]


def share_by_hour(latitude_deg: float, day_of_year: int, solar_hour: float) -> float:
    """Share s of a day's sun that has come by an hour: how a day's evaporation is spread.

    Source: FAO-56 (1998) Eq. 28, hourly extraterrestrial radiation, summed from midnight.
    Arguments: latitude and day as for `extraterrestrial_mj`; solar_hour [h], 0 to 24, noon at 12.
    Returns: s [-], 0 to 1; straight through the day in the polar night.
    Formula: s = (steady (w + a) + swing (sin(w) + sin(a)))/(2 (steady w + swing sin(w))), a the
        hour angle within -w to w.
    Limits: cloudless shape of a day; warm wind at night is not in it. ValueError outside the
        ranges.
    """
    within(solar_hour, 0, 24, "the hour", "h")
    sunset, steady, swing = _sunset(latitude_deg, day_of_year)
    whole = 2 * (sunset * steady + swing * math.sin(sunset))
    if whole <= 1e-9:
        return solar_hour / 24
    angle = max(-sunset, min(sunset, math.pi * (solar_hour - 12) / 12))
    part = steady * (sunset + angle) + swing * (math.sin(sunset) + math.sin(angle))
    return max(0.0, min(1.0, part / whole))


def clear_sky_mj(extraterrestrial_mj: float, elevation_m: float) -> float:
    """Solar radiation Rso of a cloudless day.

    Source: FAO-56 (1998) Eq. 37.
    Arguments: extraterrestrial_mj Ra [MJ/m2/day] >= 0; elevation_m z [m], -450 to 6000.
    Returns: Rso [MJ/m2/day].
    Formula: Rso = (0.75 + 2e-5 z) Ra.
    Limits: clear air. ValueError outside the ranges.
    """
    not_negative(extraterrestrial_mj, "the radiation")
    within(elevation_m, -450, 6000, "the elevation", "m")
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial_mj


def solar_from_sunshine_mj(
    extraterrestrial_mj: float, sun_h: float, daylight_h: float, a: float = 0.25, b: float = 0.50
) -> float:
    """Solar radiation Rs from the hours of sunshine.

    Source: FAO-56 (1998) Eq. 35 (Angstrom).
    Arguments: extraterrestrial_mj Ra [MJ/m2/day] >= 0; sun_h n [h], 0 to N + 0.5 (a recorder may
        run over; more than N counts as N); daylight_h N [h]; a, b [-], Angstrom's values.
    Returns: Rs [MJ/m2/day].
    Formula: Rs = (a + b n/N) Ra.
    Limits: a and b vary with place and season. ValueError outside the ranges.
    """
    not_negative(extraterrestrial_mj, "the radiation")
    within(sun_h, 0, daylight_h + 0.5, "the hours of sunshine", "h")
    if daylight_h == 0:
        return a * extraterrestrial_mj
    return (a + b * min(1.0, sun_h / daylight_h)) * extraterrestrial_mj


def solar_from_temperature_mj(
    extraterrestrial_mj: float,
    tmax_c: float,
    tmin_c: float,
    elevation_m: float,
    coast: bool = False,
) -> float:
    """Solar radiation Rs from the range of temperature in a day.

    Source: FAO-56 (1998) Eq. 50 (Hargreaves).
    Arguments: extraterrestrial_mj Ra [MJ/m2/day] >= 0; tmax_c >= tmin_c [degC]; elevation_m z [m];
        coast True beside a large water.
    Returns: Rs [MJ/m2/day], at most the clear-sky value.
    Formula: Rs = k sqrt(Tmax - Tmin) Ra, k = 0.16 inland, 0.19 at a coast.
    Limits: good over a week, poor for a day; not on islands. ValueError outside the ranges.
    """
    if not tmax_c >= tmin_c:
        raise ValueError(f"tmax, {tmax_c:g} degC, must not be below tmin, {tmin_c:g} degC")
    share = (0.19 if coast else 0.16) * math.sqrt(tmax_c - tmin_c)
    most = clear_sky_mj(extraterrestrial_mj, elevation_m)
    return min(share * extraterrestrial_mj, most)


def net_longwave_mj(
    tmax_c: float,
    tmin_c: float,
    vapour_kpa: float,
    solar_mj: float,
    clear_mj: float,
    zero_k: float = GRASS_ZERO_K,
) -> float:
    """Net longwave radiation Rnl that leaves the surface.

    Source: FAO-56 (1998) Eq. 39.
    Arguments: tmax_c, tmin_c [degC]; vapour_kpa ea [kPa] >= 0; solar_mj Rs, clear_mj Rso
        [MJ/m2/day] >= 0; zero_k [K], 0 degC as the source prints it.
    Returns: Rnl [MJ/m2/day].
    Formula: Rnl = 4.903e-9 (Tmax_K^4 + Tmin_K^4)/2 (0.34 - 0.14 sqrt(ea)) (1.35 Rs/Rso - 0.35).
    Limits: Rs/Rso counts as 1 above 1, and as 0.3 in the polar night. ASCE-EWRI (2005) Eq. 18 takes
        0.3 for all below it; FAO-56 does not, and a very dark day evaporates up to 0.3 mm more by
        it. McMahon et al. (2013) print 273.2 for 273.16: 0.06 %. ValueError outside the ranges.
    """
    not_negative(vapour_kpa, "the vapour pressure")
    not_negative(solar_mj, "the solar radiation")
    not_negative(clear_mj, "the clear-sky radiation")
    ratio = min(1.0, solar_mj / clear_mj) if clear_mj > 0 else POLAR_NIGHT_RATIO
    cloud = 1.35 * ratio - 0.35
    warmth = ((tmax_c + zero_k) ** 4 + (tmin_c + zero_k) ** 4) / 2
    return STEFAN_BOLTZMANN * warmth * (0.34 - 0.14 * math.sqrt(vapour_kpa)) * cloud


def net_radiation_mj(solar_mj: float, longwave_mj: float, albedo: float) -> float:
    """Net radiation Rn that the surface keeps.

    Source: FAO-56 (1998) Eq. 38 and 40; albedo of water 0.08 after McMahon et al. (2013) HESS
        17:1331-1363.
    Arguments: solar_mj Rs [MJ/m2/day] >= 0; longwave_mj Rnl [MJ/m2/day]; albedo [-], 0 to 1 (grass
        0.23, water 0.08).
    Returns: Rn [MJ/m2/day].
    Formula: Rn = (1 - albedo) Rs - Rnl.
    Limits: whole days. ValueError outside the ranges.
    """
    not_negative(solar_mj, "the solar radiation")
    within(albedo, 0, 1, "the albedo")
    return (1 - albedo) * solar_mj - longwave_mj
