"""`sheet` and `import report` as called: forms, files and their rights, the way back."""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path

import pytest

from tests.cli.calls import POND, call, refused, write_pond

# the clock of these calls stands at 2026-08-14 18:20 by the pond's time
LEVELS = """\
2026-08-10 17:00:00+02:00 | level | reading=60 mm |
2026-08-12 17:00:00+02:00 | level | reading=70 mm |
2026-08-14 17:00:00+02:00 | level | reading=80 mm |
"""
DAYS = ("2026-08-16", "2026-08-18")
HOUSE = """
[[person]]
name = "Mo"
role = "keeper"
phone = "0470 555 123"
[house]
gate_code = "4711"
"""


@pytest.fixture
def pond(pond: Path) -> Path:
    (pond / "pond.toml").write_text(POND + HOUSE)
    (pond / "journal" / "2026-hand.txt").write_text(LEVELS)
    return pond


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize(
    ("form", "begins"),
    [("text", "CARE SHEET"), ("markdown", "# Care sheet"), ("html", "<!DOCTYPE html>"),
     ("ics", "BEGIN:VCALENDAR")],
)  # fmt: skip
@pytest.mark.usefixtures("pond")
def test_each_form_is_printed(form: str, begins: str) -> None:
    result = call("sheet", *DAYS, "--as", form)
    assert result.code == 0
    assert result.out.startswith(begins)


@pytest.mark.usefixtures("pond")
def test_the_keeper_is_told_on_the_side_what_to_see_to() -> None:
    result = call("sheet", *DAYS)
    assert "before you leave: rehearse" in result.err
    assert "rehearse one whole barrel" not in result.out


def test_a_file_is_written_and_said(pond: Path, tmp_path: Path) -> None:
    target = tmp_path / "out" / "care sheet.html"
    result = call("sheet", *DAYS, "--as", "html", "-o", str(target))
    assert result.out == f"written: {target}\n"
    assert target.read_text().startswith("<!DOCTYPE html>")
    assert "4711" not in target.read_text()
    assert (pond / "sheets").is_dir()


def test_private_details_make_the_file_its_owners_alone(pond: Path, tmp_path: Path) -> None:
    target = tmp_path / "sheet.txt"
    target.write_text("an older one")
    target.chmod(0o644)
    link = tmp_path / "link.txt"
    link.symlink_to(target)
    assert call("sheet", *DAYS, "--private", "-o", str(link)).code == 0
    assert mode(target) == 0o600
    assert link.is_symlink()
    assert "0470 555 123" in target.read_text()
    kept = "".join(path.read_text() for path in (pond / "sheets").iterdir())
    assert "0470" not in kept
    assert "4711" not in kept


@pytest.mark.parametrize(
    "name", ["journal/2026-hand.txt", "pond.toml", "weather/x.csv", "sheets/../pond.toml", "."]
)
def test_the_ponds_own_files_are_never_written_over(pond: Path, name: str) -> None:
    before = (pond / "pond.toml").read_text()
    result = call("sheet", *DAYS, "-o", str(pond / name))
    refused(result, 3)
    assert (pond / "pond.toml").read_text() == before
    assert (pond / "journal" / "2026-hand.txt").read_text() == LEVELS


def test_a_link_does_not_lead_around_that(pond: Path, tmp_path: Path) -> None:
    (tmp_path / "innocent.txt").symlink_to(pond / "pond.toml")
    refused(call("sheet", *DAYS, "-o", str(tmp_path / "innocent.txt")), 3, "own files")


