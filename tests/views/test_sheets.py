"""Worksheets are told in the units that the keeper speaks, and found by any word of theirs."""

from __future__ import annotations

import pytest

from pondtui.views.sheets import as_note, explain, figures, found, result_rows
from pondtui.worksheets.registry import find, sheets
from pondtui.worksheets.run import run

TYPED = {"volume": "40 US gal"}


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (1234.6, "1235"), (83.3333, "83.33"), (0.01234567, "0.01235"), (0.05, "0.05"),
     (-2.5, "-2.5"), (0.00000012, "0.00000012"), (100.0, "100")],
)  # fmt: skip
def test_figures_are_for_people(value: float, text: str) -> None:
    assert figures(value) == text


def test_a_result_is_told_in_its_own_unit_and_in_the_keepers() -> None:
    row = result_rows(run("water-weight", TYPED), "us")[0]
    # 40 US gal = 151.4 L (1 US gal = 3.785411784 L, NIST Handbook 44), water taken as 1 kg/L
    assert (row.key, row.own) == ("mass_kg", "151.4 kg")
    assert row.other == "= 334 lb"


def test_a_metric_keeper_is_told_once() -> None:
    row = result_rows(run("water-weight", {"volume": "150 L"}), None)[0]
    assert (row.own, row.other) == ("150 kg", "")


def test_every_worksheet_explains_itself_without_a_result() -> None:
    for sheet in sheets():
        told = explain(sheet, {}, ())
        assert told.formula
        assert told.source
        assert told.value == "no result yet"


def test_a_note_holds_the_result_and_what_it_was_computed_from() -> None:
    row = result_rows(run("water-weight", TYPED), "us")[0]
    note = as_note(find("water-weight"), TYPED | {"other": " "}, row)
    assert note == "water-weight: mass_kg = 151.4 kg from volume=40 US gal"


def test_worksheets_are_found_by_words_of_title_group_and_results() -> None:
    names = {sheet.name for group in found(sheets(), "HOSE flow").values() for sheet in group}
    assert "hose-flow" in names
    assert "water-weight" not in names
    assert found(sheets(), "no such words") == {}
