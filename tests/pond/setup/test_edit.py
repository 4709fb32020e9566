"""Editing one table leaves everything else as it was written."""

from __future__ import annotations

import pytest

from pondtui.pond.setup.edit import Place, added, changed, places, texts, without
from pondtui.pond.setup.tables import TABLES
from tests.pond.setup.examples import whole

ALL = [
    pytest.param(place, id=f"{place.table}-{place.which}")
    for table in TABLES.values()
    for place in places(whole(), table)
]


@pytest.mark.parametrize("place", ALL)
def test_a_form_written_unchanged_changes_nothing(place: Place) -> None:
    data = whole()
    if texts(data, place):
        assert changed(data, place, texts(data, place)) == whole()
        assert data == whole()


def test_one_field_changes_and_what_is_unknown_stays() -> None:
    data = whole()
    data["barrel"][0]["colour"] = "blue"
    data["notes"] = {"of": "mine"}
    new = changed(data, Place("barrel", 0), {"outlet": "65 mm"})
    assert new["barrel"][0]["outlet"] == "65 mm"
    new["barrel"][0]["outlet"] = data["barrel"][0]["outlet"]
    assert new == data


def test_an_emptied_field_takes_its_key_out() -> None:
    new = changed(whole(), Place("pond"), {"latitude": ""})
    assert "latitude" not in new["pond"]


def test_a_missing_table_begins_with_its_first_field() -> None:
    data = whole()
    del data["limits"]
    data["barrel"][0].pop("roof", None)
    assert changed(data, Place("limits"), {"pond_change": "1 degC"})["limits"] == {
        "pond_change": "1 degC"
    }
    assert changed(data, Place("roof", 0), {"area": "9 m2"})["barrel"][0]["roof"] == {
        "area": "9 m2"
    }


def test_a_table_is_added_and_taken_away_again() -> None:
    for table, name in (("mark", ""), ("chore", ""), ("source", "spring")):
        new, place = added(whole(), table, name)
        assert new != whole()
        assert without(new, place) == whole()
