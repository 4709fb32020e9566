"""Every worksheet keeps the promises of its registration; the machinery refuses with a way out."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from contextlib import suppress
from typing import Any

import pytest

from pondtui.errors import InputError
from pondtui.units import CANONICAL, NOUNS, dimension_of
from pondtui.worksheets import registry
from pondtui.worksheets.inputs import describe, limits, take
from pondtui.worksheets.registry import Input, Result, Worksheet, find, sheets
from pondtui.worksheets.run import as_json, run

ALL = list(sheets())
KINDS = {*NOUNS, "choice", "yesno", "date", "text", "file", "areas", "concentration_basis"}
LINE = "x,y\n0,1\n1,3\n2,5.1\n3,7\n4,9.2\n"  # a table for the sheets that read a file
WORD_RESULTS = {"verdict", "method", "areas"}


def echo(values: Mapping[str, Any]) -> dict[str, float | str]:
    """A calculation for the tests: how many values came, and the length if there is one."""
    return {"count": float(len(values)), "length": float(values.get("depth", 0.0))}


SAMPLE = Worksheet(
    name="sample-sheet",
    group="Tests",
    title="A sheet with one input of each kind",
    inputs=(
        Input("depth", "length", "a depth", low=0, high=1000),
        Input("shape", "choice", "a word", words=("upright", "lying")),
        Input("treated", "yesno", "yes or no", "no"),
        Input("on", "date", "a day", required=False),
        Input("survey", "areas", "a survey", required=False),
        Input("ammonia", "concentration_basis", "a reading", required=False),
        Input("basis", "choice", "its basis", words=("N", "NH3"), required=False),
        Input("value", "temperature|concentration", "either", required=False),
        Input("share", "fraction", "a share", "10 %", low=0, high=1),
        Input("latitude", "angle", "north positive", low=-90, high=90, required=False, signed=True),
        Input("factor", "number", "a factor", required=False),
        Input("water", "volume", "some water", required=False),
    ),
    results=(Result("count", "", "how many"), Result("length", "mm", "the depth")),
    formula="count",
    source="constructed; also constructed",
    cautions=("Not a measuring instrument.",),
    example={"depth": "62 mm", "shape": "lying"},
    compute=echo,
)
NEEDED = {"depth": "62 mm", "shape": "lying"}


@pytest.fixture
def sample(monkeypatch: pytest.MonkeyPatch) -> Worksheet:
    """The sheet above, found by its name."""
    monkeypatch.setattr(registry, "sheets", lambda: iter([SAMPLE]))
    return SAMPLE


@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_a_worksheet_works_out_its_own_example(sheet: Worksheet) -> None:
    answer = run(sheet.name, sheet.example, read_file=lambda _: LINE)
    promised = {result.key for result in sheet.results}
    assert answer.results.keys() <= promised
    assert answer.results, "an example without results shows nothing"
    words = {key for key, value in answer.results.items() if isinstance(value, str)}
    assert words <= WORD_RESULTS
    json.dumps(as_json(answer), allow_nan=False)


@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_a_worksheet_says_what_it_takes_and_rests_on(sheet: Worksheet) -> None:
    texts = [sheet.title, sheet.group, sheet.formula, sheet.source, *sheet.cautions]
    texts += [field.help for field in sheet.inputs] + [result.help for result in sheet.results]
    assert all(text.strip() for text in texts)
    assert len({field.name for field in sheet.inputs}) == len(sheet.inputs)
    for field in sheet.inputs:
        assert set(field.kind.split("|")) <= KINDS
        assert bool(field.words) == (field.kind == "choice")
        assert describe(field)
        if field.default is not None:
            take(field, field.default, None, None)
    for result in sheet.results:
        for unit in filter(None, result.unit.split(" or ")):
            dimension_of(unit)


def test_no_two_worksheets_share_a_name() -> None:
    assert len({sheet.name for sheet in ALL}) == len(ALL)


def test_every_missing_input_is_named_at_once(sample: Worksheet) -> None:
    with pytest.raises(InputError) as caught:
        run(sample.name, {})
    assert str(caught.value) == (
        "sample-sheet still needs depth (a length such as 62 mm); shape (one of upright, lying)"
    )


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"dept": "1 m"}, "sample-sheet has no input 'dept'; did you mean depth?"),
        ({"depth": "50 in"}, "depth: between 0 in and 39.3701 in, not 50 in"),
        ({"depth": "2 m"}, "depth: between 0 m and 1 m, not 2 m"),
        ({"depth": "3 kg"}, "depth: a length such as 62 mm, not 3 kg"),
        ({"share": "120 %"}, "share: between 0 % and 100 %, not 120 %"),
        ({"shape": "round"}, "shape: one of upright, lying, not round"),
        ({"treated": "perhaps"}, "treated: yes or no, not perhaps"),
        ({"on": "2026-W05-1"}, "on: a date such as 2026-06-03, not 2026-W05-1"),
        ({"on": "20260603"}, "on: a date such as 2026-06-03, not 20260603"),
        ({"on": "2026-02-30"}, "on: the calendar has no 2026-02-30"),
        ({"water": "3 gal"}, "water: say US gal or imp gal"),
        ({"factor": "-1"}, "factor: at least 0, not -1"),
        ({"latitude": "91"}, "latitude: between -90 deg and 90 deg, not 91"),
        (
            {"value": "3 kg"},
            "value: a temperature such as 18.5 degC or a concentration such as 0.6 mg/L, not 3 kg",
        ),
        (
            {"survey": "0,5 m:10 m2"},
            "survey: depths and areas such as 0 m:10 m2, 5 m:18 m2, "
            "with points in the numbers, not 0,5 m:10 m2",
        ),
        (
            {"ammonia": "1 mg/L as NH3", "basis": "N"},
            "ammonia is said to be as NH3, but basis is N",
        ),
    ],
)
def test_a_refusal_names_the_input_and_the_way_out(
    sample: Worksheet, typed: dict[str, str], sentence: str
) -> None:
    with pytest.raises(InputError) as caught:
        run(sample.name, NEEDED | typed)
    assert str(caught.value) == sentence


@pytest.mark.parametrize(
    ("typed", "name", "value"),
    [
        ({"depth": "1 in"}, "depth", 25.4),
        ({"shape": "Upright"}, "shape", "upright"),
        ({}, "treated", False),
        ({"treated": "Yes"}, "treated", True),
        ({}, "share", 0.1),
        ({"on": "2026-06-03"}, "on", datetime.date(2026, 6, 3)),
        ({"survey": "0 m:10 m2,5 m:18 m2"}, "survey", [(0.0, 10.0), (5000.0, 18.0)]),
        ({"ammonia": "0.5 mg/L as NH3"}, "basis", "NH3"),
        ({"ammonia": "0.5 mg/L as N", "basis": "n"}, "basis", "N"),
        ({"value": "18 degC"}, "value_dimension", "temperature"),
        ({"value": "3 mg/L"}, "value_dimension", "concentration"),
        ({"latitude": "-33.9"}, "latitude", -33.9),
        ({"depth": "1000 mm"}, "depth", 1000.0),
    ],
)
def test_each_kind_of_input_is_read(
    sample: Worksheet, typed: dict[str, str], name: str, value: object
) -> None:
    assert run(sample.name, NEEDED | typed).inputs[name] == value


def test_an_input_left_out_or_empty_is_absent(sample: Worksheet) -> None:
    inputs = run(sample.name, NEEDED | {"water": " "}).inputs
    assert "water" not in inputs
    assert "on" not in inputs


def test_what_had_to_be_assumed_is_noted(sample: Worksheet) -> None:
    answer = run(sample.name, NEEDED | {"water": "3 gal"}, gallon="us")
    assert answer.notes == ("water read as US gallons",)
    assert answer.inputs["water"] == pytest.approx(11.356235352)


def test_a_default_may_follow_the_gallon_of_the_pond() -> None:
    hose = {"bore": "8 mm"}
    assert run("air-gap", hose, gallon="imperial").results["gap_mm"] == 20.0
    assert run("air-gap", hose, gallon="us").results["gap_mm"] == 25.4
    assert run("air-gap", hose | {"rule": "us"}, gallon="imperial").results["gap_mm"] == 25.4


def test_the_unit_typed_does_not_change_the_answer(sample: Worksheet) -> None:
    metric = run(sample.name, {"depth": "254 mm", "shape": "lying"})
    inches = run(sample.name, {"depth": "10 in", "shape": "lying"})
    assert metric.results["length"] == pytest.approx(inches.results["length"], rel=1e-12)


def test_the_json_holds_inputs_results_sources_and_cautions(sample: Worksheet) -> None:
    answer = as_json(run(sample.name, NEEDED | {"on": "2026-06-03", "survey": "0 m:1 m2"}))
    assert answer == {
        "worksheet": "sample-sheet",
        "inputs": {
            "depth": {"value": 62.0, "unit": "mm"},
            "shape": "lying",
            "treated": False,
            "on": "2026-06-03",
            "survey": [{"depth_mm": 0.0, "area_m2": 1.0}],
            "share": 0.1,
        },
        "results": {"count": 6.0, "length": 62.0},
        "sources": ["constructed", "also constructed"],
        "cautions": ["Not a measuring instrument."],
        "notes": [],
    }


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (ValueError("the depth must be above zero"), "the depth must be above zero"),
        (ValueError("math domain error"), "sample-sheet: these values together lead to no answer"),
        (ZeroDivisionError(), "sample-sheet: these values together lead to no answer"),
        (OverflowError(), "sample-sheet: these values together lead to no answer"),
        (InputError("two of area and drop"), "two of area and drop"),
    ],
)
def test_a_formula_that_cannot_go_on_says_so_in_one_sentence(
    monkeypatch: pytest.MonkeyPatch, error: Exception, sentence: str
) -> None:
    def compute(_: Mapping[str, Any]) -> dict[str, float | str]:
        raise error

    monkeypatch.setattr(registry, "sheets", lambda: iter([SAMPLE._replace(compute=compute)]))
    with pytest.raises(InputError) as caught:
        run(SAMPLE.name, NEEDED)
    assert str(caught.value) == sentence


def test_a_result_that_is_no_number_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    endless = SAMPLE._replace(compute=lambda _: {"count": float("inf")})
    monkeypatch.setattr(registry, "sheets", lambda: iter([endless]))
    with pytest.raises(InputError, match="lead to no answer"):
        run(SAMPLE.name, NEEDED)


def test_an_unknown_worksheet_suggests_the_nearest(sample: Worksheet) -> None:
    with pytest.raises(InputError, match="did you mean sample-sheet"):
        find("sampel-sheet")
    with pytest.raises(InputError, match="lists them"):
        find("zzz")
    assert find(sample.name) is sample


def test_a_limit_is_told_in_the_unit_of_the_keeper() -> None:
    field = Input("temp", "temperature", "", low=0, high=40)
    assert limits(field, "degF") == "between 32 degF and 104 degF"
    assert limits(field) == "between 0 °C and 40 °C"
    assert limits(field._replace(high=None)) == "at least 0 °C"
    assert limits(field._replace(low=None)) == "at most 40 °C"
    assert limits(field._replace(low=None, high=None)) == ""


def test_a_unit_of_a_choice_may_be_spelled_otherwise() -> None:
    field = Input("to", "choice", "", words=("mg/L CaCO3", "dH"))
    assert take(field, "dKH", None, None).value == "dH"
    assert take(field, "mg/l caco3", None, None).value == "mg/L CaCO3"


def test_a_file_is_only_read_where_files_can_be_read() -> None:
    field = Input("file", "file", "a table")
    assert take(field, "a.csv", None, lambda name: f"text of {name}").value == "text of a.csv"
    with pytest.raises(InputError, match="command line"):
        take(field, "a.csv", None, None)


@pytest.mark.parametrize("sheet", ALL, ids=lambda sheet: sheet.name)
def test_a_worksheet_at_its_limits_answers_or_refuses(sheet: Worksheet) -> None:
    for field in sheet.inputs:
        if field.words or field.kind in ("yesno", "date", "text", "file", "areas"):
            continue
        dimension = field.kind.split("|")[0].replace("concentration_basis", "concentration")
        unit = "%" if dimension == "fraction" else CANONICAL[dimension]
        for bound in (field.low, field.high, 0.0):
            if bound is None:
                continue
            number = bound * 100 if unit == "%" else bound
            typed = dict(sheet.example) | {field.name: f"{number:.12f} {unit}"}
            with suppress(InputError):
                answer = run(sheet.name, typed, read_file=lambda _: LINE)
                json.dumps(as_json(answer), allow_nan=False)
