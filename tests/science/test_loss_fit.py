"""Falls of a level by generalised least squares, against dense matrices and published lines."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.science import loss_checks
from pondtui.science.loss_fit import Falls, Prior, fit
from tests.science.test_trends import NORRIS_X, NORRIS_Y

np = pytest.importorskip("numpy")
QUICK = settings(max_examples=40, deadline=None)


def falls_of(
    seed: int, runs: list[int], factor: float, steady: float, error: float, daily: float
) -> tuple[Falls, list[list[float]]]:
    """A level that falls by factor x evaporation + steady, read with errors."""
    chance = random.Random(seed)
    mm, days, begins, evaporated = [], [], [], []
    for length in runs:
        read = chance.gauss(0, error)
        for place in range(length):
            span = chance.choice((1.0, 1.0, 1.0, 2.0))
            water = span * max(0.0, chance.gauss(3.5, 1.3))
            before, read = read, chance.gauss(0, error)
            noise = chance.gauss(0, daily) * span**0.5
            mm.append(factor * water + steady * span + noise + before - read)
            days.append(span)
            begins.append(place == 0)
            evaporated.append(water)
    return Falls(mm, days, begins, days), [evaporated, days]


def covariance(falls: Falls, ratio: float) -> Any:
    """The covariance over the reading variance, written out."""
    n = len(falls.mm)
    whole = np.zeros((n, n))
    for i in range(n):
        whole[i, i] = 2 + ratio * falls.noise_days[i]
        if i and not falls.begins[i]:
            whole[i, i - 1] = whole[i - 1, i] = -1
    return whole


def alone(x: list[float], y: list[float]) -> tuple[Falls, list[list[float]]]:
    """Falls that share no reading, and columns for slope and intercept."""
    ones = [1.0] * len(x)
    return Falls(y, ones, [True] * len(x), ones), [x, ones]


def test_a_constructed_leak_is_the_steady_part() -> None:
    # water balance by regression after Ham & DeSutter (1999): loss against computed evaporation;
    # constructed so that the intercept is 1.5 mm/day and the slope 1
    evaporation = [2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 3.5, 5.5]
    loss = [
        3.716025641, 4.209615385, 5.603205128, 6.746794872, 7.290384615, 8.583974359, 4.856410256,
        6.993589744,
    ]  # fmt: skip
    falls, columns = alone(evaporation, loss)
    result = fit(falls, columns, [None, None], 2.0, 0.3)
    assert result.values == pytest.approx([1.0, 1.5], abs=1e-6)


def test_falls_that_share_nothing_meet_the_certified_line() -> None:
    # NIST Statistical Reference Datasets, Norris
    falls, columns = alone(NORRIS_X, NORRIS_Y)
    slope, intercept = fit(falls, columns, [None, None], 1.0, 0.5).values
    assert slope == pytest.approx(1.00211681802045, abs=1e-11)
    assert intercept == pytest.approx(-0.262323073774029, abs=1e-8)


@pytest.mark.parametrize("prior", [None, Prior(0.85, 0.15)])
@pytest.mark.parametrize("runs", [[12], [1, 1, 1, 1, 1, 3], [5, 9, 2, 14]])
def test_the_banded_solution_is_that_of_dense_matrices(
    runs: list[int], prior: Prior | None
) -> None:
    falls, columns = falls_of(3, runs, 0.8, 1.2, 2.0, 0.4)
    result = fit(falls, columns, [prior, None], 2.0, 0.3)
    weight = np.linalg.inv(covariance(falls, result.ratio) * result.error_mm**2)
    design, y = np.array(columns).T, np.array(falls.mm)
    precise, pull = design.T @ weight @ design, design.T @ weight @ y
    if prior:
        precise[0, 0] += prior.sd**-2
        pull[0] += prior.mean * prior.sd**-2
    assert result.values == pytest.approx(np.linalg.solve(precise, pull), rel=0.02)
    assert np.array(result.covariance) == pytest.approx(np.linalg.inv(precise), rel=0.05)


def test_many_readings_find_both_variances() -> None:
    for error, daily in ((2.0, 0.5), (1.0, 0.8), (3.0, 1.5)):
        falls, columns = falls_of(5, [40] * 60, 0.8, 1.0, error, daily)
        result = fit(falls, columns, [None, None], 2.0, 0.3)
        assert result.error_mm == pytest.approx(error, rel=0.05)
        assert result.daily_mm == pytest.approx(daily, rel=0.15)


def test_few_readings_keep_to_what_was_said_of_the_gauge() -> None:
    falls, columns = falls_of(6, [3], 0.8, 1.0, 0.0, 0.0)
    result = fit(falls, columns, [Prior(0.85, 0.15), None], 2.0, 0.3)
    assert 1.0 < result.error_mm < 2.1
    assert 0.05 < result.daily_mm < 1.0


@QUICK
@given(
    shift=st.floats(-20, 20), more=st.floats(-2, 2), runs=st.lists(st.integers(1, 9), min_size=6)
)
def test_what_every_day_loses_more_is_all_steady(
    shift: float, more: float, runs: list[int]
) -> None:
    falls, columns = falls_of(7, runs, 0.8, 1.0, 2.0, 0.4)
    more_mm = [mm + shift * d + more * e for mm, e, d in zip(falls.mm, *columns, strict=True)]
    before = fit(falls, columns, [None, None], 2.0, 0.3)
    after = fit(falls._replace(mm=more_mm), columns, [None, None], 2.0, 0.3)
    assert after.values[1] == pytest.approx(before.values[1] + shift, abs=1e-6)
    assert after.values[0] == pytest.approx(before.values[0] + more, abs=1e-6)


def test_what_cannot_be_told_apart_is_refused() -> None:
    falls, columns = falls_of(8, [8], 0.8, 1.0, 2.0, 0.4)
    with pytest.raises(ValueError, match="apart"):
        fit(falls, [columns[1], columns[1]], [None, None], 2.0, 0.3)
    with pytest.raises(ValueError, match="at least one fall"):
        fit(Falls([], [], [], []), [[], []], [None, None], 2.0, 0.3)
    for error, daily in ((0.0, 0.3), (2.0, 0.0), (math.nan, 0.3)):
        with pytest.raises(ValueError, match="must"):
            fit(falls, columns, [None, None], error, daily)


def test_the_inverse_band_is_that_of_the_dense_inverse() -> None:
    falls, _ = falls_of(9, [1, 4, 7, 1], 0.8, 1.0, 2.0, 0.4)
    dense = np.linalg.inv(covariance(falls, 0.07))
    diagonal, right = loss_checks.inverse_band(falls, 0.07)
    assert diagonal == pytest.approx(np.diag(dense))
    assert right[:-1] == pytest.approx(np.diag(dense, 1))


def test_one_reading_out_is_a_fit_without_it() -> None:
    falls, columns = falls_of(10, [4, 1, 9], 0.8, 1.2, 2.0, 0.4)
    result = fit(falls, columns, [None, None], 2.0, 0.3)
    outs = loss_checks.one_reading_out(falls, columns, result)
    assert len(outs) == len(falls.mm) + 3
    for out in outs:
        readings = np.zeros(len(falls.mm))
        if out.ends:
            readings[out.fall] = -1
            if out.fall + 1 < len(falls.mm) and not falls.begins[out.fall + 1]:
                readings[out.fall + 1] = 1
        else:
            readings[out.fall] = 1
        design = np.column_stack([*columns, readings])
        weight = np.linalg.inv(covariance(falls, result.ratio) * result.error_mm**2)
        precise = design.T @ weight @ design
        values = np.linalg.solve(precise, design.T @ weight @ np.array(falls.mm))
        assert out.error_mm == pytest.approx(values[2])
        assert out.t == pytest.approx(values[2] / math.sqrt(np.linalg.inv(precise)[2, 2]))
        assert out.shift == pytest.approx(values[:2] - result.values, abs=1e-6)


def test_a_misread_gauge_is_the_reading_that_stands_out() -> None:
    falls, columns = falls_of(11, [20], 0.8, 1.2, 1.0, 0.3)
    mm = list(falls.mm)
    mm[7], mm[8] = mm[7] - 15, mm[8] + 15  # the reading between them is 15 mm too high
    wrong = falls._replace(mm=mm)
    result = fit(wrong, columns, [None, None], 1.0, 0.3)
    worst = max(loss_checks.one_reading_out(wrong, columns, result), key=lambda o: abs(o.t))
    assert (worst.fall, worst.ends) == (7, True)
    assert worst.error_mm == pytest.approx(15, abs=3)


def test_a_step_is_a_fit_with_a_second_steady_part() -> None:
    falls, columns = falls_of(12, [3, 8, 5], 0.8, 1.2, 2.0, 0.4)
    result = fit(falls, columns, [None, None], 2.0, 0.3)
    found = loss_checks.steps(falls, columns, result, 3.0)
    assert len(found) > 8
    for step in found:
        later = [d if i >= step.fall else 0.0 for i, d in enumerate(falls.days)]
        design = np.column_stack([*columns, later])
        weight = np.linalg.inv(covariance(falls, result.ratio) * result.error_mm**2)
        inverse = np.linalg.inv(design.T @ weight @ design)
        values = inverse @ design.T @ weight @ np.array(falls.mm)
        assert step.change == pytest.approx(values[2])
        assert step.se == pytest.approx(math.sqrt(inverse[2, 2]))


def test_a_step_must_be_surer_the_more_days_are_looked_at() -> None:
    steps = [loss_checks.Step(i, 1.0 + i / 100, 0.5) for i in range(40)]
    few, many = loss_checks.sure_step(steps[:1]), loss_checks.sure_step(steps)
    assert few is not None
    assert many is not None
    assert few[1] == pytest.approx(1.959964, abs=1e-6)  # normal quantile of 0.975
    assert many[1] == pytest.approx(3.227218, abs=1e-6)  # and of 1 - 0.025/40, by scipy
    assert many[0] == steps[-1]
    assert loss_checks.sure_step([]) is None


def test_noise_in_the_weather_draws_the_factor_down_by_its_dilution() -> None:
    falls, (evaporated, days) = falls_of(13, [10] * 300, 1.0, 0.0, 2.0, 0.3)
    chance = random.Random(1)
    noisy = [e + chance.gauss(0, 0.6) * d**0.5 for e, d in zip(evaporated, days, strict=True)]
    result = fit(falls, [noisy, list(days)], [None, None], 2.0, 0.3)
    share = loss_checks.dilution(falls, result, 0, 0.6)
    assert 0.05 < share < 0.4
    assert result.values[0] == pytest.approx(1 - share, abs=0.05)
    assert loss_checks.dilution(falls, result, 0, 0.0) == 0
    with pytest.raises(ValueError, match="noise"):
        loss_checks.dilution(falls, result, 0, -1.0)
