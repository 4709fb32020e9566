"""Amounts to weigh out: salt, bicarbonate, and treatments by parts per million."""

from __future__ import annotations

from pondtui.science import weights as w
from pondtui.science.carbonate import MG_PER_MEQ
from pondtui.science.ranges import not_negative, within

NITRITE_RATIO = 10.0  # mg/L chloride for each mg/L of nitrite (NO2): SRAC 462


def dose_g(volume_l: float, target_mg_l: float, active: float = 1.0) -> float:
    """Mass of a product that brings a volume of water to a concentration, m.

    Source: definition of mg/L; SRAC 410 (Masser & Jensen 1991) tabulates it for other units.
    Arguments: volume_l [L] >= 0; target_mg_l of the active part [mg/L] >= 0; active [fraction],
        above 0 to 1.
    Returns: m [g]; read as mL it is the dose of a liquid in parts per million by volume.
    Formula: m = V x target / 1000 / active.
    Limits: the pond's true water volume, without gravel and mud. Raises ValueError outside the
        ranges.
    """
    not_negative(volume_l, "volume")
    not_negative(target_mg_l, "target")
    if not 0 < active <= 1:
        raise ValueError(f"active part must be above 0 % to 100 %, not {active * 100:g} %")
    return volume_l * target_mg_l / 1000 / active


def salt_for_chloride_g(chloride_rise_mg_l: float, volume_l: float) -> float:
    """Pure salt that raises the chloride of a volume of water, m.

    Source: molar masses with IUPAC standard atomic weights (2021).
    Arguments: chloride_rise_mg_l [mg/L Cl] >= 0; volume_l [L] >= 0.
    Returns: m [g NaCl].
    Formula: m = rise x M(NaCl) / M(Cl) x V / 1000.
    Limits: salt without additives. Raises ValueError for negative values.
    """
    return dose_g(volume_l, chloride_rise_mg_l) * w.NACL / w.CL


def salt_for_nitrite_g(
    nitrite_no2_mg_l: float, chloride_mg_l: float, volume_l: float, ratio: float = NITRITE_RATIO
) -> float:
    """Salt that shields fish from nitrite, m.

    Source: SRAC 462 (Durborow, Crosby & Brunson 1997): chloride at least ten times the nitrite.
    Arguments: nitrite_no2_mg_l [mg/L as NO2] >= 0; chloride_mg_l already there [mg/L Cl] >= 0;
        volume_l [L] >= 0; ratio, chloride to nitrite [1] >= 0.
    Returns: m [g NaCl]; 0 where there is chloride enough.
    Formula: m = max(0, ratio x nitrite - chloride) x M(NaCl) / M(Cl) x V / 1000.
    Limits: nitrite counts as NO2; on the nitrogen basis the same reading is a third of the number.
        Salt does not take the nitrite away. Raises ValueError for negative values.
    """
    not_negative(nitrite_no2_mg_l, "nitrite")
    not_negative(chloride_mg_l, "chloride")
    not_negative(ratio, "ratio")
    return salt_for_chloride_g(max(0.0, ratio * nitrite_no2_mg_l - chloride_mg_l), volume_l)


def salt_for_percent_g(volume_l: float, target: float) -> float:
    """Salt for a strength in percent (weight by volume), m.

    Source: definition: 1 % is 10 g in a litre.
    Arguments: volume_l [L] >= 0; target [fraction], 0 to 0.1.
    Returns: m [g].
    Formula: m = 1000 x V x target.
    Limits: counts from salt-free water; over 10 % it is a brine, not a pond. Raises ValueError
        outside the ranges.
    """
    within(target * 100, 0, 10, "salt strength", "%")
    return dose_g(volume_l, target * 1e6)


def percent_of_salt(salt_g: float, volume_l: float) -> float:
    """Strength of a salt solution, the inverse of `salt_for_percent_g`.

    Source: definition: 1 % is 10 g in a litre.
    Arguments: salt_g [g] >= 0; volume_l [L] > 0.
    Returns: strength [% weight by volume].
    Formula: 100 x m / (1000 x V).
    Limits: none in garden strengths. Raises ValueError for negative values or no water.
    """
    not_negative(salt_g, "salt")
    if not volume_l > 0:
        raise ValueError(f"volume must be above zero, not {volume_l:g}")
    return salt_g / volume_l / 10


def bicarbonate_g(rise_mg_l: float, volume_l: float) -> float:
    """Sodium bicarbonate that raises alkalinity, m.

    Source: molar masses with IUPAC standard atomic weights (2021).
    Arguments: rise_mg_l [mg/L as CaCO3] >= 0; volume_l [L] >= 0.
    Returns: m [g NaHCO3].
    Formula: m = rise x M(NaHCO3) / (M(CaCO3) / 2) x V / 1000.
    Limits: pure, dry bicarbonate (baking soda, not baking powder). Raises ValueError for negative
        values.
    """
    not_negative(rise_mg_l, "rise of alkalinity")
    return dose_g(volume_l, rise_mg_l) * w.NAHCO3 / MG_PER_MEQ
