"""Setup: what was changed and not written outlives the program, and is asked about."""

from __future__ import annotations

import stat
import tomllib
from pathlib import Path

import pytest

from pondtui.books import unwritten
from pondtui.books.folder import unwritten_of
from pondtui.errors import FileError
from pondtui.paths import data_dir
from pondtui.tui.app import PondApp
from pondtui.tui.run import make_app
from pondtui.tui.setup import SetupScreen
from pondtui.tui.setup_form import SetupForm
from pondtui.tui.today import TodayScreen
from tests.tui.ponds import (
    COLOURS,
    app_on,
    press,
    screen_text,
    session_on,
    settle,
    type_into,
    write_pond,
)
from tests.tui.terminal import Terminal

NOTICE = "Setup: unwritten changes are kept; o asks about them"
QUESTION = "Changes of an earlier run are not written yet."


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_pond(tmp_path / "pond")


def kept(folder: Path) -> Path:
    return unwritten_of(data_dir(), folder)


def name_of(folder: Path) -> str:
    return str(tomllib.loads((folder / "pond.toml").read_text("utf-8"))["pond"]["name"])


def text_of(app: PondApp) -> str:
    return "\n".join(screen_text(app))


async def rename(folder: Path, name: str) -> None:
    """A run that changes the pond's name in its form, and ends without writing it."""
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o", "enter")
        assert isinstance(app.screen, SetupForm)
        await type_into(pilot, "in-name", name)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (160, 50)])
async def test_the_next_run_says_so_asks_and_writes_them(
    folder: Path, size: tuple[int, int]
) -> None:
    await rename(folder, "Fern Corner")
    assert name_of(folder) == "Alder Yard"
    assert stat.S_IMODE(kept(folder).stat().st_mode) == 0o600
    app = app_on(folder)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert NOTICE in text_of(app)
        await press(pilot, "o")
        assert QUESTION in text_of(app)
        await press(pilot, "enter")  # take them up
        assert isinstance(app.screen, SetupScreen)
        assert "changed, not written yet" in text_of(app)
        assert kept(folder).exists()
        await press(pilot, "s")
        assert name_of(folder) == "Fern Corner"
        assert not kept(folder).exists()
        await press(pilot, "escape")
        assert NOTICE not in text_of(app)


async def test_dropped_they_are_gone(folder: Path) -> None:
    await rename(folder, "Fern Corner")
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o", "down", "enter")
        assert isinstance(app.screen, SetupScreen)
        assert "as they stand on the disk" in text_of(app)
        assert not kept(folder).exists()
    assert not app_on(folder).session.unwritten


async def test_who_leaves_the_question_is_back_on_today_and_nothing_is_lost(folder: Path) -> None:
    await rename(folder, "Fern Corner")
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        for _ in range(2):
            await press(pilot, "o", "escape")
            assert isinstance(app.screen, TodayScreen)
            assert NOTICE in text_of(app)
            assert kept(folder).exists()
        await press(pilot, "o", "enter")
        assert app.session.describing is not None
        assert app.session.describing.draft.pond.data["pond"]["name"] == "Fern Corner"


async def test_forgotten_or_typed_back_nothing_is_kept(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o", "enter")
        await type_into(pilot, "in-name", "Fern Corner")
        assert kept(folder).exists()
        await type_into(pilot, "in-name", "Alder Yard")
        assert not kept(folder).exists()
        await type_into(pilot, "in-name", "Fern Corner")
        await press(pilot, "escape", "f", "y")
        assert not kept(folder).exists()


async def test_a_hand_that_changed_the_file_meanwhile_is_asked_about(folder: Path) -> None:
    await rename(folder, "Fern Corner")
    text = (
        (folder / "pond.toml").read_text("utf-8").replace('"0.8 m"\n[[mark]]', '"70 cm"\n[[mark]]')
    )
    (folder / "pond.toml").write_text(text, "utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o", "enter", "s")
        assert "changed by hand meanwhile" in text_of(app)
        assert name_of(folder) == "Alder Yard"
        await press(pilot, "enter", "s")
    data = tomllib.loads((folder / "pond.toml").read_text("utf-8"))
    assert data["pond"]["name"] == "Fern Corner"
    assert data["basin"][0]["depth"] == "70 cm"


async def test_what_cannot_be_read_is_one_sentence_and_set_aside(folder: Path) -> None:
    await rename(folder, "Fern Corner")
    kept(folder).write_bytes(kept(folder).read_bytes()[:200])
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "o", "enter")
        assert isinstance(app.screen, SetupScreen)
        told = [each.message for each in app._notifications]
        assert any("what Setup kept cannot be read: it was cut" in each for each in told)
        assert "as they stand on the disk" in text_of(app)
    assert kept(folder).with_name(f"{kept(folder).name}.broken").exists()


async def test_a_disk_that_keeps_nothing_is_told_and_stops_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_place: Path, _text: str) -> None:
        raise FileError("the disk is full; make room on it")

    monkeypatch.setattr(unwritten, "write", refuse)
    app = app_on(folder)
    async with app.run_test(size=(160, 50)) as pilot:
        await press(pilot, "o", "enter")
        await type_into(pilot, "in-name", "Fern Corner")
        await press(pilot, "escape", "escape")
        assert "not kept if the program is killed: the disk is full" in text_of(app)
        await press(pilot, "o", "s")
    assert name_of(folder) == "Fern Corner"


async def test_closing_asks_and_says_that_they_are_kept(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "o", "enter")
        await type_into(pilot, "in-name", "Fern Corner")
        await press(pilot, "escape", "escape", "q")
        assert "Not saved yet (1). Close all the same?" in text_of(app)
        assert "changes in Setup are kept for the next start" in text_of(app)


async def test_a_sitter_is_told_nothing_of_it(folder: Path) -> None:
    await rename(folder, "Fern Corner")
    app = make_app(session_on(folder, sitter="Tam"), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Setup" not in text_of(app)
    assert kept(folder).exists()


def test_killed_in_a_form_the_next_start_takes_up_what_was_typed(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    words = ["-m", "pondtui", "--pond", str(folder)]
    terminal = Terminal(words, environ)
    terminal.wait_for("q quit")
    terminal.type_on("o\r by the wall")
    terminal.wait_for("Yard by the wall")
    terminal.come_to_rest()
    terminal.kill()
    assert name_of(folder) == "Alder Yard"
    (place,) = tmp_path.rglob("unwritten-*.json")
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    terminal = Terminal(words, environ)
    try:
        terminal.wait_for(NOTICE)
        terminal.type_on("o")
        terminal.wait_for(QUESTION)
        terminal.type_on("\rs")
        terminal.wait_for("pond.toml written")
    finally:
        terminal.kill()
    assert name_of(folder) == "Alder Yard by the wall"
    assert not place.exists()


def test_a_terminal_that_is_closed_loses_nothing_either(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.type_on("o\r by the wall")
    terminal.wait_for("Yard by the wall")
    terminal.hang_up()
    terminal.process.wait(20)
    terminal.close()
    (place,) = tmp_path.rglob("unwritten-*.json")
    assert "Alder Yard by the wall" in place.read_text("utf-8")
