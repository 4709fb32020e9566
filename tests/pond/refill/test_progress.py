"""Which step is on: done, taken back, passed over, waiting."""

from __future__ import annotations

import pytest

from pondtui.pond.refill.guards import clear
from pondtui.pond.refill.progress import Progress, let_out, progress
from pondtui.pond.setup.model import OwnStep, Setup
from tests.pond.world import (
    AGREED,
    BEFORE,
    CLOSED,
    DOSED,
    FILLED,
    OPENED,
    RELEASED,
    SETUP,
    TESTED,
    YARD,
    case,
    with_barrel,
    with_bottle,
)

FILL_AGAIN = """
07:43 | start | what=fill; barrel=yard; batch=a
07:45 | fill  | barrel=yard; batch=a; added=15 L
"""
DOSE_FIRST = with_bottle(dose_when="before fill")


def steps(text: str, now: str = "12:00", setup: Setup = SETUP, name: str = "yard") -> Progress:
    """The steps after the lines."""
    return progress(case(text, now, setup, name))


def on(text: str, now: str = "12:00", setup: Setup = SETUP, name: str = "yard") -> str | None:
    """The id of the step that is on."""
    found = steps(text, now, setup, name).on
    return found.step.id if found is not None else None


def status(
    text: str, step: str, now: str = "12:00", setup: Setup = SETUP, name: str = "yard"
) -> str:
    """How one step stands."""
    rows = steps(text, now, setup, name).steps
    return next(row.status for row in rows if row.step.id == step)


# label `yard-a` begins with the barrel's name: ticks alone are enough to tell the batch
WALK = [
    ("outlet-shut", "07:01 | tick | step=outlet-shut; batch=yard-a"),
    ("barrel-sound", "07:02 | tick | step=barrel-sound; batch=yard-a"),
    ("hose-above-rim", "07:03 | tick | step=hose-above-rim; batch=yard-a"),
    ("level-now", "07:04 | level | reading=80 mm; temp=18 degC"),
    ("hose-on", "07:05 | start | what=fill; barrel=yard; batch=yard-a"),
    ("filled", "07:21 | fill | barrel=yard; batch=yard-a; added=160 L"),
    ("tap-shut", "07:22 | tick | step=tap-shut; batch=yard-a"),
    ("dose", "07:23 | treat | barrel=yard; batch=yard-a; dose=14.5 mL; rate=8 mL per 100 L"),
    ("mix", "07:24 | tick | step=mix; batch=yard-a"),
    ("wait", "07:34 | note | | ten minutes later"),
    ("chlorine-test", "07:35 | test | where=yard; chlorine_total=<0.02 mg/L"),
    ("barrel-temp", "07:36 | test | where=yard; temp=16 degC"),
    ("agree", "07:37 | tick | step=agree; batch=yard-a"),
    ("outlet-open", "07:38 | start | what=release; barrel=yard; batch=yard-a"),
    ("released", "07:58 | release | barrel=yard; batch=yard-a; out=160 L; to=bay"),
    ("outlet-shut-again", "07:59 | tick | step=outlet-shut-again; batch=yard-a"),
]


@pytest.mark.parametrize("place", range(len(WALK)))
def test_the_walk_goes_step_by_step(place: int) -> None:
    lines = [line for _, line in WALK[:place]]
    now = lines[-1].split(" | ")[0] if lines else "07:00"
    assert on("\n".join(lines), now) == WALK[place][0]


def test_the_walk_ends_with_the_reading_after() -> None:
    lines = "\n".join(line for _, line in WALK)
    assert on(lines) == "level-after"
    closed = case(lines + "\n08:05 | level | reading=48 mm", "08:10")
    assert closed.batch.ticks == {}  # ended: the next batch is about to begin
    assert progress(closed).on is not None


def test_the_steps_after_the_one_that_is_on_are_still_to_do() -> None:
    rows = steps(FILLED).steps
    states = [row.status for row in rows]
    place = states.index("on")
    assert set(states[:place]) == {"done"}
    assert set(states[place + 1 :]) == {"to do"}


# --- taken back -----------------------------------------------------------------------------------


@pytest.mark.parametrize("step", ["tap-shut", "dose"])
def test_a_second_fill_takes_back_what_came_after_the_first(step: str) -> None:
    assert status(AGREED, step) == "done"
    text = AGREED + FILL_AGAIN
    assert status(text, step) in ("on", "to do")


