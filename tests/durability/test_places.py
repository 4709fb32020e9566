"""What people and other programs do to the file while the app is open, and a disk that fails under
the Refill screen: the step is not done, the keeper is told, and it is written once in the end."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from pondtui.tui import app as app_module
from pondtui.tui.refill import RefillScreen
from pondtui.tui.run import make_app
from tests.durability.faulty import PATH, SHORT, Faults, Plan
from tests.tui.ponds import COLOURS, LEVELS, screen_text, session_on, until, write_pond


class Place(NamedTuple):
    """Something done to the journal's file, how it is undone, and whether nothing can be written
    meanwhile."""

    do: Callable[[Path], object]
    undo: Callable[[Path], object]
    refused: bool


def _nothing(_file: Path) -> None:
    """Nothing is to be undone."""


def _move_away(path: Path) -> None:
    path.rename(path.with_name(path.name + "-kept"))


def _move_back(path: Path) -> None:
    if path.is_symlink():
        path.unlink()
    elif path.is_dir():
        shutil.rmtree(path)
    path.with_name(path.name + "-kept").rename(path)


def _folder_back(path: Path) -> None:
    path.parent.unlink()
    _move_back(path.parent)


def _in_its_place(make: Callable[[Path], object]) -> Callable[[Path], object]:
    def do(path: Path) -> None:
        _move_away(path)
        make(path)

    return do


def _replace_by_an_editor(path: Path) -> None:
    copy = path.with_name("2026-desk.txt~")
    copy.write_bytes(path.read_bytes())
    copy.rename(path)


def _a_link_elsewhere(path: Path) -> None:
    kept = path.parent.parent / "elsewhere.txt"
    path.rename(kept)
    path.symlink_to(kept)


PLACES = {
    "replaced by an editor's rename": Place(_replace_by_an_editor, _nothing, False),
    "truncated": Place(lambda path: os.truncate(path, 100), _nothing, False),
    "emptied": Place(lambda path: os.truncate(path, 0), _nothing, False),
    "deleted": Place(Path.unlink, _nothing, False),
    "a link to a file": Place(_a_link_elsewhere, _nothing, False),
    "the folder removed": Place(lambda path: shutil.rmtree(path.parent), _nothing, False),
    "a link that leads nowhere": Place(
        _in_its_place(lambda path: path.symlink_to("gone/gone.txt")), _move_back, True
    ),
    "a link to itself": Place(
        _in_its_place(lambda path: path.symlink_to(path.name)), _move_back, True
    ),
    "a folder in its place": Place(_in_its_place(Path.mkdir), _move_back, True),
    "a pipe in its place": Place(_in_its_place(os.mkfifo), _move_back, True),
    "a file in the folder's place": Place(
        lambda path: _in_its_place(Path.touch)(path.parent),
        _folder_back,
        True,
    ),
}


@pytest.mark.parametrize("place", PLACES)
def test_whatever_stands_in_the_place_of_the_file_the_entry_is_written_once_or_kept(
    tmp_path: Path, place: str
) -> None:
    do, undo, refused = PLACES[place]
    session = session_on(write_pond(tmp_path / "pond"))
    path = session.folder / "journal/2026-desk.txt"
    session.write("note", {}, "before")
    do(path)
    session.write("level", {"reading": "91 mm"}, "meanwhile")
    assert bool(session.pending) is refused
    if refused:
        assert session.pending[0].reason.startswith("not saved")
        assert all(e.note != "meanwhile" for e in session.journal.live)
    undo(path)
    session.retry()
    assert not session.pending
    assert path.read_text(encoding="utf-8").count("| meanwhile\n") == 1
    assert path.read_bytes().endswith(b"\n")
    if refused:
        assert path.read_text(encoding="utf-8").startswith(LEVELS)


async def _tick_while_it_fails(
    folder: Path, begin: Callable[[], object], end: Callable[[], object]
) -> None:
    """Enter on the first step while nothing can be written; then the fault ends."""
    app = make_app(session_on(folder, inline=False), COLOURS)
    path = folder / "journal/2026-desk.txt"
    async with app.run_test(size=(80, 24)) as pilot:

        def shows(text: str) -> bool:
            return any(text in line for line in screen_text(app))

        await pilot.pause()
        app.open_room("refill")
        await until(pilot, lambda: isinstance(app.screen, RefillScreen), "no Refill")
        await until(pilot, lambda: shows("1/"), "no first step")
        begin()
        await pilot.press("enter")
        await until(pilot, lambda: shows("NOT SAVED"), "the keeper is not told")
        assert shows("1/")
        assert [each.entry.kind for each in app.session.pending] == ["tick"]
        end()
        await until(pilot, lambda: not app.session.pending, "never written")
        await until(pilot, lambda: shows("2/"), "the step does not count")
    text = path.read_text(encoding="utf-8")
    assert text.count("step=outlet-shut;") == 1
    assert text.startswith(LEVELS)
    assert text.endswith("\n")


@pytest.fixture
def hurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looks and retries follow each other at once."""
    monkeypatch.setattr(app_module, "LOOK_S", 0.05)


