"""Each guard open and closed, with the number that decides it."""

from __future__ import annotations

import re
from datetime import date

import pytest

from pondtui.pond.refill.guards import (
    GUARDS,
    Verdict,
    changed_today_c,
    largest_part_l,
    needs_test,
    overridden,
    pond_l,
    pond_temp_c,
    room_l,
    verdicts,
)
from pondtui.pond.refill.procedure import STEPS
from pondtui.pond.setup.model import Gauge, Limits, Mark, Setup
from tests.pond.world import (
    AGREED,
    BAY,
    BEFORE,
    BUTT,
    CLOSED,
    DOSED,
    FILLED,
    POND,
    SETUP,
    TESTED,
    case,
    with_barrel,
    with_bottle,
    with_tap,
)

STEP = {step.id: step for step in STEPS}
WAY_IN_REASON = re.compile("until|to go|read|measure|write|not written|again|test it")


def verdict(
    name: str, text: str, now: str = "08:00", setup: Setup = SETUP, barrel: str = "yard"
) -> Verdict:
    """What one guard says after the lines."""
    return GUARDS[name](case(text, now, setup, barrel))


def closed(
    name: str, text: str, now: str = "08:00", setup: Setup = SETUP, barrel: str = "yard"
) -> str:
    """The reason why a guard is closed."""
    found = verdict(name, text, now, setup, barrel)
    assert not found.open
    assert found.guard == name
    assert "\n" not in found.words
    assert found.way or WAY_IN_REASON.search(found.reason), f"no way out: {found.reason}"
    return found.reason


def opened(
    name: str, text: str, now: str = "08:00", setup: Setup = SETUP, barrel: str = "yard"
) -> bool:
    """Whether a guard is open."""
    return verdict(name, text, now, setup, barrel).open


def limits(**changes: object) -> Setup:
    """The pond with other limits."""
    return SETUP._replace(limits=Limits()._replace(**changes))  # type: ignore[arg-type]  # any field


def test_what_is_closed_says_why_and_the_way_out_in_one_line() -> None:
    untested = verdict("clear", DOSED)
    assert untested.words == (
        "not tested clear of TOTAL chlorine since the last dose; test the barrel for TOTAL chlorine"
    )
    assert verdict("contact", DOSED, "07:27").words.endswith("still to go")


# --- before ---------------------------------------------------------------------------------------


def test_drawing_water_in_forbidden_hours_is_closed_until_they_end() -> None:
    setup = with_tap(forbidden=("08:00-20:00",))
    assert "20:00" in closed("forbidden", "", "08:00", setup)
    assert opened("forbidden", "", "07:59", setup)
    assert opened("forbidden", "", "20:00", setup)


def test_forbidden_hours_are_those_of_the_ponds_own_clock() -> None:
    setup = with_tap(forbidden=("08:00-20:00",))
    setup = setup._replace(pond=setup.pond._replace(time_zone="Europe/Brussels"))
    assert not opened("forbidden", "", "06:30", setup)  # 08:30 there
    assert opened("forbidden", "", "18:30", setup)


def test_forbidden_hours_do_not_stop_rain_water() -> None:
    setup = with_tap(forbidden=("00:00-24:00",))
    assert opened("forbidden", "", setup=setup, barrel="butt")


def test_a_bottle_out_of_date_is_closed_with_its_date() -> None:
    setup = with_bottle(best_before=date(2026, 6, 2))
    assert "2026-06-02" in closed("bottle", "", setup=setup)
    assert opened("bottle", "", setup=with_bottle(best_before=date(2026, 6, 3)))
    assert opened("bottle", "", setup=with_bottle(best_before=None))


def test_no_conditioner_at_all_is_closed_except_for_rain() -> None:
    setup = SETUP._replace(conditioners=())
    assert "conditioner" in closed("bottle", "", setup=setup)
    assert opened("bottle", "", setup=setup, barrel="butt")


def test_the_reading_has_to_be_of_today() -> None:
    assert "never" in closed("fresh-reading", "")
    assert opened("fresh-reading", "07:00 | level | reading=80 mm")
    old = closed("fresh-reading", "06-02 19:00 | level | reading=80 mm")
    assert "2026-06-02 19:00" in old


def test_the_reading_may_not_be_older_than_the_last_rain() -> None:
    text = "07:00 | level | reading=80 mm\n07:30 | rain | depth=2 mm\n"
    assert "rain" in closed("fresh-reading", text)
    assert opened("fresh-reading", text + "07:40 | level | reading=78 mm\n")
    assert opened("fresh-reading", text.replace("2 mm", "0 mm"))


