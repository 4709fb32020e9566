"""A window that is pulled about and texts of all the world: nothing breaks, nothing typed is lost;
and a program that is stopped and goes on."""

from __future__ import annotations

import os
import random
import signal
import time
from pathlib import Path
from typing import cast
from unicodedata import is_normalized

import pytest
from textual import events
from textual.geometry import Size
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.books.journal import read_folder
from pondtui.books.lines import one_line
from pondtui.clean import visible
from pondtui.tui.app import PondApp
from tests.tui.ponds import FILLED, LEVELS, app_on, press, screen_text, settle, write_pond
from tests.tui.terminal import Terminal

CORNERS = ((20, 5), (300, 100), (20, 100), (300, 5), (19, 4), (1, 1), (60, 20), (59, 19), (80, 24))
# keys from Today to every screen and window, and what is typed there
PLACES = {
    "today": "", "refill": "r", "journal": "j", "an entry": "j enter", "search": "j slash",
    "chores": "c", "tests": "s", "problems": "p", "water": "b", "bucket": "b k", "away": "a",
    "dates": "a d", "worksheets": "w", "find": "w slash", "worksheet": "w down enter", "setup": "o",
    "setup form": "o enter", "level": "l", "note": "n", "test": "t", "one line": "e",
    "explained": "question_mark", "help": "h", "looks": "v", "barrel": "r d", "give up": "r x",
    "pass over": "r b", "report": "a r",
}  # fmt: skip
FEW = 8
TYPED = "42 heron"
ZOO = (
    "池の水", "ﾊﾝｶｸ ｶﾅ", "한국어 연못", "е́лка", "e\u0301a\u0308o\u0302", "مرحبا بالبركة",
    "שלום בריכה",
    "ไทย น้ำ",
    "नमस्ते", "\U0001f41f\U0001f438", "\U0001f469\U0001f3fd\u200d\U0001f33e",
    "\U0001f1e7\U0001f1ea", "❤\ufe0f ❤ ❤\ufe0e", "①½㎡℃ ﬁ", "𝔭𝔬𝔫𝔡", "a\u200bb\u202ec\u2066d\ufeff",
    "Z͑ͫ̓ͪ̂ͫ̽͏̴̙̤̞͉͚̯̞̠͍A̴̵̜̰͔ͫ͗͢", "\u3000wide blank\u3000", "ẞß İı ŉ", "[/b] [red] \\[", "x" * 1000, "池" * 500,
)  # fmt: skip


