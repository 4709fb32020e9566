"""Mixing: textbook examples, inverse pairs and laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science import mixing

QUICK = settings(max_examples=100, deadline=None)
volumes = st.floats(min_value=0.001, max_value=1e7)
temps = st.floats(min_value=0, max_value=40)


def test_water_in_a_hot_pan_ends_at_the_textbook_temperature() -> None:
    # OpenStax College Physics 2e Example 14.3, numbers from memory: 59.1 degC
    water, pan = 0.25 * 4186, 0.5 * 900
    assert mixing.mixed(water, 20, pan, 150) == pytest.approx(59.1, abs=0.06)


def test_a_dilution_has_the_textbook_strength() -> None:
    # OpenStax Chemistry 2e Example 3.19, from memory: 0.850 L of 5.00 M to 1.80 L, 2.36 M
    assert mixing.mixed(0.85, 5, 0.95, 0) == pytest.approx(2.36, abs=0.005)


def test_a_cold_refill_cools_the_pond() -> None:
    # energy balance, constructed
    assert mixing.mixed(5000, 22, 1000, 10) == pytest.approx(20)
    assert mixing.mixed(800, 0.1, 200, 2.0) == pytest.approx(0.48)


@QUICK
@given(pond=volumes, pond_c=temps, added_c=temps, limit=st.floats(min_value=0.01, max_value=5))
def test_the_largest_addition_moves_the_pond_by_the_limit(
    pond: float, pond_c: float, added_c: float, limit: float
) -> None:
    most = mixing.largest_addition_l(pond, pond_c, added_c, limit)
    if math.isinf(most):
        assert abs(added_c - pond_c) <= limit
    elif abs(added_c - pond_c) - limit > 1e-3:  # nearer than that, rounding decides
        moved = abs(mixing.mixed(pond, pond_c, most, added_c) - pond_c)
        assert moved == pytest.approx(limit, rel=1e-6)


def test_the_addition_counts_in_the_final_volume() -> None:
    # constructed: 5000 L at 20, water at 10, limit 1 degree: 5000/9, not 5000/10
    assert mixing.largest_addition_l(5000, 20, 10, 1) == pytest.approx(555.56, abs=0.01)


@QUICK
@given(a=volumes, x=temps, b=volumes, y=temps)
def test_a_mixture_lies_between_its_parts(a: float, x: float, b: float, y: float) -> None:
    value = mixing.mixed(a, x, b, y)
    assert min(x, y) - 1e-9 <= value <= max(x, y) + 1e-9
    assert value == pytest.approx(mixing.mixed(b, y, a, x))


def test_tempering_takes_its_time_in_either_direction() -> None:
    # constructed from the rate of LSU AgCenter: 5 degF per half hour
    assert mixing.tempering_time_min(-10, 5, 30) == 60
    assert mixing.tempering_time_min(10, 5, 30) == 60


def test_a_litre_on_a_square_metre_is_a_millimetre() -> None:
    assert mixing.rise_mm(40, 8) == 5
    assert mixing.rise_mm(-40, 8) == -5


def test_a_litre_weighs_a_kilogram() -> None:
    assert mixing.water_mass_kg(200) == 200


def test_amounts_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="together"):
        mixing.mixed(0, 10, 0, 20)
    with pytest.raises(ValueError, match="first amount"):
        mixing.mixed(-1, 10, 1, 20)
    with pytest.raises(ValueError, match="plain numbers"):
        mixing.mixed(1, math.nan, 1, 20)
    with pytest.raises(ValueError, match="plain numbers"):
        mixing.largest_addition_l(1, math.inf, 1, 20)
    with pytest.raises(ValueError, match="plain number"):
        mixing.tempering_time_min(math.inf, 5, 30)
    with pytest.raises(ValueError, match="limit"):
        mixing.tempering_time_min(5, 0, 30)
