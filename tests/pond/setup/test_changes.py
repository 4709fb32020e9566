"""A description while it is changed: forms, order, and hands that change the file meanwhile."""

from __future__ import annotations

import tomllib

from pondtui.pond.setup.changes import Changes
from pondtui.pond.setup.edit import FORMS, Place, misshapen
from pondtui.pond.setup.references import candidates, naming_tables

TEXT = """\
[pond]
name = "rill"
[gauge]
reads = "down"
[[mark]]
name = "rim"
reading = "20 mm"
role = "spill"
[[mark]]
name = "stone"
reading = "45 mm"
role = "target"
"""


def changes(text: str = TEXT) -> Changes:
    return Changes(text, tomllib.loads(text))


def names(made: Changes) -> list[str]:
    return [row.get("name", "") for row in made.data.get("mark", [])]


def test_typing_a_text_back_makes_it_unchanged_again() -> None:
    made = changes("[[step]]\nid = 'lid'\nminutes = 5\n")
    made.put(Place("step", 0), {"minutes": "7 min"})
    assert made.changed
    made.put(Place("step", 0), {"minutes": "5"})
    assert not made.changed
    assert made.data["step"][0]["minutes"] == 5


def test_a_table_begun_and_emptied_again_is_not_there() -> None:
    made = changes()
    made.put(Place("limits"), {"pond_change": "1 degC"})
    made.put(Place("limits"), {"pond_change": ""})
    assert not made.changed


def test_opening_a_form_and_typing_nothing_begins_no_table() -> None:
    made = changes()
    made.put(Place("limits"), {"pond_change": "", "treated_keeps": ""})
    assert "limits" not in made.data


def test_the_last_one_taken_out_leaves_no_empty_list() -> None:
    made = changes()
    made.remove(Place("mark", 1))
    made.remove(Place("mark", 0))
    assert "mark" not in made.data


def test_a_name_is_remembered_through_moves() -> None:
    made = changes()
    to = made.move(Place("mark", 1), -1)
    made.put(to, {"name": "pebble"})
    assert to == Place("mark", 0)
    assert made.was(to) == "stone"
    assert names(made) == ["pebble", "rim"]
    made.forget()
    assert names(made) == ["rim", "stone"]


def test_a_change_by_hand_and_one_here_both_count() -> None:
    made = changes()
    made.put(Place("mark", 1), {"reading": "50 mm"})
    made.put(Place("pond"), {"latitude": "51"})
    made.add("chore")
    by_hand = TEXT.replace('"rill"', '"brook"').replace('"target"', '"warn"') + (
        "[[mark]]\nname = 'pump'\n[notes]\na = 1\n"
    )
    made.rebase(by_hand, tomllib.loads(by_hand))
    assert made.data["pond"] == {"name": "brook", "latitude": 51}
    assert made.data["mark"][1] == {"name": "stone", "reading": "50 mm", "role": "warn"}
    assert names(made) == ["rim", "stone", "pump"]
    assert made.data["notes"] == {"a": 1}
    assert made.data["chore"] == [{}]
    assert made.changed


def test_where_both_changed_one_value_what_was_typed_here_stays() -> None:
    made = changes()
    made.put(Place("mark", 0), {"reading": "25 mm"})
    by_hand = TEXT.replace('"20 mm"', '"30 mm"')
    made.rebase(by_hand, tomllib.loads(by_hand))
    assert made.data["mark"][0]["reading"] == "25 mm"


def test_what_was_taken_out_here_stays_out_and_what_was_changed_here_outlives_a_hand() -> None:
    made = changes()
    made.remove(Place("mark", 0))
    made.put(Place("mark", 0), {"reading": "50 mm"})
    by_hand = TEXT[: TEXT.rindex("[[mark]]")]
    made.rebase(by_hand, tomllib.loads(by_hand))
    assert names(made) == ["stone"]


def test_nothing_typed_takes_the_file_as_the_hand_left_it() -> None:
    made = changes()
    made.rebase("[pond]\nname = 'brook'\n", {"pond": {"name": "brook"}})
    assert not made.changed
    assert made.data == {"pond": {"name": "brook"}}


def test_a_list_of_something_else_is_left_to_the_hand() -> None:
    for text in ("mark = 3\n", "[mark]\nname = 'x'\n", "mark = ['x']\n"):
        assert misshapen(tomllib.loads(text), FORMS["mark"])
    assert misshapen({"pond": 3}, FORMS["pond"])
    assert misshapen({"source": {"tap": 3}}, FORMS["source"])
    assert misshapen({"barrel": [{"roof": 3}]}, FORMS["roof"])
    assert not misshapen(tomllib.loads(TEXT), FORMS["mark"])


def test_a_field_that_names_something_knows_the_names() -> None:
    data = {
        "basin": [{"name": "pool"}, {"name": 3}],
        "source": {"tap": {}, "well": {}},
        "chore": [{"name": "feed"}],
        "person": "nobody",
    }
    assert candidates(data, "barrel", "into") == ["pool"]
    assert candidates(data, "barrel", "source") == ["tap", "well"]
    assert candidates(data, "supply", "used_by") == ["feed"]
    assert candidates(data, "chore", "person") == []
    assert candidates(data, "barrel", "outlet") == []


def test_what_names_a_thing_is_found_in_the_file() -> None:
    data = {"barrel": [{"name": "yard", "into": "pool"}, {"into": "bay"}], "chore": "none"}
    assert naming_tables(data, "basin", "pool") == ['barrel "yard": into']
    assert naming_tables(data, "chore", "feed") == []
