"""Each contradiction in a pond's description is told in one sentence, with both numbers."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.pond.setup.examples import small, whole
from tests.pond.setup.test_read import read, remarks

POOL = {"name": "pool", "floats": True, "shape": "box", "length": "3 m", "width": "2 m",
        "depth": "800 mm"}  # fmt: skip
BAY = {"name": "bay", "held": True, "shape": "cylinder", "diameter": "1 m", "depth": "400 mm"}
YARD = {"name": "yard", "shape": "upright", "diameter": "600 mm", "height": "900 mm",
        "full_line": "850 mm", "outlet": "70 mm"}  # fmt: skip


def marks(**readings: str) -> list[dict[str, str]]:
    """One mark a role, named after it; an underscore stands for a hyphen."""
    return [
        {"name": role, "role": role.replace("_", "-"), "reading": reading}
        for role, reading in readings.items()
    ]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"outlet": "860 mm"}, "outlet: 860 mm does not lie below the full line at 850 mm"),
        ({"full_line": "950 mm"}, "full_line: 950 mm lies above the brim at 900 mm"),
        ({"drop": "-50 mm"}, "drop: the outlet lies 50 mm below the pond's level"),
        (
            {"leave_at_least": "300 L"},
            "leave_at_least: 300 L is no less than the 240 L that it holds",
        ),
        ({"diameter": None}, "diameter: an upright barrel needs diameter, height"),
        ({"shape": "straight"}, "width: a straight barrel needs width, breadth, height"),
        ({"shape": "lying"}, "length: a lying barrel needs diameter, length"),
        (
            {"shape": "lying", "length": "1 m", "full_line": "650 mm"},
            "full_line: 650 mm lies above the brim at 600 mm",
        ),
        ({"retired": date(2026, 1, 1), "from": date(2026, 2, 1)}, "retired: 2026-01-01 is not"),
        ({"roof": {"area": "9 m2", "material": "old copper"}}, "roof.material: rain from a roof "
         "with copper (old copper) is not for the pond"),
        ({"former_content": "hydraulic oil"}, "former_content: a barrel that held oil or fuel"),
        ({"into": "bath"}, "into: there is no basin bath (there is: pool)"),
    ],
)  # fmt: skip
def test_a_barrel_that_cannot_be_is_told_and_left_out(
    change: dict[str, Any], sentence: str
) -> None:
    setup, problems = read(small(barrel=change))
    assert any(problem.startswith(f'barrel "yard": {sentence}') for problem in problems), problems
    assert setup.barrels == ()
    assert "one [[barrel]]" in setup.lacks


def test_the_heel_of_an_outlet_too_high_is_told_in_litres() -> None:
    _, problems = read(small(barrel={"outlet": "860 mm"}))
    assert "all of its 240 L would be heel" in problems[0]


def test_a_heel_of_more_than_half_is_remarked_on() -> None:
    assert any("is more than half" in remark for remark in remarks(small(barrel={
        "outlet": "600 mm"})))  # fmt: skip


def test_a_carried_barrel_needs_no_drop() -> None:
    assert read(small(barrel={"drop": "-1 m", "delivery": "carried"}))[1] == []


@pytest.mark.parametrize(
    ("content", "what"),
    [
        ("weed killer", "pesticide"),
        ("paint thinner", "solvent"),
        ("olive oil", "oil or fuel"),
        ("Diesel", "oil or fuel"),
        ("anti-freeze", "antifreeze"),
        ("unknown", "something unknown"),
        ("not known", "something unknown"),
        ("?", "something unknown"),
    ],
)
def test_what_cannot_be_rinsed_out_is_refused(content: str, what: str) -> None:
    _, problems = read(small(barrel={"former_content": content}))
    assert any(f"a barrel that held {what} ({content})" in problem for problem in problems)


@pytest.mark.parametrize(
    ("content", "caution"),
    [("maple syrup", "sticky"), ("wine vinegar", "pH"), ("pickled olives in brine", "rinse"),
     ("dish soap", "foam"), ("foil sweets", "sticky"), ("gherkins", "rinse it")],
)  # fmt: skip
def test_what_can_be_rinsed_out_comes_with_its_caution(content: str, caution: str) -> None:
    data = small(barrel={"former_content": content})
    assert read(data)[1] == []
    assert any(caution in remark for remark in remarks(data))


@pytest.mark.parametrize(
    "material",
    ["copper", "zinc", "galvanised steel", "lead flashing", "bitumen felt", "moss treatment",
     "asphalt shingle", "Copper gutter"],
)  # fmt: skip
def test_a_roof_that_poisons_is_refused(material: str) -> None:
    roof = {"area": "9 m2", "material": material}
    _, problems = read(small(barrel={"source": "rain", "roof": roof}))
    assert any("is not for the pond" in problem for problem in problems)


@pytest.mark.parametrize("material", ["tile", "slate", "glass", "plastic", "plead"])
def test_a_roof_that_does_not_is_taken(material: str) -> None:
    roof = {"area": "9 m2", "material": material}
    assert read(small(barrel={"source": "rain", "roof": roof}))[1] == []


@pytest.mark.parametrize(
    ("reads", "readings", "sentence"),
    [
        ("down", {"spill": "20 mm", "target": "10 mm"}, 'mark "target": reading: target at 10 mm '
         "stands above the spill mark spill at 20 mm (the gauge reads down: a smaller reading"),
        ("up", {"spill": "400 mm", "target": "410 mm"}, 'mark "target": reading: target at 410 mm '
         "stands above the spill mark spill at 400 mm (the gauge reads up: a larger reading"),
        ("down", {"warn": "120 mm", "danger": "90 mm"}, "danger at 90 mm stands above the warn"),
        ("up", {"warn": "90 mm", "danger": "120 mm"}, "danger at 120 mm stands above the warn"),
        ("down", {"target": "30 mm", "top_up": "25 mm"}, "top-up at 25 mm stands above the target"),
        ("down", {"danger": "10 mm", "spill": "20 mm"}, "danger at 10 mm stands above the spill"),
    ],
)  # fmt: skip
def test_marks_out_of_order_are_told_by_the_gauges_direction(
    reads: str, readings: dict[str, str], sentence: str
) -> None:
    data = small(gauge={"reads": reads}, mark=marks(**readings), basin={"top_at": (
        "0 mm" if reads == "down" else "500 mm")})  # fmt: skip
    problems = read(data)[1]
    assert len(problems) == 1
    assert sentence in problems[0]


@pytest.mark.parametrize("reads", ["down", "up"])
def test_marks_in_order_are_taken_in_either_direction(reads: str) -> None:
    levels = ["10 mm", "30 mm", "60 mm", "90 mm", "200 mm"]
    if reads == "up":
        levels.reverse()
    readings = dict(zip(("spill", "target", "top_up", "warn", "danger"), levels, strict=True))
    basin = {"top_at": "0 mm" if reads == "down" else "210 mm"}
    data = small(gauge={"reads": reads}, basin=basin, mark=marks(**readings))
    assert read(data)[1] == []


def test_a_warning_may_stand_on_either_side_of_the_top_up() -> None:
    assert read(small(mark=marks(top_up="90 mm", warn="60 mm")))[1] == []
    assert read(small(mark=marks(top_up="60 mm", warn="90 mm")))[1] == []


def test_a_rule_in_the_water_needs_the_reading_at_the_waterline() -> None:
    data = small(gauge={"reads": "up"}, mark=marks(target="640 mm", danger="400 mm"))
    assert read(data)[1] == [
        'basin "pool": top_at: the highest mark, target at 640 mm, stands far above the waterline, '
        "which the gauge would read at 0 mm: write the reading at which the sizes hold"
    ]
    data["basin"][0]["top_at"] = "670 mm"
    assert read(data)[1] == []


def test_marks_far_below_the_waterline_are_remarked_on() -> None:
    data = small(mark=marks(spill="450 mm", target="470 mm"))
    assert any("spill at 450 mm, stands far below the waterline" in remark
               for remark in remarks(data))  # fmt: skip
    data["basin"][0]["top_at"] = "450 mm"
    assert remarks(data) == []


def test_a_target_above_a_seeping_edge_is_remarked_on() -> None:
    data = small(mark=marks(seep="50 mm", target="30 mm"))
    assert any("target at 30 mm stands above the edge that seeps at 50 mm" in remark
               for remark in remarks(data))  # fmt: skip


def test_a_mark_below_the_bottom_is_told() -> None:
    _, problems = read(small(mark=marks(danger="900 mm")))
    assert problems == ['mark "danger": reading: 900 mm lies below the bottom of pool, which the '
                        "gauge would read at 800 mm"]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"held": True}, "held: a basin either floats or is held"),
        ({"floats": False}, "floats: write floats = true or held = true"),
        ({"width": None}, "width: a box basin needs length, width, depth"),
        ({"shape": "table"}, "areas: a table basin needs areas"),
        ({"shape": "cone"}, "top_diameter: a cone basin needs top_diameter, bottom_diameter"),
        ({"shape": "battered", "side_slope": 2}, "shape: with this side slope the sides meet"),
        ({"draindown": "900 mm"}, "draindown: 900 mm is more than its depth of 800 mm"),
        (
            {"shape": "table", "areas": [["0 mm", "2 m2"], ["0 mm", "1 m2"]]},
            "areas: the drops of the rows must rise",
        ),
        (
            {"shape": "table", "areas": [["50 mm", "2 m2"], ["90 mm", "1 m2"]]},
            "areas: the first row of areas must stand at 0 mm",
        ),
        (
            {"shape": "table", "areas": [["0 mm", "2 m2"], ["9 L", "1 m2"]]},
            "areas: row 2: a length such as 200 mm, not 9 L",
        ),
    ],
)
def test_a_basin_that_cannot_be_is_told_and_left_out(change: dict[str, Any], sentence: str) -> None:
    setup, problems = read(small(basin=change))
    assert any(problem.startswith(f'basin "pool": {sentence}') for problem in problems), problems
    assert setup.basins == ()
    assert "one [[basin]] that floats" in setup.lacks


def test_an_area_that_grows_with_depth_is_remarked_on() -> None:
    rows = [["0 mm", "2 m2"], ["100 mm", "3 m2"]]
    assert any("the area grows from 2 m2 at 0 mm to 3 m2" in remark
               for remark in remarks(small(basin={"shape": "table", "areas": rows})))  # fmt: skip


def test_two_basins_that_float_are_one_too_many() -> None:
    setup, problems = read(small(basin=[POOL, {**POOL, "name": "pit"}, BAY]))
    assert any("pool and pit both float" in problem for problem in problems)
    assert [basin.name for basin in setup.basins] == ["bay"]
    assert "one [[basin]] that floats" in setup.lacks


def test_a_basin_rebuilt_floats_once_a_day() -> None:
    rebuilt = {**POOL, "length": "4 m", "from": date(2026, 5, 1)}
    setup, problems = read(small(basin=[POOL, rebuilt]))
    assert problems == []
    now = setup.floating(date(2026, 5, 1))
    assert now is not None
    assert now.length_mm == 4000.0


def test_no_basin_that_floats_is_missed() -> None:
    setup, _ = read(small(basin=[BAY]))
    assert setup.lacks == ("one [[basin]] that floats",)


def test_two_of_one_name_need_days_of_their_own() -> None:
    _, problems = read(small(barrel=[YARD, YARD]))
    assert any("holds from the same day" in problem for problem in problems)
    assert read(small(barrel=[YARD, {**YARD, "from": date(2026, 1, 1)}]))[1] == []


def test_two_marks_of_one_name_are_one_too_many() -> None:
    two = [{"name": "lip", "role": "spill", "reading": "9 mm"}] * 2
    setup, problems = read(small(mark=two))
    assert problems == ['mark "lip": name: there is another one of this name']
    assert len(setup.marks) == 1


def test_a_source_without_a_table_is_told() -> None:
    _, problems = read(small(barrel={"source": "well"}))
    assert problems == ['barrel "yard": source: there is no [source.well]: write one, or another '
                        "source"]  # fmt: skip
    assert read(small(barrel={"source": "rain"}))[1] == []


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"label_dose": None}, "label_dose: a liquid conditioner needs label_dose"),
        ({"label_volume": "0 L"}, "label_volume: 0.001 to 10000000 L, not 0 L"),
        ({"kind": "dry"}, "agent: a dry conditioner needs the name of its agent"),
        ({"kind": "dry", "agent": "salt"}, "agent: one of thiosulfate-pentahydrate"),
        ({"kind": "dry", "agent": "sulfite", "devices": [["spoon", "5 mL", "5 mL"]]},
         "devices: its doses are counted in g, the spoon has marks in mL"),
        ({"devices": [["spoon", "5 g", "5 g"]]}, "devices: its doses are counted in mL"),
        ({"devices": [["cup", "5 mL", "9 mL"]]}, "devices: row 1: the mark of the cup, 9 mL"),
        ({"devices": [["cup", "5 mL"]]}, "devices: row 1: 3 values"),
        ({"bottle": "500 g"}, "bottle: its doses are counted in mL, the bottle in g"),
        ({"opened": date(2026, 5, 1), "best_before": date(2026, 4, 1)},
         "best_before: 2026-04-01 lies before it was opened, 2026-05-01"),
        ({"chloramine_multiplier": 3, "largest_multiple": 2},
         "chloramine_multiplier: 3 times the label's dose is more than largest_multiple allows, 2"),
    ],
)  # fmt: skip
def test_a_conditioner_that_no_dose_may_rest_on_is_left_out(
    change: dict[str, Any], sentence: str
) -> None:
    setup, problems = read(small(conditioner=change))
    assert any(problem.startswith(f"conditioner 1: {sentence}") for problem in problems), problems
    assert setup.conditioners == ()


def test_a_device_larger_than_the_bottle_is_remarked_on() -> None:
    data = small(conditioner={"bottle": "250 mL", "devices": [["jug", "500 mL", "10 mL"]]})
    assert any("the jug holds 500 mL, more than a full bottle of 250 mL" in remark
               for remark in remarks(data))  # fmt: skip
    assert read(data)[1] == []


@pytest.mark.parametrize(
    ("table", "change", "sentence"),
    [
        ("source", {"tap": {"total_chlorine": "0.5 mg/L", "free_chlorine": "0.8 mg/L"}},
         "free_chlorine: 0.8 mg/L is more than the total chlorine of 0.5 mg/L"),
        ("source", {"tap": {"forbidden": ["noon"]}}, "forbidden: noon in noon is neither dates"),
        ("limits", {"pond_change": "4 degC"}, "pond_change: one release may change the pond by "
         "4 °C, but a whole day by 3 °C only"),
        ("chore", [{"name": "look", "every": "1 d", "monthly": 1}], "monthly: one of every"),
        ("chore", [{"name": "look"}], "every: one of every, weekdays, monthly, after, water"),
        ("chore", [{"name": "feed", "water": [["9 degC", "15 degC", "1 d"], ["14 degC", "20 degC",
         "1 d"]]}], "water: two rows overlap: one ends at 15 °C, the next begins at 14 °C"),
        ("season", {"start": "31-04"}, 'start: a month and day such as "04-01", not 31-04'),
        ("weather", {"columns": {"tmin": "Low [mm]"}}, "columns: tmin: mm is no unit of"),
        ("weather", {"columns": {"tmin": "Low [degC]"}}, "columns.date: say which column"),
        ("weather", {"monthly_evaporation_mm": [1, 2]}, "monthly_evaporation_mm: twelve numbers"),
    ],
)  # fmt: skip
def test_other_tables_that_contradict_themselves_are_told(
    table: str, change: Any, sentence: str
) -> None:
    _, problems = read(small(**{table: change}))
    assert any(sentence in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"person": "Joe"}, "person: there is no [[person]] Joe; did you mean Jo?"),
        ({"after": "new-fsh", "every": None}, "after: new-fsh is no event, kind of entry or chore; "
         "did you mean new-fish?"),
    ],
)  # fmt: skip
def test_a_chore_of_nobody_or_after_nothing_is_remarked_on(
    change: dict[str, Any], sentence: str
) -> None:
    data = whole()
    chore = {**data["chore"][0], **change}
    data["chore"][0] = {key: value for key, value in chore.items() if value is not None}
    assert any(sentence in remark for remark in remarks(data)), remarks(data)


def test_a_pond_in_inches_is_told_in_inches() -> None:
    data = small(pond={"units": "us"}, barrel={"outlet": "34 in", "full_line": "33 in"})
    assert "34 in does not lie below the full line at 33 in" in read(data)[1][0]
