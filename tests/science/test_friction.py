"""Pipe friction and viscosity against published values and the fluids library."""

from __future__ import annotations

import math

import pytest
from fluids.friction import Churchill_1977, Colebrook
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science import friction

QUICK = settings(max_examples=100, deadline=None)


def test_colebrook_meets_the_value_of_a_tested_library() -> None:
    # fluids, tests/test_friction.py (C. Bell)
    assert friction.colebrook(1e5, 1e-4) == pytest.approx(0.018513866077471648, abs=1e-9)


def test_colebrook_meets_crane() -> None:
    # Crane TP-410M Example 7.1: 50 mm smooth plastic, Re 100,600, f 0.0179
    assert friction.colebrook(100_600, 0) == pytest.approx(0.0179, abs=3e-4)


def cengel() -> tuple[float, float]:
    """Velocity and friction factor of the pipe of Cengel & Cimbala Example 8-3."""
    velocity = 0.006 / (math.pi * 0.05**2 / 4)
    return velocity, friction.darcy(velocity * 0.05 / (0.001138 / 999), 2e-6 / 0.05)


def test_a_steel_pipe_has_its_textbook_friction_and_loss() -> None:
    # Cengel & Cimbala, Fluid Mechanics, Example 8-3 (SI), printed answers from memory:
    # water 15 degC, 5 cm stainless pipe, 6 L/s, 60 m: f 0.0172, 96.2 kPa, 9.82 m
    velocity, factor = cengel()
    loss = friction.head_loss_m(factor, 60, 0.05, velocity, 9.80665)
    assert factor == pytest.approx(0.0172, abs=1e-4)
    assert loss == pytest.approx(9.82, abs=0.03)
    assert loss * 999 * 9.80665 / 1000 == pytest.approx(96.2, abs=0.3)


def test_the_same_pipe_in_feet_has_its_textbook_loss() -> None:
    # Cengel & Cimbala Example 8-3 (US), answer from memory: 60 degF, 2 in, 0.2 ft3/s, 200 ft
    # of pipe lose 27.3 ft
    bore, foot = 0.0508, 0.3048
    velocity = 0.2 * foot**3 / (math.pi * bore**2 / 4)
    factor = friction.darcy(velocity * bore / 1.1227e-6, 2.1336e-6 / bore)
    loss = friction.head_loss_m(factor, 200 * foot, bore, velocity, 32.2 * foot)
    assert factor == pytest.approx(0.0174, abs=1e-4)
    assert loss / foot == pytest.approx(27.3, abs=0.1)


def test_friction_agrees_with_the_fluids_library_over_a_grid() -> None:
    for reynolds in [5, 400, 1800, 2300, 3000, 4500, 1e4, 6e4, 3e5, 2e6, 1e8]:
        for rough in [0.0, 1e-6, 1e-4, 1e-3, 0.01, 0.05]:
            expected = Churchill_1977(reynolds, rough)
            assert friction.churchill(reynolds, rough) == pytest.approx(expected, rel=1e-9)
            if reynolds > 4000:
                expected = Colebrook(reynolds, rough)
                assert friction.colebrook(reynolds, rough) == pytest.approx(expected, rel=1e-8)


def test_churchill_stays_near_colebrook_in_turbulent_flow() -> None:
    # Churchill (1977) joins the Colebrook curve to a few hundredths
    for reynolds in [4500, 1e4, 1e5, 1e6]:
        for rough in [0.0, 1e-4, 0.01]:
            near = friction.colebrook(reynolds, rough)
            assert friction.churchill(reynolds, rough) == pytest.approx(near, rel=0.04)


@pytest.mark.parametrize("formula", [friction.churchill, friction.darcy])
def test_slow_flow_is_laminar(formula: object) -> None:
    # Hagen-Poiseuille: f = 64/Re
    assert callable(formula)
    for reynolds in [1e-9, 1.0, 99.0, 101.0, 800.0]:
        assert formula(reynolds, 0.001) == pytest.approx(64 / reynolds, rel=1e-6)


@QUICK
@given(
    low=st.floats(min_value=4000, max_value=1e8),
    high=st.floats(min_value=4000, max_value=1e8),
    rough=st.floats(min_value=0, max_value=0.05),
)
def test_turbulent_friction_falls_as_the_flow_grows(low: float, high: float, rough: float) -> None:
    low, high = sorted((low, high))
    assert friction.darcy(high, rough) <= friction.darcy(low, rough) * (1 + 1e-12)


@pytest.mark.parametrize(
    ("temp_c", "micropascal_s"),
    # IAPWS R12-08 (2008), viscosity of water at 0.1 MPa, Table 4 and IAPWS SR6-08: from memory
    [(0.01, 1791.6), (10, 1305.9), (20, 1001.6), (25, 890.0), (50, 546.5)],
)
def test_viscosity_meets_the_steam_tables(temp_c: float, micropascal_s: float) -> None:
    density = friction.density_kg_m3(temp_c)
    viscosity = friction.viscosity_mm2_s(temp_c)
    assert viscosity * density == pytest.approx(micropascal_s, rel=2e-3)


@pytest.mark.parametrize(
    ("temp_c", "kg_m3"),
    # Kell (1975) Table IV, from memory
    [(4, 999.972), (15, 999.099), (20, 998.203), (25, 997.045), (40, 992.214)],
)
def test_density_meets_the_published_table(temp_c: float, kg_m3: float) -> None:
    assert friction.density_kg_m3(temp_c) == pytest.approx(kg_m3, abs=0.005)


def test_water_at_fifteen_degrees_has_the_textbook_viscosity() -> None:
    # Cengel & Cimbala Example 8-3: 0.001138 Pa s over 999 kg/m3
    assert friction.viscosity_mm2_s(15) == pytest.approx(1.139, rel=2e-3)


def test_numbers_outside_the_formulas_are_refused() -> None:
    with pytest.raises(ValueError, match="Reynolds"):
        friction.darcy(0, 0)
    with pytest.raises(ValueError, match=r"0 to 0\.05"):
        friction.colebrook(1e5, 0.2)
    with pytest.raises(ValueError, match="0 to 100 degC"):
        friction.viscosity_mm2_s(-3)
    with pytest.raises(ValueError, match="bore"):
        friction.head_loss_m(0.02, 1, 0, 1, 9.8)
