"""The keeper's own themes are taken, a bad one is named, and a plain terminal gets plain signs."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import OptionList

from pondtui.books.settings import Settings, read_settings
from pondtui.paths import config_dir, themes_dir
from pondtui.tui.help import room_page
from pondtui.tui.looks import first_looks, looks, plain, plain_signs
from pondtui.tui.run import make_app
from tests.tui.ponds import COLOURS, press, screen_text, session_on, settle, write_pond


def own_theme(file: str, name: str, *, background: str = "#10181d") -> None:
    text = (themes_dir() / "dusk.toml").read_text(encoding="utf-8")
    folder = config_dir() / "themes"
    folder.mkdir(parents=True, exist_ok=True)
    text = text.replace('"dusk"', f'"{name}"').replace('"#10181d"', f'"{background}"')
    (folder / file).write_text(text, encoding="utf-8")


def test_six_themes_can_be_chosen_the_terminals_own_among_them() -> None:
    found = looks(Settings(), COLOURS)
    assert len(found.themes) == 6
    assert "terminal" in found.themes
    assert found.faults == []


def test_a_theme_of_the_keepers_is_found_and_used() -> None:
    own_theme("reed.toml", "reed")
    found = looks(Settings(theme="reed"), COLOURS)
    assert found.theme == "reed"
    assert found.faults == []


@pytest.mark.parametrize("wish", ["", "noon", "terminal", "reed", "no-such", "../dusk"])
def test_the_first_frame_wears_what_all_looks_would(wish: str) -> None:
    own_theme("reed.toml", "reed")
    first, found = (make(Settings(theme=wish), COLOURS) for make in (first_looks, looks))
    assert first.theme == found.theme
    assert first.themes[first.theme] == found.themes[found.theme]


def test_the_first_frame_reads_no_other_shipped_theme() -> None:
    assert [*first_looks(Settings(theme="noon"), COLOURS).themes] == ["noon"]


async def test_all_themes_are_known_and_faults_told_after_the_first_frame(tmp_path: Path) -> None:
    own_theme("reed.toml", "reed")
    own_theme("nord.toml", "nord")  # the toolkit has one of that name
    own_theme("pale.toml", "pale", background="#8fd3ff")
    app = make_app(session_on(write_pond(tmp_path / "pond")), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert {"dusk", "noon", "reed", "nord", "terminal"} <= {*app.looks.themes}
        assert app.get_theme("nord") is app.looks.themes["nord"]
        assert [n.message for n in app._notifications if "pale.toml" in n.message]


@pytest.mark.parametrize(
    ("name", "background", "words"),
    [("noon", "#10181d", 'the name "noon" is taken'), ("reed", "#8fd3ff", "has a contrast of")],
)
def test_a_bad_theme_of_the_keepers_is_named_and_skipped(
    name: str, background: str, words: str
) -> None:
    own_theme(f"{name}.toml", name, background=background)
    found = looks(Settings(), COLOURS)
    assert len(found.themes) == 6
    [fault] = found.faults
    assert words in fault
    assert f"{name}.toml" in fault


def test_a_config_folder_that_is_a_file_leaves_the_shipped_themes() -> None:
    config_dir().parent.mkdir(parents=True, exist_ok=True)
    config_dir().write_text("not a folder", encoding="utf-8")
    assert len(looks(Settings(), COLOURS).themes) == 6


@pytest.mark.parametrize(
    ("asked", "environ", "wanted"),
    [
        (False, {}, False),
        (True, {"LANG": "de_DE.UTF-8"}, True),
        (False, {"LANG": "de_DE.UTF-8"}, False),
        (False, {"LANG": "de_DE.ISO-8859-1"}, True),
        (False, {"LANG": "de_DE.utf8", "LC_ALL": "C"}, True),
        (False, {"LANG": "C", "LC_CTYPE": "C.UTF-8"}, True),
        (False, {"LC_CTYPE": "C.UTF-8"}, False),
        (True, {"PONDTUI_ASCII": "0"}, False),
        (False, {"PONDTUI_ASCII": "1", "LANG": "de_DE.UTF-8"}, True),
    ],
)
def test_plain_signs_follow_the_wish_then_the_locale(
    asked: bool, environ: dict[str, str], wanted: bool
) -> None:
    assert plain_signs(asked, environ) is wanted


def test_plain_text_is_as_wide_as_before() -> None:
    text = "│ 5 ± 2 mm … 18 °C ▁▄█ ─┼─"
    assert plain(text).isascii()
    assert len(plain(text)) == len(text)


async def test_a_locale_without_utf8_gets_a_screen_of_plain_signs(tmp_path: Path) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    app = make_app(session, {**COLOURS, "LANG": "de_DE.ISO-8859-1"})
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert all(line.isascii() for line in screen_text(app))


async def test_the_cursor_shows_a_theme_escape_leaves_it_and_enter_keeps_it(tmp_path: Path) -> None:
    app = make_app(session_on(write_pond(tmp_path / "pond")), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "v", "down")
        assert app.theme == "noon"
        await press(pilot, "escape")
        assert app.theme == "dusk"
        await press(pilot, "v", "down", "enter")
        assert app.theme == "noon"
    assert read_settings(config_dir())[0].theme == "noon"


async def test_plain_signs_can_be_switched_on_and_are_kept(tmp_path: Path) -> None:
    app = make_app(session_on(write_pond(tmp_path / "pond")), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert not all(line.isascii() for line in screen_text(app))
        await press(pilot, "v", "end", "enter")
        assert all(line.isascii() for line in screen_text(app))
    assert read_settings(config_dir())[0].ascii is True


async def test_the_terminals_own_colours_are_shown_as_the_cursor_stands_on_them(
    tmp_path: Path,
) -> None:
    app = make_app(session_on(write_pond(tmp_path / "pond")), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "v")
        place = [*app.looks.themes].index("terminal")
        app.screen.query_one(OptionList).highlighted = place
        await settle(pilot)
        assert (app.theme, app.native_ansi_color) == ("terminal", True)
        await press(pilot, "escape")
        assert (app.theme, app.native_ansi_color) == ("dusk", False)


def test_the_help_of_today_tells_the_key_of_the_looks() -> None:
    assert "colours and plain signs" in room_page("today", {}).text