def test_a_second_fill_is_asked_for_once_its_hose_is_on() -> None:
    text = DOSED + FILL_AGAIN.splitlines()[1] + "\n"
    assert on(text) == "filled"


def test_a_second_fill_asks_for_test_temperature_and_agreement_again() -> None:
    text = AGREED + FILL_AGAIN + "07:46 | tick | step=tap-shut; batch=a\n"
    assert on(text) == "dose"
    text += "07:47 | treat | barrel=yard; batch=a; dose=1.5 mL; rate=8 mL per 100 L\n"
    assert on(text) == "mix"
    text += "07:48 | tick | step=mix; batch=a\n"
    assert on(text, "07:50") == "wait"
    assert on(text, "08:00") == "chlorine-test"
    text += "08:00 | test | where=yard; chlorine_total=<0.02 mg/L\n"
    assert on(text) == "barrel-temp"
    text += "08:01 | test | where=yard; temp=15 degC\n"
    assert on(text) == "agree"


def test_a_second_dose_takes_back_mixing_waiting_and_test() -> None:
    text = TESTED + "07:36 | treat | barrel=yard; batch=a; dose=2 mL\n"
    assert on(text, "07:37") == "mix"
    mixed = text + "07:37 | tick | step=mix; batch=a\n"
    assert on(mixed, "07:38") == "wait"
    assert status(mixed, "wait", "07:38") == "waiting"
    assert on(mixed, "07:47") == "chlorine-test"


def test_colour_takes_the_dose_back() -> None:
    text = DOSED + "07:35 | test | where=yard; chlorine_total=0.1 mg/L\n"
    assert on(text) == "dose"
    assert case(text).to_treat_l == pytest.approx(180)


def test_after_colour_one_more_dose_leads_on_to_the_next_test() -> None:
    shown = DOSED + "07:35 | test | where=yard; chlorine_total=0.1 mg/L\n"
    short = shown + "07:36 | treat | barrel=yard; batch=a; dose=7 mL; rate=8 mL per 100 L\n"
    assert on(short, "07:37") == "dose"
    assert case(short, "07:37").to_treat_l == pytest.approx(92.5)
    text = short + "07:37 | treat | barrel=yard; batch=a; dose=7.5 mL; rate=8 mL per 100 L\n"
    assert on(text, "07:38") == "mix"
    text += "07:38 | tick | step=mix; batch=a\n"
    assert status(text, "wait", "07:39") == "waiting"
    assert on(text, "07:50") == "chlorine-test"
    assert "showed chlorine" in clear(case(text, "07:50")).reason
    text += "07:50 | test | where=yard; chlorine_total=<0.02 mg/L\n"
    assert on(text, "07:51") == "barrel-temp"
    assert clear(case(text, "07:51")).open


def test_after_colour_the_kit_decides_even_where_the_dose_is_trusted_otherwise() -> None:
    trusting = SETUP._replace(limits=SETUP.limits._replace(need_clear_test="unless known"))
    shown = DOSED + "07:35 | test | where=yard; chlorine_total=0.1 mg/L\n"
    text = shown + "07:36 | treat | barrel=yard; batch=a; dose=14.5 mL; rate=8 mL per 100 L\n"
    text += "07:37 | tick | step=mix; batch=a\n"
    there = case(text, "07:50", trusting)
    assert not clear(there).open
    found = progress(there).on
    assert found is not None
    assert found.step.id == "chlorine-test"


def test_an_agreement_is_taken_back_by_a_look_into_the_barrel() -> None:
    assert on(AGREED) == "outlet-open"
    assert on(AGREED + "07:50 | dip | barrel=yard; left=170 L\n") == "agree"


def test_the_wait_runs_by_the_clock() -> None:
    assert on(DOSED, "07:30") == "wait"
    assert status(DOSED, "wait", "07:30") == "waiting"
    assert on(DOSED, "07:31") == "chlorine-test"


def test_rain_after_the_reading_asks_for_another() -> None:
    text = BEFORE.replace("batch=a", "batch=yard-a")
    assert on(text) == "hose-on"
    rained = text + "08:00 | rain | depth=3 mm\n"
    assert on(rained) == "level-now"
    assert on(rained + "08:01 | level | reading=70 mm\n") == "hose-on"


