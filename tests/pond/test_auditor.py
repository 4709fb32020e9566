"""The audit finds what it is there to find, on journals made by hand and beside the fold."""

from __future__ import annotations

from hypothesis import given

from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from tests.pond.auditor import STRICT, Rules, Vessel, audit, let_in
from tests.pond.state.test_laws import FAST, after, histories
from tests.pond.world import (
    AGREED,
    CLOSED,
    DOSED,
    FILLED,
    HEEL,
    LINE,
    RELEASED,
    SETUP,
    TESTED,
    parsed,
)

YARD = Vessel("yard", HEEL, LINE, lambda depth: min(depth, 1000) * 0.2)
BUTT = Vessel("butt", HEEL, LINE, lambda depth: min(depth, 1000) * 0.2, rain=True, piped=False)
OUT = "08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"


def why(text: str, vessel: Vessel = YARD, rules: Rules = STRICT) -> list[str]:
    """What the audit says of the lines."""
    return [finding.why for finding in audit(parsed(text), vessel, rules)]


def test_a_batch_done_by_the_book_is_in_order() -> None:
    assert why(CLOSED) == []
    assert len(let_in(parsed(CLOSED), "yard")) == 1


def test_water_that_was_never_dosed_is_found() -> None:
    (found,) = audit(parsed(FILLED + OUT), YARD)
    assert found.litres == 160
    assert found.entry.kind == "release"
    assert "0 L of 180 L" in found.why


def test_too_little_agent_is_found_though_it_tested_clear() -> None:
    assert len(why(CLOSED.replace("dose=14.5 mL", "dose=14 mL"))) == 1


def test_agent_is_judged_by_what_was_needed_or_by_the_rate() -> None:
    double = "rate=16 mL per 100 L; needed=28.8 mL"
    assert len(why(CLOSED.replace("rate=8 mL per 100 L; needed=14.4 mL", double))) == 1
    bare = CLOSED.replace("; for=180 L; rate=8 mL per 100 L; needed=14.4 mL", "")
    assert len(why(bare)) == 1
    assert why(bare, rules=Rules(per_l=0.08)) == []


def test_water_that_was_not_tested_since_the_dose_is_found() -> None:
    assert len(why(DOSED + OUT)) == 1
    assert why(DOSED + OUT, rules=Rules(need_test=False)) == []
    again = TESTED + "07:36 | treat | barrel=yard; batch=a; dose=1 mL; rate=8 mL per 100 L\n"
    assert len(why(again + OUT)) == 1


def test_a_test_that_shows_colour_or_is_too_coarse_clears_nothing() -> None:
    for shown in ("0.1 mg/L", "<0.1 mg/L"):
        assert len(why(CLOSED.replace("<0.02 mg/L", shown))) == 1


def test_a_second_fill_after_the_test_is_found() -> None:
    text = TESTED + "07:40 | fill | barrel=yard; batch=a; added=15 L\n"
    assert len(why(text + OUT)) == 1


def test_a_dip_that_found_more_after_the_test_is_found() -> None:
    assert len(why(AGREED + "07:50 | dip | barrel=yard; left=195 L\n" + OUT)) == 1


def test_a_bypass_of_the_batch_excuses_and_one_of_another_does_not() -> None:
    passed = "07:50 | bypass | step=chlorine-test; batch={} | no kit\n"
    assert why(DOSED + passed.format("a") + OUT) == []
    assert len(why(DOSED + passed.format("b") + OUT)) == 1


def test_a_bypass_before_the_barrel_is_known_counts_for_its_label() -> None:
    assert why("06:59 | bypass | step=dose; batch=a | in a hurry\n" + FILLED + OUT) == []


def test_water_that_went_elsewhere_is_nobodys_harm() -> None:
    text = FILLED + OUT.replace("bay", "elsewhere")
    assert why(text) == []
    assert let_in(parsed(text), "yard") == []


def test_old_water_needs_an_agreement() -> None:
    late = "07-20 08:00 | release | barrel=yard; batch=a; out=160 L; to=bay\n"
    assert len(why(TESTED + late)) == 1
    assert why(TESTED + "07-20 07:59 | tick | step=agree; batch=a\n" + late) == []


def test_an_agreement_does_not_make_up_for_too_little_agent() -> None:
    little = FILLED + "07:20 | treat | barrel=yard; batch=a; dose=7 mL; rate=8 mL per 100 L\n"
    agreed = little + "07-20 07:59 | tick | step=agree; batch=a\n"
    assert len(why(agreed + OUT.replace("08:00", "07-20 08:00"))) == 1


