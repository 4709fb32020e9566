"""The pond as a table of litres and levels, against the box pond whose litres are known by head."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.errors import InputError
from pondtui.pond.away.bowl import Bowl
from tests.pond.box import POND, setup_of

DAY = date(2026, 6, 10)
BAY = """\
[[basin]]
name = "bay"
held = true
shape = "box"
length = "2 m"
width = "1 m"
depth = "0.4 m"
draindown = "30 mm"
gate = true
"""
BOX, BAYED = Bowl(setup_of(POND), DAY), Bowl(setup_of(POND + BAY), DAY)


def test_six_litres_are_a_millimetre_of_the_box() -> None:
    assert BOX.after(-60.0, 60.0) == pytest.approx(-50.0)
    assert BOX.litres(-60.0, -50.0) == pytest.approx(60.0)


@given(st.floats(-700, -20), st.floats(0, 120))
def test_what_is_added_and_taken_again_leaves_the_level(up: float, litres: float) -> None:
    assert BOX.after(BOX.after(up, litres), -litres) == pytest.approx(up, abs=1e-6)


@given(st.floats(-900, 200), st.floats(-9000, 9000))
def test_no_amount_of_water_leads_out_of_the_table(up: float, litres: float) -> None:
    assert BOX.bottom_up <= BOX.after(up, litres) <= 100.0


def test_the_lowest_spill_edge_is_the_top() -> None:
    assert BOX.spill_up == -10.0


def test_a_visit_fills_to_the_target_where_that_is_the_lower_edge() -> None:
    assert BOX.ceiling_up() == -40.0


def test_without_a_target_the_gauges_error_stays_free_under_the_spill_edge() -> None:
    bare = Bowl(setup_of(POND.replace('role = "target"', 'role = "top-up"')), DAY)
    assert bare.ceiling_up() == pytest.approx(-12.0)


def test_what_runs_back_stays_free_too() -> None:
    bare = POND.replace('role = "target"', 'role = "top-up"') + BAY
    # 30 mm of 2 m2 are 60 L, 10 mm of the box
    assert Bowl(setup_of(bare), DAY).ceiling_up() == pytest.approx(-22.0)


def test_a_held_basin_evaporates_into_this_level_and_with_the_pump_off_it_does_not() -> None:
    assert BOX.feeds(-60.0) == pytest.approx(1.0)
    assert BAYED.feeds(-60.0) == pytest.approx(8 / 6)
    assert BAYED.feeds(-60.0, held=False) == pytest.approx(1.0)


def test_a_pond_in_which_nothing_floats_has_none() -> None:
    with pytest.raises(InputError):
        Bowl(setup_of(POND)._replace(basins=()), DAY)