def test_a_reading_of_yesterday_is_none_of_today() -> None:
    text = BEFORE.replace("batch=a", "batch=yard-a")
    assert on(text, "06-04 07:00") == "level-now"


def test_a_temperature_of_hours_ago_is_measured_again() -> None:
    assert on(AGREED, "13:39") == "outlet-open"
    assert on(AGREED, "13:41") == "barrel-temp"


def test_old_treated_water_is_tested_again() -> None:
    assert status(AGREED, "chlorine-test", "06-20 08:00") == "on"


# --- passed over ----------------------------------------------------------------------------------


def test_a_step_passed_over_is_passed_until_it_is_taken_back() -> None:
    passed = DOSED + "07:35 | bypass | step=chlorine-test; batch=a | no kit\n"
    assert status(passed, "chlorine-test") == "passed"
    assert on(passed) == "barrel-temp"
    dosed = passed + "07:36 | treat | barrel=yard; batch=a; dose=1 mL\n"
    assert status(dosed + "07:37 | tick | step=mix; batch=a\n", "chlorine-test") == "on"


def test_opening_the_outlet_is_a_deed_even_when_its_guards_were_passed_over() -> None:
    passed = AGREED + "07:42 | bypass | step=outlet-open; batch=a | no room, going slowly\n"
    assert on(passed) == "outlet-open"
    row = steps(passed).on
    assert row is not None
    assert row.verdicts == ()


def test_water_carried_in_buckets_is_asked_for_even_when_its_guards_were_passed_over() -> None:
    carried = with_barrel(YARD._replace(delivery="carried", pipe_bore_mm=None, bucket_l=10.0))
    rained = AGREED + "07:45 | rain | depth=5 mm\n"
    row = steps(rained, setup=carried).on
    assert row is not None
    assert (row.step.id, [v.guard for v in row.verdicts]) == ("released", ["room"])
    passed = rained + "07:46 | bypass | step=released; batch=a | no gauge here, watching the rim\n"
    row = steps(passed, setup=carried).on
    assert row is not None
    assert (row.step.id, row.verdicts) == ("released", ())
    out = passed + "08:00 | release | barrel=yard; batch=a; out=160 L\n"
    assert status(out, "released", setup=carried) == "done"
    assert on(out, setup=carried) == "level-after"


# --- letting out ----------------------------------------------------------------------------------


def test_what_was_let_out_in_part_can_be_agreed_to_again() -> None:
    part = OPENED + "07:50 | release | barrel=yard; batch=a; out=60 L; to=bay\n"
    assert on(part) == "outlet-shut-again"
    assert let_out(case(part))
    more = part + "07:55 | tick | step=agree; batch=a\n"
    assert not let_out(case(more))
    assert on(more) == "barrel-temp"
    measured = more + "07:56 | test | where=yard; temp=16 degC\n"
    assert on(measured) == "outlet-open"


def test_an_open_outlet_asks_how_much_went_out() -> None:
    assert on(OPENED) == "released"
    assert on(RELEASED) == "outlet-shut-again"


def test_a_batch_entered_afterwards_stands_where_its_facts_are() -> None:
    text = (
        "07:00 | fill | barrel=yard; added=160 L\n"
        "07:01 | treat | barrel=yard; dose=14.5 mL\n"
        "07:02 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "07:03 | release | barrel=yard; out=100 L; to=bay\n"
    )
    assert on(text) == "outlet-shut-again"


def test_after_close_up_a_new_batch_begins() -> None:
    again = case(CLOSED)
    assert again.batch.label == "yard-260603"
    assert again.batch.ticks == {}


# --- other kinds of batch -------------------------------------------------------------------------

READY = """
07:00 | level | reading=80 mm; temp=18 degC
07:01 | tick | step=outlet-shut; batch=yard-a
07:01:10 | tick | step=barrel-sound; batch=yard-a
07:01:20 | tick | step=hose-above-rim; batch=yard-a
"""


