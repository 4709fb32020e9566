"""`worksheet` lists, shows and computes; text for people, one JSON object for programs."""

from __future__ import annotations

import io
import json
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from pondtui.cli.worksheet import pairs, worksheet
from pondtui.errors import InputError, UsageError
from pondtui.worksheets.registry import sheets
from tests.cli.calls import POND, call, write_pond

DOSE = ["treatment-amount", "volume=1000 US gal", "target=2 mg/L"]


def said(*args: str, system: str | None = None) -> str:
    out = io.StringIO()
    assert worksheet(args, json=False, out=out, system=system) == 0
    return out.getvalue()


def answered(*args: str, system: str | None = None) -> dict[str, Any]:
    out = io.StringIO()
    assert worksheet(args, json=True, out=out, system=system) == 0
    answer: dict[str, Any] = json.loads(out.getvalue())
    return answer


def test_the_list_names_every_worksheet_under_its_group() -> None:
    text = said()
    lines = text.splitlines()
    for sheet in sheets():
        row = next(line for line in lines if line.split()[:1] == [sheet.name])
        above = [line for line in lines[: lines.index(row)] if not line.startswith(" ")]
        assert above[-1].casefold() == sheet.group.casefold()
    assert [row["name"] for row in answered()["worksheets"]] == [s.name for s in sheets()]


@pytest.mark.parametrize("sheet", list(sheets()), ids=lambda sheet: sheet.name)
def test_a_page_shows_inputs_formula_source_and_cautions(sheet: Any) -> None:
    text = said(sheet.name)
    for field in sheet.inputs:
        assert field.name in text
        assert field.help in text
    for part in (sheet.formula, sheet.source, *sheet.cautions):
        assert part in text
    assert f"Example: pondtui worksheet {sheet.name}" in text
    assert answered(sheet.name)["formula"] == sheet.formula


def test_a_page_tells_limits_defaults_and_the_example_worked_out() -> None:
    text = said("free-ammonia")
    assert "between 0 °C and 40 °C" in text
    assert "one of N, NH3, NH4" in text
    assert "nh3_n_mg_per_l" in text.split("Example:")[1]
    assert "10 when left out" in said("salt-for-nitrite")


@pytest.mark.parametrize("system", ["us", "imperial"])
@pytest.mark.parametrize("sheet", list(sheets()), ids=lambda sheet: sheet.name)
def test_on_a_pond_the_example_is_in_its_units_and_its_results_are_those_of_what_is_shown(
    sheet: Any, system: str
) -> None:
    page = said(sheet.name, system=system).splitlines()
    place = next(n for n, line in enumerate(page) if line.startswith("Example: pondtui worksheet "))
    words = shlex.split(page[place].removeprefix("Example: pondtui worksheet "))
    if any(field.kind == "file" for field in sheet.inputs):
        return
    worked = said(*words).splitlines()
    end = next(n for n, line in enumerate(worked) if line.startswith("Formula"))
    assert page[place + 1 :] == worked[1:end]
    assert answered(sheet.name, system=system)["example"] == dict(sheet.example)


@pytest.mark.parametrize(("units", "shown"), [("metric", "200 L"), ("us", "53 US gal")])
def test_the_units_are_those_of_the_pond_that_is_named(
    tmp_path: Path, units: str, shown: str
) -> None:
    pond = write_pond(tmp_path / "pond", POND.replace('units = "metric"', f'units = "{units}"'))
    page = call("worksheet", "fill-time", "--pond", str(pond)).out
    assert f"volume='{shown}'" in page
    assert "volume='200 L'" in call("worksheet", "fill-time").out


def test_an_answer_also_speaks_the_units_of_the_keeper() -> None:
    lines = said(*DOSE).splitlines()
    mass = next(line.split() for line in lines if line.startswith("  mass_g"))
    assert mass[:3] == ["mass_g", "7.571", "g"]
    salt = said("salt-for-percent", "volume=1000 US gal", "target=0.3 %")
    assert "= 25 lb" in salt
    assert "lb" not in said("salt-for-percent", "volume=3785 L", "target=0.3 %").split("Formula")[0]


def test_a_time_is_also_told_in_hours_and_minutes() -> None:
    text = said("fill-time", "volume=1000 L", "flow=12 L/min")
    assert "time_min  83.33 min  = 1 h 23 min" in text


def test_a_mixture_is_told_in_the_unit_of_what_was_mixed() -> None:
    waters = ["volume_1=100 L", "volume_2=100 L"]
    warm = said("mix", *waters, "value_1=50 degF", "value_2=59 degF")
    assert "value  12.5 degC  = 54.5 °F" in warm
    assert "value  3 mg/L" in said("mix", *waters, "value_1=4 mg/L", "value_2=2 mg/L")


def test_a_file_is_read_and_named_in_the_answer(tmp_path: Path) -> None:
    table = tmp_path / "levels.csv"
    table.write_text("x,y\n0,1\n1,3\n2,5\n3,7\n4,9.1\n")
    answer = answered("trend", f"file={table}")
    assert answer["inputs"] == {"file": str(table), "confidence": 0.95}
    assert answer["results"]["sen_slope"] == pytest.approx(2.0, abs=0.1)


def test_json_numbers_are_not_rounded() -> None:
    answer = answered(*DOSE)
    assert answer["worksheet"] == "treatment-amount"
    assert answer["results"]["mass_g"] == pytest.approx(7.570823568, rel=1e-12)
    assert answer["inputs"]["volume"] == {"value": pytest.approx(3785.411784), "unit": "L"}
    assert answer["sources"]
    assert isinstance(answer["cautions"], list)


def test_a_bare_gallon_is_noted_or_refused() -> None:
    assert "note: volume read as imperial gallons" in said(
        "treatment-amount", "volume=10 gal", "target=2 ppm", system="imperial"
    )
    with pytest.raises(InputError, match="volume: say US gal or imp gal"):
        said("treatment-amount", "volume=10 gal", "target=2 ppm")


def test_values_need_no_quotes() -> None:
    assert pairs(["volume=150", "L", "time=1", "h", "20", "min"]) == {
        "volume": "150 L",
        "time": "1 h 20 min",
    }


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["150 L"], "write each input as NAME=VALUE, such as volume='150 L', not 150 L"),
        (["a=1", "a=2"], "a stands twice"),
    ],
)
def test_words_that_are_no_inputs_are_refused(words: list[str], sentence: str) -> None:
    with pytest.raises(UsageError) as caught:
        pairs(words)
    assert str(caught.value) == sentence


def test_an_unknown_worksheet_is_refused_with_the_nearest() -> None:
    with pytest.raises(InputError, match="did you mean free-ammonia"):
        said("free-amonia")


def test_a_worksheet_loads_neither_the_screen_nor_pint() -> None:
    code = (
        "import io, sys; from pondtui.cli.worksheet import worksheet;"
        "worksheet(['treatment-amount', 'volume=10 US gal', 'target=2 ppm'], json=False,"
        " out=io.StringIO(), system=None);"
        "assert not {'textual', 'pint', 'platformdirs'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
