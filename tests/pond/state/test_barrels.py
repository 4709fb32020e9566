"""The water of a barrel: what stands there, and of it what is not yet safe."""

from __future__ import annotations

import pytest

from tests.pond.world import (
    AGREED,
    BRIM,
    CLOSED,
    DOSED,
    FILLED,
    HEEL,
    LINE,
    RELEASED,
    SETUP,
    TESTED,
    YARD,
    alarms,
    barrel,
    state,
    with_barrel,
    with_bottle,
    with_tap,
)

NEXT_FILL = "09:00 | fill | barrel=yard; batch=b; added=100 L; source=tap\n"


def test_a_barrel_begins_at_its_heel_untreated() -> None:
    begun = barrel("")
    assert begun.held_l == pytest.approx(HEEL)
    assert begun.untreated_l == pytest.approx(HEEL)
    assert begun.water == "untreated"
    assert begun.begun_l == begun.held_l


def test_a_rain_barrel_begins_at_a_heel_that_needs_no_agent() -> None:
    begun = barrel("", name="butt")
    assert begun.held_l == pytest.approx(HEEL)
    assert begun.untreated_l == 0


def test_a_fill_adds_its_litres_untreated() -> None:
    filled = barrel("07:00 | fill | barrel=yard; added=160 L; source=tap")
    assert filled.held_l == pytest.approx(LINE)
    assert filled.untreated_l == pytest.approx(LINE)
    assert filled.filled_l == 160


def test_well_water_is_untreated_too() -> None:
    filled = barrel("07:00 | fill | barrel=yard; added=100 L; source=well")
    assert filled.untreated_l == pytest.approx(HEEL + 100)


@pytest.mark.parametrize("to", ["line", "900 mm", "0.9 m"])
def test_a_fill_to_a_line_or_a_depth_adds_what_was_missing(to: str) -> None:
    filled = barrel(f"07:00 | fill | barrel=yard; to={to}")
    assert filled.held_l == pytest.approx(LINE)
    assert filled.filled_l == pytest.approx(LINE - HEEL)


def test_a_fill_to_less_than_was_believed_corrects_what_stands_there() -> None:
    filled = barrel(
        "07:00 | fill | barrel=yard; added=160 L\n07:10 | fill | barrel=yard; to=850 mm\n"
    )
    assert filled.held_l == pytest.approx(170)
    assert filled.corrected_l == pytest.approx(-10)
    assert filled.filled_l == 160


def test_the_first_fill_of_a_new_batch_makes_all_untreated() -> None:
    # released and closed up, but the heel was only dosed, never tested
    untested = DOSED + "08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"
    assert barrel(untested).untreated_l == 0
    assert barrel(untested + NEXT_FILL).untreated_l == pytest.approx(HEEL + 100)


def test_a_heel_treated_and_tested_clear_since_stays_treated() -> None:
    filled = barrel(CLOSED + NEXT_FILL)
    assert filled.held_l == pytest.approx(HEEL + 100)
    assert filled.untreated_l == pytest.approx(100)


def test_a_heel_tested_clear_but_never_treated_counts_as_untreated() -> None:
    text = "07:00 | test | where=yard; chlorine_total=<0.02 mg/L\n" + NEXT_FILL
    assert barrel(text).untreated_l == pytest.approx(HEEL + 100)


def test_a_heel_dosed_again_after_its_test_counts_as_untreated() -> None:
    text = TESTED + (
        "07:40 | treat | barrel=yard; batch=a; dose=1 mL; rate=8 mL per 100 L\n"
        "08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"
    )
    assert barrel(text + NEXT_FILL).untreated_l == pytest.approx(HEEL + 100)


def test_water_left_by_a_closed_batch_counts_as_untreated_at_the_next_fill() -> None:
    text = DOSED + (
        "08:00 | release | barrel=yard; batch=a; out=100 L; to=bay\n"
        "08:01 | tick | step=outlet-shut-again; batch=a\n"
        "08:05 | level | reading=60 mm\n"
    )
    assert barrel(text).batch is None
    assert barrel(text).untreated_l == 0
    assert barrel(text + NEXT_FILL).untreated_l == pytest.approx(LINE - 100 + 100)


def test_fills_within_a_batch_add_only_their_own_litres() -> None:
    text = DOSED.replace("added=160 L", "added=100 L") + (
        "08:00 | fill | barrel=yard; batch=a; added=50 L\n"
    )
    # 14.5 mL cover 181.25 L: 120 stood there, so that 61.25 are over for the 50
    assert barrel(text).untreated_l == 0
    more = text + "08:10 | fill | barrel=yard; batch=a; added=20 L\n"
    assert barrel(more).untreated_l == pytest.approx(20)


