"""Evaporation from a Class A pan."""

from __future__ import annotations

import math

from pondtui.science.ranges import within

SURROUNDS = ("green", "dry")
# FAO-56 (1998) Table 5. Rows: wind light, moderate, strong, very strong; within each the fetch
# 1, 10, 100, 1000 m; within each the mean humidity low, medium, high.
_TABLE = {
    "green": (
        ((0.55, 0.65, 0.75), (0.65, 0.75, 0.85), (0.70, 0.80, 0.85), (0.75, 0.85, 0.85)),
        ((0.50, 0.60, 0.65), (0.60, 0.70, 0.75), (0.65, 0.75, 0.80), (0.70, 0.80, 0.80)),
        ((0.45, 0.50, 0.60), (0.55, 0.60, 0.65), (0.60, 0.65, 0.70), (0.65, 0.70, 0.75)),
        ((0.40, 0.45, 0.50), (0.45, 0.55, 0.60), (0.50, 0.60, 0.65), (0.55, 0.60, 0.65)),
    ),
    "dry": (
        ((0.70, 0.80, 0.85), (0.60, 0.70, 0.80), (0.55, 0.65, 0.75), (0.50, 0.60, 0.70)),
        ((0.65, 0.75, 0.80), (0.55, 0.65, 0.70), (0.50, 0.60, 0.65), (0.45, 0.55, 0.60)),
        ((0.60, 0.65, 0.70), (0.50, 0.55, 0.65), (0.45, 0.50, 0.60), (0.40, 0.45, 0.55)),
        ((0.50, 0.60, 0.65), (0.45, 0.50, 0.55), (0.40, 0.45, 0.50), (0.35, 0.40, 0.45)),
    ),
}


def coefficient(surround: str, wind_2m_m_s: float, humidity_pct: float, fetch_m: float) -> float:
    """Coefficient Kp of a Class A pan, by formula.

    Source: FAO-56 (1998) Table 7 (regressions by Allen & Pruitt 1991).
    Arguments: surround green (crop, dry land beyond) or dry (fallow, crop beyond); wind_2m_m_s u2
        [m/s], 1 to 8; humidity_pct H [%], mean, 30 to 84; fetch_m F [m] of that surround, 1 to
        1000.
    Returns: Kp [-].
    Formula: green: 0.108 - 0.0286 u + 0.0422 ln F + 0.1434 ln H - 0.000631 (ln F)^2 ln H;
        dry: 0.61 + 0.00341 H - 0.000162 u H - 0.00000959 u F + 0.00327 u ln F
        - 0.00289 u ln(86.4 u) - 0.0106 ln(86.4 u) ln F + 0.00063 (ln F)^2 ln(86.4 u).
    Limits: differs from the table by up to 0.05. ValueError outside the ranges.
    """
    _surround(surround)
    within(wind_2m_m_s, 1, 8, "the wind", "m/s")
    within(humidity_pct, 30, 84, "the mean humidity", "%")
    within(fetch_m, 1, 1000, "the fetch", "m")
    u, h, fetch = wind_2m_m_s, humidity_pct, math.log(fetch_m)
    if surround == "green":
        damp = math.log(h)
        return 0.108 - 0.0286 * u + 0.0422 * fetch + 0.1434 * damp - 0.000631 * fetch**2 * damp
    run = math.log(86.4 * u)
    return (
        0.61
        + 0.00341 * h
        - 0.000162 * u * h
        - 0.00000959 * u * fetch_m
        + 0.00327 * u * fetch
        - 0.00289 * u * run
        - 0.0106 * run * fetch
        + 0.00063 * fetch**2 * run
    )


def table_coefficient(
    surround: str, wind_2m_m_s: float, humidity_pct: float, fetch_m: float
) -> float:
    """Coefficient Kp of a Class A pan, from the table.

    Source: FAO-56 (1998) Table 5.
    Arguments: as for `coefficient`; wind 0 to 150 m/s, humidity 0 to 100 %, fetch 0 to 100,000 m.
    Returns: Kp [-].
    Formula: wind under 2, to 5, to 8, over 8 m/s; humidity under 40, to 70, over 70 %; the fetch of
        1, 10, 100 or 1000 m that is nearest in proportion.
    Limits: bare dry land all around: up to a fifth less. ValueError outside the ranges.
    """
    _surround(surround)
    within(wind_2m_m_s, 0, 150, "the wind", "m/s")
    within(humidity_pct, 0, 100, "the mean humidity", "%")
    within(fetch_m, 0, 100_000, "the fetch", "m")
    wind = 0 if wind_2m_m_s < 2 else sum(wind_2m_m_s > limit for limit in (5, 8)) + 1
    humid = 0 if humidity_pct < 40 else 1 if humidity_pct <= 70 else 2
    far = round(math.log10(min(1000, max(1, fetch_m))))
    return _TABLE[surround][wind][far][humid]


def _surround(surround: str) -> None:
    if surround not in SURROUNDS:
        raise ValueError(f"the surround must be green or dry, not {surround!r}")
