"""Oxygen: what fresh water can hold, at the pressure of the place."""

from __future__ import annotations

from math import exp

from pondtui.science.ranges import not_negative, within

STANDARD_KPA = 101.325  # one atmosphere


def station_pressure_kpa(altitude_m: float, sea_level_kpa: float = STANDARD_KPA) -> float:
    """Air pressure at the pond itself, p.

    Source: ICAO standard atmosphere (1993), troposphere.
    Arguments: altitude_m above sea level [m], -500 to 6000; sea_level_kpa, the reading of a weather
        report, which is reduced to sea level [kPa], 85 to 110.
    Returns: p [kPa].
    Formula: p = p0 (1 - 0.0000225577 h)^5.25588.
    Limits: a standard column of air; real ones differ by about 1 %. Raises ValueError outside the
        ranges.
    """
    within(altitude_m, -500, 6000, "altitude", "m")
    within(sea_level_kpa, 85, 110, "sea-level pressure", "kPa")
    return float(sea_level_kpa * (1 - 2.25577e-5 * altitude_m) ** 5.25588)


def saturation_mg_l(temp_c: float, pressure_kpa: float = STANDARD_KPA) -> float:
    """Oxygen in air-saturated fresh water, C.

    Source: Benson & Krause (1984), Limnol. Oceanogr. 29:620-632, and the pressure terms as
        in Standard Methods 4500-O and USGS Office of Water Quality Technical Memorandum 2011.03.
    Arguments: temp_c [degC], 0 to 40; pressure_kpa, station pressure (not reduced to sea level)
        [kPa], 45 to 115.
    Returns: C [mg/L].
    Formula: C = exp(-139.34411 + 157570.1/T - 6.642308e7/T^2 + 1.2438e10/T^3 - 8.621949e11/T^4)
        x (P - u)(1 - theta P) / ((1 - u)(1 - theta)), P in atm, u the water's vapour pressure.
    Limits: fresh water, no salt term. Raises ValueError outside the ranges.
    """
    within(temp_c, 0, 40, "temperature", "degC")
    within(pressure_kpa, 45, 115, "station pressure", "kPa")
    t = temp_c + 273.15
    standard = exp(
        -139.34411 + 1.575701e5 / t - 6.642308e7 / t**2 + 1.243800e10 / t**3 - 8.621949e11 / t**4
    )
    atm = pressure_kpa / STANDARD_KPA
    vapour_atm = exp(11.8571 - 3840.70 / t - 216961 / t**2)
    theta = 0.000975 - 1.426e-5 * temp_c + 6.436e-8 * temp_c**2
    return standard * (atm - vapour_atm) * (1 - theta * atm) / ((1 - vapour_atm) * (1 - theta))


def percent(oxygen_mg_l: float, temp_c: float, pressure_kpa: float = STANDARD_KPA) -> float:
    """Oxygen reading in parts of saturation, S.

    Source: definition, with `saturation_mg_l`.
    Arguments: oxygen_mg_l [mg/L] >= 0; temp_c and pressure_kpa as in `saturation_mg_l`.
    Returns: S [%]; above 100 in sun among plants.
    Formula: S = 100 x oxygen / C.
    Limits: fish need mg/L, not percent. Raises ValueError outside the ranges.
    """
    not_negative(oxygen_mg_l, "oxygen")
    return 100 * oxygen_mg_l / saturation_mg_l(temp_c, pressure_kpa)