def test_a_fill_takes_the_clear_test_back() -> None:
    text = TESTED + "07:50 | fill | barrel=yard; batch=a; added=10 L\n"
    assert barrel(text).clear_at is None
    assert barrel(text).untreated_l == pytest.approx(10)


def test_rain_in_a_rain_barrel_needs_no_agent() -> None:
    filled = barrel("07:00 | fill | barrel=butt; added=100 L; source=rain", name="butt")
    assert filled.held_l == pytest.approx(HEEL + 100)
    assert filled.untreated_l == 0
    by_default = barrel("07:00 | fill | barrel=butt; added=100 L", name="butt")
    assert by_default.untreated_l == 0


def test_rain_in_a_tap_barrel_is_untreated() -> None:
    filled = barrel("07:00 | fill | barrel=yard; added=100 L; source=rain")
    assert filled.untreated_l == pytest.approx(HEEL + 100)


def test_tap_water_in_a_rain_barrel_is_untreated() -> None:
    text = (
        "07:00 | fill | barrel=butt; added=100 L; source=rain\n"
        "08:00 | fill | barrel=butt; added=50 L; source=tap\n"
    )
    assert barrel(text, name="butt").untreated_l == pytest.approx(50)


def test_rain_that_falls_onto_tap_water_in_a_rain_barrel_adds_nothing_untreated() -> None:
    text = (
        "07:00 | fill | barrel=butt; added=50 L; source=tap\n"
        "08:00 | fill | barrel=butt; added=30 L; source=rain\n"
    )
    assert barrel(text, name="butt").untreated_l == pytest.approx(50)


def test_a_rain_barrel_once_filled_by_hose_and_cleared_is_a_rain_barrel_again() -> None:
    text = (
        "07:00 | fill | barrel=butt; batch=a; added=50 L; source=tap\n"
        "07:05 | treat | barrel=butt; batch=a; dose=6 mL; rate=8 mL per 100 L\n"
        "07:20 | test | where=butt; chlorine_total=<0.02 mg/L\n"
        "07:30 | release | barrel=butt; batch=a; out=50 L\n"
        "08:00 | fill | barrel=butt; batch=b; added=90 L; source=rain\n"
    )
    assert barrel(text, "2026-12-01 12:00", name="butt").water != "unknown"
    assert barrel(text, "2026-12-01 12:00", name="butt").untreated_l == 0


# --- doses ----------------------------------------------------------------------------------------


def test_the_water_is_treated_when_the_dose_covers_what_was_untreated() -> None:
    assert barrel(DOSED).untreated_l == 0
    assert barrel(DOSED).water == "treated"


def test_doses_add_up() -> None:
    half = "07:2{} | treat | barrel=yard; batch=a; dose=7.2 mL; rate=8 mL per 100 L\n"
    once = FILLED + half.format(0)
    assert barrel(once).untreated_l == pytest.approx(LINE)
    assert barrel(once).spare_l == pytest.approx(90)
    assert barrel(once + half.format(5)).untreated_l == 0


def test_two_equal_doses_are_never_merged() -> None:
    text = FILLED + "07:20 | treat | barrel=yard; batch=a; dose=7.2 mL; rate=8 mL per 100 L\n"
    batch = barrel(text + text.splitlines()[-1].replace("07:20", "07:20:01")).batch
    assert batch is not None
    assert [dose.amount for dose in batch.doses] == [pytest.approx(7.2)] * 2


def test_too_little_leaves_all_of_it_untreated() -> None:
    text = FILLED + "07:20 | treat | barrel=yard; dose=13 mL; rate=8 mL per 100 L\n"
    assert barrel(text).untreated_l == pytest.approx(LINE)
    assert barrel(text).water == "untreated"


def test_too_much_is_recorded_as_overdosed() -> None:
    text = FILLED + "07:20 | treat | barrel=yard; dose=60 mL; rate=8 mL per 100 L\n"
    assert barrel(text).untreated_l == 0
    # the ceiling is 3 x 8 mL per 100 L: 43.2 mL for 180 L
    assert barrel(text).overdosed == pytest.approx(60 / 43.2)
    (alarm,) = state(text).alarms
    assert alarm.name == "overdosed"
    for word in ("hold", "aerate", "throw"):
        assert word in alarm.remedy


