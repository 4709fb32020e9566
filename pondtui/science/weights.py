"""Standard atomic weights, IUPAC (2021) abridged values [g/mol], and what is built from them."""

from __future__ import annotations

H, C, N, O, NA, MG, S, CL, CA = (  # noqa: E741 - the element's own letter
    1.008,
    12.011,
    14.007,
    15.999,
    22.990,
    24.305,
    32.06,
    35.45,
    40.078,
)
WATER = 2 * H + O
CL2 = 2 * CL
O2 = 2 * O
CO2 = C + 2 * O
CACO3 = CA + C + 3 * O
HCO3 = H + C + 3 * O
NAHCO3 = NA + HCO3
NACL = NA + CL
