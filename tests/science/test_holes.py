"""Holes, leaks and levelling out, against textbook examples."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp  # type: ignore[import-untyped]  # scipy ships no types

from pondtui.science import holes

QUICK = settings(max_examples=100, deadline=None)
depths = st.floats(min_value=0.001, max_value=20)
areas = st.floats(min_value=0.01, max_value=1000)
small = st.floats(min_value=1e-7, max_value=1e-2)


def test_a_tank_drains_to_half_in_the_textbook_time() -> None:
    # Cengel & Cimbala, Fluid Mechanics, Example 5-2 (SI), printed 11.6 min from memory: 694 s
    time = holes.drain_time_s(
        math.pi * 0.9**2 / 4, holes.circle_m2(13), 1.2, 0.6, cd=1, gravity_m_s2=9.807
    )
    assert time == pytest.approx(694, abs=1)


@pytest.mark.parametrize(
    ("vessel_m2", "hole_m2", "depth_m", "seconds"),
    [
        # Choudhary & Prakash, Fluid Mechanics, Examples 6.17 and 6.19 (Cd 0.6)
        (math.pi * 1.2**2 / 4, holes.circle_m2(50), 3.0, 750.8),
        (3.2, 0.001, 5.0, 5384.8),
    ],
)
def test_a_tank_empties_in_the_textbook_time(
    vessel_m2: float, hole_m2: float, depth_m: float, seconds: float
) -> None:
    assert holes.drain_time_s(vessel_m2, hole_m2, depth_m) == pytest.approx(seconds, abs=1)


def test_the_level_after_ten_minutes_follows_the_closed_form() -> None:
    # constructed: 0.2642 m2 barrel, 1 cm2 hole, 0.9 m, 600 s
    assert holes.depth_after_m(0.2642, 1e-4, 0.9, 600) == pytest.approx(0.41849, abs=1e-4)


def test_a_two_millimetre_hole_loses_half_a_cubic_metre_a_day() -> None:
    # constructed: Q = Cd a sqrt(2 g h), 0.5 m of water
    assert holes.flow_l_per_day(holes.circle_m2(2), 0.5) == pytest.approx(510.1, abs=0.1)


def test_two_vessels_level_out_as_the_equation_of_motion_says() -> None:
    first, second, hole = 0.26, 9.0, 3e-4

    def fall(_time: float, difference: list[float]) -> list[float]:
        flow = 0.6 * hole * math.sqrt(2 * holes.GRAVITY_M_S2 * max(difference[0], 0))
        return [-flow * (1 / first + 1 / second)]

    seconds = holes.level_out_time_s(first, second, 0.8, 0.1, hole)
    solved = solve_ivp(fall, (0, seconds), [0.8], rtol=1e-9, atol=1e-12)
    assert solved.y[0, -1] == pytest.approx(0.1, abs=1e-6)


def test_a_barrel_beside_a_lake_levels_out_as_if_it_ran_free() -> None:
    free = holes.drain_time_s(0.26, 3e-4, 0.8, 0.1)
    assert holes.level_out_time_s(0.26, 1e9, 0.8, 0.1, 3e-4) == pytest.approx(free)


@QUICK
@given(vessel=areas, hole=small, start=depths, share=st.floats(min_value=0, max_value=1))
def test_time_and_depth_are_inverse(vessel: float, hole: float, start: float, share: float) -> None:
    seconds = holes.drain_time_s(vessel, hole, start, start * share)
    again = holes.depth_after_m(vessel, hole, start, seconds)
    assert again == pytest.approx(start * share, rel=1e-6, abs=1e-9)


def test_a_dry_hole_stays_dry() -> None:
    empty = holes.drain_time_s(0.26, 1e-4, 0.9)
    assert holes.depth_after_m(0.26, 1e-4, 0.9, 3 * empty) == 0


def test_numbers_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="at least the end's 1 m"):
        holes.drain_time_s(0.26, 1e-4, 0.5, 1.0)
    with pytest.raises(ValueError, match=r"0\.01 to 1"):
        holes.drain_time_s(0.26, 1e-4, 0.5, cd=1.2)
    with pytest.raises(ValueError, match="area of the hole"):
        holes.flow_l_per_day(0, 1)
    with pytest.raises(ValueError, match="second vessel"):
        holes.level_out_time_s(1, 0, 1, 0, 1e-4)
