"""Mixing two waters: temperature, concentration, how much may be added, how the level moves."""

from __future__ import annotations

import math

from pondtui.science.ranges import not_negative, positive


def mixed(amount_1: float, value_1: float, amount_2: float, value_2: float) -> float:
    """Temperature or concentration x of two waters mixed.

    Source: balance of heat or of mass, as in OpenStax College Physics 2e Example 14.3 and OpenStax
        Chemistry 2e Example 3.19.
    Arguments: amount_1, amount_2 m [L], or mass times specific heat for unlike bodies, >= 0, not
        both 0; value_1, value_2 x [degC or mg/L], finite.
    Returns: x [as the values].
    Formula: x = (m1 x1 + m2 x2)/(m1 + m2).
    Limits: no loss to the air; heat capacity and density taken as equal (within 0.01 degC in
        garden water). ValueError outside the ranges.
    """
    not_negative(amount_1, "the first amount")
    not_negative(amount_2, "the second amount")
    positive(amount_1 + amount_2, "the amounts together")
    for value in (value_1, value_2):
        if not math.isfinite(value):
            raise ValueError(f"the values must be plain numbers, not {value:g}")
    return (amount_1 * value_1 + amount_2 * value_2) / (amount_1 + amount_2)


def largest_addition_l(pond_l: float, pond_c: float, added_c: float, limit_c: float) -> float:
    """Largest volume V that moves the pond's temperature by no more than a limit.

    Source: balance of heat (`mixed`), solved for the added volume.
    Arguments: pond_l P [L] >= 0; pond_c and added_c t [degC], finite; limit_c d [degC] >= 0.
    Returns: V [L]; infinite where the two differ by no more than the limit.
    Formula: V = P d/(|t_added - t_pond| - d).
    Limits: mixes at once and fully; near the inlet it is colder or warmer than that. ValueError
        outside the ranges.
    """
    not_negative(pond_l, "the pond's volume")
    not_negative(limit_c, "the limit")
    difference = abs(added_c - pond_c)
    if not math.isfinite(difference):
        raise ValueError("the temperatures must be plain numbers")
    if difference <= limit_c:
        return math.inf
    return pond_l * limit_c / (difference - limit_c)


def tempering_time_min(change_c: float, limit_c: float, per_min: float) -> float:
    """Shortest time t over which a change of temperature should be spread.

    Source: proportion; limits of stocking advice (LSU AgCenter: about 5 degF down or 7-8 degF up
        per half hour).
    Arguments: change_c d [degC], any sign; limit_c [degC] > 0 allowed in per_min [min] > 0.
    Returns: t [min].
    Formula: t = |d|/limit x per.
    Limits: an even change. ValueError outside the ranges.
    """
    positive(limit_c, "the limit")
    positive(per_min, "the time of the limit")
    if not math.isfinite(change_c):
        raise ValueError("the change must be a plain number")
    return abs(change_c) / limit_c * per_min


def rise_mm(volume_l: float, area_m2: float) -> float:
    """Rise (or fall) d of the level when a volume is added (or lost).

    Source: exact by definition: 1 mm over 1 m2 is 1 L.
    Arguments: volume_l V [L], any sign; area_m2 A [m2] > 0.
    Returns: d [mm].
    Formula: d = V/A.
    Limits: small against the depth; for more, `basins.drop_after_l`. ValueError outside the ranges.
    """
    positive(area_m2, "the area")
    return volume_l / area_m2


def water_mass_kg(volume_l: float) -> float:
    """Mass m of fresh water.

    Source: density of water, Kell (1975): 0.999972 kg/L at 4 degC, taken as 1.
    Arguments: volume_l V [L] >= 0.
    Returns: m [kg].
    Formula: m = V x 1 kg/L.
    Limits: 0.5 % high at 30 degC; add the vessel's own mass. ValueError for a negative volume.
    """
    not_negative(volume_l, "the volume")
    return volume_l
