"""The care sheet: ten parts, this pond's own amounts, nothing private unless asked for."""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.errors import InputError
from pondtui.pond.away.model import Sheet, Visit
from pondtui.pond.away.numbers import fast_fall_mm
from pondtui.pond.away.say import Say
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.setup.model import Pond, Setup
from pondtui.pond.state.fold import fold
from pondtui.views.care import as_json, ics, markdown, page, text
from tests.pond.away.ponds import JOURNAL, NOW, PEOPLE, pond, sheet
from tests.pond.box import POND, at, setup_of, state_of

SECRETS = ("555 01 23", "4711")


def told(made: Sheet) -> str:
    return "\n".join(text.lines(made))


def everything(made: Sheet) -> str:
    forms = [told(made), "\n".join(markdown.lines(made)), page.text(made), ics.text(made)]
    return "\n".join([*forms, str(as_json.sheet_json(made))])


def part(made: Sheet, number: int) -> str:
    whole = told(made)
    start = whole.index(f"\n{number} {made.parts[number - 1].title.upper()}\n")
    ends = [whole.find(f"\n{number + 1} ", start + 1), whole.find("\nVISITS", start)]
    return " ".join(whole[start : min((e for e in ends if e > 0), default=None)].split())


def test_the_ten_parts_stand_in_the_order_in_which_they_are_needed() -> None:
    titles = [p.title for p in sheet().parts]
    assert titles[0] == "People to call"
    assert titles[2] == "The two-minute look"
    assert titles[7:] == ["Emergencies", "Where things are", "Log"]
    assert [p.number for p in sheet().parts] == list(range(1, 11))


def test_phone_numbers_and_the_gate_code_stand_there_only_when_asked_for() -> None:
    assert all(secret not in everything(sheet()) for secret in SECRETS)
    shown = told(sheet(private=True))
    assert all(secret in shown for secret in SECRETS)


def test_the_word_private_is_no_phone_number() -> None:
    assert "private" not in told(sheet(private=True)).lower()


def test_chlorine_got_in_names_the_whole_pond_dose_and_then_air() -> None:
    shown = part(sheet(), 8)
    case = shown[shown.index("Chlorine got in") :]
    assert "365 mL (18 full 20 mL syringes + 5 mL), about 36% of a full 1000 mL bottle" in case
    assert case.index("365 mL") < case.index("Then air")


def test_a_person_in_the_water_rings_the_emergency_services_first() -> None:
    shown = part(sheet(), 8)
    assert "1. Ring the emergency services, 112 FIRST" in shown.replace("FIRST,", "FIRST")
    assert shown.index("A person in the water") < shown.index("Fish gasping")


def test_every_emergency_of_the_trade_is_there() -> None:
    shown = part(sheet(), 8)
    for case in ("gasping", "Chlorine got in", "Power off", "Level falling fast", "Dead fish",
                 "Too much conditioner", "Frost", "A person in the water"):  # fmt: skip
        assert case in shown


def test_normal_is_what_the_journal_says() -> None:
    shown = part(sheet(), 3)
    assert "six orange fish" in shown
    assert "gauge from 40 mm to 75 mm" in shown
    assert "falls by about 5 mm/day" in shown
    assert "6 fish, last counted 2026-06-09" in shown
    assert "LARGER number is LOWER water" in shown


def test_a_rule_that_reads_up_is_told_the_other_way_round() -> None:
    up = POND.replace('reads = "down"', 'reads = "up"').replace("top_at", "top_at")
    for low, high in (("10 mm", "790 mm"), ("40 mm", "760 mm"), ("110 mm", "690 mm"),
                      ("240 mm", "560 mm")):  # fmt: skip
        up = up.replace(f'reading = "{low}"', f'reading = "{high}"')
    up = up.replace('depth = "0.8 m"', 'depth = "0.8 m"\ntop_at = "800 mm"')
    shown = told(sheet(setup_of(up), "2026-06-09 18:00+02:00 | level | reading=725 mm"))
    assert "SMALLER number is LOWER water" in shown
    assert "560 mm or less" in shown  # the pump's intake
    assert "730 mm or less: open the outlet" in " ".join(shown.split())


def test_the_numbers_that_mean_act_are_this_ponds_marks() -> None:
    shown = part(sheet(), 7)
    assert 'gauge, "intake"' in shown
    assert "240 mm or more: unplug" in shown
    setup = pond()
    assert fast_fall_mm(setup, state_of(setup, JOURNAL, NOW)) == pytest.approx(15, abs=0.5)
    assert "15 mm (90 L) or more" in shown


def test_warm_water_is_judged_by_the_keepers_own_limits_where_there_are() -> None:
    assert "over 27 °C: shade" in part(sheet(), 7)  # as a test of the water is judged
    shown = part(sheet(setup_of(POND + PEOPLE + '[readings]\ntemp = ["31 degC", "34 degC"]\n')), 7)
    assert "over 31 °C: shade" in shown
    assert "over 34 °C: air on full" in shown


