"""A journal folder is read whole, whatever lies in it, and reading never fails."""

from __future__ import annotations

import gc
import os
import random
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pondtui.books import journal as journal_module
from pondtui.books.journal import Journal, read_folder
from pondtui.pond.state.live import Live

TZ = ZoneInfo("Europe/Brussels")


def write(folder: Path, **files: str | bytes) -> Path:
    """Put files into the journal of a pond's folder; `_` in a name stands for `-`."""
    (folder / "journal").mkdir(exist_ok=True)
    for name, text in files.items():
        data = text if isinstance(text, bytes) else text.encode()
        (folder / "journal" / f"{name.strip('_').replace('_', '-')}.txt").write_bytes(data)
    return folder


def read(folder: Path) -> Journal:
    """The journal of that folder."""
    return read_folder(folder, TZ, None)


def level(stamp: str, note: str = "") -> str:
    """A line with a reading."""
    return f"{stamp} | level | reading=62 mm | {note}".rstrip() + "\n"


def test_a_pond_without_a_journal_is_empty(tmp_path: Path) -> None:
    assert read(tmp_path) == Journal([], Live(), frozenset(), [], [], False, False)


def test_every_text_file_is_read_and_merged(tmp_path: Path) -> None:
    write(
        tmp_path,
        _2026_desk=level("2026-06-03 07:42+02:00"),
        _2026_phone=level("2026-06-03 05:41Z"),
        _2025_hand="# by hand\n\n" + level("2025-06-03 07:42+02:00"),
        garden_notes=level("2024-06-03 07:42+02:00"),
    )
    (tmp_path / "journal" / "readme.md").write_text("no entries\n")
    (tmp_path / "journal" / ".2026-desk.txt").write_text("an editor's own\n")
    found = read(tmp_path)
    assert [entry.stamp[:16] for entry in found.entries] == [
        "2024-06-03 07:42",
        "2025-06-03 07:42",
        "2026-06-03 05:41",
        "2026-06-03 07:42",
    ]
    assert [(entry.path, entry.line) for entry in found.entries][1] == ("journal/2025-hand.txt", 3)
    assert (found.problems, found.read_only, found.partial) == ([], False, False)
    first = found.files[0]
    assert (first.path, first.lines, first.entries) == ("journal/2025-hand.txt", 3, 1)


def test_lines_of_other_systems_and_a_mark_at_the_start_are_taken(tmp_path: Path) -> None:
    text = b"\xef\xbb\xbf" + level("2026-06-03 07:42Z", "a").encode().replace(b"\n", b"\r\n")
    write(tmp_path, _2026_hand=text + b"\r\n" + level("2026-06-03 07:43Z").encode())
    assert [entry.note for entry in read(tmp_path).entries] == ["a", ""]
    assert read(tmp_path).problems == []


def test_only_a_line_feed_ends_a_line(tmp_path: Path) -> None:
    note = "a\x0bb\x0cc\x1cd\x1de\x1ef\x85g\u2028h\u2029i\rj"
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z", note))
    (entry,) = read(tmp_path).entries
    assert len(entry.note) == len(note)
    assert entry.note.isprintable()


def test_a_bad_line_is_listed_and_the_others_count(tmp_path: Path) -> None:
    text = level("2026-06-03 07:42Z") + "2026-06-03 | level | reading=6 L\n" + "x\n"
    write(tmp_path, _2026_desk=text + level("2026-06-03 07:43Z"))
    found = read(tmp_path)
    assert len(found.entries) == 2
    assert [(each.path, each.line, each.column) for each in found.problems] == [
        ("journal/2026-desk.txt", 2, 1),
        ("journal/2026-desk.txt", 2, 22),
        ("journal/2026-desk.txt", 3, 1),
    ]
    assert found.problems[0].text == "2026-06-03 | level | reading=6 L"


def test_a_last_line_without_an_end_counts_if_it_can_be_read(tmp_path: Path) -> None:
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z").rstrip("\n"))
    found = read(tmp_path)
    assert (len(found.entries), found.problems, found.files[0].torn) == (1, [], False)


def test_a_last_line_without_an_end_that_cannot_be_read_is_torn(tmp_path: Path) -> None:
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z") + "2026-06-03 07:43Z | lev")
    torn = read(tmp_path)
    assert torn.entries[-1].kind == "lev"  # a word that a newer program may know
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z") + "2026-06-03 07:4")
    found = read(tmp_path)
    assert len(found.entries) == 1
    assert found.problems[0].message.startswith("the last line is torn, write it again: ")
    assert found.files[0].torn


def test_the_marks_of_a_merge_spoil_only_their_own_lines(tmp_path: Path) -> None:
    text = (
        "<<<<<<< HEAD\n"
        + level("2026-06-03 07:42Z", "ours")
        + "=======\n"
        + level("2026-06-03 07:43Z", "theirs")
        + ">>>>>>> theirs\n"
    )
    write(tmp_path, _2026_desk=text)
    found = read(tmp_path)
    assert [entry.note for entry in found.entries] == ["ours", "theirs"]
    assert [each.line for each in found.problems] == [1, 3, 5]


