"""A saved line is on the disk, whatever fails, dies or is replaced meanwhile."""

from __future__ import annotations

import errno
import fcntl
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.journal import read_folder
from pondtui.books.lines import make, parse_line, render
from pondtui.books.store import Store, check_device, move_on, stamp_for, suggest_device
from pondtui.errors import FileError, InputError
from pondtui.pond.state.entry import Entry

TZ = ZoneInfo("Europe/Brussels")
NOW = 1780465330  # 2026-06-03 05:42:10 UTC


def note(text: str, second: int = 0) -> Entry:
    """A note at some second."""
    return make("note", {}, text, NOW + second, TZ, None)


def own(folder: Path) -> Path:
    """The file that the device writes."""
    return folder / "journal" / "2026-desk.txt"


def notes(folder: Path) -> list[str]:
    """What the journal holds, which must be free of problems."""
    found = read_folder(folder, TZ, None)
    assert found.problems == []
    return [entry.note for entry in found.entries]


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """A store of an empty pond folder."""
    return Store(tmp_path, "desk")


def failing(monkeypatch: pytest.MonkeyPatch, name: str, code: int, times: int = 1) -> None:
    """Let a call of the system fail so often, then work again."""
    real: Callable[..., object] = getattr(os, name)
    left = [times]

    def fail(*arguments: object, **named: object) -> object:
        if left[0]:
            left[0] -= 1
            raise OSError(code, os.strerror(code))
        return real(*arguments, **named)

    monkeypatch.setattr(os, name, fail)


def test_an_entry_goes_into_the_file_of_its_year_and_device(tmp_path: Path, store: Store) -> None:
    saved = store.append(note("heron"))
    assert saved.path == own(tmp_path)
    assert saved.path.read_text() == saved.line + "\n"
    assert saved.line == "2026-06-03 07:42:10+02:00 | note    | | heron"
    assert saved.locked
    assert saved.path.stat().st_mode & 0o777 == 0o600


def test_the_year_is_that_of_the_stamp_as_written(tmp_path: Path, store: Store) -> None:
    # half past midnight in Brussels is still the old year in UTC
    store.append(make("note", {}, "new year", 1798759800, TZ, None))
    assert [file.name for file in (tmp_path / "journal").iterdir()] == ["2027-desk.txt"]


def test_a_missing_newline_is_healed_with_the_next_line(tmp_path: Path, store: Store) -> None:
    own(tmp_path).parent.mkdir()
    own(tmp_path).write_bytes(b"# by hand, without an end")
    store.append(note("heron"))
    store.append(note("duck", 1))
    lines = own(tmp_path).read_text().split("\n")
    assert lines[0] == "# by hand, without an end"
    assert [line.split("| ")[-1] for line in lines[1:]] == ["heron", "duck", ""]


def test_what_stands_there_is_never_touched(tmp_path: Path, store: Store) -> None:
    before = b"\xff\xfe odd bytes\r\n| unknown | x\n\n2026 torn"
    own(tmp_path).parent.mkdir()
    own(tmp_path).write_bytes(before)
    store.append(note("heron"))
    assert own(tmp_path).read_bytes() == before + b"\n" + render(note("heron")).encode() + b"\n"


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.ENOSPC, "the disk is full; make room on it, then try again"),
        (errno.EROFS, "the disk is read-only"),
        (errno.EIO, "the disk reports a fault"),
    ],
)
def test_a_failed_write_says_so_and_the_same_line_can_be_retried(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch, code: int, words: str
) -> None:
    store.append(note("before"))
    failing(monkeypatch, "write", code)
    with pytest.raises(FileError) as caught:
        store.append(note("heron", 1))
    assert words in str(caught.value)
    assert notes(tmp_path) == ["before"]
    store.append(note("heron", 1))
    assert notes(tmp_path) == ["before", "heron"]


