"""Barrels and tanks: published partial volumes, inverse pairs and refusals."""

from __future__ import annotations

import math

import pytest
from fluids.geometry import V_from_h
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science import vessels

QUICK = settings(max_examples=100, deadline=None)
sizes = st.floats(min_value=1, max_value=20_000)
shares = st.floats(min_value=0, max_value=1)


@pytest.mark.parametrize(
    ("depth_share", "volume_share"),
    [
        # Perry's Chemical Engineers' Handbook, volumes of partially filled horizontal cylinders
        (0.05, 0.01869),
        (0.10, 0.05204),
        (0.15, 0.09406),
        (0.20, 0.14238),
        (0.25, 0.19550),
        (0.30, 0.25232),
        (0.35, 0.31192),
        (0.40, 0.37353),
        (0.45, 0.43644),
        (0.50, 0.50000),
    ],
)
def test_a_lying_barrel_holds_the_handbook_share(depth_share: float, volume_share: float) -> None:
    whole = vessels.full_l("lying", diameter_mm=600, length_mm=900)
    part = vessels.volume_l("lying", 600 * depth_share, diameter_mm=600, length_mm=900)
    assert part / whole == pytest.approx(volume_share, abs=1e-5)


def test_a_quarter_full_lying_barrel_stands_at_three_tenths_of_its_diameter() -> None:
    # solid geometry, constructed: 29.8 % of the diameter
    quarter = vessels.full_l("lying", diameter_mm=1000, length_mm=1000) / 4
    depth = vessels.depth_mm("lying", quarter, diameter_mm=1000, length_mm=1000)
    assert depth == pytest.approx(298.0, abs=0.05)


def test_a_dipped_horizontal_tank_holds_the_printed_gallons() -> None:
    # tank-dipping example as printed on supplier pages: 48 in x 96 in, 19.2 in deep, 280.9 US gal
    litres = vessels.volume_l("lying", 19.2 * 25.4, diameter_mm=48 * 25.4, length_mm=96 * 25.4)
    assert litres / 3.785411784 == pytest.approx(280.9, abs=0.1)
    full = vessels.full_l("lying", diameter_mm=48 * 25.4, length_mm=96 * 25.4)
    assert full / 3.785411784 == pytest.approx(752, abs=0.5)


def test_a_class_a_pan_holds_its_volume() -> None:
    # FAO-56 (1998) Box 12 p. 84: 120.7 cm across, filled to 20 cm; the volume is arithmetic
    assert vessels.volume_l("upright", 200, diameter_mm=1207) == pytest.approx(228.8, abs=0.1)


def test_lying_vessels_agree_with_the_fluids_library() -> None:
    for share in [0.001, 0.01, 0.07, 0.3, 0.5, 0.61, 0.9, 0.999, 1.0]:
        ours = vessels.volume_l("lying", 580 * share, diameter_mm=580, length_mm=900)
        theirs = V_from_h(0.58 * share, D=0.58, L=0.9, horizontal=True) * 1000
        assert ours == pytest.approx(theirs, rel=1e-9)


@QUICK
@given(diameter=sizes, length=sizes, share=shares)
def test_depth_and_volume_of_a_lying_vessel_are_inverse(
    diameter: float, length: float, share: float
) -> None:
    volume = vessels.volume_l("lying", diameter * share, diameter_mm=diameter, length_mm=length)
    again = vessels.depth_mm("lying", volume, diameter_mm=diameter, length_mm=length)
    assert again == pytest.approx(diameter * share, rel=1e-6, abs=1e-9 * diameter)


@QUICK
@given(diameter=sizes, length=sizes, share=shares)
def test_volume_and_depth_of_a_lying_vessel_are_inverse(
    diameter: float, length: float, share: float
) -> None:
    volume = share * vessels.full_l("lying", diameter_mm=diameter, length_mm=length)
    depth = vessels.depth_mm("lying", volume, diameter_mm=diameter, length_mm=length)
    again = vessels.volume_l("lying", depth, diameter_mm=diameter, length_mm=length)
    assert again == pytest.approx(volume, rel=1e-9)


