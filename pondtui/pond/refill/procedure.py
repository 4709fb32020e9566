"""The refill as data: stages, steps, and where the keeper's own steps stand.

The ids of the steps are a promise: they stand in journals.
"""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.pond.setup.model import Barrel, OwnStep, Setup
from pondtui.records import NamedTuple

STAGES = ("before", "fill", "treat", "release", "close")
STAGE_TITLES = {
    "before": "Before you start",
    "fill": "Fill",
    "treat": "Treat",
    "release": "Release",
    "close": "Close up",
}
# Passing these over says nothing of what is in the water; of an own step nobody can know.
NO_CHLORINE = frozenset((
    "barrel-sound", "hose-above-rim", "level-now", "barrel-temp", "outlet-shut-again",
    "level-after",
))  # fmt: skip
NO_FILL = "no-fill"  # ticked to use the water that stands in the barrel


class Step(NamedTuple):
    """One step. `kind`: tick, number, start, wait or confirm."""

    id: str
    stage: str
    kind: str
    title: str  # a few words, for the list
    text: str  # what to do, for the middle of the screen
    why: str = ""
    guards: tuple[str, ...] = ()  # all must be open before the step may be taken
    asks: str = ""  # what a number is: level, fill, dose, chlorine, temperature, release, or a unit
    passable: bool = True  # may be passed over with a reason; a fact such as "filled" may not
    own: bool = False
    minutes: float = 0.0


STEPS: tuple[Step, ...] = (
    Step(
        "outlet-shut",
        "before",
        "tick",
        "Outlet shut",
        "Shut the barrel's outlet and look: not a drop at the free end.",
        "An open outlet lets untreated water run to the fish while the barrel fills.",
        ("forbidden", "bottle"),
    ),
    Step(
        "barrel-sound",
        "before",
        "tick",
        "Barrel clean and steady",
        "Barrel clean, upright, tied, on firm ground. Rinse out what does not belong there.",
        "Water weighs 1 kg a litre: a full barrel that tips can crush.",
    ),
    Step(
        "hose-above-rim",
        "before",
        "tick",
        "Hose end above the rim",
        "Fix the hose end above the rim: a gap of twice the hose's bore, 25 mm (1 in) at least. "
        "Let a hose that lay in the sun run off first.",
        "The air gap keeps barrel water out of the drinking water when the pressure drops. "
        "Local plumbing codes stand above this.",
    ),
    Step(
        "level-now",
        "before",
        "number",
        "Read the level",
        "Read the pond's gauge now, in calm water.",
        "How much goes in, and whether there is room for it, rests on this reading.",
        asks="level",
    ),
    Step(
        "hose-on",
        "fill",
        "start",
        "Hose on",
        "Turn the tap on and stay near.",
        "Tap flow varies: nobody should rely on a bell.",
        ("forbidden", "outlet", "airgap"),
        passable=False,
    ),
    Step(
        "filled",
        "fill",
        "number",
        "Filled: how much",
        "Stay near. When enough is in, write down how much.",
        "The dose is for the water that is really there, not for the barrel's nominal size.",
        asks="fill",
        passable=False,
    ),
    Step(
        "tap-shut",
        "fill",
        "tick",
        "Tap shut, hose out",
        "Shut the tap at the wall and take the hose out of the barrel.",
        "A hose left running undoes the treatment and floods.",
    ),
    Step(
        "dose",
        "treat",
        "number",
        "Give conditioner",
        "Measure the conditioner and pour it in.",
        "It binds the chlorine. It does not remove the ammonia of chloramine.",
        ("hose-out", "volume", "ceiling"),
        asks="dose",
    ),
    Step(
        "mix",
        "treat",
        "tick",
        "Mix",
        "Stir to the bottom with a clean paddle kept for this.",
        "Unmixed water is treated at the top and raw at the outlet.",
        ("dose",),
    ),
    Step(
        "wait",
        "treat",
        "wait",
        "Wait",
        "Let it stand for the time on the label.",
        "The reaction is quick, the mixing is not.",
    ),
    Step(
        "chlorine-test",
        "treat",
        "number",
        "Test total chlorine",
        "Test the barrel for TOTAL chlorine and type what the kit shows.",
        "A free-chlorine test reads near zero on chloramine. 0 means below the kit's first step.",
        ("contact",),
        asks="chlorine",
    ),
    Step(
        "barrel-temp",
        "release",
        "number",
        "Barrel temperature",
        "Measure the water in the barrel.",
        "A sudden change of temperature harms fish.",
        ("clear",),
        asks="temperature",
    ),
    Step(
        "agree",
        "release",
        "confirm",
        "Agree what stands there",
        "Read what is believed to stand in the barrel. Go on only if it is true.",
        "Last look before the water meets the fish.",
        ("clear",),
    ),
    Step(
        "outlet-open",
        "release",
        "start",
        "Outlet open",
        "Open the outlet slowly; the water runs through the planted bay.",
        "Slow water stirs up less mud.",
        ("clear", "hose-out", "warmth", "room"),
    ),
    Step(
        "released",
        "release",
        "number",
        "Let out: how much",
        "Stay near. When it has run, write down how much.",
        "A look at the barrel (d) corrects the running figure at once.",
        asks="release",
        passable=False,
    ),
    Step(
        "outlet-shut-again",
        "close",
        "tick",
        "Outlet shut again",
        "Shut the outlet.",
        "The next filling would run straight to the fish.",
    ),
    Step(
        "level-after",
        "close",
        "number",
        "Read the level again",
        "Read the pond's gauge once the water is calm.",
        "The rise checks the pond's surveyed area and tells of a bay that holds water back.",
        asks="level",
    ),
)
_BY_ID = {step.id: step for step in STEPS}
_HOSE = {"hose-above-rim", "hose-on", "filled", "tap-shut"}
_PIPE = {"outlet-shut", "outlet-open", "outlet-shut-again"}
_AGENT = {"dose", "mix", "wait", "chlorine-test"}