def test_an_overdose_stays_known_when_the_batch_was_given_up_and_topped_up() -> None:
    text = FILLED + (
        "07:20 | treat | barrel=yard; batch=a; dose=90 mL; rate=8 mL per 100 L\n"
        "07:30 | giveup | batch=a\n"
        "07:40 | fill | barrel=yard; batch=b; added=10 L\n"
    )
    assert "overdosed" in alarms(text)


def test_doses_of_several_rounds_of_colour_add_up_to_an_overdose() -> None:
    text = FILLED
    for minute in (20, 30, 40):
        text += f"07:{minute} | treat | barrel=yard; dose=15 mL; rate=8 mL per 100 L\n"
        text += f"07:{minute + 5} | test | where=yard; chlorine_total=0.2 mg/L\n"
    assert barrel(text).overdosed == pytest.approx(45 / 43.2)


def test_a_dose_before_filling_is_no_overdose_for_the_heel() -> None:
    setup = with_bottle(dose_when="before fill")
    text = "07:00 | treat | barrel=yard; dose=14.5 mL; for=180 L; needed=14.4 mL\n"
    assert "overdosed" not in alarms(text, setup=setup)


def test_a_dose_for_little_water_that_is_used_as_it_stands_may_be_an_overdose() -> None:
    text = (
        "07:00 | tick | step=no-fill; batch=yard-1\n"
        "07:01 | treat | barrel=yard; batch=yard-1; dose=14.5 mL; rate=8 mL per 100 L\n"
    )
    setup = with_bottle(dose_when="before fill")
    assert barrel(text, setup=setup).overdosed == pytest.approx(14.5 / (HEEL * 0.24))


def test_a_dose_is_judged_by_what_was_needed_then() -> None:
    # needed and rate in the entry: chloramine asked twice the label
    text = FILLED + (
        "07:20 | treat | barrel=yard; dose=14.5 mL; for=180 L; rate=16 mL per 100 L; "
        "needed=28.8 mL\n"
    )
    assert barrel(text).untreated_l == pytest.approx(LINE)


def test_a_dose_is_judged_by_its_rate_when_nothing_else_is_said() -> None:
    text = FILLED + "07:20 | treat | barrel=yard; dose=14.5 mL; rate=16 mL per 100 L\n"
    assert barrel(text).untreated_l == pytest.approx(LINE)


@pytest.mark.parametrize("words", ["rate=8 mL per 100 L", "for=180 L; needed=14.4 mL"])
def test_a_later_change_of_the_description_does_not_judge_old_batches_anew(words: str) -> None:
    text = FILLED + f"07:20 | treat | barrel=yard; dose=14.5 mL; {words}\n"
    for changed in (
        with_bottle(label_dose_ml=20.0),
        with_tap(total_chlorine_mg_l=5.0),
        with_tap(chloramine=True),
        SETUP._replace(conditioners=()),
    ):
        assert barrel(text, setup=changed).untreated_l == 0


def test_a_dose_written_without_a_rate_is_judged_by_the_description() -> None:
    enough = FILLED + "07:20 | treat | barrel=yard; dose=14.5 mL\n"
    assert barrel(enough).untreated_l == 0
    assert barrel(enough, setup=with_tap(chloramine=True)).untreated_l == pytest.approx(LINE)


def test_a_test_of_the_tap_says_nothing_about_well_water() -> None:
    text = "06:00 | test | where=tap; chlorine_total=2 mg/L\n" + FILLED.replace("tap\n", "well\n")
    dosed = text + "07:20 | treat | barrel=yard; dose=14.5 mL\n"
    well = with_barrel(YARD._replace(source="well"))
    assert barrel(dosed, setup=well).untreated_l == 0
    assert barrel(dosed).untreated_l == pytest.approx(LINE)


def test_a_dose_that_cannot_be_judged_treats_nothing_and_says_so() -> None:
    found = state(FILLED + "07:20 | treat | barrel=yard; dose=3 g\n")
    assert found.barrels["yard"].untreated_l == pytest.approx(LINE)
    assert any("cannot be judged" in remark for remark in found.remarks)


def test_dose_before_fill_is_judged_by_the_final_volume() -> None:
    dose = "07:00 | treat | barrel=yard; batch=a; dose=14.5 mL; for=180 L; needed=14.4 mL\n"
    filled = dose + "07:20 | fill | barrel=yard; batch=a; added=160 L\n"
    assert barrel(filled).untreated_l == 0
    over = dose + "07:20 | fill | barrel=yard; batch=a; added=175 L\n"
    assert barrel(over).untreated_l == pytest.approx(175)


