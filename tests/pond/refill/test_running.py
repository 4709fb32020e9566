"""Volumes while water runs: by the clock, by a look, and by the outlet's own record."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.pond.refill.running import (
    Flowing,
    flowing,
    live,
    lowest_mm,
    pipe_of,
    release_min,
    tap_flow_l_min,
)
from pondtui.pond.setup.barrels import heel_l, volume_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.model import BarrelNow, TimedRelease
from tests.pond.world import (
    BUTT,
    HEEL,
    LINE,
    OPENED,
    RELEASED,
    SETUP,
    YARD,
    at,
    barrel,
    with_barrel,
    with_tap,
)

G = 9.80665  # m/s2, standard gravity
BORE_M = 0.020
BORE_M2 = math.pi * BORE_M**2 / 4
AREA_M2 = 0.2

# A hole in the side: no pipe, so that only the loss coefficient counts.
HOLE = YARD._replace(pipe_length_mm=0.0, fittings=2.0, drop_mm=0.0)
SPOUT = HOLE._replace(drop_mm=300.0)


def torricelli_s(start_mm: float, end_mm: float, k: float, drop_mm: float = 0.0) -> float:
    """Time from one depth above the outlet to another through a hole (constructed).

    Torricelli with a discharge coefficient of 1/sqrt(K): t = A/(a Cd) sqrt(2/g) (sqrt H1 - sqrt H2)
    """
    high, low = (math.sqrt((depth + drop_mm) / 1000) for depth in (start_mm, end_mm))
    return AREA_M2 / (BORE_M2 / math.sqrt(k)) * math.sqrt(2 / G) * (high - low)


def torricelli_depth_mm(start_mm: float, time_s: float, k: float, drop_mm: float = 0.0) -> float:
    """Depth above the outlet after a time: the inverse of the above (constructed)."""
    root = math.sqrt((start_mm + drop_mm) / 1000)
    slower = time_s * BORE_M2 / math.sqrt(k) / AREA_M2 * math.sqrt(G / 2)
    return (root - slower) ** 2 * 1000 - drop_mm


def now(
    text: str, clock: str, setup: Setup = SETUP, config: Barrel | None = None
) -> Flowing | None:
    """What runs at the yard barrel after the lines."""
    config = config or setup.barrels[0]
    return flowing(setup, config, barrel(text, clock, setup), at(clock))


def running(text: str, clock: str, setup: Setup = SETUP, config: Barrel | None = None) -> Flowing:
    """The same where something runs."""
    found = now(text, clock, setup, config)
    assert found is not None
    return found


def out(text: str, clock: str, config: Barrel) -> float:
    """Litres in the barrel while it runs out."""
    found = running(text, clock, with_barrel(config), config)
    assert found.held_l is not None
    return found.held_l


HOSE_ON = "07:00 | start | what=fill; barrel=yard; batch=a\n"
# OPENED opens the outlet at 07:42 with 180 L standing there


def test_nothing_runs_before_and_after() -> None:
    assert now("", "08:00") is None
    assert now(RELEASED, "09:00") is None


# --- filling --------------------------------------------------------------------------------------


def test_a_filling_counts_by_the_taps_flow() -> None:
    found = running(HOSE_ON, "07:06")
    assert found.held_l == pytest.approx(HEEL + 60)
    assert found.run_min == pytest.approx(6)
    assert found.left_min == pytest.approx(10)
    assert found.share == pytest.approx(6 / 16)
    assert "10 L/min" in found.estimate


def test_a_filling_rings_early_and_at_the_end() -> None:
    assert running(HOSE_ON, "07:12:40").ring == ""
    assert running(HOSE_ON, "07:12:48").ring == "early"
    assert running(HOSE_ON, "07:16").ring == "end"
    late = running(HOSE_ON, "07:30")
    assert late.ring == "end"
    assert late.left_min == 0
    assert late.held_l == pytest.approx(LINE)


def test_a_filling_without_a_known_flow_only_counts_time() -> None:
    found = running(HOSE_ON, "07:06", with_tap(flow_l_min=None))
    assert (found.held_l, found.left_min, found.ring) == (None, None, "")
    assert found.run_min == pytest.approx(6)


def test_a_look_corrects_the_filling_and_its_flow_at_once() -> None:
    text = HOSE_ON + "07:05 | dip | barrel=yard; left=60 L\n"  # 8 L/min, not 10
    assert running(text, "07:05").held_l == pytest.approx(60)
    found = running(text, "07:10")
    assert found.held_l == pytest.approx(100)
    assert found.left_min == pytest.approx(10)
    assert "look" in found.estimate


def test_a_look_tells_a_flow_that_nobody_described() -> None:
    setup = with_tap(flow_l_min=None)
    text = HOSE_ON + "07:05 | dip | barrel=yard; left=60 L\n"
    assert running(text, "07:10", setup).held_l == pytest.approx(100)


def test_the_latest_look_counts() -> None:
    text = HOSE_ON + (
        "07:05 | dip | barrel=yard; left=60 L\n07:10 | dip | barrel=yard; left=120 L\n"
    )
    assert running(text, "07:12").held_l == pytest.approx(140)


def test_a_look_within_a_minute_says_nothing_about_the_flow() -> None:
    text = HOSE_ON + "07:00:30 | dip | barrel=yard; left=60 L\n"
    water = barrel(text, "07:01")
    assert tap_flow_l_min(SETUP, YARD, water.running) == 10


@given(st.integers(0, 7200), st.integers(0, 7200))
@settings(deadline=None, max_examples=60)
def test_a_filling_never_falls_and_never_passes_the_line(one: int, other: int) -> None:
    water = barrel(HOSE_ON, "07:00")
    first, last = (
        flowing(SETUP, YARD, water, at("07:00") + seconds) for seconds in sorted((one, other))
    )
    assert first is not None
    assert last is not None
    assert HEEL <= (first.held_l or 0) <= (last.held_l or 0) <= LINE + 1e-9


def test_live_water_rises_untreated() -> None:
    shown = live(SETUP, YARD, barrel(HOSE_ON, "07:06"), at("07:06"))
    assert shown.held_l == pytest.approx(80)
    assert shown.untreated_l == pytest.approx(80)


# --- letting out ----------------------------------------------------------------------------------


@pytest.mark.parametrize("minutes", [1, 2, 3])
@pytest.mark.parametrize("config", [HOLE, SPOUT])
def test_a_hole_drains_as_torricelli_says(config: Barrel, minutes: int) -> None:
    depth = torricelli_depth_mm(800, minutes * 60, 2.0, config.drop_mm)
    held = out(OPENED, f"07:{42 + minutes}", config)
    assert held == pytest.approx((100 + depth) * 0.2, rel=2e-3)


def test_the_whole_release_takes_as_long_as_torricelli_says() -> None:
    minutes, how = release_min(SPOUT, (), LINE)
    assert minutes == pytest.approx(torricelli_s(800, 0, 2.0, 300) / 60, rel=2e-3)
    assert "estimate" in how
    part, _ = release_min(SPOUT, (), LINE, 80.0)
    assert part == pytest.approx(torricelli_s(800, 400, 2.0, 300) / 60, rel=2e-3)


@given(st.integers(25, 180), st.integers(1, 180), st.sampled_from([YARD, HOLE, SPOUT]))
@settings(deadline=None, max_examples=50)
def test_two_parts_of_a_release_take_as_long_as_both(
    start_l: int, out_l: int, config: Barrel
) -> None:
    whole, how = release_min(config, (), start_l)
    part, _ = release_min(config, (), start_l, out_l)
    rest, _ = release_min(config, (), max(start_l - out_l, HEEL))
    assert whole is not None
    assert part is not None
    assert rest is not None
    assert part + rest == pytest.approx(whole, rel=0.002, abs=0.01)
    found = flowing(with_barrel(config), config, barrel(OPENED, "07:42"), at("07:42"))
    assert found is not None
    assert found.left_min == pytest.approx(release_min(config, (), LINE)[0])
    assert (found.run_min, found.share, found.estimate) == (0, 0, how)


@given(st.integers(0, 40_000), st.integers(0, 40_000), st.sampled_from([YARD, HOLE, SPOUT]))
@settings(deadline=None, max_examples=100)
def test_a_release_never_rises_and_never_goes_under_the_heel(
    one: int, other: int, config: Barrel
) -> None:
    setup = with_barrel(config)
    water = barrel(OPENED, "07:42", setup)
    first, last = (
        flowing(setup, config, water, at("07:42") + seconds) for seconds in sorted((one, other))
    )
    assert first is not None
    assert last is not None
    assert HEEL - 1e-9 <= (last.held_l or 0) <= (first.held_l or 0) <= LINE + 1e-9
    assert (last.left_min or 0) <= (first.left_min or 0)


def test_a_release_rings_early_and_at_the_end() -> None:
    minutes, _ = release_min(YARD, (), LINE)
    assert minutes is not None
    water = barrel(OPENED, "07:42")

    def ring(share: float) -> str:
        found = flowing(SETUP, YARD, water, at("07:42") + round(minutes * 60 * share))
        assert found is not None
        return found.ring

    assert [ring(0.5), ring(0.81), ring(1.01)] == ["", "early", "end"]


def test_a_look_corrects_the_release_at_once() -> None:
    text = OPENED + "07:50 | dip | barrel=yard; left=130 L\n"
    assert out(text, "07:50", SPOUT) == pytest.approx(130)
    depth = torricelli_depth_mm(550, 120, 2.0, 300)
    assert out(text, "07:52", SPOUT) == pytest.approx((100 + depth) * 0.2, rel=2e-3)
    assert "look" in running(text, "07:52").estimate


def test_water_below_the_outlet_does_not_run() -> None:
    text = (
        "07:00 | dip | barrel=yard; left=15 L\n07:01 | start | what=release; barrel=yard; batch=a\n"
    )
    found = running(text, "07:30")
    assert found.held_l == pytest.approx(15)
    assert found.left_min == 0


def test_an_outlet_below_its_pipes_end_stops_higher_up() -> None:
    uphill = YARD._replace(drop_mm=-200.0)
    assert lowest_mm(uphill) == pytest.approx(301)
    assert out(OPENED, "22:00", uphill) == pytest.approx(volume_l(uphill, 301), rel=1e-3)


@pytest.mark.parametrize("config", [YARD._replace(pipe_bore_mm=None), BUTT._replace(name="yard")])
def test_without_a_pipe_only_time_is_counted(config: Barrel) -> None:
    found = running(OPENED, "07:50", with_barrel(config), config)
    assert (found.held_l, found.left_min) == (None, None)
    assert found.run_min == pytest.approx(8)
    assert release_min(config, (), LINE)[0] is None


@pytest.mark.parametrize(("length", "fittings"), [(1.0, 0.0), (1.0, 1000.0), (1e6, 0.0)])
def test_the_extremes_of_a_description_are_no_failure(length: float, fittings: float) -> None:
    config = YARD._replace(pipe_length_mm=length, fittings=fittings)
    assert out(OPENED, "07:50", config) >= heel_l(config)


def test_live_water_falls_treated_and_untreated_alike() -> None:
    water = barrel(OPENED, "07:44")._replace(untreated_l=90.0)
    shown = live(SETUP, YARD, water, at("07:44"))
    assert HEEL < shown.held_l < LINE
    assert shown.untreated_l == pytest.approx(shown.held_l / 2)


# --- the record of past releases ------------------------------------------------------------------


def timed(k: float, end_l: float = 60.0, drop_mm: float = 300.0) -> TimedRelease:
    """A release from the full line as Torricelli would time it."""
    return TimedRelease(LINE, end_l, torricelli_s(800, end_l / 0.2 - 100, k, drop_mm) / 60)


@pytest.mark.parametrize("k", [1.0, 3.0, 12.0])
def test_two_timed_releases_find_the_losses_of_the_outlet(k: float) -> None:
    found = pipe_of(SPOUT, [timed(k), timed(k, 100.0)])
    assert found is not None
    assert found.line.fittings == pytest.approx(k, rel=5e-3)
    assert "2 timed releases" in found.estimate


def test_one_timed_release_is_not_enough() -> None:
    found = pipe_of(SPOUT, [timed(9.0)])
    assert found is not None
    assert found.line.fittings == 2.0
    assert "estimate" in found.estimate


def test_one_mistimed_release_does_not_move_the_fit() -> None:
    wrong = timed(3.0)._replace(minutes=600.0)
    found = pipe_of(SPOUT, [timed(3.0), wrong, timed(3.0, 90.0)])
    assert found is not None
    assert found.line.fittings == pytest.approx(3.0, rel=5e-3)


def test_only_the_latest_ten_count_since_pipes_age() -> None:
    found = pipe_of(SPOUT, [*[timed(20.0)] * 30, *[timed(3.0)] * 10])
    assert found is not None
    assert found.line.fittings == pytest.approx(3.0, rel=5e-3)


def test_next_to_nothing_let_out_is_no_record() -> None:
    nothing = TimedRelease(LINE, LINE - 5, 9.0)
    found = pipe_of(SPOUT, [nothing, nothing, timed(3.0)])
    assert found is not None
    assert found.line.fittings == 2.0


def test_the_journals_own_releases_make_the_record() -> None:
    once = (
        "{0:02}:00 | fill | barrel=yard; batch=n{0}; to=line\n"
        "{0:02}:05 | treat | barrel=yard; batch=n{0}; dose=14.5 mL; rate=8 mL per 100 L\n"
        "{0:02}:20 | start | what=release; barrel=yard; batch=n{0}\n"
        "{0:02}:50 | release | barrel=yard; batch=n{0}; left=60 L; to=bay\n"
    )
    text = once.format(6) + once.format(8) + "09:00 | dip | barrel=yard; left=180 L\n"
    water: BarrelNow = barrel(text)
    assert [r.minutes for r in water.timed] == [30.0, 30.0]
    minutes, how = release_min(YARD, water.timed, LINE, LINE - 60)
    assert minutes == pytest.approx(30, rel=2e-2)
    assert "2 timed releases" in how