def test_animals_of_which_none_is_left_are_not_listed() -> None:
    gone = JOURNAL + "2026-06-09 18:06+02:00 | count | kind=tadpoles; number=0\n"
    assert "tadpoles" not in part(sheet(journal=gone), 3)


def test_a_bottle_of_a_gallon_pond_is_told_in_fluid_ounces() -> None:
    odd = POND.replace('bottle = "1000 mL"', 'bottle = "16 fl oz"').replace(
        'currency = "EUR"', 'currency = "EUR"\nunits = "us"'
    )
    assert "full 16 US fl oz bottle" in " ".join(told(sheet(setup_of(odd))).split())


def test_what_is_not_described_is_a_line_to_write_on() -> None:
    bare = told(sheet(setup_of(POND)))
    assert "Stop-cock (water off): ____" in bare
    assert "112 / 911" in bare


def test_an_empty_journal_makes_a_whole_sheet() -> None:
    made = sheet(setup_of(POND), "")
    assert len(made.visits) == 7
    assert len(made.parts) == 10
    assert any("never read" in remark for remark in made.remarks)


def test_winter_asks_for_no_food() -> None:
    cold = JOURNAL.replace("temp=19 degC", "temp=6 degC")
    made = sheet(journal=cold)
    assert "NO food while it is below 10 °C" in told(made)
    assert all(t.title != "feed" for p in made.visits for t in p.tasks)


def test_a_sheet_without_dates_has_no_visits_but_all_parts() -> None:
    made = sheet(dated=False)
    assert made.visits == ()
    assert "Only if the keeper asked for it" in told(made)
    assert "VISIT" not in told(made)


def test_the_sitters_units_change_the_words_and_not_the_water() -> None:
    made = sheet(units="us")
    shown = told(made)
    assert "2 3/4 in or more" in shown  # 70 mm
    assert "47.5 US gal" in shown  # 180 L
    assert " mm" not in shown.replace("71 mm 0.3", "")  # but in the answer's example
    assert [p.visit.release_l for p in made.visits] == [p.visit.release_l for p in sheet().visits]


def test_the_code_changes_with_the_tasks_and_with_nothing_else() -> None:
    assert sheet().code == sheet(private=True).code == sheet(sitter="Tam").code
    assert sheet().code != sheet(units="us").code
    assert sheet().code != sheet(planned=(sheet().visits[0].visit,)).code


@pytest.mark.parametrize("name", ["a;b", "a|b", "x" * 41, "bell\x07"])
def test_a_name_that_the_journal_cannot_hold_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="name"):
        sheet(sitter=name)


def test_the_keeper_is_told_what_to_see_to_before_leaving() -> None:
    remarks = "\n".join(sheet().remarks)
    assert "yard must stand full, treated and tested clear" in remarks
    assert "rehearse" in remarks
    assert "neighbour, plumber, utility" in remarks
    assert "TESTED" not in "\n".join(sheet(planned=()).remarks)


def test_a_bottle_that_cannot_spare_the_emergency_dose_is_told() -> None:
    short = PEOPLE + JOURNAL[:0]
    journal = JOURNAL + "2026-06-09 19:00+02:00 | supply | item=conditioner; left=200 mL\n"
    assert any("200 mL of conditioner" in r for r in sheet(pond(short), journal).remarks)
    assert not any("of conditioner" in r for r in sheet().remarks)


def test_topping_up_and_the_visit_name_the_same_reading() -> None:
    # the whole barrel has room at 70 mm; at the mark itself (40 mm) it would run over the rim
    shown = part(sheet(), 6)
    assert '70 mm or more for "yard"' in shown
    assert "40 mm or more" not in shown


def test_an_absence_in_winter_asks_for_no_food_without_a_reading_too() -> None:
    made = make_sheet(
        pond(), state_of(pond(), "", NOW), [], at(NOW), (Visit(date(2026, 12, 20)),),
        first=date(2026, 12, 20), last=date(2026, 12, 20),
    )  # fmt: skip
    assert "NO food" in told(made)
    assert [t.title for t in made.visits[0].tasks][-1] == "water temperature"


def test_a_pond_that_describes_nothing_but_its_name_has_a_sheet() -> None:
    bare = Setup(Pond("Bare"))
    made = make_sheet(bare, fold(bare, [], at(NOW)), [], at(NOW), (Visit(date(2026, 6, 12)),))
    for form in (everything(made), told(made)):
        assert "write it here: ____" in " ".join(form.split())


def test_a_bottle_is_told_as_its_label_says_it() -> None:
    metric, gallons = (
        Say(setup_of(POND)),
        Say(setup_of(POND.replace("[pond]", '[pond]\nunits = "us"'))),
    )
    assert metric.bottle(473.176, "mL") == "473 mL"
    assert gallons.bottle(473.176, "mL") == "16 US fl oz"
    assert gallons.bottle(453.592, "g") == "454 g"