# --- filling and treating -------------------------------------------------------------------------


def test_the_outlet_has_to_be_seen_shut() -> None:
    assert "outlet" in closed("outlet", "")
    assert opened("outlet", "07:00 | tick | step=outlet-shut; batch=yard-a")
    assert opened("outlet", "07:00 | bypass | step=outlet-shut; batch=yard-a | rusted open")


def test_the_hose_has_to_end_above_the_rim() -> None:
    assert "rim" in closed("airgap", "")
    assert opened("airgap", "07:00 | tick | step=hose-above-rim; batch=yard-a")


def test_a_barrel_without_a_pipe_has_no_outlet_to_shut() -> None:
    assert opened("outlet", "", barrel="butt")


def test_no_dose_onto_a_running_hose() -> None:
    running = "07:00 | start | what=fill; barrel=yard; batch=a\n"
    assert "runs" in closed("hose-out", running)
    filled = running + "07:16 | fill | barrel=yard; batch=a; added=160 L\n"
    assert "tap" in closed("hose-out", filled)
    assert opened("hose-out", filled + "07:17 | tick | step=tap-shut; batch=a\n")
    assert opened("hose-out", filled + "07:17 | bypass | step=tap-shut; batch=a | self-closing\n")


def test_a_second_fill_asks_for_the_tap_again() -> None:
    assert not opened("hose-out", FILLED + "07:30 | fill | barrel=yard; batch=a; added=9 L\n")


def test_the_volume_has_to_be_known_before_dosing() -> None:
    assert "written" in closed("volume", BEFORE)
    assert opened("volume", FILLED)
    assert opened("volume", BEFORE, setup=with_bottle(dose_when="before fill"))
    assert "conditioner" in closed("volume", FILLED, setup=SETUP._replace(conditioners=()))


def test_a_dry_agent_needs_the_taps_strength() -> None:
    setup = with_tap(with_bottle(kind="dry"), total_chlorine_mg_l=None)
    assert "total chlorine" in closed("volume", FILLED, setup=setup)
    tested = FILLED + "07:30 | test | where=tap; chlorine_total=0.5 mg/L\n"
    assert opened("volume", tested, setup=setup)


def test_water_that_needs_more_than_the_label_allows_is_closed_with_both_numbers() -> None:
    reason = closed("ceiling", FILLED, setup=with_tap(total_chlorine_mg_l=3.5))
    assert "3.5 x" in reason
    assert "3 x" in reason
    assert opened("ceiling", FILLED, setup=with_tap(total_chlorine_mg_l=3.0))


def test_mixing_waits_for_a_dose_that_covers_the_water() -> None:
    assert "180 L" in closed("dose", FILLED)
    little = FILLED + "07:20 | treat | barrel=yard; batch=a; dose=10 mL; rate=8 mL per 100 L\n"
    reason = closed("dose", little)
    assert "55 L" in reason
    assert "180 L" in reason
    assert opened("dose", DOSED)
    assert "again" in closed("dose", DOSED + "07:35 | test | where=yard; chlorine_total=0.3 mg/L\n")


def test_the_test_waits_for_the_contact_time() -> None:
    assert "4 min" in closed("contact", DOSED, "07:27")
    assert opened("contact", DOSED, "07:31")
    assert opened("contact", DOSED + "07:22 | bypass | step=wait; batch=a | dusk\n", "07:23")


def test_contact_time_begins_anew_with_water_added() -> None:
    text = DOSED + "07:28 | fill | barrel=yard; batch=a; added=1 L\n"
    assert not opened("contact", text, "07:37")
    assert opened("contact", text, "07:38")


# --- clear ----------------------------------------------------------------------------------------


def test_clear_is_closed_until_a_test_read_nothing() -> None:
    assert "180 L" in closed("clear", FILLED)
    assert "test" in closed("clear", DOSED)
    assert opened("clear", TESTED)
    assert "chlorine" in closed(
        "clear", TESTED + "07:40 | test | where=yard; chlorine_total=0.3 mg/L\n"
    )


def test_clear_is_closed_for_old_water() -> None:
    assert "knows" in closed("clear", TESTED, "06-30 08:00")


