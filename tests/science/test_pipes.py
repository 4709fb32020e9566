"""Hose flow and draining, against solved equations, the fluids library and laws."""

from __future__ import annotations

import math
import time

import pytest
from fluids.friction import Churchill_1977
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]  # scipy ships no types
from scipy.optimize import brentq  # type: ignore[import-untyped]  # scipy ships no types

from pondtui.science import pipes, vessels
from pondtui.science.holes import GRAVITY_M_S2, circle_m2, drain_time_s
from pondtui.science.pipes import Line, Release, Vessel

QUICK = settings(max_examples=40, deadline=None)

HOSE = Line(bore_mm=19, length_mm=3000, drop_mm=300)
BARREL = Vessel("upright", diameter_mm=580)
LYING = Vessel("lying", diameter_mm=580, length_mm=900)
TROUGH = Vessel("straight", area_m2=0.48)


def solved_flow_m3_s(line: Line, head_m: float) -> float:
    """The same energy equation, solved by scipy with the friction of the fluids library."""
    bore = line.bore_mm / 1000

    def miss(velocity: float) -> float:
        reynolds = velocity * bore / (line.viscosity_mm2_s * 1e-6)
        friction = Churchill_1977(reynolds, line.roughness_mm / line.bore_mm)
        losses = line.fittings + friction * line.length_mm / line.bore_mm
        return float(velocity**2 / 2 * losses - GRAVITY_M_S2 * head_m)

    return float(brentq(miss, 1e-9, 100, xtol=1e-14, rtol=1e-12)) * math.pi * bore**2 / 4


@pytest.mark.parametrize(
    ("bore_mm", "litres_per_min"),
    # g H = v2/2 (K + f L/D) with Churchill (1977), 10 m of smooth hose under 1 m, water 15 degC,
    # K 1.5, solved with scipy and cross-checked with fluids; no published value
    [(15.9, 11.97), (19.0, 19.20), (25.4, 41.03)],
)
def test_a_garden_hose_runs_as_fast_as_the_solved_equation(
    bore_mm: float, litres_per_min: float
) -> None:
    flow = pipes.flow_l_min(Line(bore_mm, 10_000), 1.0)
    assert flow == pytest.approx(litres_per_min, rel=1e-3)


def test_flow_agrees_with_a_general_solver_over_a_grid() -> None:
    for bore in [2.0, 10.0, 19.0, 50.0]:
        for length in [0.0, 500.0, 10_000.0, 200_000.0]:
            for head in [0.0005, 0.01, 0.3, 1.2, 8.0]:
                line = Line(bore, length, roughness_mm=0.01)
                expected = solved_flow_m3_s(line, head) * 60_000
                assert pipes.flow_l_min(line, head) == pytest.approx(expected, rel=1e-8)


def test_a_barrel_through_a_hose_takes_the_solved_time() -> None:
    # dh/dt = -Q(h + 0.30 m)/A, scipy: 468.2 s with Churchill, 468.6 s with Colebrook
    curve = pipes.drain_curve(BARREL, HOSE, 850, 50)
    assert curve[-1][0] == pytest.approx(468.2, abs=0.3)


@pytest.mark.parametrize("vessel", [BARREL, LYING, TROUGH])
@pytest.mark.parametrize(("start_mm", "end_mm"), [(570, 30), (580, 0), (200, 100)])
@pytest.mark.parametrize("drop_mm", [-20.0, 0.0, 5.0, 300.0])
def test_drain_time_agrees_with_a_fine_integral(
    vessel: Vessel, start_mm: float, end_mm: float, drop_mm: float
) -> None:
    line = HOSE._replace(drop_mm=drop_mm)
    end_mm = max(end_mm, 2 - drop_mm)

    def seconds_per_mm(depth_mm: float) -> float:
        surface = vessels.surface_m2(
            vessel.shape,
            depth_mm,
            diameter_mm=vessel.diameter_mm,
            length_mm=vessel.length_mm,
            area_m2=vessel.area_m2,
        )
        return surface / 1000 / solved_flow_m3_s(line, (depth_mm + drop_mm) / 1000)

    expected, _ = quad(seconds_per_mm, end_mm, start_mm, epsrel=1e-6, limit=200)
    curve = pipes.drain_curve(vessel, line, start_mm, end_mm)
    assert curve[-1][0] == pytest.approx(expected, rel=3e-4)


def test_without_friction_a_pipe_is_a_hole() -> None:
    # Torricelli with Cd = 1/sqrt(K)
    line = Line(bore_mm=20, length_mm=0, fittings=1.0)
    curve = pipes.drain_curve(BARREL, line, 800, 100)
    expected = drain_time_s(circle_m2(580), circle_m2(20), 0.8, 0.1, cd=1.0)
    assert curve[-1][0] == pytest.approx(expected, rel=1e-4)


heads = st.floats(min_value=1e-6, max_value=20)
lines = st.builds(
    Line,
    bore_mm=st.floats(min_value=2, max_value=100),
    length_mm=st.floats(min_value=0, max_value=100_000),
    drop_mm=st.just(0.0),
    roughness_mm=st.floats(min_value=0, max_value=0.1),
    fittings=st.floats(min_value=0.1, max_value=50),
    viscosity_mm2_s=st.floats(min_value=0.5, max_value=2),
)


@QUICK
@given(line=lines, head=heads)
def test_head_and_velocity_are_inverse(line: Line, head: float) -> None:
    assert pipes.head_m(line, pipes.velocity_m_s(line, head)) == pytest.approx(head, rel=1e-9)


@QUICK
@given(line=lines, low=heads, high=heads)
def test_more_head_is_never_less_flow(line: Line, low: float, high: float) -> None:
    low, high = sorted((low, high))
    assert pipes.flow_l_min(line, low) <= pipes.flow_l_min(line, high) * (1 + 1e-9)


