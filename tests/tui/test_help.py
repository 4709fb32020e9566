"""Help inside the app: the screen's own keys first, then the whole manual, searched as typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.command import CommandList, CommandPalette
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.cli.pages import manual
from pondtui.tui.app import PondApp
from pondtui.tui.help import Help
from pondtui.tui.journal import JournalScreen
from pondtui.tui.keys import keys_of
from pondtui.tui.run import make_app
from pondtui.tui.today import TodayScreen
from tests.golden_files import Golden
from tests.tui.ponds import COLOURS, press, screen_text, session_on, settle, until, write_pond

Driver = Pilot[int]


@pytest.fixture
def app(tmp_path: Path) -> PondApp:
    made = make_app(session_on(write_pond(tmp_path / "pond")), COLOURS)
    made.manual = manual
    return made


async def shown_after(pilot: Driver, *keys: str) -> str:
    await press(pilot, *keys)
    assert isinstance(pilot.app, PondApp)
    return "\n".join(screen_text(pilot.app))


@pytest.mark.parametrize("key", ["h", "f1"])
async def test_help_begins_with_the_keys_of_the_screen(app: PondApp, key: str) -> None:
    async with app.run_test(size=(80, 60)) as pilot:
        await settle(pilot)
        text = await shown_after(pilot, key)
        shown = [key.help for key in keys_of("today", {}) if not key.id.startswith("tick_")]
        assert [line for line in shown if line[:40] not in text] == []


async def test_typing_searches_all_pages_and_enter_opens_one_at_the_word(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = await shown_after(pilot, "h", *"antifreeze")
        assert "1 page with: antifreeze" in text
        assert "safe-batch" in text
        text = await shown_after(pilot, "enter")
        assert "oil, antifreeze or something" in text
        text = await shown_after(pilot, "escape")
        assert "1 page with: antifreeze" in text
        await press(pilot, "escape")
        assert isinstance(app.screen, TodayScreen)


async def test_what_nobody_wrote_about_says_what_to_do(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = await shown_after(pilot, "h", *"zzzz", "enter")
        assert "no page holds all these words: try fewer" in text
        text = await shown_after(pilot, *["backspace"] * 4)
        assert "write down what the gauge reads" in text


async def test_tab_lists_the_topics_and_a_topic_is_shown_with_its_parts(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = await shown_after(pilot, "h", "tab")
        assert "the manual" in text
        assert "first-steps: " in text
        names = [page.name for page in manual() if page.name == page.topic]
        await press(pilot, *["down"] * names.index("pond-toml"), "enter")
        assert isinstance(app.screen, Help)
        shown = app.screen.query_one("#help-text").said.plain  # type: ignore[attr-defined] # a Line
        assert "[weather.columns]" in shown
        assert "pump_on" not in shown


async def test_a_page_scrolls_by_lines_and_pages(app: PondApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        before = await shown_after(pilot, "h")
        lower = await shown_after(pilot, "down")
        assert lower != before
        assert await shown_after(pilot, "up") == before
        assert await shown_after(pilot, "pagedown") != before
        assert await shown_after(pilot, "pageup") == before


async def test_a_verb_is_found_too(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = await shown_after(pilot, "h", *"commands bucket-test", "enter")
        assert "pondtui bucket-test" in text


@pytest.mark.parametrize("size", [(20, 5), (19, 4), (40, 20), (1, 1)])
async def test_a_terminal_that_shrinks_keeps_what_was_typed(
    app: PondApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "h", *"gauge")
        await pilot.resize_terminal(*size)
        await settle(pilot)
        await press(pilot, "down", "enter")
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert app.screen.query_one("#help-words", Input).value == "gauge"


@pytest.mark.parametrize(("width", "height"), [(80, 24), (60, 20)])
async def test_help_as_it_was_looked_at(
    app: PondApp, golden: Golden, width: int, height: int
) -> None:
    async with app.run_test(size=(width, height)) as pilot:
        await settle(pilot)
        await press(pilot, "h", *"tempering", "enter")
        golden(f"help-{width}x{height}", screen_text(app))


def found_first(app: PondApp) -> str:
    """The palette's first find, which Enter would take."""
    found = app.screen.query_one(CommandList)
    return str(found.get_option_at_index(0).prompt) if found.option_count else ""


async def test_the_palette_does_what_the_key_does(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+p")
        assert isinstance(app.screen, CommandPalette)
        await press(pilot, *"all entries")
        await until(pilot, lambda: "all entries" in found_first(app))
        await press(pilot, "enter")
        assert isinstance(app.screen, JournalScreen)


async def test_the_palette_offers_every_key_of_the_screen_and_no_command_of_others(
    app: PondApp,
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        offered = [c for c in app.get_system_commands(app.screen) if c.discover]
        assert [c.title for c in offered] == [
            f"{key.label}: {key.help}" for key in keys_of("today", {})
        ]


async def test_the_palette_opens_a_page_of_the_manual(app: PondApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+p", *"help tempering")
        await until(pilot, lambda: "tempering" in found_first(app))
        text = await shown_after(pilot, "enter", "enter")
        assert "Fish bear slow changes" in text
        await press(pilot, "escape")
        assert isinstance(app.screen, TodayScreen)


@pytest.mark.parametrize("size", [(20, 5), (1, 1)])
async def test_the_palette_bears_a_terminal_without_room(
    app: PondApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+p", "l")
        await pilot.resize_terminal(*size)
        await settle(pilot)
        await press(pilot, "down", "escape", "escape", "ctrl+p")
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert isinstance(app.screen, TodayScreen)