def test_last_years_dose_covers_nothing_this_year() -> None:
    text = FILLED + (
        "07:20 | treat | barrel=yard; batch=a; dose=90 mL; rate=8 mL per 100 L\n"
        "07:30 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "08:00 | release | barrel=yard; batch=a; out=100 L; to=bay\n"
        "2027-04-03 07:00 | fill | barrel=yard; batch=a; added=60 L\n"
        "2027-04-03 07:30 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "2027-04-03 08:00 | release | barrel=yard; batch=a; out=60 L; to=bay\n"
    )
    assert len(why(text)) == 1


def test_the_heel_of_an_untested_batch_has_to_be_dosed_again() -> None:
    first = DOSED + "08:00 | release | barrel=yard; batch=a; out=160 L; to=elsewhere\n"
    second = (
        "09:00 | fill | barrel=yard; batch=b; added=160 L\n"
        "09:05 | treat | barrel=yard; batch=b; dose={} mL; rate=8 mL per 100 L\n"
        "09:20 | test | where=yard; chlorine_total=<0.02 mg/L\n"
        "09:30 | release | barrel=yard; batch=b; out=160 L; to=bay\n"
    )
    assert len(why(first + second.format(12.8))) == 1
    assert why(first + second.format(14.4)) == []
    assert why(CLOSED + second.format(12.8)) == []


def test_dosing_before_filling_is_judged_by_the_final_volume() -> None:
    text = (
        "07:00 | treat | barrel=yard; batch=a; dose=14.5 mL; rate=8 mL per 100 L\n"
        "07:20 | fill | barrel=yard; batch=a; added={} L\n"
        "07:35 | test | where=yard; chlorine_total=<0.02 mg/L\n"
    )
    assert why(text.format(160) + OUT) == []
    assert len(why(text.format(175) + OUT)) == 1


def test_what_a_look_finds_after_a_batch_was_given_up_does_not_bring_it_back() -> None:
    released = "07:42 | release | barrel=yard; batch=a; out=500 L; to=bay\n"
    text = (
        TESTED
        + released
        + """
07:43 | giveup | batch=a
08:00 | tick | step=outlet-shut; batch=b
08:01 | dip | barrel=yard; left=60 L
08:02 | treat | barrel=yard; batch=b; dose=14.5 mL; for=180 L; rate=8 mL per 100 L; needed=14.4 mL
08:03 | dip | barrel=yard; left=20 L
08:04 | fill | barrel=yard; batch=b; added=40 L; source=tap
08:20 | test | where=yard; chlorine_total=<0.02 mg/L
08:21 | release | barrel=yard; batch=b; out=40 L; to=bay
"""
    )
    assert why(text) == []
    assert len(why(text.replace("left=20 L", "left=10 L"))) == 1


def test_looks_while_the_hose_runs_are_no_water_of_their_own() -> None:
    text = CLOSED.replace("07:18 | fill", "07:10 | dip | barrel=yard; left=100 L\n07:18 | fill")
    assert why(text) == []


def test_a_struck_dose_is_none_and_a_strike_of_the_strike_restores_it() -> None:
    struck = CLOSED + "09:00 | strike | of=2026-06-03 07:20Z treat\n"
    assert len(why(struck)) == 1
    assert why(struck + "09:01 | strike | of=2026-06-03 09:00Z strike\n") == []


def test_strikes_in_a_circle_end() -> None:
    circle = "09:00 | strike | of=2026-06-03 09:00Z strike\n"
    assert why(CLOSED + circle) == []


def test_rain_alone_is_always_in_order() -> None:
    text = (
        "07:00 | fill | barrel=butt; batch=butt-a; added=100 L; source=rain\n"
        "08:00 | release | barrel=butt; batch=butt-a; out=80 L; to=bay\n"
    )
    assert why(text, BUTT) == []
    assert len(why(text.replace("source=rain", "source=tap"), BUTT)) == 1


def test_other_barrels_are_not_audited() -> None:
    assert why((FILLED + OUT).replace("yard", "shed")) == []


def test_the_order_of_the_lines_does_not_matter() -> None:
    lines = RELEASED.splitlines()
    assert why("\n".join(reversed(lines))) == why(RELEASED) == []


def untreated(entries: list[Entry]) -> list[int]:
    """When the fold says that untreated water went from the yard barrel into the pond."""
    state = fold(SETUP, entries, after(entries))
    return [a.instant for a in state.additions if a.barrel == "yard" and a.untreated]


@FAST
@given(histories())
def test_the_audit_and_the_fold_find_the_same_releases(history: list[Entry]) -> None:
    """A bypass is left out: the fold raises the alarm of such water too. So is a tick that names
    no batch: which of two open ones it means only a look at both barrels tells."""
    plain = [
        entry
        for entry in history
        if entry.kind != "bypass" and not (entry.kind == "tick" and entry.get("batch") is None)
    ]
    rules = Rules(need_test=False, per_l=0.08)
    found = [finding.entry.instant for finding in audit(plain, YARD, rules)]
    assert found == untreated(plain)
