"""A new pond from a few answers, and the texts of a form."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from pondtui.books.pondtext import as_toml
from pondtui.pond.setup.asking import mistake_in
from pondtui.pond.setup.forms import as_raw, as_typed
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.template import DEFAULT_CHORES, QUESTIONS, asked, skeleton
from tests.pond.setup.examples import whole
from tests.pond.setup.test_read import read

ANSWERS = {
    "pond_name": "Fern Corner",
    "pond_time_zone": "America/Chicago",
    "pond_latitude": "41.9",
    "pond_units": "us",
    "basin_length": "10 ft",
    "basin_width": "6 ft",
    "basin_depth": "30 in",
    "spill": "1/2 in",
    "target": "1 in",
    "danger": "8 in",
    "barrel_diameter": "22 1/2 in",
    "barrel_height": "35 in",
    "barrel_full_line": "33 in",
    "barrel_outlet": "2 3/4 in",
    "conditioner_label_dose": "1 US fl oz",
    "conditioner_label_volume": "300 gal",
}


def test_the_answers_make_a_pond_that_can_do_a_refill() -> None:
    data = skeleton(ANSWERS)
    setup, problems = read(data)
    assert problems == []
    assert setup.lacks == ()
    assert tomllib.loads(as_toml(data)) == data
    assert [mark.role for mark in setup.marks] == ["spill", "target", "danger"]
    assert setup.basins[0].top_at_mm == pytest.approx(12.7)
    assert setup.conditioners[0].label_volume_l == pytest.approx(300 * 3.785411784)


@pytest.mark.parametrize(
    "answers",
    [
        {"basin_shape": "cylinder", "basin_diameter": "9 ft"},
        {"basin_shape": "battered", "basin_side_slope": "0.1"},
        {"basin_shape": "table", "basin_areas": "0 in, 56 ft2; 16 in, 33 ft2; 30 in, 9 ft2"},
        {"barrel_shape": "lying", "barrel_length": "4 ft", "barrel_full_line": "20 in"},
        {"barrel_shape": "straight", "barrel_width": "2 ft", "barrel_breadth": "2 ft"},
    ],
)
def test_every_shape_that_is_offered_can_be_answered(answers: dict[str, str]) -> None:
    assert read(skeleton(ANSWERS | answers))[1] == []


def test_answers_left_out_take_their_defaults() -> None:
    setup, problems = read(skeleton({}))
    assert setup.pond.name == "my pond"
    assert setup.gauge.reads == "down"
    assert any("basin" in problem for problem in problems)


def test_a_wrong_answer_is_refused_by_the_same_reader() -> None:
    _, problems = read(skeleton(ANSWERS | {"basin_depth": "30 gal"}))
    assert any('basin "pond": depth: a length such as' in problem for problem in problems)


@pytest.mark.parametrize(("units", "unit"), [("metric", "cm"), ("us", "in"), ("imperial", "in")])
def test_a_refusal_names_an_example_in_the_keepers_units(units: str, unit: str) -> None:
    question = next(q for q in QUESTIONS if q.id == "barrel_outlet")
    told = mistake_in(question, "heron", {"pond_units": units})
    assert told == f"a length such as {'7' if units == 'metric' else '2 3/4'} {unit}, not heron"


def test_there_are_no_more_than_25_questions_and_shapes_decide_which() -> None:
    for shape in ("box", "cylinder", "battered", "table"):
        for barrel in ("upright", "lying", "straight"):
            given = {"basin_shape": shape, "barrel_shape": barrel}
            put = [question for question in QUESTIONS if asked(question, given)]
            assert len(put) + len(("folder", "level")) <= 25
    assert len({question.id for question in QUESTIONS}) == len(QUESTIONS)
    by_id = {question.id: question for question in QUESTIONS}
    assert asked(by_id["basin_length"], {})
    assert not asked(by_id["basin_diameter"], {})
    assert asked(by_id["barrel_length"], {"barrel_shape": "lying"})


def test_a_new_pond_begins_with_five_chores() -> None:
    setup, _ = read(skeleton(ANSWERS))
    assert [chore.name for chore in setup.chores] == [chore["name"] for chore in DEFAULT_CHORES]
    assert len(setup.chores) == 5


def test_what_stands_in_a_form_goes_back_into_the_file_unchanged() -> None:
    data = whole()
    checked = 0
    for table in TABLES.values():
        for row in _rows(data, table.inside, table.name, table.many):
            for field in table.fields:
                if field.key in row:
                    assert as_raw(field, as_typed(row[field.key])) == row[field.key], field.key
                    checked += 1
    assert checked > 120


def _rows(data: dict[str, Any], inside: str, name: str, many: str) -> list[dict[str, Any]]:
    owners = data.get(inside, [data]) if inside else [data]
    owners = owners if isinstance(owners, list) else [owners]
    found = [owner[name] for owner in owners if name in owner]
    if many == "named":
        return [row for group in found for row in group.values()]
    return [row for item in found for row in (item if isinstance(item, list) else [item])]
