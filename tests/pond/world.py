"""A small invented pond, and journals for it written as a keeper writes them.

Sizes are round so that a test can be followed by head: the yard barrel holds 1 L a mm of depth over
0.2 m2, that is 20 L of heel, 180 L to its line and 200 L to its brim; the label asks 8 mL per
100 L. The pond is a straight box of 5 m2: 5 L a mm. All values are constructed.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime

from pondtui.books.lines import parse_line
from pondtui.pond.refill.case import Case, current_case
from pondtui.pond.setup.model import (
    Barrel,
    Basin,
    Conditioner,
    Device,
    Gauge,
    Limits,
    Mark,
    Pond,
    Setup,
    Source,
)
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.pond.state.model import BarrelNow, PondState

DAY_S = 86_400
HEEL, LINE, BRIM = 20.0, 180.0, 200.0

YARD = Barrel(
    "yard",
    "straight",
    full_line_mm=900.0,
    outlet_mm=100.0,
    width_mm=500.0,
    breadth_mm=400.0,
    height_mm=1000.0,
    pipe_bore_mm=20.0,
    pipe_length_mm=5000.0,
    fittings=2.0,
    drop_mm=300.0,
    into="bay",
)
SHED = YARD._replace(name="shed")
BUTT = YARD._replace(name="butt", source="rain", delivery="carried", pipe_bore_mm=None)
POND = Basin("pond", floats=True, shape="box", length_mm=2500, width_mm=2000, depth_mm=800)
BAY = Basin("bay", held=True, shape="box", length_mm=1000, width_mm=500, depth_mm=300, planted=True)
TAP = Source(
    "tap",
    total_chlorine_mg_l=0.6,
    free_chlorine_mg_l=0.6,
    measured=date(2026, 5, 20),
    chloramine=False,
    flow_l_min=10.0,
)
BOTTLE = Conditioner(
    "liquid",
    label_dose_ml=8.0,
    label_volume_l=100.0,
    chloramine_multiplier=2.0,
    rated_for_mg_l=1.0,
    largest_multiple=3.0,
    wait_min=10.0,
    devices=(Device("syringe", 20.0, 0.5),),
    bottle_ml=500.0,
    opened=date(2026, 4, 2),
    best_before=date(2027, 10, 1),
    since=date(2026, 4, 2),
)
SETUP = Setup(
    Pond("Test Court"),
    gauge=Gauge("down", 2.0),
    basins=(POND, BAY),
    marks=(Mark("pipe", 20.0, "spill"), Mark("target", 40.0, "target")),
    barrels=(YARD, SHED, BUTT),
    sources={"tap": TAP, "well": Source("well")},
    conditioners=(BOTTLE,),
    limits=Limits(),
)


def with_barrel(barrel: Barrel, setup: Setup = SETUP) -> Setup:
    """The pond with one barrel described otherwise."""
    return setup._replace(
        barrels=tuple(barrel if b.name == barrel.name else b for b in setup.barrels)
    )


def with_bottle(setup: Setup = SETUP, **changes: object) -> Setup:
    """The pond with its conditioner described otherwise."""
    return setup._replace(conditioners=(BOTTLE._replace(**changes),))  # type: ignore[arg-type]  # any field


def with_tap(setup: Setup = SETUP, **changes: object) -> Setup:
    """The pond with its tap described otherwise."""
    tap = TAP._replace(**changes)  # type: ignore[arg-type]  # any field
    return setup._replace(sources={**setup.sources, "tap": tap})


def at(clock: str) -> int:
    """UTC seconds of `07:42`, `07:42:10` (3 June 2026) or `06-12 07:42`."""
    day, _, time = clock.rpartition(" ")
    day = day or "06-03"
    year = "" if len(day) > 5 else "2026-"
    return int(datetime.fromisoformat(f"{year}{day} {time}").replace(tzinfo=UTC).timestamp())


def entries(text: str | Iterable[str]) -> list[Entry]:
    """The live entries of journal lines, in their order. Blank lines and `#` lines are skipped.

    A line may begin with a bare clock (`07:42`): that is 3 June 2026, UTC.
    """
    return list(merge(parsed(text)).live)


def parsed(text: str | Iterable[str]) -> list[Entry]:
    """The entries of journal lines as they stand; a line that is none fails the test."""
    lines = text.splitlines() if isinstance(text, str) else list(text)
    found = []
    for number, line in enumerate(lines, start=1):
        if not line.strip() or line.strip().startswith("#"):
            continue
        entry, problems = parse_line(whole(line), "journal/test.txt", number, UTC, None)
        assert entry is not None, problems
        found.append(entry)
    return found


def whole(line: str) -> str:
    """The line with a whole stamp."""
    clock, bar, rest = line.strip().partition("|")
    clock = clock.strip()
    if len(clock) > 16:
        return line.strip()
    return f"{datetime.fromtimestamp(at(clock), UTC):%Y-%m-%d %H:%M:%S}Z {bar}{rest}"


def state(text: str, now: str = "12:00", setup: Setup = SETUP) -> PondState:
    """What the lines say at a time."""
    return fold(setup, entries(text), at(now))


def barrel(text: str, now: str = "12:00", setup: Setup = SETUP, name: str = "yard") -> BarrelNow:
    """What the lines say about one barrel."""
    return state(text, now, setup).barrels[name]


def case(text: str, now: str = "12:00", setup: Setup = SETUP, name: str = "yard") -> Case:
    """The batch of a barrel after the lines."""
    at_now = at(now)
    config = next(b for b in setup.barrels if b.name == name)
    return current_case(setup, fold(setup, entries(text), at_now), config, at_now)


def alarms(text: str, now: str = "12:00", setup: Setup = SETUP) -> list[str]:
    """The names of the alarms that stand."""
    return [alarm.name for alarm in state(text, now, setup).alarms]


BEFORE = """
07:00 | level | reading=80 mm; pump=on; temp=18 degC
07:01 | tick  | step=outlet-shut; batch=a
07:01:10 | tick  | step=barrel-sound; batch=a
07:01:20 | tick  | step=hose-above-rim; batch=a
"""
FILLED = (
    BEFORE
    + """
07:02 | start | what=fill; barrel=yard; batch=a
07:18 | fill  | barrel=yard; batch=a; added=160 L; source=tap
07:19 | tick  | step=tap-shut; batch=a
"""
)
DOSED = (
    FILLED
    + """
07:20 | treat | barrel=yard; batch=a; dose=14.5 mL; for=180 L; rate=8 mL per 100 L; needed=14.4 mL
07:21 | tick  | step=mix; batch=a
"""
)
TESTED = DOSED + "07:35 | test | where=yard; chlorine_total=<0.02 mg/L\n"
AGREED = (
    TESTED
    + """
07:40 | test  | where=yard; temp=16 degC
07:41 | tick  | step=agree; batch=a
"""
)
OPENED = AGREED + "07:42 | start | what=release; barrel=yard; batch=a\n"
RELEASED = OPENED + "08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"
CLOSED = (
    RELEASED
    + """
08:01 | tick  | step=outlet-shut-again; batch=a
08:05 | level | reading=48 mm
"""
)
