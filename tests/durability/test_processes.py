"""Several processes at once, on one file and on a file each: nothing lost, doubled or mixed."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from pondtui.books.journal import read_folder
from tests.durability.lines import NAME, ZONE, entry
from tests.tui.terminal import ROOT


def _begin(pond: Path, devices: list[str], count: int) -> list[subprocess.Popen[bytes]]:
    return [
        subprocess.Popen(
            [sys.executable, "-m", "tests.durability.writing", str(pond), device, who, str(count)],
            cwd=ROOT,
            stdout=subprocess.DEVNULL,
        )
        for who, device in zip("abcd", devices, strict=False)
    ]


def _wanted(processes: int, count: int) -> Counter[str]:
    return Counter(entry(n, who).note for who in "abcd"[:processes] for n in range(count))


@pytest.mark.parametrize("processes", [2, 4])
def test_processes_on_one_file_lose_double_and_mix_nothing(
    tmp_path: Path, full: bool, processes: int, figures: Callable[[str], None]
) -> None:
    count = 10_000 if full else 150
    running = _begin(tmp_path, ["desk"] * processes, count)
    assert [each.wait() for each in running] == [0] * processes
    lines = (tmp_path / "journal" / NAME).read_bytes().split(b"\n")
    assert lines.pop() == b""
    journal = read_folder(tmp_path, ZONE, None)
    assert journal.problems == []
    assert Counter(found.note for found in journal.entries) == _wanted(processes, count)
    assert len(lines) == processes * count
    for who in "abcd"[:processes]:  # each in its own order
        ours = [found.line for found in journal.entries if found.note.startswith(f"{who} ")]
        assert ours == sorted(ours)
    figures(f"{processes} processes on one file: {len(lines)} lines, each once and whole")


@pytest.mark.parametrize("processes", [2, 4])
def test_a_reader_beside_a_file_each_sees_only_whole_lines_and_never_fewer(
    tmp_path: Path, full: bool, processes: int, figures: Callable[[str], None]
) -> None:
    count = 10_000 if full else 150
    wanted = _wanted(processes, count)
    running = _begin(tmp_path, ["desk", "phone", "shed", "tablet"][:processes], count)
    readings = seen = 0
    while any(each.poll() is None for each in running):
        journal = read_folder(tmp_path, ZONE, None)
        assert journal.problems == []
        assert len(journal.entries) >= seen
        assert [found.note for found in journal.entries if found.note not in wanted] == []
        seen, readings = len(journal.entries), readings + 1
    assert [each.wait() for each in running] == [0] * processes
    journal = read_folder(tmp_path, ZONE, None)
    assert journal.problems == []
    assert len(journal.files) == processes
    assert Counter(found.note for found in journal.entries) == wanted
    figures(f"{processes} processes on a file each, read {readings} times meanwhile: "
            f"{len(journal.entries)} lines, each once and whole")  # fmt: skip
