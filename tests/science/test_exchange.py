"""Water changes and topping up: laws, and the arithmetic of cooling practice."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import exchange as ex

levels = st.floats(0, 500)
fractions = st.floats(0.01, 0.99)


def test_two_halves_leave_a_quarter() -> None:
    # constructed: changes multiply, they do not add
    assert ex.after_change_mg_l(80, 0, 0.5, 2) == pytest.approx(20)
    assert ex.after_change_mg_l(80, 10, 0.25) == pytest.approx(62.5)
    assert ex.after_change_mg_l(80, 10, 1) == pytest.approx(10)


def test_a_whole_pond_passed_through_leaves_more_than_a_third() -> None:
    # constructed: exp(-1) = 0.368, and 200 % may pass
    assert ex.after_change_mg_l(100, 0, 1, flow_through=True) == pytest.approx(36.8, abs=0.05)
    assert ex.after_change_mg_l(100, 0, 2, flow_through=True) == pytest.approx(13.5, abs=0.05)


@given(pond=levels, tap=levels, fraction=fractions, flow=st.booleans(), times=st.integers(0, 20))
def test_changed_water_lies_between_pond_and_tap(
    pond: float, tap: float, fraction: float, flow: bool, times: int
) -> None:
    after = ex.after_change_mg_l(pond, tap, fraction, times, flow_through=flow)
    assert min(pond, tap) - 1e-9 <= after <= max(pond, tap) + 1e-9
    step = pond
    for _ in range(times):
        step = ex.after_change_mg_l(step, tap, fraction, flow_through=flow)
    assert step == pytest.approx(after, abs=1e-6)


@given(pond=levels, fraction=fractions)
def test_emptying_first_is_never_worse_than_overflowing(pond: float, fraction: float) -> None:
    batch = ex.after_change_mg_l(pond, 0, fraction)
    assert batch <= ex.after_change_mg_l(pond, 0, fraction, flow_through=True)


@given(
    pond=st.floats(20, 500),
    tap=st.floats(0, 10),
    share=st.floats(0.01, 1),
    fraction=fractions,
    flow=st.booleans(),
)
def test_changes_needed_and_changing_are_inverse(
    pond: float, tap: float, share: float, fraction: float, flow: bool
) -> None:
    target = tap + (pond - tap) * share
    times = ex.changes_needed(pond, tap, target, fraction, flow_through=flow)
    after = ex.after_change_mg_l(pond, tap, fraction, times, flow_through=flow)
    assert after == pytest.approx(target)


def test_a_whole_change_reaches_the_tap_in_one() -> None:
    assert ex.changes_needed(80, 10, 10, 1) == 1
    assert ex.changes_needed(80, 10, 80, 0.5) == 0


@pytest.mark.parametrize("target", [5, 10, 90])
def test_a_target_that_changes_cannot_reach_is_refused(target: float) -> None:
    with pytest.raises(ValueError, match="between the two"):
        ex.changes_needed(80, 10, target, 0.5)
    with pytest.raises(ValueError, match="between the two"):
        ex.changes_needed(10, 10, target + 1, 0.5)


def test_one_pond_evaporated_and_replaced_is_twice_as_strong() -> None:
    # cooling practice: two cycles of concentration after one system volume
    assert ex.top_up_factor(1000, 1000) == pytest.approx(2.0)
    assert ex.top_up_mg_l(120, 120, 1000, 1000) == pytest.approx(240)


def test_a_change_as_large_as_the_evaporation_settles_at_two() -> None:
    # cooling tower example: evaporation 1620, two cycles, blowdown 1620, make-up 3240
    assert ex.change_for_factor_l(1620, 2) == pytest.approx(1620)
    assert 1620 + ex.change_for_factor_l(1620, 2) == pytest.approx(3240)
    assert ex.settled_factor(1620, 1620) == pytest.approx(2)


@given(evaporated=st.floats(1, 1e5), factor=st.floats(1.01, 20))
def test_settled_factor_and_change_are_inverse(evaporated: float, factor: float) -> None:
    changed = ex.change_for_factor_l(evaporated, factor)
    assert ex.settled_factor(evaporated, changed) == pytest.approx(factor)


@given(pond=levels, tap=levels, first=st.floats(0, 1e4), second=st.floats(0, 1e4))
def test_topping_up_adds_in_a_straight_line(
    pond: float, tap: float, first: float, second: float
) -> None:
    half = ex.top_up_mg_l(pond, tap, first, 5000)
    assert ex.top_up_mg_l(half, tap, second, 5000) == pytest.approx(
        ex.top_up_mg_l(pond, tap, first + second, 5000)
    )


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be over 100 %"):
        ex.after_change_mg_l(1, 1, 1.5)
    with pytest.raises(ValueError, match="factor must be above 1"):
        ex.change_for_factor_l(1, 1)
    with pytest.raises(ValueError, match="changed volume"):
        ex.settled_factor(1, 0)
    with pytest.raises(ValueError, match="volume"):
        ex.top_up_factor(1, 0)