def test_dose_before_fill_onto_a_clear_heel_need_not_cover_the_heel() -> None:
    dose = "08:30 | treat | barrel=yard; batch=b; dose=8 mL; for=100 L; needed=8 mL\n"
    assert barrel(CLOSED + dose + NEXT_FILL).untreated_l == 0


def test_dose_before_fill_onto_a_heel_of_unknown_treatment_covers_the_heel_too() -> None:
    untested = DOSED + "08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"
    dose = "08:30 | treat | barrel=yard; batch=b; dose=8 mL; rate=8 mL per 100 L\n"
    assert barrel(untested + dose + NEXT_FILL).untreated_l > 0


def test_agent_left_over_by_a_batch_covers_nothing_of_the_next() -> None:
    text = FILLED + (
        "07:20 | treat | barrel=yard; batch=a; dose=40 mL; rate=8 mL per 100 L\n"
        "07:35 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "08:00 | release | barrel=yard; batch=a; out=100 L\n"
        "08:10 | giveup | batch=a\n"
    )
    assert barrel(text + NEXT_FILL).untreated_l == pytest.approx(100)


def test_water_used_as_it_stands_needs_agent_for_its_untreated_part_only() -> None:
    text = CLOSED + (
        "09:00 | fill | barrel=yard; batch=b; added=50 L\n"
        "09:10 | giveup | batch=b\n"
        "09:20 | tick | step=no-fill; batch=yard-c\n"
        "09:30 | treat | barrel=yard; batch=yard-c; dose=4 mL; for=50 L; needed=4 mL\n"
    )
    assert barrel(text).untreated_l == 0


# --- tests ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("shown", ["<0.02 mg/L", "0.02 mg/L", "0 mg/L", "<0.01 mg/L"])
def test_total_chlorine_at_or_under_the_limit_is_clear(shown: str) -> None:
    tested = barrel(DOSED + f"07:35 | test | where=yard; chlorine_total={shown}\n")
    assert tested.water == "clear"
    assert tested.clear_at is not None


def test_below_a_coarse_first_step_is_neither_clear_nor_colour() -> None:
    tested = barrel(DOSED + "07:35 | test | where=yard; chlorine_total=<0.1 mg/L\n")
    assert tested.clear_at is None
    assert not tested.coloured
    assert tested.water == "treated"


def test_agent_that_went_into_water_tested_clear_covers_no_new_water() -> None:
    text = FILLED + (
        "07:20 | treat | barrel=yard; batch=a; dose=7.2 mL; rate=8 mL per 100 L\n"
        "07:35 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "07:40 | fill | barrel=yard; batch=a; added=15 L\n"
    )
    assert barrel(text).untreated_l == pytest.approx(15)


@pytest.mark.parametrize(
    "shown",
    [
        "chlorine_total=0.03 mg/L",
        "chlorine_free=0.5 mg/L",
        "chlorine_total=<0.02 mg/L; chlorine_free=0.3 mg/L",
    ],
)
def test_any_colour_makes_it_untreated_again(shown: str) -> None:
    tested = barrel(TESTED + f"07:38 | test | where=yard; {shown}\n")
    assert tested.untreated_l == pytest.approx(LINE)
    assert tested.coloured
    assert tested.clear_at is None


def test_free_chlorine_alone_never_clears_a_barrel() -> None:
    tested = barrel(DOSED + "07:35 | test | where=yard; chlorine_free=<0.02 mg/L\n")
    assert tested.clear_at is None


def test_a_dose_after_colour_has_to_cover_all_of_it_anew() -> None:
    colour = DOSED + "07:35 | test | where=yard; chlorine_total=0.2 mg/L\n"
    little = colour + "07:40 | treat | barrel=yard; dose=7 mL; rate=8 mL per 100 L\n"
    assert barrel(little).untreated_l == pytest.approx(LINE)
    enough = colour + "07:40 | treat | barrel=yard; dose=14.5 mL; rate=8 mL per 100 L\n"
    assert barrel(enough).untreated_l == 0


def test_a_dose_takes_the_clear_test_back() -> None:
    text = TESTED + "07:36 | treat | barrel=yard; dose=1 mL; rate=8 mL per 100 L\n"
    assert barrel(text).clear_at is None


# --- releases -------------------------------------------------------------------------------------


