"""The sheet as text: 76 columns, all of it as it was once looked at."""

from __future__ import annotations

import pytest

from pondtui.views.care import text
from tests.golden_files import Golden
from tests.pond.away.ponds import pond, sheet
from tests.pond.box import POND, setup_of


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
def test_no_line_is_wider_than_a_page(units: str) -> None:
    assert max(map(len, text.lines(sheet(units=units)))) <= text.WIDTH


def test_the_sheet_reads_as_it_was_looked_at(golden: Golden) -> None:
    golden("care-sheet", text.lines(sheet(sitter="Sam")))


def test_the_sheet_in_a_sitters_units_reads_as_it_was_looked_at(golden: Golden) -> None:
    golden("care-sheet-us", text.lines(sheet(sitter="Sam", units="us", private=True)))


def test_long_names_stay_within_the_page() -> None:
    setup = pond()
    marks = tuple(m._replace(name=m.name + " of a very long name" * 4) for m in setup.marks)
    barrels = tuple(b._replace(name="barrel" * 20) for b in setup.barrels)
    told = sheet(setup._replace(marks=marks, barrels=barrels), "", planned=())
    assert max(map(len, text.lines(told))) <= text.WIDTH


def test_the_gauge_is_drawn_with_its_marks_named() -> None:
    told = "\n".join(text.lines(sheet()))
    for mark in setup_of(POND).marks:
        assert told.count(mark.name) >= 2  # drawn, and told what it means
    assert "WATER 75 mm" in told
