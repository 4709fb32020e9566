"""A barrel's heel, full line and brim, against published volumes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.setup.barrels import (
    brim_l,
    brim_mm,
    depth_mm,
    full_line_l,
    heel_l,
    volume_l,
)
from pondtui.pond.setup.model import Barrel

UPRIGHT = Barrel("pan", "upright", full_line_mm=200, outlet_mm=50, diameter_mm=1207, height_mm=250)
LYING = Barrel("tank", "lying", full_line_mm=50, outlet_mm=25, diameter_mm=100, length_mm=1000)
STRAIGHT = Barrel("box", "straight", full_line_mm=750, outlet_mm=100, width_mm=600, breadth_mm=400,
                  height_mm=800)  # fmt: skip


def test_a_class_a_pan_filled_to_its_line_holds_what_its_size_says() -> None:
    # FAO-56 (1998) Box 12 p. 84: Class A pan 120.7 cm across, 25 cm deep, filled to 5 cm below
    # the rim; the volume is pi/4 x 1.207^2 x 0.2 m.
    assert full_line_l(UPRIGHT) == pytest.approx(228.8, abs=0.1)


@pytest.mark.parametrize(
    ("share_of_depth", "share_of_volume"),
    [(0.05, 0.01869), (0.15, 0.09406), (0.25, 0.19550), (0.35, 0.31192), (0.45, 0.43644)],
)
def test_a_lying_barrels_heel_is_the_handbooks_partial_cylinder(
    share_of_depth: float, share_of_volume: float
) -> None:
    # Perry's Chemical Engineers' Handbook, "Volume of partially filled horizontal cylinders".
    barrel = LYING._replace(outlet_mm=100 * share_of_depth)
    assert heel_l(barrel) / brim_l(barrel) == pytest.approx(share_of_volume, abs=1e-5)


def test_a_lying_tank_of_us_inches_reads_as_its_stick_chart() -> None:
    # Worked stick chart of a horizontal cylinder 48 in x 96 in: 19.2 in stand for 280.9 US gal.
    tank = LYING._replace(diameter_mm=48 * 25.4, length_mm=96 * 25.4)
    assert volume_l(tank, 19.2 * 25.4) / 3.785411784 == pytest.approx(280.9, abs=0.1)


def test_a_straight_barrel_is_width_by_breadth() -> None:
    assert heel_l(STRAIGHT) == pytest.approx(24.0)  # constructed: 0.6 x 0.4 x 0.1 m
    assert brim_l(STRAIGHT) == pytest.approx(192.0)


def test_the_brim_of_a_lying_barrel_is_its_diameter() -> None:
    assert brim_mm(LYING) == 100
    assert brim_l(LYING) == pytest.approx(math.pi / 4 * 10)


@given(st.sampled_from([UPRIGHT, LYING, STRAIGHT]), st.floats(-100, 1000))
def test_depth_and_volume_are_inverses_within_the_barrel(barrel: Barrel, depth: float) -> None:
    inside = min(max(depth, 0.0), brim_mm(barrel))
    assert depth_mm(barrel, volume_l(barrel, depth)) == pytest.approx(inside, abs=1e-4)


@given(st.sampled_from([UPRIGHT, LYING, STRAIGHT]), st.floats(-100, 1e5))
def test_no_volume_makes_a_depth_fail(barrel: Barrel, litres: float) -> None:
    assert 0 <= depth_mm(barrel, litres) <= brim_mm(barrel) * (1 + 1e-12)