def sizes(number: int, place: str) -> list[tuple[int, int]]:
    """So many sizes from 20x5 to 300x100, corners and smaller ones among them: of each place its
    own, so that few of each are many of all."""
    chance = random.Random(place)
    corners = chance.sample(CORNERS, min(number // 2, len(CORNERS)))
    rest = [(chance.randint(20, 300), chance.randint(5, 100)) for _ in range(number)]
    return [*corners, *rest[len(corners) :]]


async def resize(pilot: Pilot[int], width: int, height: int) -> None:
    size = Size(width, height)
    pilot.app.post_message(events.Resize(size, size))
    await pilot.pause(0)


async def at_rest(pilot: Pilot[int]) -> list[str]:
    """What stands on the screen when nothing comes any more; of a dialog, what it covers: the
    toolkit lays out what is behind only when it comes to the front again."""
    app = cast("PondApp", pilot.app)
    seen: list[list[str]] = []
    while (len(seen) < 40 and seen[-4:-1] != seen[-3:]) or len(seen) < 4:
        await settle(pilot)
        panels = app.screen.query(".panel")
        covered = panels.first().region if panels else app.screen.region
        seen.append(screen_text(app)[covered.y : covered.bottom])
    return seen[-1]


def fits(app: PondApp) -> bool:
    """Every line fills the screen's width, wide signs counted as two."""
    strips = app.screen._compositor.render_strips(app.size)
    return [strip.cell_length for strip in strips] == [app.size.width] * app.size.height


async def go(pilot: Pilot[int], place: str) -> None:
    """From Today to a place."""
    await settle(pilot)
    for key in PLACES[place].split():
        await press(pilot, key)


@pytest.mark.painted
@pytest.mark.parametrize("place", PLACES)
async def test_a_storm_of_sizes_leaves_every_screen_and_every_text_as_it_was(
    tmp_path: Path, place: str, request: pytest.FixtureRequest
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    number = 200 if request.config.getoption("--long-walk") else FEW
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        await go(pilot, place)
        focused = app.screen.focused
        if isinstance(focused, Input):
            focused.value = TYPED
            await settle(pilot)
        await resize(pilot, 1, 1)
        await resize(pilot, 80, 24)
        before, screen = await at_rest(pilot), type(app.screen)
        for width, height in sizes(number, place):
            await resize(pilot, width, height)
            assert app.is_running
        await resize(pilot, 80, 24)
        after = await at_rest(pilot)
        assert len(before) > 2
        assert type(app.screen) is screen
        assert isinstance(focused, Input) is isinstance(app.screen.focused, Input)
        if isinstance(focused, Input):
            assert focused.value == TYPED
            assert app.screen.focused is focused
        else:
            assert after == before


def test_the_storm_has_200_sizes_in_all_and_200_of_each_place_in_its_long_form() -> None:
    few = {size for place in PLACES for size in sizes(FEW, place)}
    assert set(CORNERS) <= few
    assert sum(len(sizes(FEW, place)) for place in PLACES) >= 200
    for place in PLACES:
        long = sizes(200, place)
        assert len(long) == 200
        assert set(CORNERS) <= set(long)


FIELDS = (
    "level",
    "test",
    "one line",
    "search",
    "find",
    "dates",
    "barrel",
    "worksheet",
    "setup form",
    "report",
)


@pytest.mark.parametrize("place", FIELDS)
async def test_any_text_in_any_field_breaks_nothing(tmp_path: Path, place: str) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await go(pilot, place)
        fields = [field for field in app.screen.query(Input) if field.display]
        assert fields
        for n, text in enumerate(ZOO):
            field = fields[n % len(fields)]
            field.value = ""
            field.focus()
            app.post_message(events.Paste(text))
            await settle(pilot)
            assert fits(app)
        await press(pilot, "enter")
        assert app.is_running


async def test_a_note_of_any_text_is_shown_and_read_back_as_it_was(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS)
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        for text in ZOO:
            await press(pilot, "n")
            app.post_message(events.Paste(text))
            await settle(pilot)
            await press(pilot, "enter")
        await press(pilot, "j")
        assert fits(app)
    entries = read_folder(folder, app.session.zone, None).entries
    assert {entry.note for entry in entries} >= {one_line(text).strip() for text in ZOO}
    plain = [text for text in ZOO if visible(text) == text and is_normalized("NFC", text)]
    assert len(plain) >= 12
    assert {text.strip() for text in plain} <= {entry.note for entry in entries}


def test_ctrl_z_gives_the_terminal_back_and_fg_goes_on_where_it_was(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.press("nkept")
    terminal.wait_for("kept")
    terminal.type_on("\x1a")
    left = terminal.come_to_rest()
    assert b"\x1b[?1049l" in left
    assert b"\x1b[?1000l" in left
    assert _state(terminal.process.pid) == "T"
    os.kill(terminal.process.pid, signal.SIGCONT)
    back = terminal.come_to_rest()
    assert b"\x1b[?1049h" in back
    terminal.wait_for("kept")
    terminal.press(" on\r")
    terminal.wait_for("saved: ")
    assert "kept on" in (folder / "journal/2026-desk.txt").read_text() + "".join(
        path.read_text() for path in (folder / "journal").glob("2026-*.txt")
    )
    terminal.come_to_rest()
    terminal.press("q")
    assert terminal.close() == 0


def _state(pid: int) -> str:
    """The process's state: T is stopped."""
    for _ in range(50):
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
        if state == "T":
            break
        time.sleep(0.1)
    return state
