"""What the journal says about the pond, its alarms and its stock."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.fold import fold
from pondtui.pond.state.model import Alarm
from tests.pond.world import (
    AGREED,
    CLOSED,
    DOSED,
    FILLED,
    HEEL,
    LINE,
    OPENED,
    RELEASED,
    SETUP,
    TESTED,
    alarms,
    at,
    barrel,
    entries,
    state,
    with_bottle,
)

LET_OUT = "08:00 | release | barrel=yard; batch=a; out=160 L; to={}\n"
POND_CLEAR = "{} | test | where=pond; chlorine_total=<0.02 mg/L\n"


def alarm(text: str, name: str, now: str = "12:00", setup: Setup = SETUP) -> Alarm:
    """The one alarm of that name."""
    (found,) = [each for each in state(text, now, setup).alarms if each.name == name]
    return found


# --- time -----------------------------------------------------------------------------------------


def test_entries_more_than_two_minutes_ahead_are_listed_and_not_applied() -> None:
    text = "12:02:00 | fill | barrel=yard; added=10 L\n12:02:01 | fill | barrel=yard; added=100 L\n"
    found = state(text)
    assert found.barrels["yard"].held_l == pytest.approx(HEEL + 10)
    assert [entry.get("added") for entry in found.later] == [100]
    assert found.entries == 1


def test_what_was_ahead_is_applied_once_its_time_has_come() -> None:
    text = "12:30 | fill | barrel=yard; added=100 L\n"
    assert barrel(text, "12:28").held_l == pytest.approx(HEEL + 100)
    assert not state(text, "12:28").later


def test_an_entry_appended_later_does_not_change_an_earlier_state() -> None:
    before = state(TESTED, "07:36")
    after = state(AGREED + LET_OUT.format("bay"), "07:36")
    assert after._replace(later=()) == before


def test_unknown_kinds_and_barrels_do_no_harm() -> None:
    found = state("07:00 | sonar | x=1\n07:01 | dip | barrel=attic; left=3 L\n" + TESTED)
    assert found.barrels["yard"].water == "clear"
    assert any("attic" in remark for remark in found.remarks)


def test_a_start_of_something_else_is_a_remark() -> None:
    assert any("tea" in r for r in state("07:00 | start | what=tea; barrel=yard").remarks)


def test_an_empty_journal_says_what_the_description_says() -> None:
    found = fold(SETUP, [], at("12:00"))
    assert set(found.barrels) == {"yard", "shed", "butt"}
    assert found.level is None
    assert found.alarms == ()
    assert found.remarks == ()


# --- level, rain and events -----------------------------------------------------------------------


def test_the_level_is_the_latest_reading() -> None:
    found = state("07:00 | level | reading=62 mm\n08:00 | level | reading=60 mm; pump=off\n")
    assert found.level is not None
    assert found.level.reading_mm == 60
    assert found.pump == "off"


def test_a_moved_gauge_brings_old_readings_to_the_new_scale() -> None:
    found = state(
        "07:00 | level | reading=62 mm\n"
        "08:00 | event | what=gauge-moved; was=60 mm; now=75 mm\n"
        "09:00 | level | reading=76 mm\n"
    )
    assert [level.reading_mm for level in found.levels] == [77, 76]


def test_a_gauge_moved_twice_shifts_twice() -> None:
    found = state(
        "07:00 | level | reading=62 mm\n"
        "08:00 | event | what=gauge-moved; was=60 mm; now=75 mm\n"
        "09:00 | event | what=gauge-moved; was=80 mm; now=70 mm\n"
    )
    assert [level.reading_mm for level in found.levels] == [67]


def test_the_last_rain_is_remembered_and_a_trace_is_none() -> None:
    text = "07:00 | rain | depth=4 mm\n09:00 | rain | depth=0 mm\n"
    assert state(text).last_rain == at("07:00")
    assert [mm for _, mm in state(text).rain] == [4, 0]


def test_pump_and_gate_follow_their_events() -> None:
    text = "07:00 | event | what=pump-off\n07:01 | event | what=gate-shut\n"
    assert (state(text).pump, state(text).gate_shut) == ("off", True)
    more = text + "08:00 | event | what=pump-on\n08:01 | event | what=gate-open\n"
    assert (state(more).pump, state(more).gate_shut) == ("on", False)


def test_drained_water_is_kept_apart() -> None:
    assert state("07:00 | drain | volume=40 L").drained == ((at("07:00"), 40.0),)


def test_a_pond_temperature_comes_from_a_reading_or_a_test() -> None:
    text = "07:00 | level | reading=62 mm; temp=18 degC\n"
    found = state(text).pond_temp
    assert found is not None
    assert found.temp_c == 18
    tested = state(text + "08:00 | test | where=pond; temp=19 degC\n").pond_temp
    assert tested is not None
    assert tested.temp_c == 19


def test_meters_remember_their_latest_reading_by_source() -> None:
    found = state(
        "07:00 | fill | barrel=yard; added=100 L; source=tap; meter=1250 L\n"
        "08:00 | fill | barrel=shed; added=10 L; source=well; meter=70 L\n"
        "09:00 | fill | barrel=yard; added=10 L; source=tap; meter=1260 L\n"
    )
    assert found.meters == {"tap": 1260.0, "well": 70.0}


def test_a_test_of_the_tap_is_remembered_and_one_of_the_well_is_not_taken_for_it() -> None:
    found = state(
        "07:00 | test | where=tap; chlorine_total=0.8 mg/L; chlorine_free=0.7 mg/L\n"
        "08:00 | test | where=well; chlorine_total=0 mg/L\n"
    )
    assert found.tap_chlorine == (at("07:00"), 0.8, 0.7)
    assert found.remarks == ()


# --- untreated water in the pond ------------------------------------------------------------------


def test_untreated_water_in_the_pond_raises_an_alarm() -> None:
    found = alarm(FILLED + LET_OUT.format("bay"), "untreated")
    assert "160 L" in found.text
    assert "yard" in found.text
    assert "TOTAL chlorine" in found.remedy


def test_the_alarm_says_untreated_though_nothing_is_left_in_the_barrel() -> None:
    assert (
        "untreated" in alarm(FILLED + LET_OUT.format("bay").replace("160", "180"), "untreated").text
    )


def test_treated_water_raises_none() -> None:
    assert alarms(CLOSED) == []


def test_water_that_went_elsewhere_raises_none_and_is_no_addition() -> None:
    found = state(FILLED + LET_OUT.format("elsewhere"))
    assert found.alarms == ()
    assert found.additions == ()
    assert found.barrels["yard"].held_l == pytest.approx(HEEL)


def test_elsewhere_is_read_in_any_case() -> None:
    assert state(FILLED + LET_OUT.format("Elsewhere")).additions == ()


def test_alarms_are_told_in_the_ponds_own_units() -> None:
    setup = SETUP._replace(pond=SETUP.pond._replace(units="us"))
    assert "42.3 US gal" in alarm(FILLED + LET_OUT.format("bay"), "untreated", setup=setup).text


def test_a_basin_that_nobody_described_counts_as_the_pond() -> None:
    found = state(FILLED + LET_OUT.format("lagoon"))
    assert any("lagoon" in remark for remark in found.remarks)
    assert [each.name for each in found.alarms] == ["untreated"]


def test_the_alarm_stands_until_the_pond_tests_clear_after_the_water_went_in() -> None:
    text = FILLED + LET_OUT.format("bay")
    assert alarms(text + POND_CLEAR.format("07:59")) == ["untreated"]
    assert alarms(text + "09:00 | test | where=pond; chlorine_total=0.1 mg/L\n") == ["untreated"]
    assert alarms(text + "09:00 | test | where=pond; chlorine_free=<0.02 mg/L\n") == ["untreated"]
    assert alarms(text + POND_CLEAR.format("09:00")) == []


def test_a_treat_struck_after_its_release_raises_the_alarm() -> None:
    text = CLOSED.replace("07:35 | test", "# 07:35 | test")
    assert alarms(text) == []
    struck = text + "09:00 | strike | of=2026-06-03 07:20Z treat | wrong barrel\n"
    assert alarms(struck) == ["untreated"]
    restored = struck + "09:01 | strike | of=2026-06-03 09:00Z strike\n"
    assert alarms(restored) == []


def test_a_whole_batch_entered_afterwards_needs_no_ticks_and_no_waits() -> None:
    text = (
        "07:00 | fill | barrel=yard; added=160 L\n"
        "07:01 | treat | barrel=yard; dose=14.5 mL\n"
        "07:02 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "07:03 | release | barrel=yard; out=160 L; to=bay\n"
    )
    found = state(text)
    assert found.alarms == ()
    assert [batch.ended is not None for batch in found.batches] == [True]
    assert found.barrels["yard"].batch is None


def test_a_late_entry_of_the_past_is_judged_with_the_rest() -> None:
    text = FILLED + LET_OUT.format("bay")
    assert alarms(text) == ["untreated"]
    late = text + "07:30 | treat | barrel=yard; dose=14.5 mL | forgot to write it down\n"
    assert alarms(late) == []


def test_unknown_water_let_in_is_an_alarm_unless_the_keeper_agreed() -> None:
    out = "07-20 09:00 | release | barrel=yard; batch=a; out=100 L; to=bay\n"
    found = alarm(TESTED + out, "untreated", "07-20 10:00")
    assert "unknown" in found.text
    agreed = TESTED + "07-20 08:55 | tick | step=agree; batch=a\n" + out
    assert alarms(agreed, "07-20 10:00") == []


def test_agent_left_of_a_batch_that_was_let_out_covers_no_water_of_the_next_label() -> None:
    # 30 mL cover 375 L; 60 L of the 180 L are left by a dip, and their spare agent is not counted
    text = (
        DOSED.replace("dose=14.5 mL", "dose=30 mL")
        + LET_OUT.format("bay")
        + "08:02 | dip | barrel=yard; left=60 L\n"
        + "08:05 | tick | step=outlet-shut; batch=yard-b\n"
        + "08:10 | fill | barrel=yard; batch=yard-b; added=50 L; source=tap\n"
    )
    assert state(text).barrels["yard"].untreated_l == pytest.approx(110)


# --- passed over ----------------------------------------------------------------------------------

PASSED = "07:36 | bypass | step=chlorine-test; batch=a | kit is empty\n"


def test_a_bypass_shows_its_reason() -> None:
    found = alarm(DOSED + PASSED, "bypass")
    assert "kit is empty" in found.text
    assert "chlorine-test" in found.text
    assert found.batch == "a"


def test_a_bypass_stands_until_the_pond_tests_clear_after_the_water_went_in() -> None:
    before = DOSED + PASSED + POND_CLEAR.format("07:40")
    assert alarms(before) == ["bypass"]
    let_in = before + LET_OUT.format("bay")
    assert alarms(let_in) == ["bypass"]
    assert alarms(let_in + POND_CLEAR.format("09:00")) == []


def test_a_bypass_asks_for_a_test_of_the_pond_only_once_water_is_in_it() -> None:
    before = alarm(DOSED + PASSED, "bypass")
    assert "test the barrel" in before.remedy
    let_in = alarm(DOSED + PASSED + LET_OUT.format("bay"), "bypass")
    assert "test the pond" in let_in.remedy


@pytest.mark.parametrize("step", ["outlet-open", "released"])
def test_letting_clear_water_out_over_its_guards_is_watched_for_a_day(step: str) -> None:
    passed = f"07:42 | bypass | step={step}; batch=a | no room, going slowly\n"
    for lines in (TESTED + passed, TESTED + passed + LET_OUT.format("bay")):
        found = alarm(lines, "bypass")
        assert (found.severity, "watch the pond's edge" in found.remedy) == ("watch", True)
    let_in = TESTED + passed + LET_OUT.format("bay")
    assert alarms(let_in, "06-04 07:59") == ["bypass"]
    assert alarms(let_in, "06-04 08:00") == []
    assert "TOTAL" in alarm(DOSED + passed + LET_OUT.format("bay"), "bypass").remedy


@pytest.mark.parametrize("step", ["level-now", "barrel-temp", "level-after"])
def test_a_step_that_says_nothing_of_chlorine_asks_for_no_test_of_it(step: str) -> None:
    passed = f"08:02 | bypass | step={step}; batch=a | too dark\n"
    assert alarms(TESTED + LET_OUT.format("bay") + passed) == []


def test_a_bypass_without_a_batch_stands_until_the_pond_tests_clear() -> None:
    text = "07:00 | bypass | step=outlet-shut | in a hurry\n"
    assert alarms(text) == ["bypass"]
    assert alarms(text + POND_CLEAR.format("08:00")) == []


def test_a_bypass_of_a_batch_that_was_given_up_is_over() -> None:
    assert alarms(DOSED + PASSED + "07:40 | giveup | batch=a\n") == []


def test_a_bypass_of_a_batch_that_went_elsewhere_is_over() -> None:
    gone = DOSED + PASSED + LET_OUT.format("elsewhere")
    ended = gone + "08:01 | tick | step=outlet-shut-again; batch=a\n08:02 | level | reading=80 mm\n"
    assert alarms(ended) == []


def test_a_bypass_of_a_batch_part_of_which_was_let_in_stands_though_given_up() -> None:
    text = DOSED + PASSED + LET_OUT.format("bay").replace("160", "50")
    assert alarms(text + "08:10 | giveup | batch=a\n") == ["bypass"]


# --- straight into the pond -----------------------------------------------------------------------


def test_tap_water_straight_into_the_pond_is_an_alarm() -> None:
    found = state("07:00 | direct | volume=100 L\n")
    assert [a.litres for a in found.additions] == [100]
    assert [each.name for each in found.alarms] == ["untreated"]
    assert "100 L" in found.alarms[0].text


def test_direct_water_may_be_counted_in_buckets() -> None:
    text = "07:00 | direct | buckets=3; bucket=12 L; source=rain\n"
    assert [a.litres for a in state(text).additions] == [36]


def test_rain_carried_to_the_pond_is_no_alarm() -> None:
    assert alarms("07:00 | direct | volume=50 L; source=rain") == []


def test_direct_water_with_its_dose_is_no_alarm_and_with_too_little_it_is() -> None:
    assert alarms("07:00 | direct | volume=100 L; dose=8 mL") == []
    assert alarms("07:00 | direct | volume=100 L; dose=2 mL") == ["untreated"]


def test_direct_water_alarms_until_the_pond_tests_clear() -> None:
    text = "07:00 | direct | volume=100 L; source=well\n"
    assert alarms(text) == ["untreated"]
    assert alarms(text + POND_CLEAR.format("08:00")) == []


# --- the record of releases -----------------------------------------------------------------------


def test_a_release_carries_the_barrels_temperature() -> None:
    (addition,) = state(RELEASED).additions
    assert (addition.litres, addition.barrel, addition.temp_c) == (160, "yard", 16)


def test_a_release_with_a_beginning_is_timed() -> None:
    (timed,) = barrel(RELEASED).timed
    assert timed.start_l == pytest.approx(LINE)
    assert timed.end_l == pytest.approx(HEEL)
    assert timed.minutes == pytest.approx(18)


def test_a_release_without_a_beginning_is_not_timed() -> None:
    assert barrel(AGREED + LET_OUT.format("bay")).timed == ()


def test_an_open_outlet_is_running_until_the_release_is_written() -> None:
    running = barrel(OPENED).running
    assert running is not None
    assert running.what == "release"
    assert running.held_l == pytest.approx(LINE)
    assert barrel(RELEASED).running is None


# --- stock ----------------------------------------------------------------------------------------


def test_the_bottle_is_full_when_opened_and_every_dose_takes_from_it() -> None:
    assert state("").conditioner_left == pytest.approx(500)
    assert state(DOSED).conditioner_left == pytest.approx(500 - 14.5)


def test_a_count_replaces_what_was_reckoned() -> None:
    text = DOSED + "07:30 | supply | item=conditioner; left=300 mL\n"
    assert state(text).conditioner_left == pytest.approx(300)
    more = text + "07:40 | treat | barrel=shed; dose=5 mL\n"
    assert state(more).conditioner_left == pytest.approx(295)


def test_what_was_bought_is_added() -> None:
    text = DOSED + "07:30 | supply | item=conditioner; got=250 mL\n"
    assert state(text).conditioner_left == pytest.approx(500 - 14.5 + 250)


def test_other_supplies_and_bottles_counted_in_words_change_nothing() -> None:
    text = (
        "07:30 | supply | item=fish food; left=3 kg\n"
        "07:31 | supply | item=conditioner; got=two bottles\n"
    )
    assert state(text).conditioner_left == pytest.approx(500)


def test_a_dose_to_the_pond_takes_from_the_stock_too() -> None:
    assert state("07:00 | direct | volume=99 L; dose=8 mL").conditioner_left == pytest.approx(492)


def test_stock_never_falls_below_nothing() -> None:
    assert state("07:00 | treat | barrel=yard; dose=0.9 L").conditioner_left == 0


def test_stock_that_was_never_counted_is_not_known() -> None:
    assert state("", setup=with_bottle(opened=None)).conditioner_left is None
    assert state("", setup=SETUP._replace(conditioners=())).conditioner_left is None


def test_doses_after_a_count_are_taken_off_even_before_this_bottle_was_opened() -> None:
    text = (
        "05-01 08:00 | supply | item=conditioner; left=900 mL\n"
        "05-10 08:00 | treat | barrel=yard; dose=20 mL\n"
    )
    setup = with_bottle(opened=date(2026, 6, 1))
    assert state(text, setup=setup).conditioner_left == pytest.approx(880)


def test_a_dry_product_is_counted_in_grams() -> None:
    setup = with_bottle(kind="dry", bottle_ml=100.0)
    text = "07:00 | treat | barrel=yard; dose=2 g\n07:01 | treat | barrel=yard; dose=5 mL\n"
    assert state(text, setup=setup).conditioner_left == pytest.approx(98)


# --- the pond's own time --------------------------------------------------------------------------


def test_days_are_the_ponds_own() -> None:
    setup = SETUP._replace(pond=SETUP.pond._replace(time_zone="Pacific/Auckland"))
    text = "2026-06-03 18:00Z | fill | barrel=yard; added=100 L"
    found = fold(setup, entries(text), at("20:00"))
    assert found.batches[0].label == "yard-260604"
    assert datetime.fromtimestamp(found.batches[0].opened, UTC).day == 3