@QUICK
@given(width=sizes, breadth=sizes, depth=sizes)
def test_depth_and_volume_of_a_straight_vessel_are_inverse(
    width: float, breadth: float, depth: float
) -> None:
    volume = vessels.volume_l("straight", depth, width_mm=width, breadth_mm=breadth)
    again = vessels.depth_mm("straight", volume, width_mm=width, breadth_mm=breadth)
    assert again == pytest.approx(depth)


@QUICK
@given(low=shares, high=shares)
def test_more_depth_is_never_less_water(low: float, high: float) -> None:
    low, high = sorted((low, high))
    lower = vessels.volume_l("lying", 580 * low, diameter_mm=580, length_mm=900)
    upper = vessels.volume_l("lying", 580 * high, diameter_mm=580, length_mm=900)
    assert lower <= upper


def test_the_surface_is_the_rise_of_the_volume_with_depth() -> None:
    for depth in [40.0, 150.0, 290.0, 500.0]:
        above = vessels.volume_l("lying", depth + 0.5, diameter_mm=580, length_mm=900)
        below = vessels.volume_l("lying", depth - 0.5, diameter_mm=580, length_mm=900)
        surface = vessels.surface_m2("lying", depth, diameter_mm=580, length_mm=900)
        assert surface == pytest.approx(above - below, rel=1e-3)


def test_an_area_stands_for_width_and_breadth() -> None:
    by_area = vessels.volume_l("straight", 250, area_m2=0.48)
    by_sides = vessels.volume_l("straight", 250, width_mm=800, breadth_mm=600)
    assert by_area == pytest.approx(by_sides)
    assert by_area == pytest.approx(120)
    assert vessels.surface_m2("straight", 250, area_m2=0.48) == 0.48
    assert vessels.full_l("straight", height_mm=500, area_m2=0.48) == pytest.approx(240)


def test_an_empty_vessel_is_empty_and_a_full_one_full() -> None:
    assert vessels.volume_l("lying", 0, diameter_mm=580, length_mm=900) == 0
    assert vessels.depth_mm("lying", 0, diameter_mm=580, length_mm=900) == 0
    full = vessels.full_l("lying", diameter_mm=580, length_mm=900)
    assert vessels.depth_mm("lying", full, diameter_mm=580, length_mm=900) == pytest.approx(580)
    assert vessels.surface_m2("lying", 580, diameter_mm=580, length_mm=900) == 0


@pytest.mark.parametrize("depth", [-1.0, 580.1, math.nan, math.inf])
def test_a_depth_outside_the_lying_vessel_is_refused_with_the_range(depth: float) -> None:
    with pytest.raises(ValueError, match="0 to 580 mm"):
        vessels.volume_l("lying", depth, diameter_mm=580, length_mm=900)


def test_a_volume_above_the_brim_is_refused_with_the_range() -> None:
    with pytest.raises(ValueError, match="0 to 237"):
        vessels.depth_mm("lying", 300, diameter_mm=580, length_mm=900)
    with pytest.raises(ValueError, match="0 L or more"):
        vessels.depth_mm("upright", -1, diameter_mm=580)
    with pytest.raises(ValueError, match="0 mm or more"):
        vessels.volume_l("upright", -1, diameter_mm=580)


def test_a_missing_size_or_an_unknown_shape_is_refused() -> None:
    with pytest.raises(ValueError, match="length"):
        vessels.volume_l("lying", 10, diameter_mm=580)
    with pytest.raises(ValueError, match="width"):
        vessels.volume_l("straight", 10)
    with pytest.raises(ValueError, match="height"):
        vessels.full_l("upright", diameter_mm=580)
    with pytest.raises(ValueError, match="upright, lying, straight"):
        vessels.surface_m2("round", 10, diameter_mm=580)


@given(sizes, st.floats(min_value=0, max_value=100))
def test_a_tape_laid_round_the_wall_gives_the_diameter_inside(inner: float, wall: float) -> None:
    girth = math.pi * (inner + 2 * wall)
    found = vessels.diameter_of_girth_mm(girth, wall)
    assert found == pytest.approx(inner, rel=1e-6, abs=1e-6)


def test_a_wall_that_leaves_nothing_inside_is_refused() -> None:
    with pytest.raises(ValueError, match="wall"):
        vessels.diameter_of_girth_mm(math.pi * 20, 10)
