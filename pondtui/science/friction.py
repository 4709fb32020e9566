"""Friction of water in a pipe or hose, and the viscosity that governs it."""

from __future__ import annotations

import math

from pondtui.science.ranges import not_negative, positive, within

LAMINAR = 2000.0  # Reynolds number below which flow is smooth
TURBULENT = 4000.0  # and above which it is fully mixed


def density_kg_m3(temp_c: float) -> float:
    """Density rho of air-free fresh water at 101.325 kPa.

    Source: Kell (1975) J. Chem. Eng. Data 20:97-105, eq. 16 (coefficients from memory).
    Arguments: temp_c T [degC], 0 to 100.
    Returns: rho [kg/m3].
    Formula: rho = (999.83952 + 16.945176 T - 7.9870401e-3 T^2 - 46.170461e-6 T^3
        + 105.56302e-9 T^4 - 280.54253e-12 T^5) / (1 + 16.879850e-3 T).
    Limits: fresh water; within 0.001 kg/m3. ValueError outside 0 to 100 degC.
    """
    within(temp_c, 0, 100, "the water temperature", "degC")
    t = temp_c
    top = 999.83952 + t * (
        16.945176
        + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12)))
    )
    return top / (1 + 16.879850e-3 * t)


def viscosity_mm2_s(temp_c: float) -> float:
    """Kinematic viscosity nu of fresh water at 101.325 kPa.

    Source: IAPWS SR6-08(2011), supplementary release on water at 0.1 MPa, eq. for viscosity
        (coefficients from memory), over the density of Kell (1975).
    Arguments: temp_c T [degC], 0 to 100.
    Returns: nu [mm2/s]; 1.139 at 15 degC.
    Formula: mu = sum a_i (T/300 K)^b_i [uPa s], a = 280.68, 511.45, 61.131, 0.45903,
        b = -1.9, -7.7, -19.6, -40; nu = mu/rho.
    Limits: within 1 %. ValueError outside 0 to 100 degC.
    """
    reduced = (temp_c + 273.15) / 300
    density = density_kg_m3(temp_c)
    micropascal_s: float = (
        280.68 * reduced**-1.9
        + 511.45 * reduced**-7.7
        + 61.131 * reduced**-19.6
        + 0.45903 * reduced**-40
    )
    return micropascal_s / density


def churchill(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor f for any flow, smooth across the change from laminar to turbulent.

    Source: Churchill (1977) "Friction-factor equation spans all fluid-flow regimes", Chemical
        Engineering 84(24):91-92.
    Arguments: reynolds Re [-] > 0; relative_roughness e/D [-], 0 to 0.05.
    Returns: f [-], Darcy (the Fanning factor is a quarter of it).
    Formula: f = 8 ((8/Re)^12 + (A + B)^-1.5)^(1/12), A = (-2.457 ln((7/Re)^0.9 + 0.27 e/D))^16,
        B = (37530/Re)^16.
    Limits: within about 3 % of Colebrook above Re 4000; between 2000 and 4000 no formula is sure.
        ValueError outside the ranges.
    """
    positive(reynolds, "the Reynolds number")
    within(relative_roughness, 0, 0.05, "the relative roughness")
    if reynolds < 100:  # the other terms are far below the last digit, and would overflow near 0
        return 64 / reynolds
    mixed: float = (-2.457 * math.log((7 / reynolds) ** 0.9 + 0.27 * relative_roughness)) ** 16
    between = (37530 / reynolds) ** 16
    smooth: float = (8 / reynolds) ** 12
    return float(8 * (smooth + (mixed + between) ** -1.5) ** (1 / 12))


def colebrook(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor f of turbulent flow.

    Source: Colebrook (1939) J. Inst. Civ. Eng. 11:133-156, solved by Newton's method.
    Arguments: reynolds Re [-] > 0, meant for 4000 and above; relative_roughness e/D [-], 0 to 0.05.
    Returns: f [-], Darcy.
    Formula: 1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f))).
    Limits: the constant 3.7 is 3.71 in some books (0.1 % apart). ValueError outside the ranges.
    """
    positive(reynolds, "the Reynolds number")
    within(relative_roughness, 0, 0.05, "the relative roughness")
    rough, smooth = relative_roughness / 3.7, 2.51 / reynolds
    x = 1 / math.sqrt(churchill(reynolds, relative_roughness))
    for _ in range(50):
        inside = rough + smooth * x
        miss = x + 2 * math.log10(inside)
        step = miss / (1 + 2 / math.log(10) * smooth / inside)
        x -= step
        if abs(step) < 1e-14 * x:
            break
    return 1 / x**2


def darcy(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor f: laminar, turbulent, or between the two.

    Source: Hagen-Poiseuille below Re 2000; Colebrook (1939) above 4000; Churchill (1977) between.
    Arguments: reynolds Re [-] > 0; relative_roughness e/D [-], 0 to 0.05.
    Returns: f [-], Darcy.
    Formula: f = 64/Re; or 1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f))).
    Limits: between 2000 and 4000 the flow itself is unsteady. ValueError outside the ranges.
    """
    positive(reynolds, "the Reynolds number")
    within(relative_roughness, 0, 0.05, "the relative roughness")
    if reynolds <= LAMINAR:
        return 64 / reynolds
    if reynolds >= TURBULENT:
        return colebrook(reynolds, relative_roughness)
    return churchill(reynolds, relative_roughness)


def head_loss_m(
    friction: float, length_m: float, bore_m: float, velocity_m_s: float, gravity_m_s2: float
) -> float:
    """Head h lost along a straight pipe.

    Source: Darcy-Weisbach equation.
    Arguments: friction f [-] >= 0, Darcy; length_m L [m] >= 0; bore_m D [m] > 0; velocity_m_s v
        [m/s] >= 0; gravity_m_s2 g [m/s2] > 0.
    Returns: h [m of water].
    Formula: h = f L/D v^2/(2 g).
    Limits: full pipe, steady flow. ValueError outside the ranges.
    """
    not_negative(friction, "the friction factor")
    not_negative(length_m, "the length of the pipe")
    positive(bore_m, "the bore")
    not_negative(velocity_m_s, "the velocity")
    positive(gravity_m_s2, "gravity")
    return friction * length_m / bore_m * velocity_m_s**2 / (2 * gravity_m_s2)
