"""What cannot be: names of nothing, more in a barrel than it holds, a level under the bottom."""

from __future__ import annotations

from datetime import date

from pondtui.errors import nearest
from pondtui.pond.daily.judged import LABELS
from pondtui.pond.refill.procedure import NO_FILL, step_ids
from pondtui.pond.setup.barrels import brim_l, brim_mm
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.water.levels import drop_mm, reading_mm
from pondtui.units import show

BRIM_ERROR_L = 2.0  # of reading a rule or a gauge glass: common practice, no source
DEPTH_ERROR = 1.25  # times the depth: it may have been guessed, or the gauge moved since
# What may have reached the fish, and water that runs.
NEVER_PUT_OFF = frozenset(
    (
        "untreated",
        "untested",
        "bypass",
        "overdosed",
        "hose-running",
        "outlet-running",
        "level-danger",
        "reading-chlorine-total",
    )
)
# The other alarms by their names; those of readings and supplies go by what they are about.
MAY_BE_PUT_OFF = (
    "level-warn",
    "level-near",
    "level-spill",
    "reading-old",
    "batch-open",
    "water-old",
    "stock",
    "out-of-date",
    "chore-overdue",
    "loss-steady",
    "loss-unusual",
    "frost",
    "heat",
    "clock",
    "files",
)


def impossible(setup: Setup, entry: Entry, day: date) -> str:
    """Why an entry cannot be right, in one sentence; "" where it can."""
    unknown = _unknown_name(setup, entry)
    if unknown:
        return unknown
    if entry.kind == "dip":
        return _over_the_brim(setup, entry, day)
    if entry.kind == "level":
        return _beyond_the_pond(setup, entry, day)
    if entry.kind == "test" and not entry.fields.keys() - {"where", "by"} and not entry.note:
        return "a test says nothing without a value: write one, such as ph=7.5"
    if entry.kind == "bucket" and entry.get("what") != "stop":
        lacking = next((name for name in ("pond", "bucket") if entry.get(name) is None), "")
        return f"{lacking}: a bucket test needs both levels" if lacking else ""
    return _not_to_be_put_off(entry) if entry.kind == "putoff" else ""


def _not_to_be_put_off(entry: Entry) -> str:
    """A slip in a name would hide nothing, and say that it did."""
    alarm = str(entry.get("alarm")).strip()
    name = alarm.casefold()
    if name in NEVER_PUT_OFF:
        return f"alarm: {alarm} cannot be put off: it may harm the fish, or water runs"
    known = [*MAY_BE_PUT_OFF, *(f"reading-{each.replace('_', '-')}" for each in LABELS)]
    if name in known or name.startswith(("stock ", "out-of-date ")):  # any supply of the journal
        return ""
    hint = nearest(name, known) or ": `pondtui status --alarms --json` names those that stand"
    return f"alarm: no alarm is called {alarm}{hint}"


def _unknown_name(setup: Setup, entry: Entry) -> str:
    """A slip in a name would put the water nowhere, and a test of it would count for nothing."""
    barrels = list(dict.fromkeys(barrel.name for barrel in setup.barrels))
    places = list(dict.fromkeys(("pond", "tap", *setup.sources, *barrels)))
    steps = [NO_FILL, *step_ids(), *(own.id for own in setup.own_steps)]
    for field, known in (("barrel", barrels), ("where", places), ("step", steps)):
        name = entry.fields.get(field)
        if name is not None and name not in known:
            hint = nearest(name, known) or f": there is {', '.join(known)}"
            return f"{field}: nothing is called {name}{hint}"
    return ""


def _over_the_brim(setup: Setup, entry: Entry, day: date) -> str:
    barrel = setup.barrel_on(str(entry.get("barrel")), day)
    if barrel is None:
        return ""
    system, most = setup.pond.units, brim_l(barrel)
    left, depth = entry.get("left"), entry.get("depth")
    if left is not None and left > most + BRIM_ERROR_L:
        said = show(left, "volume", system)
        return (
            f"left: {said} is more than {barrel.name} holds to its brim, "
            f"{show(most, 'volume', system)}: look again"
        )
    if depth is not None and depth > brim_mm(barrel) + 1:
        said, brim = (show(mm, "length", system) for mm in (depth, brim_mm(barrel)))
        return f"depth: {said} lies above the brim of {barrel.name} at {brim}: measure again"
    return ""


def _beyond_the_pond(setup: Setup, entry: Entry, day: date) -> str:
    basin, reading = setup.floating(day), entry.get("reading")
    if basin is None or not basin.depth_mm or reading is None:
        return ""
    drop = drop_mm(setup, basin, reading)
    if -basin.depth_mm <= drop <= basin.depth_mm * DEPTH_ERROR:
        return ""
    edge, bottom = (
        show(mm, "length", setup.pond.units, rule=True)
        for mm in (basin.top_at_mm, reading_mm(setup, basin, basin.depth_mm))
    )
    said = entry.fields["reading"]
    return (
        f"reading: {said} cannot be: {edge} is the brim of the pond, {bottom} its bottom; "
        "read again, or correct the depth in pond.toml"
    )
