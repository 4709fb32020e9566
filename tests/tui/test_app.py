"""The app begins lean, rests silent, ends in order, and shows a fault to nobody."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from textual.app import App

from pondtui.books.pondfile import load
from pondtui.books.settings import Settings
from pondtui.books.store import Saved, Store
from pondtui.errors import FileError
from pondtui.pond.state.entry import Entry
from pondtui.tui.app import PondApp
from pondtui.tui.dialogs import Confirm
from pondtui.tui.run import make_app, run
from pondtui.tui.today import TodayScreen
from tests.tui.ponds import (
    COLOURS,
    LEVELS,
    NOW,
    app_on,
    press,
    screen_text,
    session_on,
    settle,
    write_pond,
)
from tests.tui.terminal import ROOT, Terminal

FIRST_FRAME = """
import asyncio, json, sys
from pathlib import Path
from pondtui.books.pondfile import load
from pondtui.tui.run import make_app
from pondtui.tui.session import Session
folder = Path(sys.argv[1])
async def first_frame():
    app = make_app(Session(folder, load(folder), lambda: 1786724400, inline=True), {})
    async with app.run_test() as pilot:
        await pilot.pause()
        print(json.dumps(sorted(sys.modules)))
asyncio.run(first_frame())
"""
LATER = (
    "pint", "numpy", "pondtui.worksheets", "pondtui.tui.help", "pondtui.tui.journal",
    "pondtui.tui.worksheets", "pondtui.tui.worksheet", "pondtui.tui.refill",
    "pondtui.tui.entry_form", "pondtui.views.manual", "textual.widgets._markdown",
)  # fmt: skip


class FullDisk(Store):
    """A disk that takes nothing."""

    def append(self, entry: Entry) -> Saved:
        """Refuse."""
        raise FileError(f"{entry.kind} not saved: the disk is full")


def test_the_first_frame_loads_only_what_it_shows(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(folder)],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    loaded = set(json.loads(done.stdout))
    assert "pondtui.tui.today" in loaded
    assert loaded & set(LATER) == set()


def test_older_years_are_read_after_the_first_frame_and_then_count(tmp_path: Path) -> None:
    old = "2025-08-11 07:40:00+02:00 | level | reading=50 mm | of last year\n"
    folder = write_pond(tmp_path / "pond", others={"2025-desk": old})
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("Level     80 mm")
    terminal.press("j")
    terminal.wait_for("7 entries")
    terminal.press("qq")
    assert terminal.close() == 0


def test_a_screen_at_rest_sends_nothing(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.come_to_rest()
    assert terminal.read(4) == b""
    terminal.press("q")
    assert terminal.close() == 0


def test_a_saved_line_that_an_editor_lost_is_offered_again(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    path = folder / "journal/2026-desk.txt"
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    settings = tmp_path / ".config/pondtui"
    settings.mkdir(parents=True)
    (settings / "settings.toml").write_text('device = "desk"\n', encoding="utf-8")
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.press("nprecious\r")
    terminal.wait_for("saved: ")
    assert path.read_text(encoding="utf-8").endswith("| precious\n")
    path.write_text(LEVELS, encoding="utf-8")  # an editor saved its old copy
    terminal.wait_for("Gone from the journal")
    terminal.press("y")
    terminal.wait_for("saved: ")
    terminal.come_to_rest()
    terminal.press("q")
    assert terminal.close() == 0
    assert path.read_text(encoding="utf-8").count("precious") == 1


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT])
def test_a_signal_leaves_the_terminal_as_it_was_and_is_told_by_the_exit_code(
    tmp_path: Path, number: signal.Signals
) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.process.send_signal(number)
    left = terminal.read(3)
    assert terminal.close() == 128 + number
    assert b"\x1b[?1049l" in left
    assert b"\x1b[?1000l" in left


def test_a_fault_of_ours_is_handed_on_without_a_trace_on_the_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def fail(_screen: TodayScreen) -> None:
        phone = "555 0199"
        raise RuntimeError(f"a fault beside {phone}")

    monkeypatch.setattr(TodayScreen, "show", fail)
    monkeypatch.setattr(PondApp, "run", lambda app: App.run(app, headless=True))
    folder = write_pond(tmp_path / "pond")
    with pytest.raises(RuntimeError, match="a fault beside"):
        run(folder, load(folder), lambda: NOW, Settings(), "desk", dict(COLOURS))
    shown = capfd.readouterr()
    assert "555" not in shown.out + shown.err


async def test_a_worker_that_comes_back_while_all_closes_paints_nothing(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        app._running = False  # as while the toolkit takes one widget away after the other
        await app.screen.query_one("#head").remove()
        await app.screen.query_one("#strip").remove()
        app.state_changed()
        app.tell()


async def test_closing_with_an_entry_unsaved_asks_first(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    app = make_app(session_on(folder, store=FullDisk(folder, "desk")), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        app.session.write("note", {}, "the fox was here")
        app.state_changed()
        await settle(pilot)
        assert any("NOT SAVED" in line for line in screen_text(app))
        await press(pilot, "q")
        assert isinstance(app.screen, Confirm)
        assert any("the fox was here" in line for line in screen_text(app))
        await press(pilot, "n")
        assert isinstance(app.screen, TodayScreen)
        await press(pilot, "q", "y")
    assert [each.entry.note for each in app.session.pending] == ["the fox was here"]


@pytest.mark.parametrize("environ", [{"TERM": "xterm", "NO_COLOR": "1"}, {"TERM": "linux"}])
async def test_without_colour_or_with_few_the_terminals_own_are_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, environ: dict[str, str]
) -> None:
    for name, value in environ.items():
        monkeypatch.setenv(name, value)
    app = make_app(session_on(write_pond(tmp_path / "pond")), environ)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert app.theme == "terminal"
        assert app.native_ansi_color
        assert any("Level     80 mm" in line for line in screen_text(app))


async def test_ascii_mode_draws_with_plain_signs_only(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    app = app_on(folder)
    app.session.settings = Settings(ascii=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = "\n".join(screen_text(app))
    assert {sign for sign in text if ord(sign) > 126} <= {"±", "°"}


def test_a_terminal_closed_without_a_word_ends_the_program(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.hang_up()
    assert terminal.process.wait(timeout=10) == 128 + signal.SIGHUP


def test_a_terminal_closed_while_the_screen_paints_leaves_nothing_running(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.type_on("j" + "\x1b[B\x1b[A" * 40)
    terminal.hang_up()
    assert terminal.process.wait(timeout=15) == 128 + signal.SIGHUP
