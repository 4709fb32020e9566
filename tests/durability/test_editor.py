"""An editor that saves an old copy over acknowledged lines: noticed, told, offered again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event

import pytest
from textual.pilot import Pilot

from pondtui.books.store import Saved, Store
from pondtui.pond.state.entry import Entry
from pondtui.tui import app as app_module
from pondtui.tui.app import PondApp
from pondtui.tui.dialogs import Confirm
from pondtui.tui.run import make_app
from tests.tui.ponds import COLOURS, LEVELS, screen_text, session_on, until, write_pond
from tests.tui.terminal import Terminal


@pytest.fixture(autouse=True)
def hurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder is looked at all the time."""
    monkeypatch.setattr(app_module, "LOOK_S", 0.05)


def _over(path: Path, text: str) -> None:
    """In place, as some editors save."""
    path.write_text(text, encoding="utf-8")


def _by_rename(path: Path, text: str) -> None:
    """As other editors and synchronisers do."""
    copy = path.with_name(".2026-desk.txt.new")
    copy.write_text(text, encoding="utf-8")
    copy.rename(path)


async def _lose_two(app: PondApp, pilot: Pilot[int], save: Callable[[Path, str], None]) -> None:
    """Two entries are saved; then an old copy comes back with a line of the editor's own."""
    await pilot.pause()
    app.session.write("note", {}, "first precious")
    app.session.write("level", {"reading": "91 mm"}, "second precious")
    await until(pilot, lambda: not app.session.pending)
    edited = LEVELS.replace("heron at dawn", "heron at dawn, twice") + "# looked after\n"
    save(app.session.folder / "journal/2026-desk.txt", edited)
    await until(pilot, lambda: isinstance(app.screen, Confirm))


@pytest.mark.parametrize("save", [_over, _by_rename])
async def test_lines_lost_to_an_old_copy_are_offered_and_one_key_writes_them_again(
    tmp_path: Path, save: Callable[[Path, str], None]
) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, inline=False), COLOURS)
    path = folder / "journal/2026-desk.txt"
    async with app.run_test(size=(80, 24)) as pilot:
        await _lose_two(app, pilot, save)
        await until(pilot, lambda: "second precious" in "".join(screen_text(app)))
        shown = "\n".join(screen_text(app))
        assert "Gone from the journal although saved (2)" in shown
        assert "first precious" in shown
        assert "second precious" in shown
        assert "precious" not in path.read_text(encoding="utf-8")  # never silently
        await pilot.press("y")
        await until(pilot, lambda: not app.session.pending)
        await until(pilot, lambda: "second" in path.read_text(encoding="utf-8"))
        level = app.session.state().level
        assert level is not None
        assert level.reading_mm == 91
    text = path.read_text(encoding="utf-8")
    assert text.count("| first precious\n") == 1
    assert text.count("| second precious\n") == 1
    assert "heron at dawn, twice" in text
    assert "# looked after\n" in text


async def test_lines_that_were_taken_out_on_purpose_stay_out_and_are_not_asked_about_again(
    tmp_path: Path,
) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, inline=False), COLOURS)
    path = folder / "journal/2026-desk.txt"
    async with app.run_test(size=(80, 24)) as pilot:
        await _lose_two(app, pilot, _over)
        await pilot.press("n")
        await until(pilot, lambda: not isinstance(app.screen, Confirm))
        path.write_text(path.read_text(encoding="utf-8") + "# once more\n", encoding="utf-8")
        for _ in range(20):
            await pilot.pause(0.05)
        assert not isinstance(app.screen, Confirm)
    assert "precious" not in path.read_text(encoding="utf-8")


async def test_a_look_between_an_answer_and_its_effect_does_not_ask_once_more(
    tmp_path: Path,
) -> None:
    app = make_app(session_on(write_pond(tmp_path / "pond"), inline=False), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await _lose_two(app, pilot, _over)
        assert isinstance(app.screen, Confirm)
        app.screen.action_answer(False)
        app._look_for_gone(first=False)
        for _ in range(20):
            await pilot.pause(0.02)
        assert not isinstance(app.screen, Confirm)


async def test_a_field_that_is_open_keeps_its_text_and_the_offer_comes_afterwards(
    tmp_path: Path,
) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, inline=False), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.session.write("note", {}, "that was saved")
        await until(pilot, lambda: not app.session.pending)
        await pilot.press("n")
        await pilot.press(*"heron")
        dialog = app.screen
        (folder / "journal/2026-desk.txt").write_text(LEVELS, encoding="utf-8")
        for _ in range(20):
            await pilot.pause(0.05)
        assert app.screen is dialog
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, Confirm))
        await until(pilot, lambda: "although saved (1)" in "".join(screen_text(app)))


async def test_the_offer_comes_also_where_a_slow_disk_was_writing_at_both_looks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, inline=False), COLOURS)
    goes_on, append = Event(), Store.append

    def slow(store: Store, entry: Entry) -> Saved:
        goes_on.wait(20)
        return append(store, entry)

    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.session.write("note", {}, "that was saved")
        await until(pilot, lambda: not app.session.pending)
        monkeypatch.setattr(Store, "append", slow)
        app.session.write("note", {}, "that takes its time")
        _over(folder / "journal/2026-desk.txt", LEVELS)
        for _ in range(20):
            await pilot.pause(0.05)
        assert not isinstance(app.screen, Confirm)
        goes_on.set()
        await until(pilot, lambda: isinstance(app.screen, Confirm))
        await until(pilot, lambda: "although saved (1)" in "".join(screen_text(app)))


def test_an_edit_that_keeps_the_length_is_seen_although_we_write_right_after_it(
    tmp_path: Path,
) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    path = session.folder / "journal/2026-desk.txt"
    _over(path, LEVELS.replace("80 mm", "81 mm"))
    session.write("note", {}, "right after it")
    assert session.reload_if_changed()
    assert session.state().level is not None
    assert session_on(session.folder).state().level == session.state().level


def test_a_file_that_is_left_out_loses_nothing_and_nothing_is_offered(tmp_path: Path) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    path = session.folder / "journal/2026-desk.txt"
    session.write("note", {}, "kept")
    size = path.stat().st_size
    with path.open("r+b") as file:
        file.truncate(21 * 1024 * 1024)  # a copy that went wrong
    assert session.reload_if_changed()
    assert session.journal.read_only
    assert [session.vanished(), session.vanished()] == [[], []]
    with path.open("r+b") as file:
        file.truncate(size)
    assert [session.reload_if_changed(), session.reload_if_changed()] == [False, True]
    assert [session.vanished(), session.vanished()] == [[], []]


def test_in_a_terminal_the_lost_line_is_offered_and_y_brings_it_back(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    try:
        terminal.wait_for("Alder Yard")
        before = {path: path.read_bytes() for path in (folder / "journal").iterdir()}
        terminal.press("e")
        terminal.press("note a newt in the skimmer\r")
        terminal.wait_for("saved: 2026-08-14 18:20:00")
        (ours,) = [p for p in (folder / "journal").iterdir() if b"newt" in p.read_bytes()]
        ours.write_bytes(before.get(ours, b""))
        terminal.wait_for("Gone from the journal although saved (1)")
        terminal.press("y")
        terminal.wait_for("saved: 2026-08-14 18:20:00")
        assert ours.read_text(encoding="utf-8").count("| a newt in the skimmer\n") == 1
    finally:
        terminal.kill()