@QUICK
@given(
    line=lines,
    drop=st.floats(min_value=-200, max_value=2000),
    outlet=st.floats(min_value=0, max_value=100),
    start=st.floats(min_value=0, max_value=580),
    vessel=st.sampled_from([BARREL, LYING, TROUGH]),
)
def test_the_level_never_rises_and_never_passes_the_outlet(
    line: Line, drop: float, outlet: float, start: float, vessel: Vessel
) -> None:
    lowest = outlet + max(0.0, -drop)
    start = max(start, min(580.0, lowest))
    curve = pipes.drain_curve(vessel, line._replace(drop_mm=drop), start, None, outlet)
    times, depths = [t for t, _ in curve], [d for _, d in curve]
    assert curve[0] == (0.0, start)
    assert times == sorted(times)
    assert depths == sorted(depths, reverse=True)
    assert depths[-1] >= lowest
    assert all(math.isfinite(t) for t in times)


def test_depth_at_a_time_follows_the_curve_and_ends_with_it() -> None:
    curve = pipes.drain_curve(BARREL, HOSE, 850, 50)
    middle_time, middle_depth = curve[20]
    assert pipes.depth_after_mm(curve, 0) == 850
    assert pipes.depth_after_mm(curve, middle_time) == pytest.approx(middle_depth)
    assert pipes.depth_after_mm(curve, 1e9) == 50
    halfway = pipes.depth_after_mm(curve, (curve[20][0] + curve[21][0]) / 2)
    assert curve[21][1] < halfway < curve[20][1]


def test_the_time_to_a_depth_is_the_inverse_of_the_depth_at_a_time() -> None:
    curve = pipes.drain_curve(BARREL, HOSE, 850, 50)
    for depth in (850, 849.9, 600.5, 51, 50):
        assert pipes.depth_after_mm(curve, pipes.time_to_s(curve, depth)) == pytest.approx(depth)
    assert pipes.time_to_s(curve, 900) == 0
    assert pipes.time_to_s(curve, 20) == curve[-1][0]
    assert pipes.time_to_s(curve[:1], 20) == 0


def test_a_drowned_or_level_end_stops_a_millimetre_above_rest() -> None:
    curve = pipes.drain_curve(BARREL, HOSE._replace(drop_mm=-100), 500)
    assert curve[-1][1] == 101
    with pytest.raises(ValueError, match="never quite falls to 100 mm"):
        pipes.drain_curve(BARREL, HOSE._replace(drop_mm=-100), 500, 100)


def test_one_barrel_is_drained_in_a_few_milliseconds() -> None:
    pipes.drain_curve(LYING, HOSE, 560, 20)
    took = []
    for _ in range(5):
        begin = time.process_time()
        pipes.drain_curve(LYING, HOSE, 560, 20)
        took.append(time.process_time() - begin)
    assert min(took) < 0.015  # 0.5 ms on an idle core


def test_fitting_finds_the_loss_that_made_the_times() -> None:
    true_line = HOSE._replace(fittings=7.5)
    spans = [(850.0, 300.0), (700.0, 50.0), (850.0, 100.0)]
    releases = [Release(a, b, pipes.drain_curve(BARREL, true_line, a, b)[-1][0]) for a, b in spans]
    # the curve is sure to 1e-4, and the loss goes with twice that of all that brakes, some 15
    assert pipes.fit_fittings(BARREL, HOSE, releases) == pytest.approx(7.5, abs=4e-3)
    wrong = releases[0]._replace(time_s=10 * releases[0].time_s)
    assert pipes.fit_fittings(BARREL, HOSE, [*releases, wrong]) == pytest.approx(7.5, abs=1e-2)


@pytest.mark.parametrize("end", [20.0, 60.0, 300.0])
def test_fitting_and_draining_agree_in_a_lying_barrel_too(end: float) -> None:
    true_line = HOSE._replace(fittings=7.5)
    took = pipes.drain_curve(LYING, true_line, 560, end)[-1][0]
    assert pipes.fit_fittings(LYING, HOSE, [Release(560, end, took)]) == pytest.approx(
        7.5, abs=4e-3
    )


def test_fitting_stays_within_its_bounds() -> None:
    assert pipes.fit_fittings(BARREL, HOSE, [Release(850, 50, 1)]) == 0
    assert pipes.fit_fittings(BARREL, HOSE, [Release(850, 50, 1e9)]) == 10_000
    two = [Release(850, 50, 1), Release(850, 50, 1e9)]
    assert pipes.fit_fittings(BARREL, HOSE, two) == 5000


def test_no_water_moves_without_a_head() -> None:
    assert pipes.flow_l_min(HOSE, 0) == 0
    assert pipes.drain_curve(BARREL, HOSE, 300, 300) == [(0.0, 300)]


@pytest.mark.parametrize(
    ("line", "start", "end", "words"),
    [
        (HOSE._replace(bore_mm=0), 500, 0, "bore"),
        (HOSE._replace(roughness_mm=1), 500, 0, r"0 to 0\.95 mm"),
        (Line(19, 0, fittings=0), 500, 0, "length or a loss"),
        (HOSE, 100, 500, "must fall"),
        (HOSE, 100, -5, "above 0 mm"),
        (HOSE, math.inf, 0, "depth"),
    ],
)
def test_lines_and_depths_that_cannot_be_are_refused(
    line: Line, start: float, end: float, words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        pipes.drain_curve(BARREL, line, start, end)


def test_releases_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one"):
        pipes.fit_fittings(BARREL, HOSE, [])
    with pytest.raises(ValueError, match="lower"):
        pipes.fit_fittings(BARREL, HOSE, [Release(100, 200, 60)])
