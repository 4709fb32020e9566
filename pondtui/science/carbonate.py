"""Carbon dioxide, hardness and alkalinity."""

from __future__ import annotations

from math import log10

from pondtui.science import weights as w
from pondtui.science.ranges import not_negative, within

MG_PER_MEQ = w.CACO3 / 2  # mg of CaCO3 that hold one milliequivalent
_GRAIN_MG = 64.79891
_CAO = w.CA + w.O

# mg/L as CaCO3 in one of each unit of hardness and alkalinity
CACO3_MG_L: dict[str, float] = {
    "mg/L CaCO3": 1.0,
    "mg/L HCO3": MG_PER_MEQ / w.HCO3,
    "meq/L": MG_PER_MEQ,
    "dH": 10 * w.CACO3 / _CAO,  # German degree: 10 mg/L of CaO
    "eH": _GRAIN_MG / 4.54609,  # English degree: one grain of CaCO3 in an imperial gallon
    "fH": 10.0,  # French degree: 10 mg/L of CaCO3
    "gpg": _GRAIN_MG / 3.785411784,  # one grain of CaCO3 in a US gallon
    "mmol/L": w.CACO3,  # of calcium and magnesium
}


def co2_mg_l(ph: float, temp_c: float, alkalinity_mg_l: float) -> float:
    """Free carbon dioxide from pH and alkalinity, C.

    Source: Plummer & Busenberg (1982), Geochim. Cosmochim. Acta 46:1011-1040, log K1 and log K2;
        ion product of water of Harned & Hamer (1933), from memory.
    Arguments: ph, 5 to 10; temp_c [degC], 0 to 40; alkalinity_mg_l [mg/L as CaCO3] >= 0.
    Returns: C [mg/L CO2].
    Formula: HCO3 = (alk + H - OH) / (1 + 2 K2/H); C = 44.01 x 1000 x HCO3 x H / K1.
    Limits: fresh water, activities taken as concentrations; pH wrong by 0.3 makes the answer wrong
        by a factor of two, so it is a range and advice. The hobby rule 3 x KH x 10^(7 - pH) ignores
        temperature. Raises ValueError outside the ranges and for an alkalinity that cannot hold the
        pH.
    """
    within(ph, 5, 10, "pH")
    within(temp_c, 0, 40, "temperature", "degC")
    not_negative(alkalinity_mg_l, "alkalinity")
    t = temp_c + 273.15
    log_k1 = -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * log10(t) - 1684915 / t**2
    log_k2 = -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * log10(t) - 563713.9 / t**2
    log_kw = -(4470.99 / t - 6.0875 + 0.01706 * t)
    hydrogen = 10**-ph
    alkalinity = alkalinity_mg_l / MG_PER_MEQ / 1000
    carried = alkalinity + hydrogen - 10 ** (log_kw + ph)
    if carried < 0:
        raise ValueError(
            f"alkalinity {alkalinity_mg_l:g} mg/L CaCO3 cannot hold pH {ph:g}: measure one again"
        )
    bicarbonate = carried / (1 + 2 * 10 ** (log_k2 + ph))
    return float(w.CO2 * 1000 * bicarbonate * 10 ** (-ph - log_k1))


def _per_unit(unit: str) -> float:
    if unit not in CACO3_MG_L:
        raise ValueError(f"hardness unit {unit!r} is not known: use {', '.join(CACO3_MG_L)}")
    return CACO3_MG_L[unit]


def to_caco3_mg_l(value: float, unit: str) -> float:
    """Hardness or alkalinity in mg/L as CaCO3.

    Source: definitions of the units; molar masses with IUPAC standard atomic weights (2021).
    Arguments: value >= 0; unit, a key of `CACO3_MG_L`.
    Returns: concentration [mg/L as CaCO3].
    Formula: value x (mg/L as CaCO3 in one unit).
    Limits: degrees of carbonate hardness and of general hardness convert alike and mean different
        things. Raises ValueError for an unknown unit or a negative value.
    """
    not_negative(value, "hardness")
    return value * _per_unit(unit)


def from_caco3_mg_l(caco3_mg_l: float, unit: str) -> float:
    """Hardness or alkalinity in another unit, the inverse of `to_caco3_mg_l`.

    Source: as `to_caco3_mg_l`.
    Arguments: caco3_mg_l [mg/L as CaCO3] >= 0; unit, a key of `CACO3_MG_L`.
    Returns: value [unit].
    Formula: caco3 / (mg/L as CaCO3 in one unit).
    Limits: as `to_caco3_mg_l`. Raises ValueError for an unknown unit or a negative value.
    """
    not_negative(caco3_mg_l, "hardness")
    return caco3_mg_l / _per_unit(unit)


def hardness_of_ions_mg_l(calcium_mg_l: float, magnesium_mg_l: float) -> float:
    """General hardness from a water report's calcium and magnesium, H.

    Source: molar masses with IUPAC standard atomic weights (2021); Standard Methods 2340 B prints
        2.497 Ca + 4.118 Mg (from memory).
    Arguments: calcium_mg_l [mg/L Ca] >= 0; magnesium_mg_l [mg/L Mg] >= 0.
    Returns: H [mg/L as CaCO3].
    Formula: H = M(CaCO3) x (Ca / M(Ca) + Mg / M(Mg)).
    Limits: the ions themselves, not "calcium as CaCO3". Raises ValueError for negative values.
    """
    not_negative(calcium_mg_l, "calcium")
    not_negative(magnesium_mg_l, "magnesium")
    return w.CACO3 * (calcium_mg_l / w.CA + magnesium_mg_l / w.MG)
