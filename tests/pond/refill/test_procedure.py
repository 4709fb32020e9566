"""The steps of a refill: which belong to a batch, in which order, and where own ones stand."""

from __future__ import annotations

import pytest

from pondtui.pond.refill.procedure import STAGE_TITLES, STAGES, STEPS, Step, step_ids, steps_for
from pondtui.pond.setup.model import OwnStep, Setup
from tests.pond.world import BUTT, SETUP, YARD

# The ids are a promise: they stand in journals.
USUAL = [
    "outlet-shut",
    "barrel-sound",
    "hose-above-rim",
    "level-now",
    "hose-on",
    "filled",
    "tap-shut",
    "dose",
    "mix",
    "wait",
    "chlorine-test",
    "barrel-temp",
    "agree",
    "outlet-open",
    "released",
    "outlet-shut-again",
    "level-after",
]
GUARDED = {
    "outlet-shut": {"forbidden", "bottle"},
    "hose-on": {"outlet", "airgap"},
    "dose": {"hose-out", "volume", "ceiling"},
    "mix": {"dose"},
    "chlorine-test": {"contact"},
    "barrel-temp": {"clear"},
    "outlet-open": {"warmth", "room", "hose-out"},
}
KINDS = {
    "level-now": "number",
    "hose-on": "start",
    "filled": "number",
    "tap-shut": "tick",
    "dose": "number",
    "mix": "tick",
    "wait": "wait",
    "chlorine-test": "number",
    "barrel-temp": "number",
    "agree": "confirm",
    "outlet-open": "start",
    "released": "number",
    "outlet-shut-again": "tick",
    "level-after": "number",
}


def ids(steps: tuple[Step, ...]) -> list[str]:
    """Their ids in order."""
    return [step.id for step in steps]


def with_own(*own: OwnStep) -> Setup:
    """The pond with own steps."""
    return SETUP._replace(own_steps=own)


def test_the_usual_order_and_the_ids_are_a_promise() -> None:
    assert list(step_ids()) == USUAL
    assert ids(steps_for(SETUP, YARD, dose_first=False)) == USUAL


def test_every_step_has_the_kind_and_the_guards_that_were_promised() -> None:
    by_id = {step.id: step for step in STEPS}
    assert {name: by_id[name].kind for name in KINDS} == KINDS
    for name, guards in GUARDED.items():
        assert guards <= set(by_id[name].guards), name


def test_stages_follow_each_other() -> None:
    places = [STAGES.index(step.stage) for step in STEPS]
    assert places == sorted(places)
    assert set(STAGE_TITLES) == set(STAGES)


def test_every_step_says_what_to_do() -> None:
    assert all(step.title and step.text.endswith(".") for step in STEPS)


def test_what_happened_and_what_is_a_deed_cannot_be_passed_over() -> None:
    assert [step.id for step in STEPS if not step.passable] == ["hose-on", "filled", "released"]


def test_dosing_first_puts_dose_and_mix_before_the_hose() -> None:
    steps = ids(steps_for(SETUP, YARD, dose_first=True))
    assert steps.index("dose") + 1 == steps.index("mix")
    assert steps.index("mix") + 1 == steps.index("hose-on")
    assert sorted(steps) == sorted(USUAL)


def test_dosing_first_asks_for_no_tap_shut_and_no_enough_before_the_filling() -> None:
    by_id = {step.id: step for step in steps_for(SETUP, YARD, dose_first=True)}
    assert "hose-out" not in by_id["dose"].guards
    assert {"outlet", "volume", "ceiling"} <= set(by_id["dose"].guards)
    assert by_id["mix"].guards == ()


def test_without_filling_the_hose_steps_are_left_out() -> None:
    steps = ids(steps_for(SETUP, YARD, dose_first=False, hose=False))
    assert not {"hose-above-rim", "hose-on", "filled", "tap-shut"} & set(steps)
    assert {"dose", "chlorine-test", "agree"} <= set(steps)


def test_rain_water_alone_is_not_treated() -> None:
    steps = ids(steps_for(SETUP, YARD, dose_first=False, hose=False, agent=False))
    assert not {"dose", "mix", "wait", "chlorine-test"} & set(steps)
    assert "agree" in steps


def test_carried_water_has_no_outlet_and_is_guarded_before_it_is_carried() -> None:
    steps = steps_for(SETUP, BUTT, dose_first=False, hose=False, agent=False)
    assert not {"outlet-shut", "outlet-open", "outlet-shut-again"} & set(ids(steps))
    (released,) = [step for step in steps if step.id == "released"]
    assert {"clear", "warmth", "room"} <= set(released.guards)
    assert "bucket" in released.text


@pytest.mark.parametrize("anchor", USUAL)
def test_an_own_step_may_stand_behind_any_step(anchor: str) -> None:
    own = OwnStep("own-lid", anchor, "Put the lid on")
    steps = steps_for(with_own(own), YARD, dose_first=False)
    place = ids(steps).index(anchor)
    assert ids(steps)[place + 1] == "own-lid"
    assert steps[place + 1].stage == steps[place].stage
    assert [step for step in ids(steps) if step != "own-lid"] == USUAL


def test_own_steps_may_stand_behind_own_steps() -> None:
    setup = with_own(OwnStep("one", "mix", "One"), OwnStep("two", "one", "Two"))
    steps = ids(steps_for(setup, YARD, dose_first=False))
    assert steps[steps.index("mix") :][:3] == ["mix", "one", "two"]


def test_own_steps_may_be_written_in_any_order() -> None:
    setup = with_own(OwnStep("two", "one", "Two"), OwnStep("one", "mix", "One"))
    steps = ids(steps_for(setup, YARD, dose_first=False))
    assert steps[steps.index("mix") :][:3] == ["mix", "one", "two"]


def test_own_steps_behind_one_step_stand_in_the_order_of_the_file() -> None:
    setup = with_own(OwnStep("one", "mix", "One"), OwnStep("two", "mix", "Two"))
    steps = ids(steps_for(setup, YARD, dose_first=False))
    assert steps[steps.index("mix") :][:3] == ["mix", "one", "two"]


def test_own_steps_go_with_the_step_they_stand_behind() -> None:
    setup = with_own(OwnStep("one", "tap-shut", "One"), OwnStep("two", "one", "Two"))
    steps = ids(steps_for(setup, YARD, dose_first=False, hose=False))
    assert not {"one", "two"} & set(steps)


def test_an_own_step_keeps_its_kind_unit_and_minutes() -> None:
    setup = with_own(
        OwnStep("ph", "mix", "Measure the pH", "number", "pH"),
        OwnStep("rest", "mix", "Let it rest", "wait", minutes=5.0),
    )
    by_id = {step.id: step for step in steps_for(setup, YARD, dose_first=False)}
    assert (by_id["ph"].kind, by_id["ph"].asks) == ("number", "pH")
    assert (by_id["rest"].kind, by_id["rest"].minutes) == ("wait", 5.0)
    assert by_id["ph"].own
    assert by_id["ph"].guards == ()
