"""What is typed at a step, as the entry it means."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.books.lines import make
from pondtui.errors import InputError
from pondtui.pond.refill import actions
from pondtui.pond.refill.case import Case
from pondtui.pond.refill.pouring import dose_needed
from pondtui.pond.refill.procedure import STEPS, Step
from pondtui.pond.refill.typed import Answer
from pondtui.pond.setup.model import OwnStep, Setup
from pondtui.pond.state.entry import Entry
from tests.pond.world import (
    AGREED,
    BEFORE,
    DOSED,
    FILLED,
    OPENED,
    SETUP,
    TESTED,
    case,
    with_bottle,
    with_tap,
)

STEP = {step.id: step for step in STEPS}
US = SETUP._replace(pond=SETUP.pond._replace(units="us"))
IMPERIAL = SETUP._replace(pond=SETUP.pond._replace(units="imperial"))
RUNNING = BEFORE + "07:02 | start | what=fill; barrel=yard; batch=a\n"


def written(found: Answer, setup: Setup = SETUP) -> Entry:
    """The entry of an answer; one that could not be written fails the test."""
    return make(found.kind, found.fields, found.note, 0, UTC, setup.gallon)


def take(
    step: str, typed: str, text: str = RUNNING, setup: Setup = SETUP, name: str = "yard"
) -> tuple[Answer, Entry]:
    """What is typed at a step after the lines, and the entry of it."""
    found = actions.answer(case(text, setup=setup, name=name), STEP[step], typed)
    return found, written(found, setup)


def refused(step: str, typed: str, text: str = RUNNING, setup: Setup = SETUP) -> str:
    """The one sentence with which something typed is refused."""
    with pytest.raises(InputError) as caught:
        actions.answer(case(text, setup=setup), STEP[step], typed)
    sentence = str(caught.value)
    assert sentence
    assert "\n" not in sentence
    return sentence


@pytest.mark.parametrize(
    ("step", "typed", "setup", "said"),
    [
        ("filled", "lots", SETUP, "went in: type 150 L, line (the full line), 700 mm (deep), "
         "meter 1250 L, not lots"),
        ("filled", "1e9", US, "went in: type 40, line (the full line), 20 in (deep), meter 330, "
         "not 1e9"),
        ("barrel-temp", "warm", SETUP, "barrel: type 18.5, not warm"),
        ("filled", "-5", SETUP, "went in: a volume is never negative: -5 L"),
    ],
)  # fmt: skip
def test_what_is_no_amount_is_refused_with_the_steps_own_example(
    step: str, typed: str, setup: Setup, said: str
) -> None:
    assert refused(step, typed, setup=setup) == said


# --- deeds and ticks ------------------------------------------------------------------------------


@pytest.mark.parametrize(("step", "what"), [("hose-on", "fill"), ("outlet-open", "release")])
def test_a_beginning_is_written_with_barrel_and_batch(step: str, what: str) -> None:
    found, entry = take(step, "", AGREED)
    assert found.fields == {"what": what, "barrel": "yard", "batch": "a"}
    assert entry.kind == "start"


@pytest.mark.parametrize("step", ["outlet-shut", "tap-shut", "mix", "agree", "outlet-shut-again"])
def test_a_tick_needs_nothing_typed(step: str) -> None:
    found, entry = take(step, "")
    assert found.fields == {"step": step, "batch": "a"}
    assert entry.kind == "tick"


def test_a_bypass_needs_a_reason() -> None:
    here = case(DOSED)
    with pytest.raises(InputError, match="reason"):
        actions.bypass(here, STEP["chlorine-test"], "  ")
    found = actions.bypass(here, STEP["chlorine-test"], " no kit ")
    assert (found.kind, found.note) == ("bypass", "no kit")
    assert written(found).get("step") == "chlorine-test"


def test_giving_up_names_the_batch() -> None:
    found = actions.give_up(case(DOSED), "rain came")
    assert (found.kind, found.fields, found.note) == ("giveup", {"batch": "a"}, "rain came")


def test_water_that_stands_there_is_used_by_a_tick() -> None:
    assert actions.use_as_it_stands(case(DOSED)).fields == {"step": "no-fill", "batch": "a"}


# --- the gauge ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "reading", "pump", "temp"),
    [
        ("62", 62, None, None),
        ("62 mm", 62, None, None),
        ("6.2 cm", 62, None, None),
        ("62 off", 62, "off", None),
        ("62 mm pump ON", 62, "on", None),
        ("62 mm 18.5 degC", 62, None, 18.5),
        ("62, 18.5 °C off", 62, "off", 18.5),
    ],
)
def test_a_gauge_reading(typed: str, reading: float, pump: str | None, temp: float | None) -> None:
    _, entry = take("level-now", typed)
    assert entry.get("reading") == pytest.approx(reading)
    assert entry.get("pump") == pump
    assert entry.get("temp") == temp


def test_a_gauge_reading_in_inches() -> None:
    _, entry = take("level-after", "2 7/16", setup=US)
    assert entry.get("reading") == pytest.approx(2.4375 * 25.4)


@pytest.mark.parametrize(
    "typed", ["", "high", "62 L", "62 mm 400 L", "6 2 mm", "62 mm off on", "-5"]
)
def test_what_is_no_gauge_reading_is_refused(typed: str) -> None:
    refused("level-now", typed)


# --- filled ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "added"), [("150", 150), ("150 L", 150), ("0.15 m3", 150), ("0", 0)]
)
def test_litres_that_went_in(typed: str, added: float) -> None:
    found, entry = take("filled", typed)
    assert entry.get("added") == pytest.approx(added)
    assert (entry.get("source"), entry.get("barrel"), entry.get("batch")) == ("tap", "yard", "a")
    assert found.warning == ""


def test_a_bare_number_is_in_the_ponds_own_units() -> None:
    assert take("filled", "40", setup=US)[1].get("added") == pytest.approx(40 * 3.785411784)
    imperial = take("filled", "30", setup=IMPERIAL)[1].get("added")
    assert imperial == pytest.approx(30 * 4.54609)


def test_a_bare_gallon_is_that_of_the_pond() -> None:
    assert take("filled", "40 gal", setup=US)[1].get("added") == pytest.approx(151.416, abs=1e-3)
    refused("filled", "40 gal")


@pytest.mark.parametrize("typed", ["line", "LINE"])
def test_up_to_the_line(typed: str) -> None:
    assert take("filled", typed)[1].get("to") == "line"


def test_up_to_a_depth() -> None:
    assert take("filled", "700 mm")[1].get("to") == 700
    assert take("filled", "30 in", setup=US)[1].get("to") == pytest.approx(762)


METERED = "06:00 | fill | barrel=shed; added=10 L; source=tap; meter=1000 L\n" + RUNNING


def test_a_meter_says_how_much_since_its_last_reading() -> None:
    _, entry = take("filled", "meter 1150", METERED)
    assert entry.get("added") == pytest.approx(150)
    assert entry.get("meter") == pytest.approx(1150)


def test_litres_and_meter_together() -> None:
    _, entry = take("filled", "150 L, meter 4321.5 L")
    assert (entry.get("added"), entry.get("meter")) == (150, 4321.5)
    assert take("filled", "line meter 99 L")[1].get("meter") == 99


def test_a_first_meter_reading_alone_is_refused_with_the_way_out() -> None:
    assert "150 L meter 1150 L" in refused("filled", "meter 1150")


def test_a_meter_never_runs_back() -> None:
    assert "1000" in refused("filled", "meter 900", METERED)


def test_over_the_line_is_taken_with_a_warning_and_far_over_the_brim_refused() -> None:
    found, _ = take("filled", "170")
    assert "full line" in found.warning
    assert "190 L" in found.warning
    assert "200 L" in refused("filled", "300")
    assert take("filled", "160")[0].warning == ""


@pytest.mark.parametrize("typed", ["", "much", "-5", "150 kg", "1,500", "meter", "12 buckets"])
def test_what_is_no_filling_is_refused(typed: str) -> None:
    refused("filled", typed)


# --- dose -----------------------------------------------------------------------------------------


def test_a_dose_is_written_with_all_that_it_is_judged_by() -> None:
    found, entry = take("dose", "14.5", FILLED)
    assert found.warning == ""
    assert (entry.get("dose").amount, entry.get("dose").unit) == (pytest.approx(14.5), "mL")
    assert entry.get("for") == pytest.approx(180)
    assert entry.get("needed").amount == pytest.approx(14.4)
    assert entry.get("rate").per_l == pytest.approx(0.08)


def test_the_rate_that_is_written_is_the_one_that_applied() -> None:
    _, entry = take("dose", "30", FILLED, with_tap(chloramine=True))
    assert entry.get("rate").per_l == pytest.approx(0.16)
    assert entry.get("needed").amount == pytest.approx(28.8)


def test_an_extra_dose_is_judged_by_the_rate_that_applied() -> None:
    setup = with_tap(chloramine=True)
    first, _ = take("dose", "28.8", FILLED, setup)
    text = FILLED + f"07:20 | treat | {_fields(first)}\n"
    extra, entry = take("dose", "8", text, setup)
    assert entry.get("for") == 0
    more = text + f"07:25 | treat | {_fields(extra)}\n"
    # 8 mL at 16 mL per 100 L are for 50 L, not for 100
    assert case(more, setup=setup).water.spare_l == pytest.approx(50, abs=0.1)


def _fields(found: Answer) -> str:
    return "; ".join(f"{name}={value}" for name, value in found.fields.items())


def test_a_dry_dose_is_in_grams_with_its_rate() -> None:
    setup = with_bottle(kind="dry")
    found, entry = take("dose", "2", FILLED, setup)
    assert entry.get("dose").unit == "g"
    # 7.0 g of pentahydrate per g of chlorine (laboratory practice), 10 % margin, 0.6 mg/L
    assert entry.get("rate").per_l == pytest.approx(0.6e-3 * 7.0 * 1.1, rel=1e-3)
    assert found.warning
    assert entry.get("needed").amount == pytest.approx(180 * 0.6e-3 * 7.0 * 1.1, rel=2e-2)


def test_too_little_is_taken_with_a_warning() -> None:
    found, entry = take("dose", "10 mL", FILLED)
    assert "too little" in found.warning
    assert "14.5 mL" in found.warning
    assert entry.get("dose").amount == pytest.approx(10)


def test_more_than_the_label_allows_is_taken_with_a_warning() -> None:
    found, _ = take("dose", "50 mL", FILLED)
    assert "43.2 mL" in found.warning
    assert "aerate" in found.warning


def test_much_more_than_is_needed_is_worth_a_word() -> None:
    assert "x what is needed" in take("dose", "30 mL", FILLED)[0].warning
    assert take("dose", "15 mL", FILLED)[0].warning == ""


def test_a_dose_that_cannot_be_worked_out_is_taken_all_the_same() -> None:
    setup = SETUP._replace(conditioners=())
    found, entry = take("dose", "15", FILLED, setup)
    assert "cannot be worked out" in found.warning
    assert entry.get("needed") is None


def test_spoons_and_other_units_are_taken_as_typed() -> None:
    found, entry = take("dose", "3 tsp", FILLED)
    assert entry.get("dose").amount == pytest.approx(15)
    assert found.fields["dose"] == "3 tsp"


@pytest.mark.parametrize("typed", ["", "some", "-3", "3 g", "5 mm"])
def test_what_is_no_dose_is_refused(typed: str) -> None:
    refused("dose", typed, FILLED)


def test_the_dose_is_told_in_devices() -> None:
    needed = dose_needed(case(FILLED))
    assert needed is not None
    assert needed[0] == pytest.approx(14.4)
    assert needed[1] == pytest.approx(14.5)
    assert needed[2] == "mL"
    assert "syringe" in needed[3]
    assert dose_needed(case(FILLED, setup=SETUP._replace(conditioners=()))) is None


# --- tests ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["0", "0.0", "0.00 mg/L", "0 ppm", "none", "<0.02", "<0.02 mg/L"])
def test_no_colour_is_below_the_first_step(typed: str) -> None:
    found, entry = take("chlorine-test", typed, DOSED)
    total = entry.get("chlorine_total")
    assert total.below
    assert total.value == pytest.approx(0.02)
    assert entry.get("where") == "yard"
    assert found.warning == ""


def test_any_colour_warns() -> None:
    found, entry = take("chlorine-test", "0.5", DOSED)
    assert entry.get("chlorine_total").value == 0.5
    assert "dose again" in found.warning


def test_a_kit_that_is_too_coarse_is_told() -> None:
    assert "finer" in take("chlorine-test", "<0.1 mg/L", DOSED)[0].warning


@pytest.mark.parametrize("typed", ["", "pink", "-0.1", "50 mg/L", "0.5 L", "0.5 mg/L as N as N"])
def test_what_is_no_test_is_refused(typed: str) -> None:
    refused("chlorine-test", typed, DOSED)


def test_a_temperature() -> None:
    _, entry = take("barrel-temp", "18.5", TESTED)
    assert (entry.get("where"), entry.get("temp")) == ("yard", 18.5)
    assert take("barrel-temp", "64", TESTED, US)[1].get("temp") == pytest.approx(17.78, abs=0.01)
    assert take("barrel-temp", "64 degF", TESTED)[1].get("temp") == pytest.approx(17.78, abs=0.01)


@pytest.mark.parametrize("typed", ["", "warm", "80", "18 mm"])
def test_what_is_no_temperature_is_refused(typed: str) -> None:
    refused("barrel-temp", typed, TESTED)


# --- released -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "out"), [("all", 160), ("ALL", 160), ("outlet", 160), ("100", 100), ("100 L", 100)]
)
def test_what_was_let_out(typed: str, out: float) -> None:
    _, entry = take("released", typed, OPENED)
    assert entry.get("out") == pytest.approx(out)
    assert entry.get("to") == "bay"


@pytest.mark.parametrize(
    ("typed", "left"),
    [("left 30", 30), ("left 30 L", 30), ("left 300 mm", 60), ("300 mm", 60), ("LEFT 0", 0)],
)
def test_what_is_left_in_the_barrel(typed: str, left: float) -> None:
    _, entry = take("released", typed, OPENED)
    assert entry.get("left") == pytest.approx(left)


@pytest.mark.parametrize("typed", ["100 elsewhere", "all elsewhere", "left 30 elsewhere"])
def test_water_that_went_elsewhere(typed: str) -> None:
    assert take("released", typed, OPENED)[1].get("to") == "elsewhere"


def test_buckets_are_of_the_barrels_own_size() -> None:
    here = "07:00 | dip | barrel=butt; left=120 L\n"
    assert take("released", "6 buckets", here, name="butt")[1].get("out") == pytest.approx(60)
    assert take("released", "1 bucket", here, name="butt")[1].get("out") == pytest.approx(10)
    assert take("released", "2 buckets elsewhere", here, name="butt")[1].get("to") == "elsewhere"


def test_a_release_may_be_metered() -> None:
    _, entry = take("released", "100 L meter 12.5 L", OPENED)
    assert (entry.get("out"), entry.get("meter")) == (100, 12.5)


def test_a_look_meanwhile_does_not_change_what_all_means() -> None:
    text = OPENED + "07:50 | dip | barrel=yard; left=90 L\n"
    assert take("released", "all", text)[1].get("out") == pytest.approx(160)


def test_more_than_was_believed_is_taken_with_a_warning() -> None:
    found, _ = take("released", "250", OPENED)
    assert "180 L" in found.warning
    assert take("released", "180", OPENED)[0].warning == ""


def test_more_left_than_stood_there_is_refused_with_the_way_out() -> None:
    assert "180 L" in refused("released", "left 190", OPENED)


@pytest.mark.parametrize(
    "typed", ["", "elsewhere", "some", "-5", "left", "left some", "x buckets", "100 kg"]
)
def test_what_is_no_release_is_refused(typed: str) -> None:
    refused("released", typed, OPENED)


WORDS = """
0 1 7/16 -3 1e9 nan inf 18.5 L mm gal mL degC mg/L % line all left outlet elsewhere buckets meter
on off < ; | . , / pump none °C ½ [b] as N per
"""
# a line of input holds no line ends
CHARACTERS = st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"])
TYPED = st.one_of(
    st.text(CHARACTERS, max_size=12),
    st.lists(st.sampled_from(WORDS.split()), max_size=5).map(" ".join),
)
HERE = case(OPENED)


def refusal(take_it: Callable[[], Answer]) -> str | None:
    """The sentence with which something is refused; None where an entry can be written of it."""
    try:
        written(take_it())
    except InputError as error:
        return str(error)
    return None


@settings(deadline=None, max_examples=300)
@given(st.sampled_from(STEPS), TYPED)
def test_whatever_is_typed_is_an_entry_or_one_sentence(step: Step, typed: str) -> None:
    for said in (
        refusal(lambda: actions.answer(HERE, step, typed)),
        refusal(lambda: actions.look(HERE, typed)),
    ):
        assert said is None or (said.strip() and len(said.splitlines()) == 1)


# --- looks and own steps --------------------------------------------------------------------------


def test_a_look_is_litres_or_a_depth() -> None:
    here = case(OPENED)
    assert written(actions.look(here, "90")).get("left") == 90
    assert written(actions.look(here, "90 L")).get("left") == 90
    assert written(actions.look(here, "400 mm")).get("depth") == 400
    us = case(OPENED, setup=US)
    assert written(actions.look(us, "20"), US).get("left") == pytest.approx(20 * 3.785411784)


@pytest.mark.parametrize("typed", ["", "half", "-3", "5 kg", "900 L"])
def test_what_is_no_look_is_refused(typed: str) -> None:
    with pytest.raises(InputError) as caught:
        actions.look(case(OPENED), typed)
    assert "\n" not in str(caught.value)


def own(kind: str, unit: str = "") -> tuple[Case, Step]:
    """A case with one own step on, and that step."""
    setup = SETUP._replace(own_steps=(OwnStep("own-it", "mix", "Own it", kind, unit, 5.0),))
    here = case(DOSED, setup=setup)
    return here, next(step for step in here.steps if step.id == "own-it")


@pytest.mark.parametrize("kind", ["tick", "wait"])
def test_an_own_step_is_a_tick(kind: str) -> None:
    here, step = own(kind)
    found = actions.answer(here, step, "")
    assert (found.kind, found.fields, found.note) == (
        "tick",
        {"step": "own-it", "batch": "a"},
        "",
    )


@pytest.mark.parametrize("typed", ["7.4", "7.4 pH"])
def test_an_own_number_is_kept_in_the_note(typed: str) -> None:
    here, step = own("number", "pH")
    assert actions.answer(here, step, typed).note == "7.4 pH"


@pytest.mark.parametrize("typed", ["", "much"])
def test_an_own_number_has_to_be_one(typed: str) -> None:
    here, step = own("number", "pH")
    with pytest.raises(InputError):
        actions.answer(here, step, typed)


# --- more, and the words that ask -----------------------------------------------------------------


def test_after_a_filling_the_hose_can_be_turned_on_again() -> None:
    found = actions.more(case(DOSED))
    assert found is not None
    assert (found.kind, found.fields["what"]) == ("start", "fill")
    assert actions.more(case(RUNNING)) is None
    assert actions.more(case(BEFORE)) is None


def test_after_a_part_was_let_out_more_of_it_can_be_agreed_to() -> None:
    part = OPENED + "08:00 | release | barrel=yard; batch=a; out=60 L; to=bay\n"
    found = actions.more(case(part))
    assert found is not None
    assert found.fields["step"] == "agree"
    assert actions.more(case(part.replace("out=60 L", "out=160 L"))) is None


@pytest.mark.parametrize("setup", [SETUP, US, IMPERIAL])
@pytest.mark.parametrize(
    "step", ["level-now", "filled", "dose", "chlorine-test", "barrel-temp", "released"]
)
def test_every_number_is_asked_for_with_an_example(step: str, setup: Setup) -> None:
    asked = actions.prompt(case(FILLED, setup=setup), STEP[step])
    assert asked.label
    assert asked.example


def test_the_suggested_dose_is_the_measured_one_and_is_enough() -> None:
    suggested = actions.prompt(case(FILLED), STEP["dose"]).suggested
    assert suggested == "14.5 mL"
    assert take("dose", suggested, FILLED)[0].warning == ""