def test_half_a_line_is_taken_back(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.append(note("before"))
    real = os.write

    def half(handle: int, data: bytes) -> int:
        monkeypatch.setattr(os, "write", real)
        return real(handle, data[:40])

    monkeypatch.setattr(os, "write", half)
    with pytest.raises(FileError, match="the disk is full"):
        store.append(note("heron", 1))
    assert own(tmp_path).read_text() == render(note("before")) + "\n"
    store.append(note("heron", 1))
    assert notes(tmp_path) == ["before", "heron"]


def test_after_a_failed_sync_the_line_does_not_stand_twice(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    failing(monkeypatch, "fsync", errno.EIO, times=3)
    for _ in range(2):
        with pytest.raises(FileError, match="the disk reports a fault"):
            store.append(note("heron"))
    monkeypatch.undo()
    store.append(note("heron"))
    assert own(tmp_path).read_text() == render(note("heron")) + "\n"


def test_after_a_failed_sync_a_line_that_is_gone_is_written_again(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.append(note("before"))
    failing(monkeypatch, "fsync", errno.EIO)
    with pytest.raises(FileError):
        store.append(note("heron", 1))
    own(tmp_path).write_text(render(note("before")) + "\n")
    store.append(note("heron", 1))
    assert notes(tmp_path) == ["before", "heron"]


def test_a_new_file_is_made_to_last_in_its_folder(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "journal").mkdir()
    synced: list[int] = []
    real = os.fsync

    def note_sync(handle: int) -> None:
        synced.append(os.fstat(handle).st_ino)
        real(handle)

    monkeypatch.setattr(os, "fsync", note_sync)
    store.append(note("heron"))
    assert synced == [own(tmp_path).stat().st_ino, (tmp_path / "journal").stat().st_ino]
    synced.clear()
    store.append(note("duck", 1))
    assert synced == [own(tmp_path).stat().st_ino]


def test_a_file_that_is_replaced_meanwhile_gets_the_line_too(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.append(note("before"))
    real = os.fsync

    def replace(handle: int) -> None:
        monkeypatch.setattr(os, "fsync", real)
        real(handle)
        (tmp_path / "new").write_text(render(note("before")) + "\n# edited\n")
        os.replace(tmp_path / "new", own(tmp_path))

    monkeypatch.setattr(os, "fsync", replace)
    store.append(note("heron", 1))
    assert "# edited" in own(tmp_path).read_text()
    assert notes(tmp_path) == ["before", "heron"]


def test_a_file_that_is_deleted_meanwhile_is_made_again(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.fsync

    def delete(handle: int) -> None:
        monkeypatch.setattr(os, "fsync", real)
        real(handle)
        own(tmp_path).unlink()

    (tmp_path / "journal").mkdir()
    monkeypatch.setattr(os, "fsync", delete)
    store.append(note("heron"))
    assert notes(tmp_path) == ["heron"]


def test_a_file_that_is_replaced_again_and_again_is_given_up(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "journal").mkdir()
    monkeypatch.setattr(os, "fsync", lambda _handle: own(tmp_path).unlink(missing_ok=True))
    with pytest.raises(FileError, match="keeps replacing"):
        store.append(note("heron"))


def test_a_link_stays_a_link(tmp_path: Path, store: Store) -> None:
    own(tmp_path).parent.mkdir()
    (tmp_path / "synced.txt").write_text("# there\n")
    own(tmp_path).symlink_to(tmp_path / "synced.txt")
    store.append(note("heron"))
    assert own(tmp_path).is_symlink()
    assert (tmp_path / "synced.txt").read_text() == "# there\n" + render(note("heron")) + "\n"


def test_a_folder_or_a_pipe_in_the_file_s_place_is_refused(tmp_path: Path, store: Store) -> None:
    own(tmp_path).mkdir(parents=True)
    with pytest.raises(FileError, match="a folder stands in its place; move that away"):
        store.append(note("heron"))
    own(tmp_path).rmdir()
    os.mkfifo(own(tmp_path))
    with pytest.raises(FileError, match="something that is no file stands in its place"):
        store.append(note("heron"))


def test_a_file_in_the_journal_s_place_is_refused(tmp_path: Path, store: Store) -> None:
    (tmp_path / "journal").write_text("x")
    with pytest.raises(FileError, match="not saved in"):
        store.append(note("heron"))


def test_missing_rights_are_said(
    tmp_path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "journal").mkdir()
    failing(monkeypatch, "open", errno.EACCES)
    with pytest.raises(FileError, match="its rights do not allow it; change them"):
        store.append(note("heron"))


def test_a_disk_without_locks_is_written_and_named(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert store.append(note("heron")).locked
    assert store.locks

    def no_locks(_handle: int, _how: int) -> None:
        raise OSError(errno.ENOLCK, "no locks")

    monkeypatch.setattr(fcntl, "flock", no_locks)
    assert not store.append(note("duck", 1)).locked
    assert not store.locks


# --- what vanished --------------------------------------------------------------------------------


def test_a_saved_line_that_vanished_is_named_at_the_second_look(
    tmp_path: Path, store: Store
) -> None:
    for second, text in enumerate(["heron", "duck"]):
        store.append(note(text, second))
    assert store.vanished(read_folder(tmp_path, TZ, None).entries) == []
    own(tmp_path).write_text(render(note("heron")) + "\n")
    shrunk = read_folder(tmp_path, TZ, None).entries
    assert store.vanished(shrunk) == []
    assert store.vanished(shrunk) == [note("duck", 1)]
    store.append(store.vanished(shrunk)[0])
    assert notes(tmp_path) == ["heron", "duck"]
    assert store.vanished(read_folder(tmp_path, TZ, None).entries) == []


def test_a_line_that_is_back_at_the_second_look_has_not_vanished(
    tmp_path: Path, store: Store
) -> None:
    store.append(note("heron"))
    assert store.vanished([]) == []
    assert store.vanished(read_folder(tmp_path, TZ, None).entries) == []
    assert store.vanished([]) == []


def test_a_line_that_was_moved_to_another_file_has_not_vanished(
    tmp_path: Path, store: Store
) -> None:
    store.append(note("heron"))
    own(tmp_path).rename(own(tmp_path).with_name("2026-hand.txt"))
    entries = read_folder(tmp_path, TZ, None).entries
    assert [store.vanished(entries), store.vanished(entries)] == [[], []]


def test_lines_that_were_let_go_are_not_named_again(store: Store) -> None:
    store.append(note("heron"))
    store.vanished([])
    store.forget(store.vanished([]))
    assert store.vanished([]) == []


# --- names and stamps -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["", "Desk", "my desk", "a" * 21, "hand", "désk", "desk\n", "a/b"])
def test_a_device_s_name_is_small_letters_digits_and_hyphens(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="a device cannot be named"):
        Store(tmp_path, name)


@pytest.mark.parametrize(
    ("host", "name"),
    [
        ("Garden-Laptop.local", "garden-laptop"),
        ("MO's PC", "mo-s-pc"),
        ("localhost", "desk"),
        ("hand", "desk"),
        ("池", "desk"),
        ("a-very-long-name-of-a-host", "a-very-long-name-of"),
    ],
)
def test_a_name_is_made_of_the_host_s(host: str, name: str) -> None:
    assert suggest_device(host) == name
    assert check_device(suggest_device(host)) == name


def test_an_entry_moves_on_until_its_second_is_free() -> None:
    entry = note("heron")
    taken = {(NOW, "note"), (NOW + 1, "note"), (NOW + 2, "level")}
    moved = move_on(entry, taken)
    assert (moved.instant, moved.stamp) == (NOW + 2, "2026-06-03 07:42:12+02:00")
    assert (moved.kind, moved.fields, moved.note) == (entry.kind, entry.fields, entry.note)
    assert parse_line(render(moved), "x", 1, TZ, None)[0] == moved
    assert move_on(entry, {(NOW, "level")}) is entry


def release_at(instant: int) -> Entry:
    fields = {"barrel": "yard", "batch": "yard-1", "out": "9 L"}
    return Entry(instant, "", "release", fields, {}, "")


def test_a_new_entry_of_a_batch_never_stands_before_the_last_one() -> None:
    assert stamp_for(NOW, None, "tick") == NOW
    assert stamp_for(NOW, release_at(NOW - 5), "tick") == NOW
    assert stamp_for(NOW, release_at(NOW), "level") == NOW
    assert stamp_for(NOW, release_at(NOW + 600), "tick") == NOW + 601


def test_within_one_second_a_tick_after_a_release_stands_after_it() -> None:
    assert stamp_for(NOW, release_at(NOW), "tick") == NOW + 1


def test_a_clock_set_back_by_more_than_ten_minutes_is_said() -> None:
    with pytest.raises(InputError, match="the clock stands 61 min before the last entry"):
        stamp_for(NOW, release_at(NOW + 61 * 60), "tick")
    with pytest.raises(InputError):
        stamp_for(NOW, release_at(NOW + 601), "tick")


# --- real processes -------------------------------------------------------------------------------

WRITER = """
import os, sys
from datetime import UTC
from pathlib import Path
from pondtui.books.lines import make
from pondtui.books.store import Store
folder, word, start, number = sys.argv[1:]
store = Store(Path(folder), "desk")
for place in range(int(number)):
    store.append(make("note", {}, f"{word} {place}", int(start) + place, UTC, None))
    os.write(1, f"{word} {place}\\n".encode())
"""


def writer(folder: Path, word: str, number: int) -> subprocess.Popen[bytes]:
    """A process of its own that writes notes and names each one that is saved."""
    words = [sys.executable, "-c", WRITER, str(folder), word, str(NOW), str(number)]
    root = Path(__file__).parents[2]
    environment = os.environ | {"PYTHONPATH": str(root)}
    return subprocess.Popen(words, stdout=subprocess.PIPE, env=environment)


def test_a_killed_program_loses_no_saved_line(tmp_path: Path) -> None:
    rng = random.Random(7)
    saved: set[str] = set()
    for kill in range(20):
        process = writer(tmp_path, f"kill{kill}", 100_000)
        assert process.stdout is not None
        first = process.stdout.readline()
        time.sleep(rng.random() * 0.03)
        process.kill()
        rest = process.stdout.read()
        process.wait()
        process.stdout.close()
        whole = (first + rest).split(b"\n")[:-1]
        saved |= {line.decode() for line in whole}
    there = {entry.note for entry in read_folder(tmp_path, TZ, None).entries}
    assert len(saved) >= 20
    assert saved <= there


def test_two_programs_on_one_file_lose_nothing(tmp_path: Path) -> None:
    number = 150
    writers = [writer(tmp_path, word, number) for word in ("one", "two")]
    for process in writers:
        process.communicate()
        assert process.returncode == 0
    expected = {f"{word} {place}" for word in ("one", "two") for place in range(number)}
    assert set(notes(tmp_path)) == expected
    assert own(tmp_path).read_bytes().count(b"\n") == 2 * number
