"""Reading a pond's description: all of it, its mistakes, and what is left where some is wrong."""

from __future__ import annotations

import tomllib
from datetime import date
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.setup.model import Conditioner, Gauge, Season, Setup
from pondtui.pond.setup.read import read_setup
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.values import read_value
from tests.pond.setup.examples import small, whole

TODAY = date(2026, 7, 1)


def read(data: dict[str, Any]) -> tuple[Setup, list[str]]:
    """The pond and the sentences of its problems, remarks left aside."""
    setup, found = read_setup(data, "pond.toml")
    assert setup is not None
    return setup, [p.message for p in found if p.severity == "problem"]


def remarks(data: dict[str, Any]) -> list[str]:
    return [p.message for p in read_setup(data, "pond.toml")[1] if p.severity == "remark"]


def test_a_file_with_every_key_reads_without_a_problem_or_remark() -> None:
    assert read_setup(whole(), "pond.toml")[1] == []


def test_the_example_uses_every_key_there_is() -> None:
    data = whole()
    for table in TABLES.values():
        path = [table.inside, table.name] if table.inside else [table.name]
        found: list[Any] = [data]
        for part in path:
            found = [below for there in found for below in _flat(there.get(part, {}))]
        if table.many == "named":
            found = [row for named in found for row in named.values()]
        used = {key for row in found for key in row}
        assert used >= {field.key for field in table.fields}, table.title


