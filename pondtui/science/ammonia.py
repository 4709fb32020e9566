"""Ammonia: how much of it is the harmful un-ionised form, and what EPA holds to be too much."""

from __future__ import annotations

from pondtui.records import NamedTuple
from pondtui.science.ranges import not_negative, within

HARM_N_MG_L = 0.05  # un-ionised ammonia as N that may harm fish: UF/IFAS FA16
EMERGENCY_N_MG_L = 0.2  # un-ionised ammonia as N: common practice, no source


class Limits(NamedTuple):
    """Total ammonia that water life bears, as nitrogen [mg/L]."""

    acute_n_mg_l: float  # mean of one hour
    chronic_n_mg_l: float  # mean of thirty days
    four_day_n_mg_l: float  # highest mean of four days within the thirty


def un_ionised_fraction(ph: float, temp_c: float) -> float:
    """Share of total ammonia that is un-ionised (NH3), f.

    Source: Emerson, Russo, Lund & Thurston (1975), J. Fish. Res. Board Can. 32:2379-2383.
    Arguments: ph, 4 to 11; temp_c [degC], 0 to 40.
    Returns: f [fraction], 0 to 1.
    Formula: f = 1 / (1 + 10^(pKa - pH)), pKa = 0.09018 + 2729.92 / T, T = temp + 273.15.
    Limits: fresh water. Emerson's own tables and EPA's take T = temp + 273.2, which is 0.35 %
        higher; the table of UF/IFAS FA16 agrees with 273.15. Raises ValueError outside the ranges.
    """
    within(ph, 4, 11, "pH")
    within(temp_c, 0, 40, "temperature", "degC")
    pka = 0.09018 + 2729.92 / (temp_c + 273.15)
    return float(1 / (1 + 10 ** (pka - ph)))


def total_for_un_ionised_mg_l(un_ionised_mg_l: float, ph: float, temp_c: float) -> float:
    """Total ammonia that holds a given amount of the un-ionised form, TAN.

    Source: the inverse of `un_ionised_fraction`.
    Arguments: un_ionised_mg_l [mg/L] >= 0; ph, 4 to 11; temp_c [degC], 0 to 40.
    Returns: TAN [mg/L], on the same basis as what was given.
    Formula: TAN = un-ionised / f.
    Limits: as `un_ionised_fraction`. Raises ValueError outside the ranges.
    """
    not_negative(un_ionised_mg_l, "un-ionised ammonia")
    return un_ionised_mg_l / un_ionised_fraction(ph, temp_c)


def _sigmoid(low: float, high: float, middle: float, ph: float) -> float:
    """The two-ended fall with pH that all of EPA's ammonia criteria share."""
    return float(low / (1 + 10 ** (middle - ph)) + high / (1 + 10 ** (ph - middle)))


def acute_n_mg_l(
    ph: float, temp_c: float, *, mussels: bool = True, salmonids: bool = True
) -> float:
    """Acute criterion for total ammonia (CMC).

    Source: EPA 822-R-13-001 (2013): criterion statement, and Appendix N for waters without mussels.
    Arguments: ph, 5 to 10; temp_c [degC], 0 to 40; mussels and salmonids present or not.
    Returns: CMC [mg/L total ammonia as N], mean of one hour, unrounded (EPA prints two digits).
    Formula: 0.7249 S1(pH) x min(51.93, A 10^(0.036 (20 - T))), A = 23.12 with mussels, 62.15
        without; with salmonids the lesser of S2(pH) and the same without 51.93;
        S1 = sigmoid(0.0114, 1.6181, 7.204), S2 = sigmoid(0.275, 39.0, 7.204).
    Limits: EPA's tables cover pH 6.5 to 9.0 and 0 to 30 degC; beyond it is extrapolation. The 1999
        criteria differ. Raises ValueError outside the ranges.
    """
    within(ph, 5, 10, "pH")
    within(temp_c, 0, 40, "temperature", "degC")
    shape = 0.7249 * _sigmoid(0.0114, 1.6181, 7.204, ph)
    warm = (23.12 if mussels else 62.15) * 10 ** (0.036 * (20 - temp_c))
    if salmonids:
        return float(min(_sigmoid(0.275, 39.0, 7.204, ph), shape * warm))
    return float(shape * min(51.93, warm))


def chronic_n_mg_l(
    ph: float, temp_c: float, *, mussels: bool = True, early_life: bool = True
) -> float:
    """Chronic criterion for total ammonia (CCC).

    Source: EPA 822-R-13-001 (2013): criterion statement, and Appendix N for waters without mussels.
    Arguments: ph, 5 to 10; temp_c [degC], 0 to 40; mussels present or not; early_life, eggs and fry
        present or not (counts only without mussels).
    Returns: CCC [mg/L total ammonia as N], mean of thirty days, unrounded (EPA prints two digits).
    Formula: with mussels 0.8876 S(pH) x 2.126 x 10^(0.028 (20 - max(T, 7))); without them
        0.9405 S(pH) x min(6.920, 7.547 x 10^(0.028 (20 - T))) with early life, and
        0.9405 S(pH) x 7.547 x 10^(0.028 (20 - max(T, 7))) without;
        S = sigmoid(0.0278, 1.1994, 7.688).
    Limits: as `acute_n_mg_l`. Raises ValueError outside the ranges.
    """
    within(ph, 5, 10, "pH")
    within(temp_c, 0, 40, "temperature", "degC")
    shape = _sigmoid(0.0278, 1.1994, 7.688, ph)
    floored = 10 ** (0.028 * (20 - max(temp_c, 7)))
    if mussels:
        return float(0.8876 * shape * 2.126 * floored)
    if early_life:
        return float(0.9405 * shape * min(6.920, 7.547 * 10 ** (0.028 * (20 - temp_c))))
    return float(0.9405 * shape * 7.547 * floored)


def limits(
    ph: float,
    temp_c: float,
    *,
    mussels: bool = True,
    salmonids: bool = True,
    early_life: bool = True,
) -> Limits:
    """Acute, chronic and four-day criteria for total ammonia together.

    Source: EPA 822-R-13-001 (2013); the four-day mean may not exceed 2.5 times the chronic one.
    Arguments: as `acute_n_mg_l` and `chronic_n_mg_l`.
    Returns: three concentrations [mg/L total ammonia as N].
    Formula: four-day = 2.5 x CCC.
    Limits: EPA prints 4.8 at pH 7 and 20 degC from the rounded 1.9; unrounded it is 4.7. Raises
        ValueError outside the ranges.
    """
    acute = acute_n_mg_l(ph, temp_c, mussels=mussels, salmonids=salmonids)
    chronic = chronic_n_mg_l(ph, temp_c, mussels=mussels, early_life=early_life)
    return Limits(acute, chronic, 2.5 * chronic)
