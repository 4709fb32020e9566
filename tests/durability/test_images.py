"""Crash images of a journal of 300 lines: cut, ended by NULs or by garbage at any of its bytes.

Reading names what is broken and keeps the rest; the next line that is written heals the file.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from pondtui.books.journal import Journal, read_folder
from pondtui.books.lines import render
from pondtui.books.store import Store
from tests.durability.lines import NAME, ZONE, entry

LINES = 300
BLOCK = 4096  # what a file system keeps or loses as one
STEP = 37
DAMAGES = ("cut", "NUL", "garbage")


@cache
def whole() -> bytes:
    """The journal before the crash, its notes of all lengths and in several scripts."""
    said = ("kept", "küvet — Reiher", "a | bar; and=signs", "日本の鯉", "")
    lines = [render(entry(number, said[number % 5])) for number in range(LINES)]
    return "".join(f"{line}\n" for line in lines).encode()


@cache
def instants() -> list[int]:
    """When each line of it was written."""
    return [entry(number).instant for number in range(LINES)]


def image(at: int, damage: str) -> bytes:
    """What the disk holds after the crash: the first bytes, then what was not written yet."""
    data = whole()
    lost = min(len(data) - at, BLOCK - at % BLOCK)
    tail = {"cut": b"", "NUL": bytes(lost), "garbage": random.Random(at).randbytes(lost)}
    return data[:at] + tail[damage]


def _places(full: bool) -> Iterator[tuple[int, str]]:
    size = len(whole())
    if full:
        yield from ((at, damage) for at in range(size + 1) for damage in DAMAGES)
        return
    yield from ((at, DAMAGES[at // STEP % 3]) for at in range(0, size, STEP))
    edges = [at for at in range(size) if whole()[at : at + 1] == b"\n"]
    yield from ((at + past, DAMAGES[number % 3]) for number, at in enumerate(edges)
                for past in (0, 1))  # fmt: skip


def _keeps_what_was_whole(journal: Journal, at: int, data: bytes) -> None:
    """Every line before the crash is there; every other is an entry or a named problem."""
    kept = whole()[:at].count(b"\n")
    notes = [found.line for found in journal.entries if found.line <= kept]
    assert len(notes) == kept
    assert [e.instant for e in journal.entries[:kept]] == instants()[:kept]
    named = {problem.line for problem in journal.problems}
    read = {found.line for found in journal.entries}
    for number, line in enumerate(data.split(b"\n"), 1):
        silent = line.strip(b" \r\t")[:1] in (b"", b"#")  # garbage may look like a comment
        assert silent or number in named | read


def _heals(pond: Path, data: bytes) -> None:
    """The next line stands by itself, behind bytes that are all as they were."""
    saved = Store(pond, "desk").append(entry(LINES + 7, "after the crash"))
    after = (pond / "journal" / NAME).read_bytes()
    assert after.startswith(data)
    assert after.endswith(f"\n{saved.line}\n".encode())
    assert len(after) - len(data) - len(saved.line.encode()) == (2 if data[-1:] != b"\n" else 1)


@pytest.mark.parametrize("part", range(4))
def test_a_crash_at_any_byte_spoils_only_what_was_not_written_yet(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    full: bool,
    part: int,
    figures: Callable[[str], None],
) -> None:
    monkeypatch.setattr("pondtui.books.store.os.fsync", lambda _handle: None)  # no plug is pulled
    path = tmp_path / "journal" / NAME
    path.parent.mkdir()
    count = 0
    for at, damage in list(_places(full))[part::4]:
        data = image(at, damage)
        path.write_bytes(data)
        _keeps_what_was_whole(read_folder(tmp_path, ZONE, None), at, data)
        if at:
            _heals(tmp_path, data)
        count += 1
    figures(f"crash images of {LINES} lines, {len(whole())} bytes, part {part + 1}: {count} read "
            "and healed")  # fmt: skip
