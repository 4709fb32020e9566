"""Litres and levels of a pond, against published volumes and by laws."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.errors import InputError
from pondtui.pond.setup.model import Basin, Gauge, Pond, Setup
from pondtui.pond.water import levels

DAY = date(2026, 7, 1)
FOOT = 304.8  # mm
FT3 = 28.316846592  # L

BATTERED = Basin("dugout", floats=True, shape="battered", length_mm=100 * FOOT, width_mm=70 * FOOT,
                 depth_mm=12 * FOOT, side_slope=2.0)  # fmt: skip
BOX = Basin("pool", floats=True, shape="box", length_mm=4000, width_mm=2000, depth_mm=800)
BAY = Basin("bay", held=True, shape="table", areas=((0, 1.0), (200, 0.8), (400, 0.5)),
            draindown_mm=20, water_share=0.4, gate=True, gate_level_mm=50)  # fmt: skip


def pond(*basins: Basin, reads: str = "down") -> Setup:
    return Setup(Pond("x"), gauge=Gauge(reads), basins=basins)


def test_a_dugout_holds_its_prismoidal_volume() -> None:
    # Math Central (University of Regina), Quandaries & Queries QQ.09.07: a pond 100 ft x 70 ft,
    # 12 ft deep, sides 2:1, holds 44,256 cubic feet. Average end areas would give 48,864.
    assert levels.pond_volume_l(pond(BATTERED), 0.0, DAY) / FT3 == pytest.approx(44256, abs=0.5)


def test_a_millimetre_over_a_square_metre_is_a_litre() -> None:
    # Exact by definition: 40 L over 8 m2 are 5 mm.
    assert levels.reading_after(pond(BOX), 50, 40.0, DAY) == pytest.approx(45.0)
    assert levels.reading_after(pond(BOX, reads="up"), 50, 40.0, DAY) == pytest.approx(55.0)
    assert levels.litres_between(pond(BOX), 50, 45, DAY) == pytest.approx(40.0)
    assert levels.litres_between(pond(BOX, reads="up"), 50, 45, DAY) == pytest.approx(-40.0)


def test_a_smaller_reading_is_a_higher_level_only_on_a_gauge_read_down() -> None:
    assert levels.is_higher(pond(reads="down"), 20, 30)
    assert levels.is_higher(pond(reads="up"), 30, 20)
    assert not levels.is_higher(pond(reads="down"), 20, 20)
    assert levels.reading_up(pond(reads="down"), 20) < levels.reading_up(pond(reads="down"), 10)


@pytest.mark.parametrize("reads", ["down", "up"])
def test_a_drop_counts_from_the_reading_at_which_the_sizes_hold(reads: str) -> None:
    setup = pond(BOX._replace(top_at_mm=100), reads=reads)
    reading = 130 if reads == "down" else 70
    assert levels.drop_mm(setup, setup.basins[0], reading) == 30
    assert levels.reading_mm(setup, setup.basins[0], 30) == reading


def test_the_area_is_the_one_that_the_water_has_at_its_level() -> None:
    # By plane geometry: 3 ft down, 2:1 sides leave 88 ft x 58 ft.
    area = levels.area_m2_at(pond(BATTERED), 3 * FOOT, DAY)
    assert area / (FOOT / 1e3) ** 2 == pytest.approx(88 * 58)


def test_gravel_and_reed_leave_less_room_for_water() -> None:
    half = BOX._replace(water_share=0.5)
    assert levels.litres_between(pond(half), 50, 45, DAY) == pytest.approx(20.0)
    assert levels.reading_after(pond(half), 50, 20.0, DAY) == pytest.approx(45.0)
    assert levels.area_m2_at(pond(half), 0, DAY) == pytest.approx(4.0)
    assert levels.open_area_m2(pond(half), 0, DAY) == pytest.approx(8.0)


def test_held_basins_count_with_the_water_at_their_spill_edge() -> None:
    # Constructed: a tub of 1 m2 and 400 mm, two fifths water, holds 160 L.
    tub = Basin("tub", held=True, shape="box", length_mm=1000, width_mm=1000, depth_mm=400,
                draindown_mm=25, water_share=0.4, gate=True, gate_level_mm=50)  # fmt: skip
    setup = pond(BOX, tub)
    own = 8.0 * 700
    assert levels.pond_volume_l(setup, 100, DAY) == pytest.approx(own + 160)
    assert levels.pond_volume_l(setup, 100, DAY, pump_on=False) == pytest.approx(own + 150)
    shut = frozenset({"tub"})
    assert levels.pond_volume_l(setup, 100, DAY, gate_shut=shut) == pytest.approx(own + 180)
    assert levels.draindown_l(setup, DAY) == pytest.approx(10.0)
    assert levels.draindown_l(setup, DAY, shut) == 0.0
    assert levels.rise_from_draindown_mm(setup, 100, DAY) == pytest.approx(10 / 8)


def test_stopping_the_pump_only_moves_water() -> None:
    setup = pond(BATTERED, BAY)
    running = levels.pond_volume_l(setup, 500, DAY)
    reading = 500 - levels.rise_from_draindown_mm(setup, 500, DAY)
    stopped = levels.pond_volume_l(setup, reading, DAY, pump_on=False)
    assert stopped == pytest.approx(running)


def test_a_pond_rebuilt_is_computed_as_it_was_on_the_day() -> None:
    larger = BOX._replace(length_mm=5000, since=date(2026, 5, 1))
    setup = pond(BOX, larger)
    assert levels.area_m2_at(setup, 0, date(2026, 4, 30)) == pytest.approx(8.0)
    assert levels.area_m2_at(setup, 0, date(2026, 5, 1)) == pytest.approx(10.0)


def test_a_dry_pond_stays_at_its_bottom() -> None:
    assert levels.reading_after(pond(BOX), 700, -1e6, DAY) == pytest.approx(800)
    assert levels.pond_volume_l(pond(BOX), 900, DAY) == 0.0


def test_without_a_basin_that_floats_the_way_out_is_told() -> None:
    with pytest.raises(InputError, match="write floats = true"):
        levels.area_m2_at(pond(BAY), 0, DAY)


readings = st.floats(-50, 700)


@given(st.sampled_from([BATTERED, BOX]), st.sampled_from(["down", "up"]), readings, readings)
def test_adding_what_is_between_two_levels_leads_from_one_to_the_other(
    basin: Basin, reads: str, start: float, end: float
) -> None:
    setup = pond(basin._replace(top_at_mm=0 if reads == "down" else 700), reads=reads)
    litres = levels.litres_between(setup, start, end, DAY)
    assert levels.reading_after(setup, start, litres, DAY) == pytest.approx(end, abs=1e-3)
    assert levels.litres_between(setup, end, start, DAY) == pytest.approx(-litres)


@given(st.floats(-50, 790), st.floats(0.1, 100))
def test_more_water_is_never_a_lower_level(reading: float, litres: float) -> None:
    setup = pond(BATTERED)
    assert levels.is_higher(setup, levels.reading_after(setup, reading, litres, DAY), reading)