def test_a_release_takes_treated_and_untreated_alike() -> None:
    text = TESTED + (
        "07:40 | fill | barrel=yard; batch=a; added=20 L\n"
        "07:50 | release | barrel=yard; batch=a; out=100 L; to=elsewhere\n"
    )
    left = barrel(text)
    assert left.held_l == pytest.approx(100)
    assert left.untreated_l == pytest.approx(10)


def test_a_release_may_say_what_is_left() -> None:
    text = AGREED + "08:00 | release | barrel=yard; batch=a; left=50 L\n"
    assert barrel(text).held_l == pytest.approx(50)
    assert barrel(text).released_l == pytest.approx(LINE - 50)


def test_more_than_is_held_reaches_the_pond_as_it_was_said() -> None:
    found = state(AGREED + "08:00 | release | barrel=yard; batch=a; out=250 L; to=bay\n")
    assert found.barrels["yard"].held_l == 0
    assert found.barrels["yard"].released_l == 250
    assert [addition.litres for addition in found.additions] == [250]
    assert any("70 L more than yard" in remark for remark in found.remarks)


def test_more_left_than_was_believed_is_untreated_water() -> None:
    text = AGREED + "08:00 | release | barrel=yard; batch=a; left=190 L\n"
    assert barrel(text).held_l == pytest.approx(190)
    assert barrel(text).untreated_l == pytest.approx(10)


# --- dips -----------------------------------------------------------------------------------------


def test_a_dip_sets_what_is_held_and_counts_as_correction() -> None:
    dipped = barrel(TESTED + "07:50 | dip | barrel=yard; left=150 L\n")
    assert dipped.held_l == 150
    assert dipped.corrected_l == pytest.approx(-30)
    assert dipped.untreated_l == 0


def test_a_dip_may_say_a_depth() -> None:
    assert barrel("07:00 | dip | barrel=yard; depth=450 mm").held_l == pytest.approx(90)


def test_a_dip_above_what_is_held_makes_the_surplus_untreated() -> None:
    dipped = barrel(TESTED + "07:50 | dip | barrel=yard; left=195 L\n")
    assert dipped.held_l == 195
    assert dipped.untreated_l == pytest.approx(15)
    assert dipped.clear_at is None


def test_a_dip_within_the_reading_error_is_the_same_water_measured_anew() -> None:
    assert barrel(TESTED + "07:50 | dip | barrel=yard; left=180.9 L\n").water == "clear"
    untreated = barrel(FILLED + "07:50 | dip | barrel=yard; left=180.9 L\n")
    assert untreated.untreated_l == pytest.approx(180.9)


def test_a_dip_above_what_a_rain_barrel_holds_is_rain() -> None:
    dipped = barrel("07:00 | dip | barrel=butt; left=150 L", name="butt")
    assert dipped.held_l == 150
    assert dipped.untreated_l == 0


def test_a_dip_below_what_is_held_asks_where_it_went() -> None:
    found = state(TESTED + "07:50 | dip | barrel=yard; left=150 L\n")
    assert any("30 L less" in remark and "where" in remark for remark in found.remarks)


@pytest.mark.parametrize(
    "line",
    [
        "07:50 | dip | barrel=yard; left=230 L",
        "07:50 | fill | barrel=yard; batch=a; added=40 L",
        "07:50 | release | barrel=yard; left=230 L",
    ],
)
def test_more_than_the_brim_is_taken_with_a_remark(line: str) -> None:
    found = state(TESTED + line)
    assert found.barrels["yard"].held_l > BRIM
    assert any("more than yard holds" in remark for remark in found.remarks)


def test_looks_while_the_hose_runs_give_way_to_the_entry_of_the_fill() -> None:
    text = (
        "07:00 | start | what=fill; barrel=yard; batch=a\n"
        "07:05 | dip | barrel=yard; left=100 L\n"
        "07:06 | dip | barrel=yard; left=70 L\n"
        "07:08 | dip | barrel=yard; left=120 L\n"
    )
    running = barrel(text)
    assert running.held_l == 120
    assert running.untreated_l == pytest.approx(120)
    assert running.corrected_l == pytest.approx(100)
    filled = barrel(text + "07:16 | fill | barrel=yard; batch=a; added=160 L\n")
    assert filled.held_l == pytest.approx(LINE)
    assert filled.untreated_l == pytest.approx(LINE)
    assert filled.corrected_l == pytest.approx(0)


