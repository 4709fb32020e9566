"""Volumes while water runs: all from the journal's stamps, nothing is counted meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from pondtui.pond.setup.barrels import depth_mm, full_line_l, heel_l, volume_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.model import BarrelNow, Running, TimedRelease
from pondtui.records import NamedTuple
from pondtui.science.pipes import (
    Line,
    Release,
    Vessel,
    depth_after_mm,
    drain_curve,
    fit_fittings,
    time_to_s,
)
from pondtui.units import show

EARLY = 0.8  # nobody relies on a bell: ring at 80 % of the predicted time and again at its end
NO_PIPE = "how long it takes is known after the first release"
LEAST_MIN = 1.0  # a barrel that was full before is late after a minute
FIT_FROM = 2  # timed releases that a fit needs
# Stands for a pipe that is not described: watched once, its losses alone say how long it takes.
_UNKNOWN = Line(40.0, 0.0)
FIT_LAST = 6  # the latest ones: pipes age


class Flowing(NamedTuple):
    """Water that runs now, as computed from the stamps."""

    what: str  # fill, release
    held_l: float | None  # now; None where nothing can be computed (no flow, no pipe described)
    run_min: float
    left_min: float | None  # until full, or until the outlet runs dry
    share: float | None  # of the whole time, 0..1 and over when it is late
    estimate: str  # how sure: "from 4 timed releases", "estimate: no release was timed yet" ...

    @property
    def ring(self) -> str:
        """ "", "early" from 80 % of the time on, "end" when the time is up."""
        if self.share is None or self.share < EARLY:
            return ""
        return "early" if self.share < 1.0 else "end"


class Pipe(NamedTuple):
    """A barrel's outlet with the loss coefficient in use."""

    vessel: Vessel
    line: Line
    estimate: str


def flowing(setup: Setup, barrel: Barrel, water: BarrelNow, now: int) -> Flowing | None:
    """What runs at a barrel now; None when nothing does."""
    running = water.running
    if running is None:
        return None
    if running.what == "fill":
        return _filling(setup, barrel, running, now)
    return _letting_out(barrel, water, running, now)


def live(setup: Setup, barrel: Barrel, water: BarrelNow, now: int) -> BarrelNow:
    """The barrel with what has run in or out by now; untreated tap water raises `untreated_l`."""
    running = flowing(setup, barrel, water, now)
    if running is None or running.held_l is None:
        return water
    held = running.held_l
    if held <= water.held_l:
        share = held / water.held_l if water.held_l > 0 else 0.0
        return water._replace(held_l=held, untreated_l=water.untreated_l * share)
    if barrel.source == "rain":
        return water._replace(held_l=held)
    raw = water.untreated_l + held - water.held_l
    return water._replace(held_l=held, untreated_l=raw, clear_at=None)


def _latest(running: Running) -> tuple[int, float]:
    """The latest measured volume of this pouring: its beginning, or a look meanwhile."""
    if running.looks:
        return running.looks[-1].instant, running.looks[-1].held_l
    return running.instant, running.held_l


def tap_flow_l_min(setup: Setup, barrel: Barrel, running: Running | None = None) -> float | None:
    """The tap's flow: by the looks of this filling where there is one, else by pond.toml."""
    if running is not None and running.looks:
        look = running.looks[-1]
        minutes = (look.instant - running.instant) / 60
        poured = look.held_l - running.held_l
        if minutes >= 1 and poured > 0:
            return poured / minutes
    source = setup.sources.get(barrel.source)
    return source.flow_l_min if source is not None else None


def _filling(setup: Setup, barrel: Barrel, running: Running, now: int) -> Flowing:
    run_min = max(now - running.instant, 0) / 60
    flow = tap_flow_l_min(setup, barrel, running)
    if not flow:
        return Flowing("fill", None, run_min, None, None, "no tap flow is described")
    since, held = _latest(running)
    full = full_line_l(barrel)
    held_now = held + flow * max(now - since, 0) / 60
    total_min = max(run_min + (full - held_now) / flow, LEAST_MIN)
    share = run_min / total_min
    how = (
        "by the look at it"
        if running.looks
        else f"by a tap flow of {show(flow, 'flow', setup.pond.units)}"
    )
    left = max(total_min - run_min, 0.0)
    return Flowing("fill", min(held_now, max(full, held)), run_min, left, share, how)