@pytest.mark.parametrize(
    ("words", "fragment"),
    [
        (("2026-08-18", "2026-08-16"), "turn them round"),
        (("2026-08-16", "2027-08-16"), "at most 92"),
        (("2026-08-16",), "two dates"),
        (("2026-08-16", "2026-02-30"), "a date such as"),
        (("tomorrow", "2026-08-16"), "a date such as"),
        ((*DAYS, "--as", "pdf"), "one of text"),
        ((*DAYS, "--units", "cubits"), "one of metric"),
        ((*DAYS, "--sitter", "a;b"), "name"),
        ((*DAYS, "-o", ""), "name the file"),
        (("--as", "ics"), "needs the days"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    pond: Path, words: tuple[str, ...], fragment: str
) -> None:
    refused(call("sheet", *words), 2, fragment)
    assert not (pond / "sheets").exists()


def test_the_next_absence_of_the_journal_gives_days_and_sitter(pond: Path) -> None:
    (pond / "journal" / "2026-desk.txt").write_text(
        "2026-08-01 08:00:00+02:00 | away | from=2026-08-02; to=2026-08-03; sitter=Old |\n"
        "2026-08-14 08:00:00+02:00 | away | from=2026-08-20; to=2026-08-21; sitter=Kim |\n"
    )
    answer = call("sheet", "--json").json
    assert (answer["from"], answer["to"]) == ("2026-08-20", "2026-08-21")
    assert answer["sitter"] == "Kim"
    assert len(answer["visits"]) == 2


@pytest.mark.usefixtures("pond")
def test_json_names_the_visits_by_their_keys() -> None:
    answer = call("sheet", *DAYS, "--json").json
    first = answer["visits"][0]
    assert {"date", "barrel", "add_l", "dose_ml", "release_l"} <= set(first)
    assert first["barrel"] == "yard"
    assert first["release_l"] == pytest.approx(180)  # 0.25 m2, from 80 to 800 mm
    assert answer["text"].startswith("CARE SHEET")


def test_a_read_only_folder_gives_its_sheet_all_the_same(
    pond: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pondtui.cli import sheet
    from pondtui.errors import FileError

    def full(*_: object) -> None:
        raise FileError("the disk is full")

    monkeypatch.setattr(sheet, "keep_record", full)
    result = call("sheet", *DAYS)
    assert result.code == 0
    assert result.out.startswith("CARE SHEET")
    assert "will not find its tasks" in result.err
    assert not (pond / "sheets").exists()


# --- the way back ---------------------------------------------------------------------------------


def report(folder: Path, text: str) -> str:
    path = folder.parent / "report.txt"
    path.write_text(text)
    return str(path)


def journal(folder: Path) -> str:
    return "".join(p.read_text() for p in sorted((folder / "journal").glob("2026-desk*.txt")))


def test_a_report_is_shown_and_taken_once(pond: Path) -> None:
    call("sheet", *DAYS, "--sitter", "Kim")
    name = report(pond, "> 1.1 ok 1.3 81 mm\n1.5 no: forgot\n1.7 ok\n\nBye!\n")
    first = call("import", "report", name, "--yes")
    assert first.code == 0
    assert "written: 4 entries" in first.out
    assert "not understood: no number: Bye!" in first.out
    assert "not answered: 1.2" in first.out
    lines = journal(pond).splitlines()
    assert len(lines) == 4
    assert all("by=Kim" in line for line in lines)
    assert "2026-08-16 18:03:00+02:00 | level   | reading=81 mm; by=Kim | task 1.3" in lines
    again = call("import", "report", name, "--yes")
    assert "nothing new" in again.out
    assert journal(pond).splitlines() == lines


def test_pasted_twice_in_one_file_it_is_taken_once(pond: Path) -> None:
    call("sheet", *DAYS)
    text = "1.1 ok 1.3 81 mm\n"
    call("import", "report", report(pond, text + text + "> " + text), "--yes")
    assert len(journal(pond).splitlines()) == 2


def test_another_answer_to_what_is_there_is_not_taken_but_told(pond: Path) -> None:
    call("sheet", *DAYS)
    call("import", "report", report(pond, "1.3 81 mm"), "--yes")
    result = call("import", "report", report(pond, "1.3 91 mm 1.1 ok"), "--yes")
    assert "1.3: the journal holds another answer" in result.out
    assert "91 mm" not in journal(pond)
    assert len(journal(pond).splitlines()) == 2


def test_a_struck_answer_is_not_taken_again(pond: Path) -> None:
    call("sheet", *DAYS)
    name = report(pond, "1.3 81 mm")
    call("import", "report", name, "--yes")
    call("undo")
    assert "nothing new" in call("import", "report", name, "--yes").out


def test_nothing_is_written_without_a_yes(pond: Path) -> None:
    call("sheet", *DAYS)
    result = call("import", "report", report(pond, "1.3 81 mm"))
    assert result.code == 2
    assert "--yes" in result.err
    assert "reading=81 mm" in result.out  # shown all the same
    assert journal(pond) == ""


def test_the_code_in_the_report_finds_an_older_sheet(pond: Path) -> None:
    old = call("sheet", *DAYS, "--json", "--sitter", "Kim").json["sheet"]
    new = call("sheet", "2026-09-01", "2026-09-03", "--sitter", "Lou", "--json").json["sheet"]
    assert old != new
    call("import", "report", report(pond, f"sheet {old.lower()}\n1.3 81 mm"), "--yes")
    assert "2026-08-16 18:03:00+02:00 | level   | reading=81 mm; by=Kim" in journal(pond)


def test_a_report_without_its_sheet_says_the_way_out(pond: Path) -> None:
    name = report(pond, "1.1 ok")
    refused(call("import", "report", name, "--yes"), 3, "pondtui sheet FROM TO")
    call("sheet", *DAYS)
    other = report(pond, "sheet ZZZZZ\n1.1 ok")
    refused(call("import", "report", other, "--yes"), 3, "no sheet ZZZZZ")


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '{"format": 1}', "[" * 100_000, "\xff"])
def test_a_spoilt_record_is_passed_over(pond: Path, text: str) -> None:
    call("sheet", *DAYS)
    (pond / "sheets" / "2099-01-01-AAAAA.json").write_text(text, encoding="latin-1")
    result = call("import", "report", report(pond, "1.1 ok"), "--yes")
    assert (result.code, result.err) == (0, "")


@pytest.mark.usefixtures("pond")
def test_a_report_in_json_names_everything(pond: Path) -> None:
    call("sheet", *DAYS)
    name = report(pond, "1.1 ok 1.3 ok")
    answer = json.loads(call("import", "report", name, "--yes", "--json").out)
    assert answer["written"] == 1
    assert answer["not_understood"] == ["1.3: asks for a number of mm, not ok"]
    assert "1.2" in answer["not_answered"]


def test_an_american_sitter_answers_in_gallons_and_inches(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "us", POND, hand=LEVELS)
    call("--pond", str(folder), "sheet", *DAYS, "--units", "us")
    name = report(folder, "1.3 3 1/8\n1.7 45 gal\n")
    result = call("--pond", str(folder), "import", "report", name, "--yes")
    assert "not understood" not in result.out
    files = [p for p in (folder / "journal").iterdir() if "hand" not in p.name]
    text = "".join(p.read_text() for p in files)
    assert "reading=3 1/8 in" in text
    assert "out=45 US gal" in text


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path, pond: Path) -> None:
    shut = tmp_path / "shut"
    shut.mkdir(mode=0o500)
    assert (pond / "pond.toml").exists()
    refused(call("sheet", *DAYS, "-o", str(shut / "x.txt")), 3, "not saved")