def test_looks_while_the_hose_runs_do_not_make_agent_out_of_nothing() -> None:
    text = (
        "07:00 | start | what=fill; barrel=yard; batch=a\n"
        "07:05 | dip | barrel=yard; left=100 L\n"
        "07:06 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "07:16 | fill | barrel=yard; batch=a; added=160 L\n"
    )
    assert barrel(text).spare_l == 0
    assert barrel(text).untreated_l == pytest.approx(160)


def test_looks_count_when_the_filling_is_given_up() -> None:
    text = (
        "07:00 | start | what=fill; barrel=yard; batch=a\n"
        "07:05 | dip | barrel=yard; left=100 L\n"
        "07:06 | giveup | batch=a\n"
    )
    left = barrel(text)
    assert left.held_l == 100
    assert left.untreated_l == pytest.approx(100)
    assert left.running is None


def test_looks_while_it_runs_out_give_way_to_the_entry_of_the_release() -> None:
    text = AGREED + (
        "07:42 | start | what=release; barrel=yard; batch=a\n07:50 | dip | barrel=yard; left=90 L\n"
    )
    assert barrel(text).held_l == 90
    released = barrel(text + "08:00 | release | barrel=yard; batch=a; out=130 L\n")
    assert released.held_l == pytest.approx(50)
    assert released.released_l == 130
    assert released.corrected_l == pytest.approx(0)
    assert released.untreated_l == 0


def test_what_runs_out_while_the_hose_is_on_is_not_there_afterwards() -> None:
    text = (
        "07:00 | start | what=fill; barrel=yard; batch=a\n"
        "07:05 | dip | barrel=yard; left=70 L\n"
        "07:06 | release | barrel=yard; batch=a; out=50 L; to=elsewhere\n"
        "07:16 | fill | barrel=yard; batch=a; added=160 L\n"
    )
    filled = barrel(text)
    assert filled.held_l == pytest.approx(HEEL + 160 - 50)
    assert filled.untreated_l == pytest.approx(filled.held_l)
    enough = "07:20 | treat | barrel=yard; batch=a; dose=10.4 mL; rate=8 mL per 100 L\n"
    assert barrel(text + enough).untreated_l == 0


def test_a_hose_in_a_rain_barrel_brings_no_rain() -> None:
    text = (
        "07:00 | start | what=fill; barrel=butt; batch=butt-a\n"
        "07:05 | dip | barrel=butt; left=100 L\n"
        "07:06 | giveup | batch=butt-a\n"
    )
    assert barrel(text, name="butt").untreated_l == pytest.approx(80)


def test_what_a_look_found_while_the_hose_runs_is_in_what_is_let_out() -> None:
    text = TESTED + (
        "07:40 | start | what=fill; barrel=yard; batch=a\n"
        "07:41 | dip | barrel=yard; left=195 L\n"
        "07:42 | release | barrel=yard; batch=a; out=20 L; to=bay\n"
    )
    assert "untreated" in alarms(text)


def test_what_is_poured_in_while_the_outlet_is_open_is_there_afterwards() -> None:
    text = AGREED + (
        "07:42 | start | what=release; barrel=yard; batch=a\n"
        "07:50 | fill | barrel=yard; batch=a; added=30 L\n"
        "08:00 | release | barrel=yard; batch=a; out=130 L; to=bay\n"
    )
    assert barrel(text).held_l == pytest.approx(LINE + 30 - 130)
    assert "untreated" in alarms(text)


# --- age ------------------------------------------------------------------------------------------


def test_treated_water_older_than_it_keeps_is_unknown() -> None:
    assert barrel(TESTED, "06-17 07:34").water == "clear"
    old = barrel(TESTED, "06-17 07:36")
    assert old.water == "unknown"
    assert "test" in old.unknown


def test_a_fresh_test_makes_old_water_known_again() -> None:
    text = TESTED + "06-30 09:00 | test | where=yard; chlorine_total=<0.02 mg/L\n"
    assert barrel(text, "06-30 10:00").water == "clear"


def test_how_long_treated_water_keeps_is_the_keepers_choice() -> None:
    setup = SETUP._replace(limits=SETUP.limits._replace(treated_keeps_min=1440.0))
    assert barrel(TESTED, "06-04 08:00", setup).water == "unknown"


def test_old_agent_covers_no_new_water_even_when_the_old_water_tests_clear() -> None:
    text = FILLED.replace("added=160 L", "added=60 L") + (
        "07:20 | treat | barrel=yard; batch=a; dose=40 mL; rate=8 mL per 100 L\n"
        "2027-03-30 09:00 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "2027-03-30 10:00 | fill | barrel=yard; batch=a; added=90 L\n"
    )
    assert barrel(text, "2027-03-30 11:00").untreated_l == pytest.approx(90)


