"""The key table: no clash, nothing a terminal takes, and a keeper's own map laid over it."""

from __future__ import annotations

from pathlib import Path

import pytest

from pondtui.books.pondfile import load
from pondtui.books.settings import Settings
from pondtui.tui.app import ROOMS
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.keys import KEYS, check, keys_of, names
from pondtui.tui.run import make_app
from pondtui.tui.session import Session
from pondtui.views.manual import ROOMS as PAGES
from tests.tui.ponds import COLOURS, NOW, press, screen_text, settle, write_pond
from tests.tui.terminal import Terminal

TAKEN = {f"ctrl+{letter}" for letter in "abhijmqsz"} | {
    "f1", "left_square_bracket", "right_square_bracket", "backslash", "vertical_line", "at",
    "number_sign", "tilde", "circumflex_accent", "grave_accent", "colon",
}  # fmt: skip
ROOM_NAMES = {room for key in KEYS for room in key.rooms.split()}


def test_ids_are_unique() -> None:
    ids = [key.id for key in KEYS]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("room", sorted(ROOM_NAMES))
def test_no_two_actions_of_a_room_share_a_key(room: str) -> None:
    used = [part for key in keys_of(room, {}) for part in key.keys.split(",")]
    assert len(used) == len(set(used))


@pytest.mark.parametrize("key", KEYS, ids=lambda k: k.id)
def test_no_action_hangs_on_a_key_that_terminals_or_keyboards_take(key: object) -> None:
    keys = next(k for k in KEYS if k is key).keys.split(",")
    assert set(keys) - TAKEN
    assert not (set(keys) & TAKEN - {"f1"})  # a second way to the help, never the only one
    assert not any(part.startswith("alt+") for part in keys)


def test_every_room_has_keys_and_a_page_of_help() -> None:
    assert set(ROOMS) <= ROOM_NAMES
    assert set(ROOMS) <= set(PAGES)


def test_an_own_map_is_laid_over_the_table() -> None:
    keys = {key.id: key.keys for key in keys_of("today", {"level": "g"})}
    assert keys["level"] == "g"
    assert keys["note"] == "n"


@pytest.mark.parametrize(
    ("own", "fault"),
    [
        ({"level": "n"}, "level = n is the key of note already"),
        ({"level": "ctrl+a"}, "terminals take that key"),
        ({"level": ""}, "terminals take that key"),
        ({"levle": "g"}, "there is no action levle"),
    ],
)
def test_a_clash_is_told_and_the_default_stays(own: dict[str, str], fault: str) -> None:
    usable, faults = check(own)
    assert usable == {}
    assert len(faults) == 1
    assert fault in faults[0]


def test_two_actions_may_change_places() -> None:
    usable, faults = check({"level": "n", "note": "l"})
    assert usable == {"level": "n", "note": "l"}
    assert faults == []


def test_keys_are_called_as_on_the_keyboard() -> None:
    assert names("escape,q") == "Esc or q"
    assert names("question_mark") == "?"


async def test_an_own_key_works_and_stands_in_the_footer(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    settings = Settings(by="AB", keys={"level": "g", "test": "n"})
    session = Session(folder, load(folder), lambda: NOW, settings=settings, inline=True)
    app = make_app(session, COLOURS)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        text = "\n".join(screen_text(app))
        assert "g level" in text
        assert "t test" in text
        assert any("test = n is the key of note" in fault for fault in app.faults)
        await press(pilot, "g")
        assert isinstance(app.screen, EntryForm)


def test_a_clash_in_the_settings_file_is_one_sentence_at_the_start(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    config = tmp_path / "config" / "pondtui"
    config.mkdir(parents=True)
    (config / "settings.toml").write_text('[keys]\nlevel = "g"\ntest = "n"\n', encoding="utf-8")
    environ = {
        "HOME": str(tmp_path),
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
        "PONDTUI_NOW": "2026-08-14T18:20:00+02:00",
    }
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("test = n is the key of note")
    text = " ".join(" ".join(terminal.lines()).split())
    assert "test stays t" in text
    terminal.wait_for("g level")
    terminal.press("g")
    terminal.wait_for("reading")
    terminal.kill()


def test_on_a_telephone_a_reading_is_written_down(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ, columns=40, rows=20)
    terminal.wait_for("60 x 20 and more shows the drawings")
    terminal.press("e")
    terminal.wait_for("level 62")
    terminal.press("level 83\r")
    terminal.come_to_rest()
    terminal.press("h")
    terminal.wait_for("this screen: today")
    terminal.press("tempering\r")
    terminal.wait_for("Fish bear slow changes")
    terminal.kill()
    written = "".join(f.read_text("utf-8") for f in (folder / "journal").glob("*.txt"))
    assert "reading=83 mm" in written