def test_clear_is_open_for_rain_alone() -> None:
    assert opened("clear", "07:00 | dip | barrel=butt; left=100 L\n", barrel="butt")


# Two batches: the first one showed that this bottle works.
KNOWN = CLOSED + (
    "09:00 | fill | barrel=yard; batch=b; added=160 L\n"
    "09:01 | treat | barrel=yard; batch=b; dose=14.5 mL; rate=8 mL per 100 L\n"
)
UNLESS = limits(need_clear_test="unless known")


def test_everything_known_needs_no_test() -> None:
    assert not needs_test(case(KNOWN, setup=UNLESS))
    assert opened("clear", KNOWN, "12:00", UNLESS)
    assert needs_test(case(KNOWN, setup=SETUP))  # "always" is the default


@pytest.mark.parametrize(
    ("missing", "setup"),
    [
        ("strength named", with_tap(UNLESS, total_chlorine_mg_l=None)),
        ("strength fresh", with_tap(UNLESS, measured=date(2026, 5, 3))),
        ("strength dated", with_tap(UNLESS, measured=None)),
        ("no chloramine", with_tap(UNLESS, chloramine=True)),
        ("chloramine known", with_tap(UNLESS, chloramine=None)),
        ("label strength", with_bottle(UNLESS, rated_for_mg_l=None)),
        ("tested bottle", with_bottle(UNLESS, opened=date(2026, 6, 4))),
        ("dated bottle", with_bottle(UNLESS, opened=None)),
        ("no ascorbic acid", with_bottle(UNLESS, kind="dry", agent="ascorbic-acid")),
    ],
)
def test_anything_unknown_needs_a_test(missing: str, setup: Setup) -> None:
    assert needs_test(case(KNOWN, setup=setup)), missing


def test_a_dry_agent_that_hides_no_chlorine_and_a_bottle_opened_today_may_be_known() -> None:
    dry = with_bottle(UNLESS, kind="dry", agent="thiosulfate-pentahydrate", rated_for_mg_l=None)
    assert not needs_test(case(KNOWN, setup=dry))
    today = with_bottle(UNLESS, opened=date(2026, 6, 3))  # the day of the clear test
    assert not needs_test(case(KNOWN, setup=today))


COLOUR = "07:35 | test | where=yard; chlorine_total=0.3 mg/L\n"
AGAIN = "07:36 | treat | barrel=yard; batch=a; dose=14.5 mL; rate=8 mL per 100 L\n"


@pytest.mark.parametrize(
    ("text", "way"),
    [
        (FILLED + COLOUR, "dose again, mix, wait and test"),
        (DOSED + COLOUR, "dose again, mix, wait and test"),  # what was enough was not
        (DOSED + COLOUR + AGAIN, "wait and test again"),
    ],
)
def test_after_a_colour_the_way_out_is_more_agent_only_where_some_lacks(
    text: str, way: str
) -> None:
    assert verdict("clear", text).way == way


def test_a_strength_is_fresh_for_thirty_days() -> None:
    assert not needs_test(case(KNOWN, setup=with_tap(UNLESS, measured=date(2026, 5, 4))))


def test_a_test_of_the_tap_makes_its_strength_fresh() -> None:
    setup = with_tap(UNLESS, measured=date(2026, 1, 1))
    assert needs_test(case(KNOWN, setup=setup))
    text = "06:00 | test | where=tap; chlorine_total=0.5 mg/L\n" + KNOWN
    assert not needs_test(case(text, setup=setup))


def test_the_first_batch_of_a_bottle_is_tested() -> None:
    assert needs_test(case(DOSED, setup=UNLESS))


# --- warmth ---------------------------------------------------------------------------------------

# 3600 L in the pond and 150 L in the bay; 160 L of 16 degC on 18: -2 x 160/3910
CHANGE = 2 * 160 / 3910


def test_a_small_change_is_open_without_a_word() -> None:
    found = verdict("warmth", AGREED)
    assert found.open
    assert found.advice == ""


def test_a_change_worth_a_word_is_open_with_advice() -> None:
    hot = AGREED.replace("temp=16 degC", "temp=45 degC")
    found = verdict("warmth", hot)
    assert found.open
    assert "1.1" in found.advice


def test_too_much_change_is_closed_with_the_largest_part() -> None:
    found = verdict("warmth", AGREED, setup=limits(pond_change_c=0.05))
    assert not found.open
    assert "160 L" in found.reason
    assert found.largest_l == pytest.approx(3750 * 0.05 / (2 - 0.05))