SHORT_FORM = [("open", errno.EACCES), ("open", errno.EROFS), ("write", errno.ENOSPC),
              ("write", SHORT), ("fsync", errno.EIO)]  # fmt: skip
LONG_FORM = [
    (call, error)
    for call, errors in PATH.items()
    for error in errors
    if call not in ("pread", "ftruncate", "pwrite", "close")  # not on the way, or no loss
    and error not in (errno.ENOLCK, errno.EINTR)  # written all the same; tried again by Python
]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """All faults in the long form only: each costs an app."""
    if "error" in metafunc.fixturenames:
        long = metafunc.config.getoption("--long-durability")
        metafunc.parametrize(("call", "error"), LONG_FORM if long else SHORT_FORM)


@pytest.mark.usefixtures("hurried")
async def test_a_step_does_not_count_while_the_disk_fails_and_is_written_once_afterwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, error: int
) -> None:
    folder = write_pond(tmp_path / "pond")
    faults = Faults(monkeypatch, Plan(call, 1, error, True))
    faults.over = True

    def end(over: bool) -> None:
        faults.over = over

    await _tick_while_it_fails(folder, lambda: end(False), lambda: end(True))
    assert faults.hits


@pytest.mark.usefixtures("hurried")
@pytest.mark.parametrize("place", ["a link that leads nowhere", "a folder in its place"])
async def test_a_step_does_not_count_while_something_else_stands_there(
    tmp_path: Path, place: str
) -> None:
    folder = write_pond(tmp_path / "pond")
    do, undo, _ = PLACES[place]
    path = folder / "journal/2026-desk.txt"
    await _tick_while_it_fails(folder, lambda: do(path), lambda: undo(path))


def test_a_line_that_shows_although_its_sync_failed_counts_only_when_it_is_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plans = [Plan(call, 1, errno.EIO, True) for call in ("fsync", "ftruncate")]
    faults = Faults(monkeypatch, *plans)
    session = session_on(write_pond(tmp_path / "pond"))
    session.write("level", {"reading": "91 mm"}, "in doubt")
    path = session.folder / "journal/2026-desk.txt"
    assert path.read_text(encoding="utf-8").count("in doubt") == 1
    session.take(session.read())
    assert all(entry.note != "in doubt" for entry in session.journal.entries)
    faults.over = True
    session.retry()
    session.take(session.read())
    assert [entry.note for entry in session.journal.live].count("in doubt") == 1


@pytest.mark.usefixtures("hurried")
async def test_a_file_that_cannot_be_read_for_a_while_is_read_again_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, inline=False), COLOURS)

    def refuse(path: Path, _largest: int) -> bytes:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        with monkeypatch.context() as patch:
            patch.setattr("pondtui.books.journal.read_bytes", refuse)
            os.utime(folder / "journal/2026-desk.txt")
            await until(pilot, lambda: app.session.journal.read_only, "not noticed")
        await until(pilot, lambda: not app.session.journal.read_only, "read-only for ever")
        assert app.session.state().level is not None
