"""`pondtui --sitter NAME`: who is unknown is told, entries bear the name, the visit is on top."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from pondtui.books.journal import read_folder
from pondtui.cli.words import parse
from tests.cli.calls import NOW, POND, call, refused, write_pond

PEOPLE = """\
[[person]]
name = "Mo"
initials = "MO"
role = "keeper"
[[person]]
name = "Tam"
initials = "TA"
role = "sitter"
"""
LEVELS = """\
2026-08-11 07:40:00+02:00 | level   | reading=62 mm; pump=on; by=MO |
2026-08-13 07:40:40+02:00 | level   | reading=74 mm; pump=on; by=MO |
2026-08-14 07:43:10+02:00 | level   | reading=80 mm; pump=on; by=MO |
"""


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = write_pond(tmp_path / "pond", POND + PEOPLE, desk=LEVELS)
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    return folder


@pytest.mark.parametrize("name", ["Kim", "", "T"])
@pytest.mark.parametrize("words", [(), ("status",), ("add", "level", "62"), ("undo",)])
def test_somebody_unknown_is_told_who_there_is(
    pond: Path, name: str, words: tuple[str, ...]
) -> None:
    before = (pond / "journal" / "2026-desk.txt").read_text()
    refused(call("--sitter", name, *words), 2, "there is Mo, Tam")
    assert (pond / "journal" / "2026-desk.txt").read_text() == before


def test_a_pond_without_persons_says_so(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "other")
    refused(call("--pond", str(folder), "--sitter", "Tam"), 2, "there is nobody")


def test_without_a_pond_nothing_is_asked() -> None:
    refused(call("--sitter", "Tam", terminal=False), 2, "there is no pond yet")


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize("name", ["Tam", "tam", "TA"])
def test_the_status_begins_with_the_visit(name: str) -> None:
    call("sheet", "2026-08-14", "2026-08-17", "--sitter", "Tam", now=_later(-1))
    told = call("--sitter", name, "status").out
    assert told.startswith("TODAY, about 18:00: visit 1 of 4\n")
    assert "1.3  Read the gauge" in told
    assert "level " in told
    found = call("--sitter", name, "status", "--json").json
    assert found["visit"]["number"] == 1
    assert found["visit"]["tasks"][2]["number"] == "1.3"
    assert "level_mm" in found
    assert "visit" not in call("status", "--json").json


@pytest.mark.usefixtures("pond")
def test_without_an_absence_the_status_says_so() -> None:
    assert call("--sitter", "Tam", "status").out.startswith("No absence is planned.\n")
    assert call("--sitter", "Tam", "status", "--json").json["visit"] is None


@pytest.mark.usefixtures("pond")
def test_the_app_without_a_terminal_is_the_status_of_the_visit() -> None:
    done = call("--sitter", "Tam")
    assert done.code == 0
    assert done.out.startswith("No absence is planned.\n")


@pytest.mark.usefixtures("pond")
def test_an_entry_bears_the_sitters_name_and_a_task_is_ticked_by_its_number() -> None:
    call("sheet", "2026-08-14", "2026-08-17", "--sitter", "Tam", now=_later(-1))
    done = call("--sitter", "TA", "add", "level", "reading=81 mm", "-m", "task 1.3")
    assert "by=Tam" in done.out
    assert "gauge: 81 mm" in call("--sitter", "Tam", "status").out


def test_a_sitter_takes_back_own_entries_only(pond: Path) -> None:
    refused(call("--sitter", "Tam", "undo"), 2, "no entry that could be taken back")
    call("--sitter", "Tam", "add", "note", "-m", "heron")
    call("add", "note", "-m", "of the keeper", now=_later(1))
    assert "heron" in call("--sitter", "Tam", "undo", now=_later(1)).out
    live = read_folder(pond, UTC, None).live
    assert "of the keeper" in [e.note for e in live]
    assert "heron" not in [e.note for e in live]


@pytest.mark.usefixtures("pond")
def test_of_sheet_and_away_the_option_is_still_who_comes() -> None:
    done = call("sheet", "2026-08-14", "2026-08-17", "--sitter", "Kim")
    assert done.code == 0
    assert "For Kim." in done.out


def test_the_mode_is_asked_for_in_front_of_the_verb() -> None:
    assert parse(["--sitter", "Tam", "status"]).get("sitter") == "Tam"
    assert parse(["sample", "--sitter", "Tam"]).get("sitter") == "Tam"


def _later(days: int) -> datetime:
    return NOW.replace(day=NOW.day + days)