def _flat(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def test_every_example_of_a_field_is_read_by_that_field() -> None:
    for table in TABLES.values():
        for field in table.fields:
            raw = tomllib.loads(f"x = {field.example}")["x"]
            read_value(field, raw, None)


def test_every_default_told_is_the_default_taken() -> None:
    for table in TABLES.values():
        defaults = getattr(table.make, "_field_defaults", {})
        for field in table.fields:
            if not field.default:
                continue
            raw: Any = field.default
            if field.type in ("yesno", "texts"):
                raw = tomllib.loads(f"x = {raw}")["x"]
            assert read_value(field, raw, None) == pytest.approx(defaults[field.attr]), (
                table.name, field.key)  # fmt: skip


def test_every_field_of_the_values_is_filled_by_a_key() -> None:
    for table in TABLES.values():
        wanted = set(getattr(table.make, "_fields", ()))
        there = {field.attr for field in table.fields}
        there |= {sub.name for sub in TABLES.values() if sub.inside == table.name}
        assert wanted - there <= ({"name"} if table.many == "named" else set()), table.title


def test_a_file_written_again_is_the_same_pond() -> None:
    data = whole()
    again = tomllib.loads(tomli_w.dumps(data))
    assert again == data
    assert read_setup(again, "pond.toml") == read_setup(data, "pond.toml")


def test_amounts_arrive_in_the_units_of_the_program() -> None:
    setup, _ = read(whole())
    assert setup.pond.elevation_m == pytest.approx(61.0)
    assert setup.basins[1].areas[1] == pytest.approx((150.0, 0.9))
    assert setup.basins[1].water_share == pytest.approx(0.45)
    assert setup.sources["mains"].price_per_l == pytest.approx(1000.0)
    assert setup.limits.pond_change_per_day_c == pytest.approx(4 / 1.8)  # no 32 in a change
    assert setup.limits.treated_keeps_min == pytest.approx(14400.0)
    assert setup.chores[0].every_days == pytest.approx(2.0)
    assert setup.chores[4].water[0] == pytest.approx((9.0, 14.0, 4320.0))
    assert setup.weather.wind_height_m == pytest.approx(10.0)
    liquid, stock = setup.conditioners
    assert (liquid.label_dose_ml, liquid.bottle_ml) == pytest.approx((10.0, 1000.0))
    assert stock.stock_g_l == pytest.approx(80.0)
    assert stock.unit == "mL"


def test_a_bare_gallon_is_the_ponds_own() -> None:
    us = small(pond={"units": "us"}, barrel={"leave_at_least": "5 gal"})
    assert read(us)[0].barrels[0].leave_at_least_l == pytest.approx(5 * 3.785411784)
    imperial = small(pond={"units": "imperial"}, barrel={"leave_at_least": "5 gal"})
    assert read(imperial)[0].barrels[0].leave_at_least_l == pytest.approx(5 * 4.54609)
    metric = small(barrel={"leave_at_least": "5 gal"})
    assert any("US gal or imp gal" in sentence for sentence in read(metric)[1])


def test_a_wrong_unit_is_told_with_what_would_be_right() -> None:
    _, problems = read(small(barrel={"outlet": "70 L"}))
    assert 'barrel "yard": outlet: a length such as 70 mm, not 70 L' in problems


def test_a_bare_number_where_a_unit_is_needed_is_refused() -> None:
    setup, problems = read(small(barrel={"outlet": 70}))
    assert problems[0] == (
        'barrel "yard": outlet: a length with its unit, such as "70 mm", not bare 70'
    )
    assert setup.barrels == ()


def test_all_mistakes_are_told_at_once() -> None:
    data = small(
        pond={"time_zone": "Europe/Bruxelles", "latitude": 95, "units": "metrc"},
        gauge={"error": "-2 mm"},
        barrel={"outlet": "12,5 mm", "height": "3 kg", "former_content": "antifreeze"},
        conditioner={"label_dose": 8, "opened": "soon"},
    )
    _, problems = read(data)
    for part in (
        "pond: time_zone: there is no time zone Europe/Bruxelles; did you mean Europe/Brussels?",
        "pond: latitude: -90 to 90 deg, not 95 deg",
        "pond: units: one of metric, us, imperial, not metrc; did you mean metric?",
        "gauge: error: a length is never negative: -2 mm",
        'barrel "yard": outlet: use a point: 12.5 mm',
        'barrel "yard": height: a length such as 900 mm, not 3 kg',
        'barrel "yard": former_content: a barrel that held antifreeze',
        'conditioner 1: label_dose: a volume with its unit, such as "8 mL", not bare 8',
        "conditioner 1: opened: a day such as 2026-05-20, not soon",
    ):
        assert any(sentence.startswith(part) for sentence in problems), part


def test_an_unknown_key_is_remarked_on_with_the_nearest_known_one() -> None:
    data = small(barrel={"outlett": "70 mm"}, gage={"reads": "up"})
    assert remarks(data) == [
        "unknown table gage, kept but not read; did you mean gauge?",
        'barrel "yard": outlett: an unknown key, kept but not read; did you mean outlet?',
    ]
    assert read(data)[1] == []


def test_a_bad_table_is_left_out_and_the_others_stay() -> None:
    data = whole()
    data["barrel"][0]["outlet"] = "wet"
    data["mark"][1]["role"] = "leak"
    setup, problems = read(data)
    assert [barrel.name for barrel in setup.barrels] == ["blue", "box"]
    assert len(setup.marks) == 5
    assert len(problems) == 2
    assert setup.lacks == ()


def test_a_missing_needed_key_is_told_with_an_example() -> None:
    _, problems = read(small(barrel={"outlet": None}))
    assert problems[0] == (
        'barrel "yard": outlet: missing: lower edge of the outlet, from the bottom: below it is '
        'the heel; such as outlet = "70 mm"'
    )


def test_a_pond_alone_opens_and_one_sentence_says_what_a_refill_lacks() -> None:
    setup, problems = read({"pond": {"name": "Alder Yard"}})
    assert setup.pond.name == "Alder Yard"
    assert problems == [
        "a refill needs [pond], [gauge], one [[basin]] that floats, one [[barrel]], one "
        "[source.NAME] and one [[conditioner]]; missing: [gauge], one [[basin]] that floats, one "
        "[[barrel]], one [source.NAME], one [[conditioner]]"
    ]
    assert setup.lacks == (
        "[gauge]", "one [[basin]] that floats", "one [[barrel]]", "one [source.NAME]",
        "one [[conditioner]]",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("table", "lack"),
    [
        ("gauge", "[gauge]"),
        ("basin", "one [[basin]] that floats"),
        ("barrel", "one [[barrel]]"),
        ("source", "one [source.NAME]"),
        ("conditioner", "one [[conditioner]]"),
    ],
)
def test_each_table_that_a_refill_needs_is_missed_by_name(table: str, lack: str) -> None:
    data = small()
    del data[table]
    setup, problems = read(data)
    assert setup.lacks == (lack,)
    assert any(sentence.endswith(f"missing: {lack}") for sentence in problems)


def test_rain_barrels_alone_need_neither_source_nor_conditioner() -> None:
    data = small(barrel={"source": "rain"})
    del data["source"], data["conditioner"]
    assert read(data)[0].lacks == ()


def test_a_gauge_whose_direction_is_unclear_is_no_gauge() -> None:
    setup, _ = read(small(gauge={"reads": "sideways"}))
    assert setup.lacks == ("[gauge]",)
    assert setup.gauge == Gauge()


def test_without_a_pond_there_is_no_setup_but_a_way_out() -> None:
    setup, problems = read_setup({}, "pond.toml")
    assert setup is None
    assert 'write [pond] with name = "..." first' in problems[0].message


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"barrel": {"name": "yard"}}, "barrel: write [[barrel]] with its keys below it"),
        ({"gauge": [{"reads": "up"}]}, "gauge: write [gauge] once, in single brackets"),
        ({"source": {"ph": 7.0}}, "source: write [source.NAME] with its keys below it, not 7.0"),
        ({"mark": "low"}, "mark: write [[mark]] with its keys below it, not low"),
        ({"format": 2}, "format: this program reads format 1, not 2"),
    ],
)
def test_a_table_of_the_wrong_form_is_told_how_it_is_written(
    data: dict[str, Any], sentence: str
) -> None:
    _, problems = read({"pond": {"name": "x"}, **data})
    assert any(problem.startswith(sentence) for problem in problems)