def test_dosing_first_goes_from_dose_to_mix_to_hose() -> None:
    assert on(READY, setup=DOSE_FIRST) == "dose"
    assert case(READY, setup=DOSE_FIRST).to_treat_l == pytest.approx(180)
    dosed = READY + "07:02 | treat | barrel=yard; batch=yard-a; dose=14.5 mL; for=180 L\n"
    assert on(dosed, setup=DOSE_FIRST) == "mix"
    mixed = dosed + "07:03 | tick | step=mix; batch=yard-a\n"
    assert on(mixed, setup=DOSE_FIRST) == "hose-on"
    filled = mixed + (
        "07:04 | start | what=fill; barrel=yard; batch=yard-a\n"
        "07:20 | fill | barrel=yard; batch=yard-a; added=160 L\n"
        "07:21 | tick | step=tap-shut; batch=yard-a\n"
    )
    assert on(filled, "07:22", DOSE_FIRST) == "wait"
    assert on(filled, "07:31", DOSE_FIRST) == "chlorine-test"


def test_dosing_first_with_too_little_stays_at_the_dose() -> None:
    dosed = READY + "07:02 | treat | barrel=yard; batch=yard-a; dose=10 mL; rate=8 mL per 100 L\n"
    assert on(dosed, setup=DOSE_FIRST) == "dose"
    assert case(dosed, setup=DOSE_FIRST).to_treat_l == pytest.approx(180 - 125)


def test_dosing_first_and_filling_over_the_line_asks_for_more() -> None:
    text = READY + (
        "07:02 | treat | barrel=yard; batch=yard-a; dose=14.5 mL; rate=8 mL per 100 L\n"
        "07:03 | tick | step=mix; batch=yard-a\n"
        "07:20 | fill | barrel=yard; batch=yard-a; added=178 L\n"
        "07:21 | tick | step=tap-shut; batch=yard-a\n"
    )
    assert on(text, setup=DOSE_FIRST) == "dose"


def test_dosing_first_counts_no_agent_of_the_batch_before() -> None:
    # 40 mL cover 500 L; what is over leaves with the water or is not trusted any more
    text = FILLED + (
        "07:20 | treat | barrel=yard; batch=a; dose=40 mL; rate=8 mL per 100 L\n"
        "07:35 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "07:40 | release | barrel=yard; batch=a; out=100 L; to=elsewhere\n"
        "07:41 | giveup | batch=a\n"
    )
    assert case(text, setup=DOSE_FIRST).to_treat_l == pytest.approx(100)


def test_the_water_that_stands_there_can_be_used_without_filling() -> None:
    text = TESTED + (
        "07:40 | giveup | batch=a\n"
        "07:41 | tick | step=outlet-shut; batch=yard-b\n"
        "07:42 | tick | step=barrel-sound; batch=yard-b\n"
        "07:43 | tick | step=no-fill; batch=yard-b\n"
    )
    assert on(text) == "barrel-temp"
    rows = [row.step.id for row in steps(text).steps]
    assert not {"hose-on", "filled", "tap-shut"} & set(rows)


def test_untreated_water_used_as_it_stands_is_dosed_first() -> None:
    text = FILLED + (
        "07:40 | giveup | batch=a\n"
        "07:41 | tick | step=outlet-shut; batch=yard-b\n"
        "07:42 | tick | step=barrel-sound; batch=yard-b\n"
        "07:43 | tick | step=no-fill; batch=yard-b\n"
    )
    assert on(text) == "dose"
    assert case(text).to_treat_l == pytest.approx(180)


def test_a_rain_barrel_that_is_carried_goes_straight_to_the_water() -> None:
    text = (
        "07:00 | level | reading=80 mm; temp=18 degC\n"
        "07:01 | dip | barrel=butt; left=120 L\n"
        "07:02 | tick | step=barrel-sound; batch=butt-a\n"
    )
    assert on(text, name="butt") == "barrel-temp"
    text += "07:03 | test | where=butt; temp=17 degC\n07:04 | tick | step=agree; batch=butt-a\n"
    assert on(text, name="butt") == "released"
    text += "07:20 | release | barrel=butt; batch=butt-a; out=80 L; to=bay\n"
    assert on(text, name="butt") == "level-after"


def test_a_rain_barrel_with_tap_water_in_it_is_treated() -> None:
    text = (
        "07:00 | level | reading=80 mm\n"
        "07:02 | tick | step=barrel-sound; batch=butt-a\n"
        "07:02:10 | tick | step=hose-above-rim; batch=butt-a\n"
        "07:03 | fill | barrel=butt; batch=butt-a; added=50 L; source=tap\n"
        "07:04 | tick | step=tap-shut; batch=butt-a\n"
    )
    assert on(text, name="butt") == "dose"