def test_a_conflict_copy_changes_nothing(tmp_path: Path) -> None:
    text = "".join(level(f"2026-06-03 07:4{minute}Z") for minute in range(9))
    write(tmp_path, _2026_desk=text)
    before = read(tmp_path)
    (tmp_path / "journal" / "2026-desk.sync-conflict-1.txt").write_text(text)
    after = read(tmp_path)
    assert after.entries == before.entries
    assert [each.severity for each in after.problems] == ["remark"]


def test_strikes_work_over_files(tmp_path: Path) -> None:
    write(
        tmp_path,
        _2026_desk=level("2026-06-03 07:42Z"),
        _2026_phone="2026-06-04 07:42Z | strike | of=2026-06-03 09:42:00+02:00 level |\n",
    )
    found = read(tmp_path)
    assert [entry.kind for entry in found.live] == ["strike"]
    assert [found.is_struck(entry) for entry in found.entries] == [True, False]
    assert found.taken() == {(entry.instant, entry.kind) for entry in found.entries}


def test_a_huge_file_is_left_out_and_the_pond_is_read_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_module, "LARGEST", 100)
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z"), _2026_hand="# words\n" * 13)
    found = read(tmp_path)
    assert len(found.entries) == 1
    assert found.read_only
    assert found.problems[0].path == "journal/2026-hand.txt"
    assert "larger than 20 MiB" in found.problems[0].message


def test_a_folder_or_a_pipe_in_place_of_a_file_is_a_problem(tmp_path: Path) -> None:
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z"))
    (tmp_path / "journal" / "old.txt").mkdir()
    os.mkfifo(tmp_path / "journal" / "pipe.txt")
    found = read(tmp_path)
    assert [each.path for each in found.problems] == ["journal/old.txt", "journal/pipe.txt"]
    assert not found.read_only
    assert len(found.entries) == 1


def test_a_file_that_cannot_be_opened_makes_the_pond_read_only(tmp_path: Path) -> None:
    write(tmp_path, _2026_desk=level("2026-06-03 07:42Z"))
    (tmp_path / "journal" / "2026-phone.txt").symlink_to(tmp_path / "gone.txt")
    found = read(tmp_path)
    assert found.read_only
    assert "cannot be read" in found.problems[0].message


def test_a_file_in_place_of_the_journal_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "journal").write_text("x")
    found = read(tmp_path)
    assert found.read_only
    assert "the journal is not read: a file stands where a folder belongs" in str(found.problems[0])


def test_a_link_to_a_file_is_read(tmp_path: Path) -> None:
    write(tmp_path)
    (tmp_path / "elsewhere").write_text(level("2026-06-03 07:42Z"))
    (tmp_path / "journal" / "2026-desk.txt").symlink_to(tmp_path / "elsewhere")
    assert len(read(tmp_path).entries) == 1


def test_the_newest_file_of_each_device_comes_first(tmp_path: Path) -> None:
    write(
        tmp_path,
        _2025_desk=level("2025-06-03 07:42Z"),
        _2026_desk=level("2026-06-03 07:42Z"),
        _2024_phone=level("2024-06-03 07:42Z"),
        other=level("2020-06-03 07:42Z"),
    )
    found = read_folder(tmp_path, TZ, None, years="newest")
    assert [entry.stamp[:4] for entry in found.entries] == ["2020", "2024", "2026"]
    assert found.partial
    assert not read(tmp_path).partial


def test_the_collector_is_left_as_it_was(tmp_path: Path) -> None:
    assert gc.isenabled()
    read(tmp_path)
    assert gc.isenabled()


LINES = st.lists(
    st.sampled_from(
        [
            "2026-06-03 07:42Z | level | reading=62 mm | a",
            "2026-06-03 07:42Z | level | reading=62 mm | b",
            "2026-06-03 07:42Z | fill | barrel=yard; added=9 L |",
            "2026-06-03 07:42Z | tick | step=mix |",
            "2026-06-03 09:42+02:00 | tick | step=mix |",
            "2026-06-03 07:43Z | strike | of=2026-06-03 07:42Z level |",
            "2026-06-03 07:44Z | strike | of=2026-06-03 07:43Z strike |",
            "2026-06-03 07:44Z | strike | of=2026-06-03 07:44Z strike | itself",
            "2026-06-03 07:44Z | sonar | x=1 |",
            "# words",
            "nonsense",
        ]
    ),
    max_size=12,
)


@given(LINES, LINES, st.randoms(use_true_random=False))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_how_lines_are_spread_over_files_does_not_matter(
    tmp_path: Path, lines: list[str], repeated: list[str], rng: random.Random
) -> None:
    def folder(name: str, files: list[list[str]]) -> Path:
        path = tmp_path / name
        (path / "journal").mkdir(parents=True, exist_ok=True)
        for place, part in enumerate(files):
            text = "".join(f"{line}\n" for line in part)
            (path / "journal" / f"{place}.txt").write_text(text)
        return path

    split: list[list[str]] = [[], [], []]
    again = [line for line in repeated if line in lines]
    for line in rng.sample(lines, len(lines)) + again:
        rng.choice(split).append(line)
    one, other = read(folder("one", [lines])), read(folder("other", split))
    assert one.entries == other.entries
    assert [entry.stamp for entry in one.entries] == [entry.stamp for entry in other.entries]
    assert one.live == other.live
    assert one.struck == other.struck