def test_more_water_onto_unknown_water_makes_all_untreated() -> None:
    text = TESTED + "07-20 09:00 | fill | barrel=yard; batch=a; added=10 L\n"
    assert barrel(text, "07-20 09:30").untreated_l == pytest.approx(LINE + 10)


# --- batches --------------------------------------------------------------------------------------


def test_several_batches_in_a_row_each_need_their_own_dose() -> None:
    text = ""
    for number, hour in enumerate((7, 9, 11)):
        name = f"n{number}"
        text += (
            f"{hour:02}:00 | fill | barrel=yard; batch={name}; to=line\n"
            f"{hour:02}:05 | treat | barrel=yard; batch={name}; dose=14.5 mL; "
            "rate=8 mL per 100 L\n"
            f"{hour:02}:20 | test | where=yard; chlorine_total=<0.02 mg/L\n"
            f"{hour:02}:40 | release | barrel=yard; batch={name}; out=160 L; to=bay\n"
        )
    found = state(text)
    assert [batch.label for batch in found.batches] == ["n0", "n1", "n2"]
    assert all(batch.ended for batch in found.batches)
    assert not found.alarms
    skipped = ("09:05", "09:20")
    undosed = "\n".join(line for line in text.splitlines() if not line.startswith(skipped))
    assert "untreated" in alarms(undosed)


def test_two_barrels_have_two_batches() -> None:
    text = (
        "07:00 | fill | barrel=yard; batch=a; added=100 L\n"
        "07:01 | fill | barrel=shed; batch=b; added=50 L\n"
        "07:05 | treat | barrel=yard; batch=a; dose=9.6 mL; rate=8 mL per 100 L\n"
    )
    found = state(text)
    assert {batch.label for batch in found.open_batches} == {"a", "b"}
    assert found.barrels["yard"].untreated_l == 0
    assert found.barrels["shed"].untreated_l == pytest.approx(70)


def test_a_treat_labelled_with_another_barrels_batch_treats_the_barrel_it_names() -> None:
    text = (
        "07:00 | fill | barrel=yard; batch=a; added=100 L\n"
        "07:01 | fill | barrel=shed; batch=b; added=50 L\n"
        "07:05 | treat | barrel=yard; batch=b; dose=9.6 mL; rate=8 mL per 100 L\n"
    )
    found = state(text)
    assert found.barrels["yard"].untreated_l == 0
    assert found.barrels["shed"].untreated_l == pytest.approx(70)


def test_a_label_used_again_does_not_bring_back_the_old_batch() -> None:
    text = CLOSED + "09:00 | fill | barrel=yard; batch=a; added=100 L; source=tap\n"
    found = state(text)
    assert [batch.label for batch in found.batches] == ["a", "a"]
    assert found.barrels["yard"].batch is not None
    assert found.barrels["yard"].batch.ticks == {}
    assert found.barrels["yard"].untreated_l == pytest.approx(100)


def test_a_second_label_on_the_same_water_changes_nothing_about_it() -> None:
    half = "treat | barrel=yard; batch={}; dose=7.2 mL; rate=8 mL per 100 L\n"
    text = FILLED + "07:20 | " + half.format("a") + "07:21 | " + half.format("typo")
    assert barrel(text).untreated_l == 0
    assert barrel(text + "07:30 | fill | barrel=yard; batch=a; added=9 L\n").untreated_l == 9


def test_a_release_under_an_old_label_empties_the_barrel_all_the_same() -> None:
    text = CLOSED + (
        "09:00 | fill | barrel=yard; batch=b; added=100 L\n"
        "09:05 | treat | barrel=yard; batch=b; dose=8 mL; rate=8 mL per 100 L\n"
        "09:30 | release | barrel=yard; batch=a; out=100 L; to=elsewhere\n"
        "10:00 | fill | barrel=yard; batch=b; added=100 L\n"
    )
    assert barrel(text).untreated_l == pytest.approx(HEEL + 100)


def test_entries_without_a_batch_belong_to_the_barrels_open_one() -> None:
    text = (
        "07:00 | fill | barrel=yard; added=160 L\n"
        "07:05 | treat | barrel=yard; dose=14.5 mL; rate=8 mL per 100 L\n"
        "07:06 | tick | step=mix\n"
        "07:30 | release | barrel=yard; out=100 L; to=elsewhere\n"
    )
    (batch,) = state(text).batches
    assert batch.label == "yard-260603"
    assert (batch.added_l, batch.released_l) == (160, 100)
    assert "mix" in batch.ticks


