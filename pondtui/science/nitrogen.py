"""One amount of nitrogen on the bases that test kits and laboratories use."""

from __future__ import annotations

from pondtui.science import weights as w
from pondtui.science.ranges import not_negative

MOLAR_G: dict[str, float] = {
    "N": w.N,
    "NH3": w.N + 3 * w.H,
    "NH4": w.N + 4 * w.H,
    "NO2": w.N + 2 * w.O,
    "NO3": w.N + 3 * w.O,
}


def convert(value_mg_l: float, from_basis: str, to_basis: str) -> float:
    """The same nitrogen on another basis.

    Source: molar masses with IUPAC standard atomic weights (2021).
    Arguments: value_mg_l [mg/L] >= 0; from_basis and to_basis, keys of `MOLAR_G`.
    Returns: concentration [mg/L as to_basis].
    Formula: value x M(to) / M(from).
    Limits: between two ions it is a matter of book-keeping, no reaction: nitrate as NO2 is the
        nitrite it could have been. Raises ValueError for an unknown basis or a negative value.
    """
    not_negative(value_mg_l, "concentration")
    for basis in (from_basis, to_basis):
        if basis not in MOLAR_G:
            raise ValueError(f"basis {basis!r} is not known: use {', '.join(MOLAR_G)}")
    return value_mg_l * (MOLAR_G[to_basis] / MOLAR_G[from_basis])