def test_a_table_with_from_counts_from_that_day_on() -> None:
    data = small(conditioner=[
        {"kind": "liquid", "label_dose": "8 mL", "label_volume": "100 L"},
        {"kind": "liquid", "label_dose": "5 mL", "label_volume": "100 L", "from": date(2026, 6, 1)},
    ])  # fmt: skip
    setup, problems = read(data)
    assert problems == []
    before, after = setup.conditioner_on(date(2026, 5, 31)), setup.conditioner_on(date(2026, 6, 1))
    assert before is not None
    assert after is not None
    assert (before.label_dose_ml, after.label_dose_ml) == pytest.approx((8.0, 5.0))


def test_an_older_label_does_not_speak_for_a_newer_one_that_is_wrong() -> None:
    good = {"kind": "liquid", "label_dose": "8 mL", "label_volume": "100 L"}
    data = small(conditioner=[good, {**good, "label_dose": "5 g", "from": date(2026, 6, 1)}])
    setup, _ = read(data)
    assert setup.conditioner_on(TODAY) is None
    assert "one [[conditioner]]" in setup.lacks


def test_what_rests_on_a_wrong_table_is_not_told_as_missing() -> None:
    data = whole()
    data["source"]["mains"]["ph"] = 74
    data["basin"][1]["areas"] = "large"
    setup, problems = read(data)
    assert len(problems) == 3
    assert problems[2].endswith("missing: one [source.NAME] without a mistake")
    assert [barrel.name for barrel in setup.barrels] == ["blue", "box"]
    assert 'barrel "green": into: left out until the basin reed trough is right' in remarks(data)


def test_a_dry_agent_is_dosed_by_weight() -> None:
    data = small(conditioner=[{
        "kind": "dry", "agent": "ascorbic-acid", "purity": "98 %", "bottle": "500 g",
        "devices": [["scoop", "5 g", "1 g"]],
    }])  # fmt: skip
    conditioner = read(data)[0].conditioners[0]
    assert isinstance(conditioner, Conditioner)
    assert (conditioner.unit, conditioner.bottle_ml, conditioner.purity) == ("g", 500.0, 0.98)
    assert conditioner.devices[0].step == 1.0


def test_the_season_follows_the_sign_of_the_latitude() -> None:
    assert read(small(pond={"latitude": -35.0}))[0].season == Season((10, 1), (4, 30))
    assert read(small(pond={"latitude": 35.0}))[0].season == Season((4, 1), (10, 31))


def test_hidden_characters_in_a_name_become_visible() -> None:
    setup, _ = read(small(pond={"name": "Al\u202eder\x1b[2J"}))
    assert setup.pond.name == "Al\ufffdder\u241b[2J"


def test_a_name_may_not_part_the_fields_of_the_journal() -> None:
    _, problems = read(small(barrel={"name": "a;b"}))
    assert any("no ; and no |" in sentence for sentence in problems)


raw_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text() | st.dates()
    | st.datetimes() | st.sampled_from(["5 mm", "3 L", "up", "tap", "04-01", "10 %"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=6,
)  # fmt: skip
keys = st.sampled_from([field.key for table in TABLES.values() for field in table.fields])
rows = st.dictionaries(keys, raw_values, max_size=6)
tables = st.dictionaries(
    st.sampled_from([*TABLES, "format", "other"]),
    rows | st.lists(rows, max_size=3) | st.dictionaries(st.text(), rows, max_size=2) | raw_values,
    max_size=6,
)


@given(tables)
def test_no_file_makes_the_reading_fail(data: dict[str, Any]) -> None:
    setup, found = read_setup({"pond": {"name": "x"}, **data}, "pond.toml")
    assert (setup is None) <= any(p.severity == "problem" for p in found)
    assert all("\n" not in p.message for p in found)