def test_labels_made_by_the_program_are_numbered_within_a_day() -> None:
    once = (
        "{0}:00 | fill | barrel=yard; added=160 L\n"
        "{0}:30 | release | barrel=yard; out=160 L; to=elsewhere\n"
    )
    found = state(once.format("07") + once.format("08") + once.format("09"))
    assert [b.label for b in found.batches] == ["yard-260603", "yard-260603-2", "yard-260603-3"]


def test_ticks_before_the_barrel_is_known_count_once_it_is() -> None:
    batch = barrel(FILLED).batch
    assert batch is not None
    assert {"outlet-shut", "barrel-sound", "hose-above-rim"} <= set(batch.ticks)


def test_a_label_that_begins_with_a_barrels_name_tells_the_barrel() -> None:
    batch = barrel("07:00 | tick | step=outlet-shut; batch=yard-260603").batch
    assert batch is not None
    assert "outlet-shut" in batch.ticks


def test_a_batch_ends_at_close_up() -> None:
    open_batch = barrel(RELEASED).batch
    assert open_batch is not None
    assert barrel(CLOSED).batch is None
    assert state(CLOSED).batches[0].ended is not None


def test_a_batch_ends_when_given_up_and_the_water_stays_as_it_is() -> None:
    text = TESTED + "07:50 | giveup | batch=a | rain came\n"
    left = barrel(text)
    assert left.batch is None
    assert left.held_l == pytest.approx(LINE)
    assert left.water == "clear"


def test_giving_up_an_unknown_batch_is_a_remark() -> None:
    assert any("no batch" in remark for remark in state("07:00 | giveup | batch=zz").remarks)


def test_a_batch_is_over_when_no_more_than_heel_and_two_litres_is_left() -> None:
    text = DOSED + "08:00 | release | barrel=yard; batch=a; left={} L; to=elsewhere\n"
    fill = "09:00 | fill | barrel=yard; batch=a; added=100 L\n"
    over = barrel(text.format(22) + fill)
    assert over.untreated_l == pytest.approx(22 + 100)
    goes_on = barrel(text.format(23) + fill)
    assert goes_on.untreated_l == pytest.approx(100)


def test_a_batch_is_over_when_a_dip_finds_the_barrel_at_its_heel() -> None:
    text = DOSED + "08:00 | dip | barrel=yard; left=21 L\n"
    assert barrel(text).batch is None
    again = barrel(text + "09:00 | fill | barrel=yard; batch=a; added=100 L\n")
    assert again.untreated_l == pytest.approx(21 + 100)


def test_a_dip_at_the_heel_before_filling_ends_nothing() -> None:
    text = (
        "07:00 | tick | step=outlet-shut; batch=yard-1\n"
        "07:01 | dip | barrel=yard; left=20 L\n"
        "07:10 | fill | barrel=yard; batch=yard-1; added=160 L\n"
    )
    (batch,) = state(text).batches
    assert "outlet-shut" in batch.ticks


def test_a_barrel_that_nobody_described_is_a_remark() -> None:
    found = state("07:00 | fill | barrel=attic; added=10 L")
    assert "attic" not in found.barrels
    assert any("attic" in remark and "yard" in remark for remark in found.remarks)


def test_a_barrel_that_was_described_anew_keeps_its_water() -> None:
    taller = YARD._replace(outlet_mm=150.0)
    assert barrel(TESTED, setup=with_barrel(taller)).held_l == pytest.approx(30 + 160)


def test_every_entry_about_a_barrel_changes_its_revision() -> None:
    lines = [line for line in AGREED.splitlines() if "|" in line]
    seen = set()
    for number in range(len(lines) + 1):
        found = barrel("\n".join(lines[:number]))
        seen.add((found.revision, found.batch.revision if found.batch else 0))
    about_others = 1 + 3  # the reading, and ticks whose barrel nobody knows yet
    assert len(seen) == len(lines) + 1 - about_others


def test_what_another_device_wrote_changes_the_revision() -> None:
    mine = barrel(TESTED)
    theirs = barrel(TESTED + "07:36 | treat | barrel=yard; batch=a; dose=2 mL; by=NB\n")
    assert mine.revision != theirs.revision
    beside = barrel(TESTED + "07:36 | fill | barrel=shed; batch=q; added=2 L; by=NB\n")
    assert mine.revision == beside.revision
