"""The journal for other programs: nothing is lost, no cell is a formula."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.export import as_csv, as_json, entry_rows
from pondtui.books.journal import read_folder

TZ = ZoneInfo("Europe/Brussels")
TEXT = """\
2026-06-03 07:42 | level | reading=2 1/2 in; temp=64 °F; by=MO | =1+1
2026-06-03 08:04:30+02:00 | fill | barrel=yard; to=856 mm; meter=3 m3 | a, "b"
2026-06-03 08:05:30+02:00 | fill | barrel=yard; to=line |
2026-06-03T08:07:41+02:00 | treat | barrel=yard; dose=13.5 mL; rate=8 mL per 100 L |
2026-06-03 08:20:05+02:00 | test | where=yard; chlorine_total=<0.02 mg/L; ammonia=1 mg/L as N; ph=7 |
2026-06-03 08:21:00+02:00 | test | where=yard; alkalinity=80 mg/L CaCO3 |
2026-06-03 08:22:00+02:00 | weather | day=2026-06-02; tmin=-3 degC; rhmean=65 %; wind=2 m/s; sun=2 h |
2026-06-03 08:23:00+02:00 | sonar | depth=3 fathoms | new
2026-06-03 08:32:00+02:00 | strike | of=2026-06-03 07:42:00+02:00 level |
"""  # noqa: E501 - lines of a journal stand as they are


@pytest.fixture
def rows(tmp_path: Path) -> list[dict[str, Any]]:
    """The rows of a small journal."""
    (tmp_path / "journal").mkdir()
    (tmp_path / "journal" / "2026-hand.txt").write_text(TEXT)
    return entry_rows(read_folder(tmp_path, TZ, None), TZ)


def test_every_entry_is_an_object_with_its_place(rows: list[dict[str, Any]]) -> None:
    assert rows[0] == {
        "stamp": "2026-06-03 07:42:00+02:00",
        "kind": "level",
        "fields": {"reading": "2 1/2 in", "temp": "64 °F", "by": "MO"},
        "values": {
            "reading_mm": pytest.approx(63.5),
            "temp_c": pytest.approx(17.7778, abs=1e-4),
        },
        "note": "=1+1",
        "file": "journal/2026-hand.txt",
        "line": 1,
        "struck": True,
    }
    assert [row["struck"] for row in rows[1:]] == [False] * 8


def test_the_unit_of_a_number_stands_in_its_key(rows: list[dict[str, Any]]) -> None:
    assert [row["values"] for row in rows[1:]] == [
        {"to_mm": 856.0, "meter_l": pytest.approx(3000)},
        {},
        {"dose_ml": pytest.approx(13.5), "rate_ml_per_l": pytest.approx(0.08)},
        {
            "chlorine_total_mg_per_l": 0.02,
            "chlorine_total_below": True,
            "ammonia_n_mg_per_l": 1.0,
            "ph": 7.0,
        },
        {"alkalinity_caco3_mg_per_l": 80.0},
        {"tmin_c": -3.0, "rhmean": 0.65, "wind_m_per_s": 2.0, "sun_min": 120.0},
        {},
        {},
    ]


def test_the_json_is_the_rows(rows: list[dict[str, Any]]) -> None:
    assert json.loads(as_json(rows)) == rows


def test_the_table_holds_every_entry_and_no_formula(rows: list[dict[str, Any]]) -> None:
    table = list(csv.DictReader(io.StringIO(as_csv(rows))))
    assert len(table) == 9
    assert table[0]["note"] == "'=1+1"
    assert table[1]["note"] == 'a, "b"'
    assert table[0]["fields"] == "reading=2 1/2 in; temp=64 °F; by=MO"
    assert (table[0]["struck"], table[1]["struck"]) == ("yes", "no")
    assert table[6]["tmin_c"] == "-3.0"  # a number stays one


@pytest.mark.parametrize("sign", ["=", "+", "-", "@"])
def test_a_note_that_looks_like_a_formula_is_words(rows: list[dict[str, Any]], sign: str) -> None:
    note = f"{sign}cmd()"
    table = list(csv.DictReader(io.StringIO(as_csv([rows[0] | {"note": note}]))))
    assert table[0]["note"] == f"'{note}"