def test_a_change_at_the_limit_is_open() -> None:
    assert opened("warmth", AGREED, setup=limits(pond_change_c=CHANGE + 1e-9))
    assert not opened("warmth", AGREED, setup=limits(pond_change_c=CHANGE - 1e-9))


TWICE = AGREED + (
    "07:42 | release | barrel=yard; batch=a; out=80 L; to=bay\n"
    "07:43 | tick | step=agree; batch=a\n"
    "07:44 | test | where=yard; temp=16 degC\n"
)


def test_what_was_let_in_today_counts_for_the_days_limit() -> None:
    first = 2 * 80 / 3830
    assert changed_today_c(case(TWICE)) == pytest.approx(-first)
    setup = limits(pond_change_c=2.0, pond_change_per_day_c=first + 0.01)
    found = verdict("warmth", TWICE, setup=setup)
    assert found.largest_l == pytest.approx(3750 * 0.01 / (2 - 0.01))
    assert opened("warmth", AGREED, setup=limits(pond_change_per_day_c=CHANGE + 0.01))


def test_a_day_that_is_used_up_lets_nothing_more_in() -> None:
    assert verdict("warmth", TWICE, setup=limits(pond_change_per_day_c=0.01)).largest_l == 0


def test_cooling_makes_room_for_warming_within_the_limit_of_a_release() -> None:
    warm = TWICE.replace("07:44 | test | where=yard; temp=16", "07:44 | test | where=yard; temp=20")
    assert opened("warmth", warm, setup=limits(pond_change_per_day_c=0.042))


def test_what_was_let_in_yesterday_does_not_count() -> None:
    text = "06-02 08:00 | release | barrel=shed; out=20 L; temp=2 degC\n" + AGREED
    assert changed_today_c(case(text)) == 0


@pytest.mark.parametrize(
    ("whose", "text"),
    [
        ("pond", AGREED.replace("; temp=18 degC", "")),
        ("barrel", AGREED.replace("07:40 | test  | where=yard; temp=16 degC", "")),
    ],
)
def test_an_unknown_temperature_advises_and_does_not_close(whose: str, text: str) -> None:
    found = verdict("warmth", text, setup=limits(pond_change_c=0.01))
    assert found.open
    assert f"{whose}'s temperature is not known" in found.advice


def test_a_pond_temperature_older_than_a_day_is_not_known() -> None:
    assert pond_temp_c(case(AGREED, "06-04 06:59")) == 18
    assert pond_temp_c(case(AGREED, "06-04 07:01")) is None


# --- room -----------------------------------------------------------------------------------------

# From 80 mm to the pipe at 20 mm: 60 mm of 5 m2, less 2 mm of reading error.
ROOM = 60 * 5 - 2 * 5


def test_room_is_what_is_free_less_the_error_of_the_gauge() -> None:
    assert room_l(case(AGREED)) == pytest.approx(ROOM)
    assert opened("room", AGREED)


def test_no_room_is_closed_with_the_largest_part() -> None:
    high = AGREED.replace("reading=80 mm", "reading=50 mm")
    found = verdict("room", high)
    assert not found.open
    assert found.largest_l == pytest.approx(30 * 5 - 10)
    assert "160 L" in found.reason
    assert "140 L" in found.reason


def test_over_the_edge_already_there_is_room_for_nothing() -> None:
    assert verdict("room", AGREED.replace("80 mm", "19 mm")).largest_l == 0


def test_what_runs_back_when_the_pump_stops_needs_room_too() -> None:
    bay = BAY._replace(draindown_mm=20.0)
    setup = SETUP._replace(basins=(POND, bay))
    assert room_l(case(AGREED, setup=setup)) == pytest.approx(ROOM - 20 * 0.5)
    still = AGREED.replace("pump=on", "pump=off")
    assert room_l(case(still, setup=setup)) == pytest.approx(ROOM)
    unsaid = AGREED.replace("; pump=on", "")
    assert room_l(case(unsaid, setup=setup)) == pytest.approx(ROOM - 10)


def test_a_seep_mark_below_the_spill_edge_counts() -> None:
    setup = SETUP._replace(marks=(*SETUP.marks, Mark("seam", 35.0, "seep")))
    assert room_l(case(AGREED, setup=setup)) == pytest.approx(45 * 5 - 10)
    above = SETUP._replace(marks=(Mark("seam", 5.0, "seep"), *SETUP.marks))
    assert room_l(case(AGREED, setup=above)) == pytest.approx(ROOM)


