"""A hurried text in a form means what the keeper means, and says so before it is written."""

from __future__ import annotations

import pytest

from pondtui.books.pondfile import parse
from pondtui.pond.setup.model import Setup
from pondtui.views.forms import level_form, meant, note_form, second_look, test_form
from tests.tui.ponds import LEVELS, POND
from tests.views.test_today import status_of

US = POND.replace('units = "metric"', 'units = "us"')
water_test = test_form  # by another name: pytest would take it for a test
del test_form


def setup_of(pond: str = POND) -> Setup:
    found = parse(pond).setup
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("typed", "metric", "us"),
    [
        ("62", "62 mm", "62 in"),
        ("62 mm", "62 mm", "62 mm"),
        ("2 7/16", "2 7/16 mm", "2 7/16 in"),
        ("-5", "-5 mm", "-5 in"),
        ("6,2", "6,2", "6,2"),
        ("abc", "abc", "abc"),
    ],
)
def test_a_bare_reading_gets_the_ponds_own_unit(typed: str, metric: str, us: str) -> None:
    for pond, wanted in ((setup_of(), metric), (setup_of(US), us)):
        assert meant(level_form(pond), {"reading": typed}, pond) == ({"reading": wanted}, "")


@pytest.mark.parametrize("typed", ["0", "0.0", "0.00"])
def test_no_colour_means_below_the_kits_first_step(typed: str) -> None:
    setup = setup_of()
    form = water_test(setup, status_of(LEVELS).state)
    fields, _ = meant(form, {"where": "pond", "chlorine_total": typed}, setup)
    assert fields["chlorine_total"] == "<0.02 mg/L"


def test_further_values_and_a_short_place_are_taken() -> None:
    setup = setup_of()
    form = water_test(setup, status_of(LEVELS).state)
    typed = {"where": "g", "more": "PH = 7.6; nitrite=0.05 mg/L;", "note": " new kit "}
    assert meant(form, typed, setup) == (
        {"where": "gate", "ph": "7.6", "nitrite": "0.05 mg/L"},
        "new kit",
    )


def test_words_that_are_no_value_are_kept_for_the_refusal() -> None:
    setup = setup_of()
    form = water_test(setup, status_of(LEVELS).state)
    assert meant(form, {"more": "cloudy"}, setup)[0] == {"cloudy": ""}


def test_a_note_is_words_only() -> None:
    assert meant(note_form(), {"note": " heron "}, setup_of()) == ({}, "heron")


@pytest.mark.parametrize(
    ("reading", "said"),
    [
        (80.0, "as high as 11 h ago"),
        (75.0, "5 mm higher than 11 h ago"),
        (86.0, "6 mm lower than 11 h ago"),
        (800.0, "720 mm lower than 11 h ago (80 mm): typed right?"),
    ],
)
def test_a_new_reading_is_held_against_the_last(reading: float, said: str) -> None:
    assert second_look(setup_of(), status_of(LEVELS).state, reading) == said


def test_the_first_reading_has_nothing_to_be_held_against() -> None:
    assert second_look(setup_of(), status_of("").state, 80.0) == ""
