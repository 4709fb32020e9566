"""Air pressure and the water vapour in the air."""

from __future__ import annotations

import math

from pondtui.science.ranges import not_negative, within


def pressure_kpa(elevation_m: float) -> float:
    """Air pressure P at an elevation.

    Source: FAO-56 (1998) Eq. 7.
    Arguments: elevation_m z [m], -450 to 6000.
    Returns: P [kPa].
    Formula: P = 101.3 ((293 - 0.0065 z)/293)^5.26.
    Limits: mean pressure at 20 degC. ValueError outside the range.
    """
    within(elevation_m, -450, 6000, "the elevation", "m")
    pressure: float = ((293 - 0.0065 * elevation_m) / 293) ** 5.26
    return 101.3 * pressure


def psychrometric_kpa_c(pressure_kpa: float) -> float:
    """Psychrometric constant gamma.

    Source: FAO-56 (1998) Eq. 8.
    Arguments: pressure_kpa P [kPa] >= 0.
    Returns: gamma [kPa/degC].
    Formula: gamma = 0.665e-3 P.
    Limits: latent heat taken as 2.45 MJ/kg. ValueError for a negative pressure.
    """
    not_negative(pressure_kpa, "the pressure")
    return 0.665e-3 * pressure_kpa


def saturation_kpa(temp_c: float) -> float:
    """Saturation vapour pressure e0 over water.

    Source: FAO-56 (1998) Eq. 11 (Tetens).
    Arguments: temp_c T [degC], -90 to 100.
    Returns: e0 [kPa].
    Formula: e0 = 0.6108 exp(17.27 T/(T + 237.3)).
    Limits: over water, also below 0 degC. ValueError outside the range.
    """
    within(temp_c, -90, 100, "the temperature", "degC")
    return 0.6108 * math.exp(17.27 * temp_c / (temp_c + 237.3))


def mean_saturation_kpa(tmax_c: float, tmin_c: float) -> float:
    """Saturation vapour pressure es of a day.

    Source: FAO-56 (1998) Eq. 12.
    Arguments: tmax_c, tmin_c [degC], -90 to 100.
    Returns: es [kPa].
    Formula: es = (e0(Tmax) + e0(Tmin))/2.
    Limits: never at the mean temperature, which gives too little. ValueError outside the range.
    """
    return (saturation_kpa(tmax_c) + saturation_kpa(tmin_c)) / 2


def slope_kpa_c(temp_c: float) -> float:
    """Slope Delta of the saturation curve.

    Source: FAO-56 (1998) Eq. 13.
    Arguments: temp_c T [degC], -90 to 100; the day's mean.
    Returns: Delta [kPa/degC].
    Formula: Delta = 4098 e0(T)/(T + 237.3)^2.
    Limits: as for `saturation_kpa`. ValueError outside the range.
    """
    return 4098 * saturation_kpa(temp_c) / (temp_c + 237.3) ** 2


def from_psychrometer_kpa(dry_c: float, wet_c: float, pressure_kpa: float) -> float:
    """Vapour pressure ea from a dry and a wet bulb.

    Source: FAO-56 (1998) Eq. 15-16, ventilated instrument.
    Arguments: dry_c >= wet_c [degC]; pressure_kpa P [kPa] >= 0.
    Returns: ea [kPa], 0 or more.
    Formula: ea = e0(Twet) - 0.000662 P (Tdry - Twet).
    Limits: 0.0008 for one ventilated by wind, 0.0012 indoors. ValueError outside the ranges.
    """
    if not dry_c >= wet_c:
        raise ValueError(f"the wet bulb, {wet_c:g} degC, cannot be above the dry, {dry_c:g} degC")
    not_negative(pressure_kpa, "the pressure")
    return max(0.0, saturation_kpa(wet_c) - 0.000662 * pressure_kpa * (dry_c - wet_c))


def from_extremes_kpa(tmax_c: float, tmin_c: float, rhmax_pct: float, rhmin_pct: float) -> float:
    """Vapour pressure ea from the largest and the least relative humidity of a day.

    Source: FAO-56 (1998) Eq. 17.
    Arguments: tmax_c, tmin_c [degC]; rhmax_pct >= rhmin_pct [%], 0 to 100.
    Returns: ea [kPa].
    Formula: ea = (e0(Tmin) RHmax + e0(Tmax) RHmin)/200.
    Limits: the best of the humidity formulas. ValueError outside the ranges.
    """
    within(rhmax_pct, 0, 100, "the largest humidity", "%")
    within(rhmin_pct, 0, rhmax_pct, "the least humidity", "%")
    return (saturation_kpa(tmin_c) * rhmax_pct + saturation_kpa(tmax_c) * rhmin_pct) / 200


def from_largest_kpa(tmin_c: float, rhmax_pct: float) -> float:
    """Vapour pressure ea from the largest relative humidity alone.

    Source: FAO-56 (1998) Eq. 18.
    Arguments: tmin_c [degC]; rhmax_pct [%], 0 to 100.
    Returns: ea [kPa].
    Formula: ea = e0(Tmin) RHmax/100.
    Limits: for instruments whose low readings are poor. ValueError outside the ranges.
    """
    within(rhmax_pct, 0, 100, "the largest humidity", "%")
    return saturation_kpa(tmin_c) * rhmax_pct / 100


def from_mean_kpa(tmax_c: float, tmin_c: float, rhmean_pct: float) -> float:
    """Vapour pressure ea from the mean relative humidity.

    Source: FAO-56 (1998) Eq. 19.
    Arguments: tmax_c, tmin_c [degC]; rhmean_pct [%], 0 to 100.
    Returns: ea [kPa].
    Formula: ea = RHmean/100 (e0(Tmax) + e0(Tmin))/2.
    Limits: less good than Eq. 17. ValueError outside the ranges.
    """
    within(rhmean_pct, 0, 100, "the mean humidity", "%")
    return rhmean_pct / 100 * mean_saturation_kpa(tmax_c, tmin_c)
