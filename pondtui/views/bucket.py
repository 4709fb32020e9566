"""The bucket test in words: what to do, what it can see, its verdict and what to look at next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.bucket import LEAK, USUAL_H
from pondtui.pond.water.bucket_test import Phase, compared_pumps, latest, smallest_mm_day
from pondtui.units import show
from pondtui.views.forms import Blank, Form
from pondtui.views.words import when

STEPS = (
    "No rain ahead, the pond filled well before, nothing put in or taken out meanwhile.",
    "Stand a bucket of pond water in the pond, its water about as high as the pond's.",
    "Net it against animals, weight it, mark both levels; read in calm, at the same hour.",
    "First with the pump on all the time, then the same again with the pump off.",
)


def rate(setup: Setup, mm_per_day: float) -> str:
    """A loss a day."""
    metric = setup.pond.units == "metric"
    return show(mm_per_day, "depth_rate", setup.pond.units, digits=1 if metric else 2)


def hours(value: float) -> str:
    """`72 h`."""
    return f"{value:.0f} h"


def promise(setup: Setup, state: PondState, lasts_h: float = USUAL_H) -> str:
    """What a test can see at all, to be read before it begins."""
    seen = smallest_mm_day(setup, state, lasts_h, "on")
    return f"in {hours(lasts_h)} it can see a leak of {rate(setup, seen)} or more, no smaller one"


def told(setup: Setup, state: PondState, found: Sequence[Phase]) -> list[tuple[str, str]]:
    """Sentences with their roles: where the test stands, what it says, what to do next."""
    if not found:
        return [("Not begun yet.", "text"), (f"Beforehand: {promise(setup, state)}.", "text")]
    said = [(_stands(setup, state, phase), _role(phase)) for phase in _shown(found)]
    more = compared_pumps(found)
    if more is not None:
        span = f"{rate(setup, more.low_mm_day)} to {rate(setup, more.high_mm_day)}"
        means = "it is lost by falls or pipework" if more.low_mm_day > 0 else "it may be nothing"
        less = f"Pump on loses {rate(setup, more.excess_mm_day)} more than pump off ({span})"
        said.append((f"{less}: {means}.", "text"))
    return [*said, *((text, "mark") for text in advice(found))]


def _shown(found: Sequence[Phase]) -> list[Phase]:
    """The latest finished test of each pump, and the last one."""
    kept = [p for p in (latest(found, "on"), latest(found, "off"), found[-1]) if p is not None]
    return sorted(dict.fromkeys(kept), key=lambda p: p.looks[0].instant)


def _role(phase: Phase) -> str:
    if phase.done and phase.test is not None:
        return {LEAK: "danger", "inconclusive": "warn"}.get(phase.test.verdict, "good")
    return "warn" if phase.spoilt else "text"


def _stands(setup: Setup, state: PondState, phase: Phase) -> str:
    """Where one test stands."""
    begun = when(setup, phase.looks[0].instant, state.now)
    head = f"Pump {phase.pump}, begun {begun}"
    if phase.spoilt:
        return f"{head}: spoilt, {phase.spoilt}. Begin it again."
    if phase.done:
        return f"{head}: {verdict_words(setup, phase)}."
    if phase.stopped:
        return f"{head}: given up after {hours(phase.hours)}."
    left = max(phase.due - state.now, 0) / 3600
    due = f"last look due {when(setup, phase.due, state.now)}"
    until = f"{hours(left)} to go, {due}" if left > 0 else f"{due}: read both levels now"
    if phase.test is None:
        return f"{head}: {until}."
    test = phase.test
    return (f"{head}: {until}. So far {rate(setup, test.leak_mm_day)} more than the bucket, "
            f"{rate(setup, test.low_mm_day)} to {rate(setup, test.high_mm_day)}: no verdict "
            "yet.")  # fmt: skip


def verdict_words(setup: Setup, phase: Phase) -> str:
    """`LEAK: 2.4 mm/day more than the bucket (1.1 to 3.7), 18 L a day`."""
    test = phase.test
    assert test is not None  # a test that is done has one
    litres = show(test.leak_mm_day * phase.area_m2, "volume", setup.pond.units)
    if test.verdict != LEAK:
        least = rate(setup, max(test.high_mm_day, 0.0))
        word = "not decided" if test.verdict == "inconclusive" else "no leak found"
        return (f"{word} after {hours(phase.hours)}: {rate(setup, test.leak_mm_day)} more than the "
                f"bucket; a leak of up to {least} may still be there")  # fmt: skip
    return (
        f"LEAK after {hours(phase.hours)}: {rate(setup, test.leak_mm_day)} more than the bucket, "
        f"95 % between {rate(setup, test.low_mm_day)} and {rate(setup, test.high_mm_day)}, "
        f"{litres} a day"
    )


def note(setup: Setup, phase: Phase) -> str:
    """The verdict as it goes into the journal."""
    return f"bucket test, pump {phase.pump}: {verdict_words(setup, phase)}"


def advice(found: Sequence[Phase]) -> list[str]:
    """What to look at, or to do, next."""
    last, more = found[-1], compared_pumps(found)
    if last.open:
        return []
    if last.spoilt or last.stopped:
        return ["Begin it again."]
    if more is not None:
        return [f"Look next at {more.look_at}."]
    verdict = last.test.verdict if last.test is not None else ""
    if last.pump == "off":
        return ["Next: the same with the pump on, which tells what falls and pipework add."]
    if verdict == LEAK:
        return ["Next: the same with the pump off, which tells falls and pipework from the liner."]
    if verdict == "inconclusive":
        return ["Not decided: test for longer, twice the time halves what it cannot see; then the "
                "same with the pump off."]  # fmt: skip
    return ["Nothing leaks that this test can see; the pump off would tell no more."]


def look_form(what: str, setup: Setup) -> Form:
    """Both levels; at the start with pump and length."""
    metric = setup.pond.units == "metric"
    example = "62" if metric else "2 7/16"
    blanks: tuple[Blank, ...] = (
        Blank("pond", "pond gauge", example),
        Blank("bucket", "bucket, rim down", "40" if metric else "1 9/16"),
    )
    if what == "start":
        blanks = (*blanks, Blank("pump", "pump", "on or off", ("on", "off")),
                  Blank("lasts", "lasts", "72 h"))  # fmt: skip
    title = "Begin the bucket test" if what == "start" else "Look at the bucket test"
    return Form("bucket", title, (*blanks, Blank("note", "note", "calm")), key=f"bucket {what}")


def as_json(setup: Setup, state: PondState, found: Sequence[Phase]) -> dict[str, Any]:
    """The tests by their keys."""
    more = compared_pumps(found)
    return {
        "smallest_mm_per_day": smallest_mm_day(setup, state, USUAL_H, "on"),
        "tests": [_phase_json(phase) for phase in found],
        "pump_on_excess_mm_per_day": None if more is None else more.excess_mm_day,
        "pump_on_excess_low_mm_per_day": None if more is None else more.low_mm_day,
        "pump_on_excess_high_mm_per_day": None if more is None else more.high_mm_day,
        "next": advice(found) if found else [],
    }


def _phase_json(phase: Phase) -> dict[str, Any]:
    test = phase.test
    return {
        "pump": phase.pump,
        "hours": phase.hours,
        "planned_h": phase.lasts_h,
        "spoilt": phase.spoilt or None,
        "verdict": test.verdict if phase.done and test is not None else None,
        "leak_mm_per_day": None if test is None else test.leak_mm_day,
        "leak_low_mm_per_day": None if test is None else test.low_mm_day,
        "leak_high_mm_per_day": None if test is None else test.high_mm_day,
        "leak_l_per_day": None if test is None else test.leak_mm_day * phase.area_m2,
        "smallest_mm_per_day": None if test is None else test.smallest_mm_day,
    }