def test_room_on_a_gauge_that_is_read_upwards() -> None:
    setup = SETUP._replace(
        gauge=Gauge("up", 2.0),
        basins=(POND._replace(top_at_mm=800.0), BAY),
        marks=(Mark("pipe", 780.0, "spill"), Mark("seam", 770.0, "seep")),
    )
    text = AGREED.replace("reading=80 mm", "reading=720 mm")
    assert room_l(case(text, setup=setup)) == pytest.approx(50 * 5 - 10)
    assert pond_l(case(text, setup=setup)) == pytest.approx(3750)


def test_water_let_in_since_the_reading_is_counted() -> None:
    assert room_l(case(TWICE)) == pytest.approx(ROOM - 80)


def test_room_needs_a_reading_of_today_and_no_rain_since() -> None:
    assert "read it now" in closed("room", AGREED, "06-04 07:00")
    assert "rain" in closed("room", AGREED + "07:50 | rain | depth=5 mm\n")
    assert verdict("room", AGREED, "06-04 07:00").largest_l is None


def test_a_pond_without_a_spill_mark_is_open_with_advice() -> None:
    found = verdict("room", AGREED, setup=SETUP._replace(marks=()))
    assert found.open
    assert "rim" in found.advice


def test_ballast_that_stays_needs_no_room() -> None:
    heavy = with_barrel(SETUP.barrels[0]._replace(leave_at_least_l=60.0))
    high = AGREED.replace("reading=80 mm", "reading=60 mm")  # 200 - 10 L
    assert case(high, setup=heavy).can_leave_l == pytest.approx(100)
    tight = AGREED.replace("reading=80 mm", "reading=45 mm")  # 125 - 10 L
    assert opened("room", tight, setup=heavy)
    assert not opened("room", tight)


# --- passing over ---------------------------------------------------------------------------------


def test_a_bypass_opens_the_guards_of_its_step() -> None:
    step = STEP["outlet-open"]
    high = AGREED.replace("reading=80 mm", "reading=20 mm")
    assert [v.guard for v in verdicts(case(high), step) if not v.open] == ["room"]
    passed = high + "07:45 | bypass | step=outlet-open; batch=a | the pipe carries it off\n"
    assert verdicts(case(passed), step) == ()


@pytest.mark.parametrize(
    "line",
    [
        "fill | barrel=yard; batch=a; added=5 L",
        "treat | barrel=yard; batch=a; dose=1 mL",
        "test | where=yard; chlorine_total=0.4 mg/L",
        "release | barrel=yard; batch=a; out=5 L; to=elsewhere",
    ],
)
def test_a_bypass_counts_until_something_is_done_to_the_water(line: str) -> None:
    passed = DOSED + "07:35 | bypass | step=chlorine-test; batch=a | no kit\n"
    assert overridden(case(passed), "chlorine-test")
    assert opened("clear", passed)
    assert not overridden(case(passed + f"07:36 | {line}\n"), "chlorine-test")


def test_a_bypass_of_the_dose_lets_untreated_water_on() -> None:
    passed = FILLED + "07:20 | bypass | step=dose; batch=a | well water, tested\n"
    assert opened("dose", passed)
    assert "test" in closed("clear", passed)


def test_a_bypass_of_another_batch_opens_nothing() -> None:
    other = DOSED + "07:35 | bypass | step=chlorine-test; batch=z | no kit\n"
    assert not opened("clear", other)


def test_a_part_may_go_only_where_every_closed_guard_allows_one() -> None:
    some = Verdict("room", False, "", 80.0)
    less = Verdict("warmth", False, "", 30.0)
    none = Verdict("clear", False, "")
    assert largest_part_l((some, less)) == 30
    assert largest_part_l((some, none)) is None
    assert largest_part_l(()) is None


def test_every_guard_named_by_a_step_is_there() -> None:
    assert {name for step in STEPS for name in step.guards} <= set(GUARDS)


def test_every_guard_answers_on_an_empty_journal_and_a_bare_description() -> None:
    bare = Setup(SETUP.pond, barrels=(BUTT, SETUP.barrels[0]))
    for name in ("yard", "butt"):
        for guard, judge in GUARDS.items():
            found = judge(case("", setup=bare, name=name))
            assert found.guard == guard
            assert found.open or found.reason
