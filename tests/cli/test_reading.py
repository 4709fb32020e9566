"""`journal`, `check`, `export`, `where` and `help`: reading, and nothing but reading."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from pondtui.cli.verbs import VERBS
from pondtui.pond.state.kinds import KINDS
from tests.cli.calls import call, refused

LINES = """\
2026-08-01 10:00:00+02:00 | level   | reading=62 mm; pump=on | calm
2026-08-02 10:00:00+02:00 | level   | reading=86 mm; pump=on | wrong
2026-08-02 10:05:00+02:00 | strike  | of=2026-08-02 10:00:00+02:00 level |
2026-08-03 10:00:00+02:00 | note    | | Heron at dawn
"""


@pytest.fixture
def kept(pond: Path) -> Path:
    (pond / "journal" / "2026-desk.txt").write_text(LINES)
    return pond


@pytest.mark.usefixtures("kept")
def test_the_journal_shows_the_newest_first_and_marks_what_was_struck() -> None:
    lines = call("journal").out.splitlines()
    assert [line[7:17] for line in lines] == [
        "2026-08-03",
        "2026-08-02",
        "2026-08-02",
        "2026-08-01",
    ]
    assert [line.startswith("struck ") for line in lines] == [False, False, True, False]


@pytest.mark.usefixtures("kept")
def test_the_journal_is_searched_without_regard_to_capitals() -> None:
    assert len(call("journal", "heron", "NOTE").out.splitlines()) == 1
    assert call("journal", "heron", "level").out == "no entry holds these words\n"
    assert len(call("journal", "--last", "2", "level").out.splitlines()) == 2


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize("text", ["0", "-1", "x", "", "1.5", "nan", "9" * 30])
def test_a_count_that_is_none_is_refused(text: str) -> None:
    refused(call("journal", "--last", text), 2, "--last")


@pytest.mark.usefixtures("pond")
def test_an_empty_journal_says_so() -> None:
    assert call("journal").out == "the journal has no entries yet\n"
    assert call("journal", "--json").json == {"entries": []}


@pytest.mark.usefixtures("kept")
def test_the_journal_in_json_carries_the_unit_in_the_key() -> None:
    entry = call("journal", "--json", "calm").json["entries"][0]
    assert entry["values"] == {"reading_mm": 62.0}
    assert entry["struck"] is False
    assert entry["line"] == 1


def test_lines_that_cannot_be_read_are_told_beside_the_answer(kept: Path) -> None:
    (kept / "journal" / "2026-hand.txt").write_text("garbage\nmore garbage\n")
    result = call("journal")
    assert len(result.out.splitlines()) == 4
    assert "2026-hand.txt:1" in result.err
    assert "1 more" in result.err
    assert result.code == 0


@pytest.mark.usefixtures("kept")
def test_check_finds_nothing_wrong_with_a_sound_pond() -> None:
    assert call("check").code == 0
    assert call("check", "--json").json["problems"] == []


def test_check_shows_the_place_the_line_and_a_caret(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text("2026-08-01 10:00Z | level | reading=3 kg\n")
    result = call("check")
    place, line, caret = result.out.splitlines()[:3]
    assert place.startswith("journal/2026-hand.txt:1:29: reading")
    assert line.strip() == "2026-08-01 10:00Z | level | reading=3 kg"
    assert line[caret.index("^")] == "r"
    assert result.code == 1


def test_check_ends_with_0_where_there_are_only_remarks(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text("2026-08-01 10:00 | juggle | balls=3\n")
    result = call("check")
    assert "remark: there is no kind juggle" in result.out
    assert result.code == 0


def test_check_remarks_on_what_lies_in_the_future_or_nowhere(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text(
        "2027-08-01 10:00:00Z | note | | later\n"
        "2026-08-01 10:00:00Z | fill | barrel=lost; added=3 L |\n"
    )
    answer = call("check", "--json").json
    messages = " ".join(remark["message"] for remark in answer["remarks"])
    assert "in the future" in messages
    assert "no barrel is called lost" in messages
    assert answer["problems"] == []


def test_check_names_the_place_in_a_description_that_is_no_toml(pond: Path) -> None:
    (pond / "pond.toml").write_text("format = 1\n[pond\n")
    result = call("check", "--json")
    assert result.code == 1
    problem = result.json["problems"][0]
    assert set(problem) == {"file", "line", "column", "message"}
    assert (problem["file"], problem["line"]) == ("pond.toml", 2)
    assert result.err == ""


def test_a_long_line_is_shown_around_its_place(pond: Path) -> None:
    line = f"2026-08-01 10:00Z | level | reading=3 mm; temp={'9' * 400}"
    (pond / "journal" / "2026-hand.txt").write_text(line + "\n")
    shown = call("check").out.splitlines()
    assert max(len(row) for row in shown[1:]) <= 104
    assert shown[1][shown[2].index("^")] == "t"


@pytest.mark.usefixtures("kept")
def test_the_export_as_json_and_as_a_table_hold_the_same_entries() -> None:
    rows = call("export", "entries", "--as", "json").json
    assert call("export", "entries", "--json").json == rows
    table = list(csv.DictReader(io.StringIO(call("export", "entries").out)))
    assert [row["stamp"] for row in table] == [row["stamp"] for row in rows]
    assert [row["struck"] for row in rows] == [False, True, False, False]


@pytest.mark.usefixtures("kept")
def test_the_export_can_go_to_a_file(tmp_path: Path) -> None:
    target = tmp_path / "out.json"
    assert call("export", "entries", "--as", "json", "-o", str(target)).code == 0
    assert len(json.loads(target.read_text())) == 4


@pytest.mark.parametrize(
    ("words", "code", "fragment"),
    [
        ([], 2, "pondtui export entries"),
        (["watre"], 2, "pondtui export entries"),
        (["entries", "--as", "xml"], 2, "csv or json, not xml"),
        (["entries", "-o", "{pond}"], 3, "a folder, not a file"),
        (["entries", "-o", ""], 3, "name the file to write"),
        (["entries", "-o", "{pond}/pond.toml/x"], 3, "not saved"),
        (["entries", "-o", "{pond}/journal/2026-desk.txt"], 3, "one of the pond's own files"),
    ],
)
def test_an_export_that_cannot_be_made_is_refused(
    kept: Path, words: list[str], code: int, fragment: str
) -> None:
    refused(call("export", *[w.format(pond=kept) for w in words]), code, fragment)
    assert (kept / "journal" / "2026-desk.txt").read_text() == LINES


def test_where_names_what_is_in_use(kept: Path) -> None:
    answer = call("where", "--json").json
    assert answer["pond_folder"] == str(kept)
    assert answer["device"] == "desk"
    assert answer["journal_files"][0]["entries"] == 4
    assert str(kept) in call("where").out


def test_where_works_without_a_pond() -> None:
    result = call("where", "--json")
    assert result.code == 0
    assert result.json["pond_folder"] is None


def test_reading_writes_nothing(kept: Path) -> None:
    def everything() -> dict[str, bytes]:
        return {str(p): p.read_bytes() for p in kept.parent.rglob("*") if p.is_file()}

    before = everything()
    for words in (["journal"], ["check"], ["export", "entries"], ["where"], ["worksheet"]):
        call(*words)
    assert everything() == before


@pytest.mark.parametrize("topic", [*filter(None, VERBS), *KINDS, "entries", "values", "exit-codes"])
def test_there_is_help_on_every_verb_and_kind(topic: str) -> None:
    result = call("help", topic)
    assert result.code == 0
    assert topic in result.out or topic in ("values", "exit-codes", "entries")
    assert max(len(line) for line in result.out.splitlines()) <= 80


def test_the_help_of_a_verb_is_reached_from_the_verb() -> None:
    assert call("add", "--help") == call("help", "add")
    assert call("journal", "-h") == call("help", "journal")
    assert call("-h") == call("help")


def test_help_on_nothing_known_names_the_nearest() -> None:
    refused(call("help", "levle"), 2, "no help on 'levle' (did you mean level?)")


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize("verb", ["check", "where"])
def test_verbs_without_words_refuse_them(verb: str) -> None:
    refused(call(verb, "extra"), 2, "takes no words: leave out 'extra'")
