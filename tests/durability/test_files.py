"""Files as editors, synchronisers, git and broken disks leave them."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pondtui.books.folder import GIT_ATTRIBUTES
from pondtui.books.journal import read_folder
from pondtui.books.lines import render
from pondtui.books.store import Store
from tests.durability.lines import NAME, ZONE, entry
from tests.tui.ponds import LEVELS, session_on, write_pond
from tests.tui.terminal import ROOT

LINES = [render(entry(number)).encode() for number in range(6)]
TEXT = b"".join(line + b"\n" for line in LINES)
MIB = 1024 * 1024


def _pond(tmp_path: Path, **files: bytes) -> Path:
    (tmp_path / "journal").mkdir(exist_ok=True)
    for name, data in files.items():
        (tmp_path / "journal" / name).write_bytes(data)
    return tmp_path


ODD = {  # what stands in the third line, and whether the line still counts
    "CRLF": (LINES[2] + b"\r", True),
    "a mark at the start": (b"\xef\xbb\xbf" + LINES[2], True),
    "NUL in the note": (LINES[2] + b"\0\0", True),
    "NUL in the stamp": (b"\0" + LINES[2], False),
    "all NUL": (bytes(700), False),
    "a lone surrogate": (LINES[2] + b" \xed\xa0\x80", True),
    "invalid UTF-8": (LINES[2] + b" \xff\xfe\xc3", True),
    "invalid UTF-8 in a value": (LINES[2].replace(b"2 mm", b"\xff mm"), False),
    "a megabyte of note": (LINES[2] + b"x" * MIB, False),
    "a megabyte of nothing": (b"|" * MIB, False),
    "a megabyte of fields": (LINES[2].replace(b"by=MO", b"by=MO;" * 170_000), False),
}


@pytest.mark.parametrize("odd", ODD)
def test_an_odd_line_spoils_no_other_and_is_named_or_counts(tmp_path: Path, odd: str) -> None:
    line, counts = ODD[odd]
    data = TEXT.replace(LINES[2], line)
    pond = _pond(tmp_path, **{NAME: data})
    begin = time.process_time()
    journal = read_folder(pond, ZONE, None)
    assert time.process_time() - begin < 2
    assert len(journal.entries) == (6 if counts else 5)
    assert all(len(problem.text) < 20_000 for problem in journal.problems)
    if not counts:
        assert {problem.line for problem in journal.problems} == {3}
    saved = Store(pond, "desk").append(entry(9))
    assert (pond / "journal" / NAME).read_bytes() == data + saved.line.encode() + b"\n"


def test_a_journal_of_200_mib_is_refused_in_one_sentence_with_little_time_and_memory(
    tmp_path: Path,
) -> None:
    folder = write_pond(tmp_path / "pond")
    with (folder / "journal/2025-hand.txt").open("wb") as file:
        file.truncate(200 * MIB)
    environ = {"PATH": os.environ["PATH"], "HOME": str(tmp_path),
               "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}  # fmt: skip
    program = [sys.executable, "-m", "pondtui", "--pond", str(folder)]

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*program, *words], cwd=ROOT, env=environ, capture_output=True, text=True, check=False,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (400 * MIB, 400 * MIB)),
        )  # fmt: skip

    begin = time.perf_counter()
    told = run("check")
    assert told.returncode == 1
    assert "2025-hand.txt" in told.stdout
    assert "larger than 20 MiB and left out: split it by years" in told.stdout
    refused = run("add", "note", "-m", "heron")
    assert refused.returncode == 3
    assert len(refused.stderr.splitlines()) == 1
    assert "read-only" in refused.stderr
    assert time.perf_counter() - begin < 15
    assert (folder / "journal/2026-desk.txt").read_text(encoding="utf-8") == LEVELS
    (folder / "journal/2025-hand.txt").unlink()
    assert run("add", "note", "-m", "heron").returncode == 0


@pytest.mark.parametrize(
    "copy",
    [
        "2026-desk (conflicted copy 2026-08-14).txt",  # words and a day in brackets
        "2026-desk.conflict-20260814-182000-K7QX2A.txt",  # a stamp and the device's letters
        "2026-desk (1).txt",  # a number in brackets
        "2026-desk-phone's copy.txt",
    ],
)
def test_a_synchroniser_s_conflict_copy_doubles_nothing_and_what_is_only_in_it_counts(
    tmp_path: Path, copy: str
) -> None:
    mine = TEXT + render(entry(20, "mine")).encode() + b"\n"
    theirs = TEXT + render(entry(21, "theirs")).encode() + b"\n"
    pond = _pond(tmp_path, **{NAME: mine, copy: theirs})
    journal = read_folder(pond, ZONE, None)
    assert [found.instant - entry(0).instant for found in journal.entries] == [*range(6), 20, 21]
    assert all(problem.severity == "remark" for problem in journal.problems)
    Store(pond, "desk").append(entry(22))
    assert (pond / "journal" / copy).read_bytes() == theirs


def _git(folder: Path, *words: str) -> str:
    program = ["git", "-c", "user.name=keeper", "-c", "user.email=keeper@example.invalid"]
    environ = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull}
    done = subprocess.run([*program, *words], cwd=folder, env=environ, capture_output=True,
                          text=True, check=False)  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def _branch(folder: Path, name: str, device: str, numbers: range) -> None:
    """What one device wrote, on a branch of its own."""
    _git(folder, "checkout", "-q", "-b", name, "main")
    store = Store(folder, device)
    for number in numbers:
        store.append(entry(number, name))
    _git(folder, "add", "-A")
    _git(folder, "commit", "-q", "-m", name)


@pytest.mark.skipif(shutil.which("git") is None, reason="no git here")
@pytest.mark.parametrize("devices", [("desk", "phone"), ("desk", "desk")])
def test_two_branches_joined_by_git_keep_every_line_of_both(
    tmp_path: Path, devices: tuple[str, str]
) -> None:
    folder = _pond(tmp_path, **{NAME: TEXT})
    (folder / ".gitattributes").write_text(GIT_ATTRIBUTES, encoding="utf-8")
    _git(folder, "init", "-q", "-b", "main")
    _git(folder, "add", "-A")
    _git(folder, "commit", "-q", "-m", "begin")
    _branch(folder, "home", devices[0], range(20, 30))
    _branch(folder, "away", devices[1], range(25, 35))
    _git(folder, "checkout", "-q", "main")
    _git(folder, "merge", "-q", "home", "-m", "home")
    _git(folder, "merge", "-q", "away", "-m", "away")
    journal = read_folder(folder, ZONE, None)
    assert journal.problems == []
    notes = [found.note.split(" x")[0] for found in journal.entries]
    wanted = [*(f"kept {n}" for n in range(6)), *(f"home {n}" for n in range(20, 30)),
              *(f"away {n}" for n in range(25, 35))]  # fmt: skip
    assert sorted(notes) == sorted(wanted)
    Store(folder, "desk").append(entry(40))
    assert len(read_folder(folder, ZONE, None).entries) == len(wanted) + 1


def test_the_open_app_says_that_a_file_is_too_large_and_writes_nothing(tmp_path: Path) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    with (session.folder / "journal/2025-hand.txt").open("wb") as file:
        file.truncate(200 * MIB)
    assert session.reload_if_changed()
    assert session.journal.read_only
    assert [e.note for e in session.journal.live] == ["", "", "heron at dawn", "", "calm", ""]