def pipe_of(barrel: Barrel, timed: Sequence[TimedRelease]) -> Pipe | None:
    """The outlet's line, its losses fitted to timed releases where two or more exist; one is enough
    where no pipe is described."""
    return _pipe(barrel, tuple(timed[-FIT_LAST:]))


@lru_cache(maxsize=32)
def _pipe(barrel: Barrel, timed: tuple[TimedRelease, ...]) -> Pipe | None:
    if barrel.delivery == "carried":
        return None
    vessel = Vessel(
        barrel.shape,
        barrel.diameter_mm,
        barrel.length_mm,
        barrel.width_mm,
        barrel.breadth_mm,
    )
    releases = [r for r in (_release(barrel, t) for t in timed) if r is not None]
    many = f"{len(releases)} timed release{'s' * (len(releases) != 1)}"
    if not barrel.pipe_bore_mm or barrel.pipe_length_mm is None:
        if not releases:
            return None
        fitted = fit_fittings(vessel, _UNKNOWN, releases, barrel.outlet_mm)
        return Pipe(vessel, _UNKNOWN._replace(fittings=fitted), f"from {many}")
    line = Line(
        barrel.pipe_bore_mm, barrel.pipe_length_mm, barrel.drop_mm, fittings=barrel.fittings
    )
    if len(releases) < FIT_FROM:
        return Pipe(vessel, line, "an estimate: fewer than two releases were timed")
    fitted = fit_fittings(vessel, line, releases, barrel.outlet_mm)
    return Pipe(vessel, line._replace(fittings=fitted), f"from {many}")


def _release(barrel: Barrel, timed: TimedRelease) -> Release | None:
    """A timed release as depths; None where nothing or next to nothing ran."""
    start = depth_mm(barrel, timed.start_l)
    end = max(depth_mm(barrel, timed.end_l), lowest_mm(barrel))
    if start - end < 50 or timed.minutes <= 0:
        return None
    return Release(start, end, timed.minutes * 60)


def lowest_mm(barrel: Barrel) -> float:
    """Depth at which the outlet stops running."""
    still = 1.0 if barrel.drop_mm <= 0 else 0.0
    return barrel.outlet_mm + max(0.0, -barrel.drop_mm) + still


@lru_cache(maxsize=64)
def _curve(pipe: Pipe, barrel: Barrel, start_l: float) -> list[tuple[float, float]]:
    start = max(depth_mm(barrel, start_l), lowest_mm(barrel))
    return drain_curve(pipe.vessel, pipe.line, start, lowest_mm(barrel), barrel.outlet_mm)


def release_min(
    barrel: Barrel, timed: Sequence[TimedRelease], start_l: float, out_l: float | None = None
) -> tuple[float | None, str]:
    """Minutes until so much has run out (None: all that runs), and how sure that is."""
    pipe = pipe_of(barrel, timed)
    if pipe is None:
        return None, NO_PIPE
    curve = _curve(pipe, barrel, round(start_l, 3))
    if out_l is None:
        return curve[-1][0] / 60, pipe.estimate
    goal = depth_mm(barrel, max(start_l - out_l, 0.0))
    return time_to_s(curve, goal) / 60, pipe.estimate


def _letting_out(barrel: Barrel, water: BarrelNow, running: Running, now: int) -> Flowing:
    run_min = max(now - running.instant, 0) / 60
    pipe = pipe_of(barrel, water.timed)
    if pipe is None:
        return Flowing("release", None, run_min, None, None, NO_PIPE)
    since, held = _latest(running)
    curve = _curve(pipe, barrel, round(held, 3))
    elapsed = max(now - since, 0)
    depth = depth_after_mm(curve, elapsed)
    left_min = max(curve[-1][0] - elapsed, 0.0) / 60
    total_min = max((since - running.instant + curve[-1][0]) / 60, LEAST_MIN)
    held_now = min(max(volume_l(barrel, depth), min(heel_l(barrel), held)), held)
    share = run_min / total_min
    how = pipe.estimate + (", corrected by a look" if running.looks else "")
    return Flowing("release", held_now, run_min, left_min, share, how)
