"""Setup in words: every field is reached and explained, findings find their field, figures hold."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime
from typing import Any

import pytest

from pondtui.pond.setup.edit import FORMS, Place
from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.forms import as_raw
from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.read import read_findings
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.values import read_value
from pondtui.views.setup_fields import example, placeholder, takes, unused
from pondtui.views.setup_figures import Known, figures, picture
from pondtui.views.setup_rows import groups, place_of, rows, sentence
from tests.pond.setup.examples import WHOLE

FIELDS = [(table.name, field) for table in TABLES.values() for field in table.fields]
DAY = date(2026, 6, 1)
BOX = """
[pond]
name = "rill"
[gauge]
reads = "down"
[[basin]]
name = "pool"
floats = true
shape = "box"
length = "2 m"
width = "1.5 m"
depth = "1 m"
[[mark]]
name = "rim"
reading = "10 mm"
role = "spill"
[[mark]]
name = "line"
reading = "40 mm"
role = "target"
[[barrel]]
name = "butt"
shape = "straight"
width = "1 m"
breadth = "0.5 m"
height = "1 m"
full_line = "0.4 m"
outlet = "0.1 m"
source = "tap"
delivery = "carried"
[source.tap]
flow = "10 L/min"
[[conditioner]]
kind = "liquid"
label_dose = "5 mL"
label_volume = "100 L"
bottle = "100 mL"
"""


def data(text: str = BOX) -> dict[str, Any]:
    return tomllib.loads(text)


def setup(text: str = BOX) -> Setup:
    found = read_findings(data(text))[0]
    assert found is not None
    return found


def told(table: str, name: str, text: str = BOX) -> str:
    return "; ".join(figures(setup(text), table, {"name": name}, DAY, Known()))


def test_no_table_is_forgotten() -> None:
    listed = [table.name for _, tables in groups() for table in tables]
    inside = [table.name for table in FORMS.values() if table.inside]
    assert sorted(listed + inside) == sorted(FORMS)


def test_the_list_has_a_row_for_each_table_of_the_file_and_one_to_add_each_kind() -> None:
    ids = {row.id for row in rows(data(WHOLE), {}, (), ())}
    many = {f"add:{name}" for name, table in FORMS.items() if table.many}
    single = {f"{name}:0" for name, t in FORMS.items() if not t.many and not t.inside}
    assert many | single <= ids
    assert {f"barrel:{n}" for n in range(len(data(WHOLE)["barrel"]))} <= ids
    assert {"roof:0", "columns:0"} <= ids


@pytest.mark.parametrize("system", ["metric", "us", "imperial"])
@pytest.mark.parametrize(("table", "field"), FIELDS, ids=lambda x: getattr(x, "key", x))
def test_every_field_says_what_it_takes_with_an_example_that_its_reader_takes(
    table: str, field: Field, system: str
) -> None:
    assert field.help in takes(field, system)
    assert placeholder(table, field, {}, system)
    gallon = system if system != "metric" else None
    read_value(field, as_raw(field, example(field, system)), gallon)


def test_limits_and_examples_are_in_the_keepers_units() -> None:
    outlet = TABLES["barrel"].field("outlet")
    assert outlet is not None
    assert "between 0 mm and 20 m" in takes(outlet, "metric")
    assert "2 3/4 in" in takes(outlet, "us")
    assert " mm" not in takes(outlet, "us")


def test_a_field_that_means_nothing_says_why() -> None:
    assert unused("barrel", "length", {"shape": "upright"}) == "not where shape is upright"
    assert unused("barrel", "height", {"shape": "upright"}) == ""
    assert unused("barrel", "outlet", {"shape": "upright"}) == ""
    assert unused("conditioner", "purity", {"kind": "liquid"}) == "only where kind is dry"
    assert unused("conditioner", "purity", {"kind": "dry"}) == ""


@pytest.mark.parametrize(
    ("wrong", "place", "key", "words"),
    [
        ('outlet = "0.1 m"', ("barrel", 0), "outlet", "does not lie below the full line"),
        ('role = "spill"', ("mark", 0), "role", "one of spill"),
        ('flow = "10 L/min"', ("source", "tap"), "flow", "flow"),
        ('kind = "liquid"', ("conditioner", 0), "kind", "one of liquid, dry"),
    ],
)
def test_a_finding_finds_its_field(
    wrong: str, place: tuple[str, int | str], key: str, words: str
) -> None:
    bad = '"0.9 m"' if key == "outlet" else '"nonsense"'
    text = BOX.replace(wrong, f"{wrong.partition('=')[0]}= {bad}", 1)
    found = [f for f in read_findings(data(text))[1] if place_of(f) == (Place(*place), key)]
    assert found
    assert words in sentence(found[0])
    assert not sentence(found[0]).startswith(place[0])


def test_a_finding_within_a_table_inside_another_finds_its_form() -> None:
    text = BOX.replace(
        "[source.tap]", '[barrel.roof]\narea = "2 m2"\nmaterial = "lead"\n[source.tap]'
    )
    places = [place_of(f) for f in read_findings(data(text))[1]]
    assert (Place("roof", 0), "material") in places


def test_figures_of_a_box_and_a_carried_barrel() -> None:
    assert "3 m2 at the edge, 3000 L" in told("basin", "pool")  # 2 x 1.5 m, 1 m deep: constructed
    assert "3 L for each mm" in told("basin", "pool")
    assert "room from line up to rim: 90 L" in told("basin", "pool")  # 30 mm over 3 m2
    assert "6 L of water" in told("gauge", "")  # 2 mm over 3 m2
    assert "2880 L at line" in told("mark", "line")  # 40 mm under the edge at 0 mm
    barrel = told("barrel", "butt")
    assert "200 L to the full line, 50 L stay as the heel, 15 min to fill, dose 10 mL" in barrel
    assert "about 15 buckets" in barrel
    assert "a bottle lasts 10 of them" in told("conditioner", "")
    assert "butt: 200 L" in told("source", "tap")


def test_a_test_of_the_tap_in_the_journal_changes_the_dose() -> None:
    strong = BOX.replace('label_volume = "100 L"', 'label_volume = "100 L"\nrated_for = "1 mg/L"')
    known = Known(tap_test=(int(datetime(2026, 5, 30, tzinfo=UTC).timestamp()), 2.0, 2.0))
    barrel = "; ".join(figures(setup(strong), "barrel", {"name": "butt"}, DAY, known))
    assert "dose 20 mL" in barrel  # twice the strength that the label is rated for


def test_a_mistake_takes_the_figures_away_with_a_sentence() -> None:
    text = BOX.replace('outlet = "0.1 m"', 'outlet = "0.9 m"')
    assert "without a mistake" in told("barrel", "butt", text)
    assert figures(None, "barrel", {}, DAY, Known())[0].startswith("figures come")
    assert figures(setup(), "person", {"name": "Mo"}, DAY, Known()) == []


def test_basin_and_barrel_are_drawn_where_there_is_room() -> None:
    size = (60, 12)
    assert picture(setup(), "basin", {"name": "pool"}, DAY, size, ascii=True)
    assert picture(setup(), "barrel", {"name": "butt"}, DAY, size, ascii=True)
    assert picture(setup(), "barrel", {"name": "gone"}, DAY, size, ascii=True) == ()
    assert picture(setup(), "barrel", {"name": "butt"}, DAY, (20, 12), ascii=True) == ()
    assert picture(None, "basin", {}, DAY, size, ascii=True) == ()
