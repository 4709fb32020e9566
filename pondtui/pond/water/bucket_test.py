"""The bucket test: a bucket of pond water standing in the pond loses to the weather alone.

Everything is worked out from the `bucket` entries, so a test goes on after any pause. Only this
test, or one with the pump off beside one with the pump on, may speak of a leak.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import sqrt

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState
from pondtui.pond.water.bucket import USUAL_ERROR_MM, USUAL_H, PumpTest, compared
from pondtui.pond.water.levels import area_m2_at, open_area_m2, reading_up
from pondtui.pond.water.seasons import local_day
from pondtui.records import NamedTuple
from pondtui.science.leaks import BucketTest, bucket_test

RAIN_MM = 0.5  # a trace is none; what is more runs in from the edges
DAY_S, AHEAD_S = 86_400, 120  # of another device's clock
SPOILING = ("pump-on", "pump-off", "gate-open", "gate-shut", "gauge-moved", "overflow", "power-cut")


class Look(NamedTuple):
    """Both levels at one moment."""

    instant: int
    pond_mm: float
    bucket_mm: float


class Phase(NamedTuple):
    """One test, the pump on or off all the time."""

    pump: str  # on, off
    lasts_h: float
    looks: tuple[Look, ...]  # the first begins it
    stopped: bool  # given up
    spoilt: str  # by what; "" while it counts
    ratio: float  # surfaces that this level feeds, over its own
    area_m2: float
    test: BucketTest | None  # by the latest look; None before there is a second one

    @property
    def hours(self) -> float:
        """From its first look to its latest."""
        return (self.looks[-1].instant - self.looks[0].instant) / 3600

    @property
    def done(self) -> bool:
        """It lasted as long as it was to, and nothing spoilt it: its verdict counts."""
        return not self.spoilt and self.test is not None and self.hours >= self.lasts_h - 1

    @property
    def open(self) -> bool:
        """It goes on."""
        return not (self.done or self.stopped or self.spoilt)

    @property
    def due(self) -> int:
        """When the last look is due."""
        return self.looks[0].instant + round(self.lasts_h * 3600)


def phases(setup: Setup, state: PondState, entries: Iterable[Entry]) -> list[Phase]:
    """All tests, oldest first. Raises InputError where no basin floats."""
    found: list[list[Entry]] = []
    for entry in entries:
        if entry.kind != "bucket" or entry.instant > state.now + AHEAD_S:
            continue
        if entry.get("what") == "start":
            found.append([entry])
        elif found:
            found[-1].append(entry)
    return [phase for group in found if (phase := _phase(setup, state, group)) is not None]


def smallest_mm_day(setup: Setup, state: PondState, lasts_h: float, pump: str) -> float:
    """The smallest leak that a test of that length can tell from none."""
    reading = state.level.reading_mm if state.level is not None else None
    ratio = 1.0 if reading is None else _ratio(setup, reading, state.now, pump)
    return bucket_test(0.0, 0.0, lasts_h / 24, _error(ratio)).smallest_mm_day


def compared_pumps(found: Sequence[Phase]) -> PumpTest | None:
    """The latest finished test with the pump on beside the latest with it off."""
    on, off = (latest(found, pump) for pump in ("on", "off"))
    if on is None or off is None or on.test is None or off.test is None:
        return None
    return compared(on.test, off.test)


def latest(found: Sequence[Phase], pump: str) -> Phase | None:
    """The latest finished test of that pump."""
    return next((p for p in reversed(found) if p.done and p.pump == pump), None)


def _ratio(setup: Setup, reading: float, instant: int, pump: str) -> float:
    """With the pump on the level feeds every surface that stands at a spill edge as well."""
    day = local_day(setup, instant)
    area = area_m2_at(setup, reading, day)
    return open_area_m2(setup, reading, day) / area if pump == "on" and area > 0 else 1.0


def _error(ratio: float) -> float:
    """Error of a reading as `bucket_test` takes it: that of the bucket counts `ratio` times."""
    return USUAL_ERROR_MM * sqrt((1 + ratio**2) / 2)


def _phase(setup: Setup, state: PondState, group: Sequence[Entry]) -> Phase | None:
    first = group[0]
    looks = tuple(
        Look(e.instant, e.get("pond"), e.get("bucket"))
        for e in group
        if e.get("pond") is not None and e.get("bucket") is not None
    )
    if not looks or looks[0].instant != first.instant:
        return None
    pump = first.get("pump") or state.pump or "on"
    pump = pump if pump in ("on", "off") else "on"
    lasts_h = (first.get("lasts") or USUAL_H * 60) / 60
    start, end = looks[0], looks[-1]
    ratio = _ratio(setup, start.pond_mm, start.instant, pump)
    days = (end.instant - start.instant) / DAY_S
    test = None
    if len(looks) > 1 and end.instant > start.instant:
        fell = reading_up(setup, start.pond_mm) - reading_up(setup, end.pond_mm)
        bucket = ratio * (end.bucket_mm - start.bucket_mm)
        test = bucket_test(fell, bucket, days, _error(ratio))
    return Phase(
        pump, lasts_h, looks, group[-1].get("what") == "stop",
        _spoilt(state, start.instant, max(end.instant, _until(state, end, lasts_h, start)), pump,
                group),
        ratio, area_m2_at(setup, start.pond_mm, local_day(setup, start.instant)), test,
    )  # fmt: skip


def _until(state: PondState, end: Look, lasts_h: float, start: Look) -> int:
    """Up to when something may still spoil it: now while it goes on, else its last look."""
    done = end.instant - start.instant >= (lasts_h - 1) * 3600
    return end.instant if done else state.now


def _spoilt(state: PondState, since: int, until: int, pump: str, group: Sequence[Entry]) -> str:
    """What happened meanwhile that moves one of the two levels and not the other."""
    if group[-1].get("what") == "stop":
        until = min(until, group[-1].instant)

    def within(instant: int) -> bool:
        return since < instant <= until

    rain = sum(mm for when, mm in state.rain if within(when))
    if rain > RAIN_MM:
        return f"{rain:.3g} mm of rain fell"
    if any(within(a.instant) for a in state.additions):
        return "water was put into the pond"
    if any(within(when) for when, _ in state.drained):
        return "water was taken out of the pond"
    for when, what in state.disturbances:
        if within(when) and what in SPOILING:
            return what.replace("-", " ")
    other = "off" if pump == "on" else "on"
    switched = any(within(r.instant) and r.pump == other for r in state.levels)
    return f"the pump was {other}" if switched else ""
