"""Ponds: published pond volumes, tables of areas, levels after adding and taking."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science.basins import Basin, area_m2, drop_after_l, full_volume_l, volume_between_l

QUICK = settings(max_examples=60, deadline=None)
FOOT = 304.8
CUBIC_FOOT_L = 28.316846592

TABLE = ((0.0, 12.0), (200.0, 9.0), (400.0, 5.0), (600.0, 2.0), (800.0, 0.0))
PONDS = [
    Basin("box", length_mm=3000, width_mm=2000, depth_mm=700),
    Basin("cylinder", diameter_mm=2500, depth_mm=600),
    Basin("ellipse", length_mm=4000, width_mm=2500, depth_mm=900),
    Basin("bowl", length_mm=4000, width_mm=3000, depth_mm=800),
    Basin("cone", top_diameter_mm=3000, bottom_diameter_mm=1000, depth_mm=800),
    Basin("cone", top_diameter_mm=3000, depth_mm=800),
    Basin("battered", length_mm=4000, width_mm=3000, depth_mm=800, side_slope=1.2),
    Basin("table", rows=TABLE),
    Basin("table", rows=TABLE, rule="average"),
    Basin("table", rows=TABLE, rule="prismoidal"),
]
ponds = st.sampled_from(PONDS)
shares = st.floats(min_value=0, max_value=1)


def bottom(pond: Basin) -> float:
    return pond.rows[-1][0] if pond.rows else pond.depth_mm


def test_a_battered_dugout_has_the_published_volume() -> None:
    # Math Central, University of Regina, QQ.09.07: 100 x 70 ft, 12 ft deep, 2:1 sides, 44,256 ft3
    pond = Basin(
        "battered",
        length_mm=100 * FOOT,
        width_mm=70 * FOOT,
        depth_mm=12 * FOOT,
        side_slope=2,
    )
    assert full_volume_l(pond) / CUBIC_FOOT_L == pytest.approx(44_256, abs=0.5)


def test_a_dugout_with_a_ramp_has_the_published_volume_as_a_table() -> None:
    # USDA NRCS Agriculture Handbook 590 (1997), excavated ponds, from memory:
    # A 15,136, 4 B 34,816, C 4,000 ft2 over 12 ft: 3,996 yd3
    foot2 = 0.09290304
    rows = ((0.0, 15_136 * foot2), (6 * FOOT, 8_704 * foot2), (12 * FOOT, 4_000 * foot2))
    pond = Basin("table", rows=rows, rule="prismoidal")
    assert full_volume_l(pond) / CUBIC_FOOT_L / 27 == pytest.approx(3_996, abs=0.5)


def test_a_frustum_has_its_textbook_volume() -> None:
    # V = pi h/3 (R2 + R r + r2), constructed: R 1.5 m, r 1.0 m, h 0.8 m
    pond = Basin("cone", top_diameter_mm=3000, bottom_diameter_mm=2000, depth_mm=800)
    assert full_volume_l(pond) == pytest.approx(3979.35, abs=1)


def test_average_end_area_has_its_textbook_value() -> None:
    # average-end-area rule, worked value of survey textbooks: 10 m2 and 20 m2, 10 m apart, 150 m3
    pond = Basin("table", rows=((0.0, 10.0), (10_000.0, 20.0)), rule="average")
    assert full_volume_l(pond) == pytest.approx(150_000)


def test_the_prismoidal_rule_has_its_textbook_value() -> None:
    # L/6 (A1 + 4 Am + A2), worked value of survey textbooks: 10, 18, 20 m2 over 10 m, 170 m3
    rows = ((0.0, 10.0), (5000.0, 18.0), (10_000.0, 20.0))
    pond = Basin("table", rows=rows, rule="prismoidal")
    assert full_volume_l(pond) == pytest.approx(170_000)
    assert area_m2(pond, 5000) == pytest.approx(18)


def test_a_pond_of_feet_has_its_area_in_acres() -> None:
    # Virginia Department of Wildlife Resources, "Determining Pond Size": 100 x 70 ft, 0.1607 acre
    pond = Basin("box", length_mm=100 * FOOT, width_mm=70 * FOOT, depth_mm=1000)
    assert area_m2(pond, 0) / 4046.8564224 == pytest.approx(0.1607, abs=1e-4)


def test_a_millimetre_over_a_square_metre_is_a_litre() -> None:
    # exact by definition: 40 L off 8 m2 is 5 mm
    pond = Basin("box", length_mm=4000, width_mm=2000, depth_mm=500)
    assert drop_after_l(pond, 0, -40) == pytest.approx(5.0, abs=1e-9)


def test_a_bowl_is_half_an_ellipsoid() -> None:
    # solid geometry: 2/3 pi a b c
    pond = Basin("bowl", length_mm=4000, width_mm=3000, depth_mm=800)
    assert full_volume_l(pond) == pytest.approx(2 / 3 * math.pi * 2 * 1.5 * 0.8 * 1000)


def test_conic_rows_rebuild_a_cone() -> None:
    cone = Basin("cone", top_diameter_mm=3000, bottom_diameter_mm=1000, depth_mm=800)
    rows = tuple((d, area_m2(cone, d)) for d in (0.0, 300.0, 800.0))
    table = Basin("table", rows=rows)
    assert full_volume_l(table) == pytest.approx(full_volume_l(cone))
    assert area_m2(table, 555) == pytest.approx(area_m2(cone, 555))


def test_average_end_area_overstates_a_tapering_pond() -> None:
    tapering = Basin("table", rows=TABLE)
    assert full_volume_l(tapering._replace(rule="average")) > full_volume_l(tapering)


@pytest.mark.parametrize("pond", PONDS)
def test_the_area_is_the_volume_per_millimetre(pond: Basin) -> None:
    for share in (0.1, 0.37, 0.6, 0.9):
        drop = share * bottom(pond)
        thin = volume_between_l(pond, drop - 0.5, drop + 0.5)
        assert area_m2(pond, drop) == pytest.approx(thin, rel=1e-3)


@QUICK
@given(pond=ponds, one=shares, two=shares, three=shares)
def test_volumes_between_levels_add_up(pond: Basin, one: float, two: float, three: float) -> None:
    a, b, c = sorted(share * bottom(pond) for share in (one, two, three))
    whole = volume_between_l(pond, a, c)
    parts = volume_between_l(pond, a, b) + volume_between_l(pond, b, c)
    assert parts == pytest.approx(whole, rel=1e-9, abs=1e-6)
    assert whole >= -1e-9
    assert volume_between_l(pond, c, a) == -whole


@QUICK
@given(pond=ponds, share=shares, taken=shares)
def test_taking_and_adding_the_same_water_restores_the_level(
    pond: Basin, share: float, taken: float
) -> None:
    drop = 0.9 * share * bottom(pond)
    litres = 0.9 * taken * volume_between_l(pond, drop, bottom(pond))
    lower = drop_after_l(pond, drop, -litres)
    assert lower >= drop - 1e-9
    assert volume_between_l(pond, drop, lower) == pytest.approx(litres, rel=1e-6, abs=1e-6)
    assert drop_after_l(pond, lower, litres) == pytest.approx(drop, abs=1e-5 * bottom(pond))


@pytest.mark.parametrize("pond", PONDS)
def test_above_the_top_the_walls_are_upright(pond: Basin) -> None:
    top = area_m2(pond, 0)
    assert area_m2(pond, -20) == top
    assert drop_after_l(pond, 10, volume_between_l(pond, 0, 10) + 20 * top) == pytest.approx(-20)
    assert drop_after_l(pond, -20, -20 * top) == pytest.approx(0, abs=1e-9)
    assert volume_between_l(pond, -20, 0) == pytest.approx(20 * top)


@pytest.mark.parametrize("pond", PONDS)
def test_no_more_can_be_taken_than_there_is(pond: Basin) -> None:
    deep = bottom(pond)
    assert drop_after_l(pond, 0, -2 * full_volume_l(pond)) == deep
    assert drop_after_l(pond, deep + 50, 0) == deep
    assert area_m2(pond, deep + 1) == 0
    assert volume_between_l(pond, 0, deep + 100) == pytest.approx(full_volume_l(pond))


@pytest.mark.parametrize(
    ("pond", "words"),
    [
        (Basin("box", length_mm=3000, depth_mm=700), "box basin needs a width"),
        (Basin("cone", depth_mm=700), "top diameter"),
        (Basin("cone", top_diameter_mm=9, bottom_diameter_mm=-1, depth_mm=7), "bottom diameter"),
        (Basin("heart", depth_mm=700), "box, cylinder"),
        (Basin("battered", 3000, 2000, 800, side_slope=2), "meet 500 mm down"),
        (Basin("battered", 3000, 2000, 800, side_slope=-1), "side slope"),
        (Basin("table", rows=((0, 5),)), "two rows"),
        (Basin("table", rows=((10, 5), (20, 4))), "0 mm"),
        (Basin("table", rows=((0, 5), (20, 4), (20, 3))), "rise"),
        (Basin("table", rows=((0, 5), (20, -4))), "20 mm"),
        (Basin("table", rows=((0, 5), (20, 4)), rule="mean"), "conic"),
        (Basin("table", rows=((0, 5), (20, 4)), rule="prismoidal"), "odd"),
        (Basin("table", rows=((0, 5), (20, 4), (50, 3)), rule="prismoidal"), "equally"),
    ],
)
def test_a_pond_that_cannot_be_is_refused_in_words(pond: Basin, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        full_volume_l(pond)
