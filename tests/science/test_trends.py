"""Lines through readings against NIST, Sen and scipy."""

from __future__ import annotations

import math
import random
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats  # type: ignore[import-untyped]  # scipy ships no types

from pondtui.science import trends

QUICK = settings(max_examples=60, deadline=None)
# NIST Statistical Reference Datasets, Norris (ozone monitor calibration)
NORRIS_Y = [
    0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1,
    668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0,
    998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
]  # fmt: skip
NORRIS_X = [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5,
    666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2,
    999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
]  # fmt: skip


def test_the_line_meets_the_certified_values() -> None:
    line = trends.least_squares(NORRIS_X, NORRIS_Y)
    assert line.slope == pytest.approx(1.00211681802045, abs=1e-12)
    assert line.intercept == pytest.approx(-0.262323073774029, abs=1e-10)
    assert line.slope_se == pytest.approx(0.429796848199937e-3, abs=1e-13)
    assert line.intercept_se == pytest.approx(0.232818234301152, abs=1e-11)


def test_sens_own_example_has_his_slope() -> None:
    # Sen (1968) J. Am. Stat. Assoc. 63:1379-1389: slope 4, 93 % interval 26/7 to 35/8 there
    x, y = [1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]
    result = trends.theil_sen(x, y, 0.93)
    assert result.slope == pytest.approx(4)
    assert result.low == pytest.approx(26 / 7)
    assert result.high == pytest.approx(35 / 8)


def test_a_constructed_leak_is_the_intercept() -> None:
    # water balance by regression after Ham & DeSutter (1999): loss against computed evaporation;
    # constructed so that the intercept is 1.5 mm/day
    evaporation = [2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 3.5, 5.5]
    loss = [
        3.716025641, 4.209615385, 5.603205128, 6.746794872, 7.290384615, 8.583974359, 4.856410256,
        6.993589744,
    ]  # fmt: skip
    line = trends.least_squares(evaporation, loss)
    assert line.intercept == pytest.approx(1.5, abs=1e-6)
    assert line.slope == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.9, 0.95, 0.99, 0.999])
def test_intervals_agree_with_scipy(confidence: float) -> None:
    chance = random.Random(7)
    for n in (3, 4, 10, 60, 300):
        x = [float(round(i * 0.7, 1)) for i in range(n)]
        y = [round(3 - 0.4 * v + chance.gauss(0, 1), 1) for v in x]
        ours, theirs = trends.least_squares(x, y, confidence), stats.linregress(x, y)
        t = stats.t.ppf((1 + confidence) / 2, n - 2)
        assert ours.slope == pytest.approx(theirs.slope)
        assert ours.slope_se == pytest.approx(theirs.stderr)
        assert ours.intercept_se == pytest.approx(theirs.intercept_stderr)
        assert ours.slope_high == pytest.approx(theirs.slope + t * theirs.stderr, rel=1e-8)
        low = theirs.intercept - t * theirs.intercept_stderr
        assert ours.intercept_low == pytest.approx(low, rel=1e-8)
        sen, reference = trends.theil_sen(x, y, confidence), stats.theilslopes(y, x, confidence)
        assert sen.slope == pytest.approx(reference[0])
        assert (sen.low, sen.high) == pytest.approx((reference[2], reference[3]))


def test_students_quantile_agrees_with_scipy() -> None:
    for dof in [*range(1, 40), 60, 99, 150, 199, 200, 201, 300, 1000, 10_000, 1_000_000]:
        for probability in [1e-5, 0.001, 0.025, 0.2, 0.5, 0.6, 0.9, 0.975, 0.995, 0.9995, 1 - 1e-5]:
            expected = float(stats.t.ppf(probability, dof))
            ours = trends.t_quantile(probability, dof)
            assert ours == pytest.approx(expected, rel=1e-9, abs=1e-12)


def test_95_percent_is_one_number_for_all_and_that_of_the_tables() -> None:
    # NIST/SEMATECH e-Handbook 1.3.6.7.1 (section from memory): 0.97500 of the area left of 1.96
    assert round(trends.normal_quantile(0.975), 2) == trends.SURE
    folder = Path(trends.__file__).parents[1]
    known = [path for path in folder.rglob("*.py")
             if re.search(r"=\s*1\.96\b", path.read_text("utf-8"))]  # fmt: skip
    assert known == [Path(trends.__file__)]


def test_normal_quantile_agrees_with_scipy() -> None:
    for probability in [1e-8, 1e-4, 0.025, 0.3, 0.5, 0.7, 0.975, 0.9999]:
        expected = float(stats.norm.ppf(probability))
        assert trends.normal_quantile(probability) == pytest.approx(expected, rel=1e-8, abs=1e-12)


numbers = st.floats(min_value=-1000, max_value=1000).map(lambda value: round(value, 3))


@QUICK
@given(
    x=st.lists(st.integers(min_value=0, max_value=500), min_size=3, max_size=15, unique=True),
    slope=numbers,
    intercept=numbers,
)
def test_points_on_a_line_give_that_line(x: list[int], slope: float, intercept: float) -> None:
    y = [intercept + slope * value for value in x]
    line = trends.least_squares(x, y)
    assert line.slope == pytest.approx(slope, abs=1e-7)
    assert line.intercept == pytest.approx(intercept, abs=1e-5)
    assert trends.theil_sen(x, y).slope == pytest.approx(slope, abs=1e-7)


def test_a_wild_reading_does_not_move_the_median_slope() -> None:
    x = list(range(20))
    y = [2.0 * value for value in x]
    wild = [*y[:-1], 1000.0]
    assert trends.theil_sen(x, wild).slope == pytest.approx(2)
    assert trends.least_squares(x, wild).slope > 5


def test_more_confidence_is_a_wider_interval() -> None:
    narrow = trends.least_squares(NORRIS_X, NORRIS_Y, 0.8)
    wide = trends.least_squares(NORRIS_X, NORRIS_Y, 0.99)
    assert wide.slope_low < narrow.slope_low < narrow.slope < narrow.slope_high < wide.slope_high


def test_points_that_carry_no_line_are_refused() -> None:
    with pytest.raises(ValueError, match="three points"):
        trends.least_squares([1, 2], [1, 2])
    with pytest.raises(ValueError, match="two different x"):
        trends.theil_sen([1, 1, 1], [1, 2, 3])
    with pytest.raises(ValueError, match="as many y as x"):
        trends.least_squares([1, 2, 3], [1, 2])
    with pytest.raises(ValueError, match="plain number"):
        trends.least_squares([1, 2, math.nan], [1, 2, 3])
    with pytest.raises(ValueError, match=r"0\.5 to 0\.999"):
        trends.least_squares([1, 2, 3], [1, 2, 3], 1.0)
    with pytest.raises(ValueError, match="at most 2000"):
        trends.theil_sen(range(2001), range(2001))
    with pytest.raises(ValueError, match="degrees of freedom"):
        trends.t_quantile(0.9, 0)
    with pytest.raises(ValueError, match="probability"):
        trends.normal_quantile(1.0)
