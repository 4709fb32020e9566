"""`pondtui water` and `export water`: keys, words, the page, and what cannot be meant."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import html5lib
import pytest

from tests.cli.calls import POND, call, refused, write_pond

KEYS = {
    "from", "to", "terms_l", "uncertainty_l", "tap_l", "barrels", "conditioner_ml", "cost",
    "periods",
}  # fmt: skip
TERMS = ["start", "rain", "downpipe", "released", "direct", "evaporation", "steady", "overflow",
         "drained", "residual", "end"]  # fmt: skip
LINES = """\
2026-07-28 08:00+02:00 | level | reading=45 mm
2026-07-30 08:00+02:00 | fill | barrel=yard; added=150 L; source=tap
2026-07-30 08:10+02:00 | treat | barrel=yard; dose=12 mL
2026-07-30 08:30+02:00 | release | barrel=yard; out=150 L
2026-08-02 08:00+02:00 | rain | depth=4 mm
2026-08-10 08:00+02:00 | level | reading=60 mm
2026-08-12 08:00+02:00 | level | reading=66 mm
"""
WATER = POND.replace('flow = "11 L/min"', 'flow = "11 L/min"\nprice = 4.0') + (
    "[weather]\nmonthly_evaporation_mm = [10, 18, 40, 65, 95, 110, 115, 95, 60, 32, 14, 8]\n"
)


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("socket.gethostname", lambda: "desk.example")
    folder = write_pond(tmp_path / "pond", WATER, hand=LINES)
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    return folder


@pytest.mark.usefixtures("pond")
def test_the_answer_has_its_keys_and_closes() -> None:
    answer = call("water", "--json").json
    assert set(answer) == KEYS
    assert list(answer["terms_l"]) == TERMS
    assert list(answer["uncertainty_l"]) == TERMS
    assert (answer["from"], answer["to"]) == ("2026-07-28", "2026-08-12")
    terms = answer["terms_l"]
    # too few readings tell no steady loss: the sum closes without it, and says so
    assert (terms["steady"], answer["uncertainty_l"]["steady"]) == (0.0, None)
    ins = terms["rain"] + terms["downpipe"] + terms["released"] + terms["direct"]
    outs = sum(terms[n] for n in ("evaporation", "steady", "overflow", "drained", "residual"))
    assert terms["start"] + ins - outs == pytest.approx(terms["end"], abs=1e-9)
    assert terms["rain"] == pytest.approx(4 * 6)
    assert terms["released"] == pytest.approx(150)
    assert answer["tap_l"] == pytest.approx(150)
    assert answer["barrels"] == 1
    assert answer["conditioner_ml"] == pytest.approx(12)
    assert answer["cost"] == pytest.approx(0.60)  # 150 L at 4.00 a m3
    for period in answer["periods"]:
        assert set(period) == KEYS - {"periods"}


@pytest.mark.usefixtures("pond")
def test_the_words_say_what_is_not_known() -> None:
    result = call("water")
    assert result.code == 0
    assert "more daily readings" in result.out
    assert re.search(r"^- steady loss +\?$", result.out, re.M)
    assert re.search(r"^\+ from barrels +150 ", result.out, re.M)


@pytest.mark.usefixtures("pond")
def test_the_days_asked_for_are_the_days_answered() -> None:
    answer = call("water", "--from", "2026-08-01", "--to", "2026-08-05", "--by", "day", "--json")
    assert (answer.json["from"], answer.json["to"]) == ("2026-08-01", "2026-08-05")
    assert [p["from"] for p in answer.json["periods"]] == [f"2026-08-0{n}" for n in range(1, 6)]
    assert answer.json["tap_l"] == 0


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize(
    ("words", "fragments"),
    [
        (("--by", "week"), ("--by: day, month, season, not week",)),
        (("--from", "1 June"), ("--from: a date such as 2026-06-03",)),
        (("--from", "2026-08-10", "--to", "2026-08-01"), ("comes after the last",)),
        (("--as", "html"), ("-o FILE",)),
        (("--as", "pdf"), ("--as: html, not pdf",)),
        (("-o", "x.html"), ("--as html",)),
        (("sideways",), ("takes no words",)),
    ],
)
def test_what_cannot_be_meant_is_refused(
    words: tuple[str, ...], fragments: tuple[str, ...]
) -> None:
    refused(call("water", *words), 2, *fragments)


def test_a_pond_without_readings_is_told_what_it_needs(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text("")
    assert "two readings of the gauge are needed" in call("water").out
    assert set(call("water", "--json").json["terms_l"].values()) == {None}


HOSTILE = "<script>alert(1)</script>\"&\\' <img src=x onerror=alert(2)>"


def test_the_page_is_strict_html_and_loads_nothing(pond: Path, tmp_path: Path) -> None:
    text = (pond / "pond.toml").read_text()
    name = HOSTILE.replace("\\", "\\\\").replace('"', '\\"')
    (pond / "pond.toml").write_text(
        text.replace("Test Pond", name).replace('name = "full"', f'name = "{name}"')
    )
    out = tmp_path / "water.html"
    assert call("water", "--as", "html", "-o", str(out)).code == 0
    page = out.read_text()
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    assert "default-src 'none'" in page
    assert "unsafe" not in page
    tags = {element.tag for element in tree.iter() if isinstance(element.tag, str)}
    assert not tags & {"script", "img", "link", "iframe", "object", "form"}
    names = {key for element in tree.iter() for key in element.attrib}
    assert not [key for key in names if str(key).startswith("on")]
    assert not names & {"style", "src", "href", "xlink:href"}
    assert not re.search(r"url\(|@import", page)
    assert "alert(1)" in "".join(tree.itertext())
    tables = [[c.tag for c in row] for row in tree.iter("tr")]
    assert len(tables) > 20
    assert len(list(tree.iter("{http://www.w3.org/2000/svg}svg"))) >= 2


def test_a_folder_or_the_journal_is_no_place_for_a_page(pond: Path, tmp_path: Path) -> None:
    refused(call("water", "--as", "html", "-o", str(tmp_path)), 3, "a folder, not a file")
    place = pond / "journal" / "x.html"
    refused(call("water", "--as", "html", "-o", str(place)), 3, "own files")


@pytest.mark.usefixtures("pond")
def test_the_export_is_a_row_a_day_in_both_formats() -> None:
    rows = list(csv.DictReader(io.StringIO(call("export", "water", "--as", "csv").out)))
    days = json.loads(call("export", "water", "--as", "json").out)["periods"]
    covered = [row for row in rows if row["end_l"]]
    assert covered[0]["from"] == "2026-07-28"
    assert covered[-1]["to"] == "2026-08-12"
    assert len(rows) == len(days)
    assert sum(float(row["released_l"]) for row in covered) == pytest.approx(150)
    assert covered[0]["steady_uncertainty_l"] == ""


def test_last_season_to_the_same_day_stands_beside(pond: Path) -> None:
    (pond / "journal" / "2025-hand.txt").write_text(LINES.replace("2026-", "2025-"))
    assert "last season to the same day: 174 L in" in call("water").out
    seasons = call("water", "--by", "season", "--json").json["periods"]
    assert seasons[0]["from"] == "2025-07-28"
    assert len(seasons) == 3  # two seasons and the time between