def step_ids() -> tuple[str, ...]:
    """The ids of the fixed steps, in their usual order."""
    return tuple(_BY_ID)


def steps_for(
    setup: Setup, barrel: Barrel, *, dose_first: bool, hose: bool = True, agent: bool = True
) -> tuple[Step, ...]:
    """The steps of one batch on this barrel, own steps in their places.

    `hose` False leaves the filling out (rain barrels, water that stands there already); `agent`
    False the treating (rain water alone). Carried water has no outlet to open.
    """
    left_out: set[str] = set()
    if not hose:
        left_out |= _HOSE
    if not agent:
        left_out |= _AGENT
    if barrel.delivery == "carried":
        left_out |= _PIPE
    order = [s for s in STEPS if s.id not in left_out]
    if dose_first and hose and agent:
        order = _dose_before_hose(order)
    if barrel.delivery == "carried":
        order = [_carried(s) if s.id == "released" else s for s in order]
    return tuple(each for step in order for each in _with_own(step, setup.own_steps))


def _dose_before_hose(order: list[Step]) -> list[Step]:
    moved = {"dose", "mix"}
    rest = [s for s in order if s.id not in moved]
    place = next(i for i, s in enumerate(rest) if s.id == "hose-on")
    dose = _BY_ID["dose"]._replace(
        guards=("outlet", "airgap", "volume", "ceiling"),
        text="Measure the conditioner for the full line and pour it in; the filling mixes it.",
    )
    return [*rest[:place], dose, _BY_ID["mix"]._replace(guards=()), *rest[place:]]


def _carried(step: Step) -> Step:
    return step._replace(
        title="Carried: how much",
        text="Carry it in buckets and pour onto a plate or into the planted bay. "
        "Count the buckets.",
        why="Lift with the legs, part-filled buckets; stay off wet edges.",
        guards=("clear", "warmth", "room"),
    )


def _with_own(step: Step, owns: Sequence[OwnStep]) -> list[Step]:
    """A step and the own steps behind it, in the order of the file. An anchor that is left out of
    this batch takes its own steps with it."""
    found = [step]
    for own in owns:
        if own.after == step.id:
            found += _with_own(_own(own, step.stage), owns)
    return found


def _own(own: OwnStep, stage: str) -> Step:
    return Step(
        own.id,
        stage,
        own.kind,
        own.text[:40],
        own.text,
        "One of your own steps.",
        asks=own.unit,
        own=True,
        minutes=own.minutes,
    )