def test_unknown_water_in_a_rain_barrel_can_be_tested() -> None:
    text = (
        "07:03 | fill | barrel=butt; batch=butt-a; added=50 L; source=tap\n"
        "07:04 | treat | barrel=butt; batch=butt-a; dose=6 mL; rate=8 mL per 100 L\n"
        "07:20 | giveup | batch=butt-a\n"
    )
    later = case(text, "07-20 08:00", name="butt")
    assert later.water.water == "unknown"
    assert "chlorine-test" in [step.id for step in later.steps]


# --- own steps ------------------------------------------------------------------------------------


def own(*steps: OwnStep, setup: Setup = SETUP) -> Setup:
    """The pond with own steps."""
    return setup._replace(own_steps=steps)


LID = own(OwnStep("own-lid", "mix", "Put the lid on"))
REST = own(OwnStep("own-rest", "mix", "Let it rest", "wait", minutes=5.0))


def test_an_own_step_is_on_in_its_place_until_it_is_ticked() -> None:
    assert on(DOSED, setup=LID) == "own-lid"
    ticked = DOSED + "07:22 | tick | step=own-lid; batch=a\n"
    assert on(ticked, setup=LID) == "chlorine-test"


def test_an_own_step_may_be_passed_over() -> None:
    passed = DOSED + "07:22 | bypass | step=own-lid; batch=a | lost\n"
    assert status(passed, "own-lid", setup=LID) == "passed"


def test_an_own_step_of_the_treatment_is_done_again_after_a_second_fill() -> None:
    text = DOSED + "07:22 | tick | step=own-lid; batch=a\n" + FILL_AGAIN
    text += (
        "07:46 | tick | step=tap-shut; batch=a\n"
        "07:47 | treat | barrel=yard; batch=a; dose=1.5 mL\n"
        "07:48 | tick | step=mix; batch=a\n"
    )
    assert on(text, setup=LID) == "own-lid"


def test_an_own_wait_begins_with_its_tick_and_ends_by_the_clock() -> None:
    assert status(DOSED, "own-rest", setup=REST) == "on"
    begun = DOSED + "07:22 | tick | step=own-rest; batch=a\n"
    assert status(begun, "own-rest", "07:26", REST) == "waiting"
    assert status(begun, "own-rest", "07:27", REST) == "done"


def test_an_own_wait_that_was_taken_back_has_to_be_begun_again() -> None:
    text = DOSED + "07:22 | tick | step=own-rest; batch=a\n" + FILL_AGAIN
    text += (
        "07:46 | tick | step=tap-shut; batch=a\n"
        "07:47 | treat | barrel=yard; batch=a; dose=1.5 mL\n"
        "07:48 | tick | step=mix; batch=a\n"
    )
    assert status(text, "own-rest", setup=REST) == "on"


def test_an_own_step_between_dosing_first_and_filling_stays_done_when_filled() -> None:
    setup = own(OwnStep("own-lid", "mix", "Put the lid on"), setup=DOSE_FIRST)
    text = READY + (
        "07:02 | treat | barrel=yard; batch=yard-a; dose=14.5 mL; rate=8 mL per 100 L\n"
        "07:03 | tick | step=mix; batch=yard-a\n"
        "07:03:30 | tick | step=own-lid; batch=yard-a\n"
        "07:04 | start | what=fill; barrel=yard; batch=yard-a\n"
        "07:20 | fill | barrel=yard; batch=yard-a; added=160 L\n"
        "07:21 | tick | step=tap-shut; batch=yard-a\n"
    )
    assert on(text, setup=setup) == "chlorine-test"


def test_an_own_number_counts_once_it_is_written() -> None:
    setup = own(OwnStep("own-ph", "filled", "Measure the pH", "number", "pH"))
    filled = FILLED.replace("07:19 | tick  | step=tap-shut; batch=a\n", "")
    assert on(filled, setup=setup) == "own-ph"
    assert on(filled + "07:19 | tick | step=own-ph; batch=a | 7.4 pH\n", setup=setup) == "tap-shut"
