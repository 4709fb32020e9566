"""A slow line hands over many keys in one piece: each goes where it would go if typed slowly."""

from __future__ import annotations

import asyncio
import random
import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest
from textual import events
from textual.widgets import Input

from pondtui.tui import one_by_one
from pondtui.tui.app import PondApp
from tests.tui.ponds import (
    FILLED,
    LEVELS,
    NOW,
    app_on,
    handled,
    lately,
    settle,
    until,
    write_pond,
)
from tests.tui.terminal import Terminal

ENVIRON = {"PONDTUI_NOW": "2026-10-10T17:45:00+02:00", "TZ": "UTC"}
NAMES = {"\r": "enter", "\x1b": "escape", " ": "space", "?": "question_mark"}
KEYS = (
    *"oooaacifxxjnnletcsuyp78a ", *(3 * ("enter", "down")), "escape", "up", "backspace", "tab",
)  # fmt: skip
# the ways, then each question with its Enter
FIRST_RUN = (
    "\r", "Alder Nook\r", "\r", "51\r", "\r", "\r", "\r", "3.2 m\r", "2.1 m\r", "75 cm\r", "\r",
    "30 mm\r", "240 mm\r", "\r", "572 mm\r", "90 cm\r", "85 cm\r", "7 cm\r", "11 L/min\r", "8 mL\r",
    "100 L\r", "\r", "~/nook\r", "62 mm\r",
)  # fmt: skip


def opened(tmp_path: Path) -> tuple[Terminal, Path]:
    """The program on the sample pond, Today drawn."""
    pond = lately(tmp_path / "pond")
    environ = {"HOME": str(tmp_path), **ENVIRON}
    terminal = Terminal(["-m", "pondtui", "--pond", str(pond)], environ)
    terminal.wait_for("Today")
    terminal.wait_for("Ahead")
    return terminal, pond


TYPED = (
    ("l7812", "7812"),  # not 812, nor a tick of chore 1
    ("nheron again", "heron again"),
    ("elevel 78", "level 78"),
    ("j/heron", "heron"),
    ("w/bucket", "bucket"),
    ("\x10problems\r", "o put off"),  # the palette, and the screen behind it
    ("r\r\x7fl7812", "7812"),  # a step's tick, the way back, and a field
)


def test_what_is_typed_while_a_form_opens_stands_in_its_field(tmp_path: Path) -> None:
    terminal, pond = opened(tmp_path)
    try:
        for keys, stands in TYPED:
            terminal.type_on(keys)
            terminal.wait_for(stands, 10)
            terminal.press("\x1b")
            terminal.come_to_rest()  # an Escape with a key on its heels is another key
            terminal.press("\x1b\x1b")
            terminal.wait_for("q quit")
            terminal.come_to_rest()
            assert not any(stands in line for line in terminal.lines())
    finally:
        terminal.kill()
    written = "".join(f.read_text() for f in (pond / "journal").glob("*.txt"))
    assert written.count("2026-10-10") == 1  # the step's tick


def test_the_whole_first_run_typed_in_one_piece_makes_the_pond_and_goes_on_to_today(
    tmp_path: Path,
) -> None:
    terminal = Terminal(["-m", "pondtui"], {"HOME": str(tmp_path), **ENVIRON})
    try:
        terminal.wait_for("Welcome")
        terminal.type_on("".join(FIRST_RUN) + "nheron again")
        terminal.wait_for("Alder Nook")
        terminal.wait_for("heron again")
        terminal.type_on("\r")
        terminal.wait_for("saved: ")
    finally:
        terminal.kill()
    made = tomllib.loads((tmp_path / "nook" / "pond.toml").read_text("utf-8"))
    assert made["pond"]["name"] == "Alder Nook"
    assert made["basin"][0]["length"] == "3.2 m"
    assert made["basin"][0]["depth"] == "75 cm"
    assert made["barrel"][0]["outlet"] == "7 cm"
    assert made["conditioner"][0]["label_volume"] == "100 L"
    journal = "".join(f.read_text("utf-8") for f in (tmp_path / "nook" / "journal").glob("*.txt"))
    assert journal.count("reading=62 mm") == 1
    assert journal.count("| heron again") == 1


def test_keys_typed_before_the_first_screen_stands_are_answers_too(tmp_path: Path) -> None:
    terminal = Terminal(["-m", "pondtui"], {"HOME": str(tmp_path), **ENVIRON})
    try:
        while b"\x1b[?1049h" not in terminal.read(0.5):  # the program has taken the terminal
            assert terminal.process.poll() is None
        terminal.type_on("\rAlder Nook\r\r51\r")
        terminal.wait_for("4/2")
    finally:
        terminal.kill()
    draft = next(tmp_path.rglob("setup-draft.toml")).read_text("utf-8")
    assert tomllib.loads(draft) == {
        "pond_name": "Alder Nook", "pond_time_zone": "UTC", "pond_latitude": "51"
    }  # fmt: skip


def test_a_form_of_setup_is_opened_filled_and_written_in_one_piece(tmp_path: Path) -> None:
    terminal, pond = opened(tmp_path)
    name = tomllib.loads((pond / "pond.toml").read_text("utf-8"))["pond"]["name"]
    try:
        terminal.type_on("o\r Two" + 7 * "\r" + "s")  # Enter in the last field leads back
        terminal.wait_for("pond.toml written")
    finally:
        terminal.kill()
    after = tomllib.loads((pond / "pond.toml").read_text("utf-8"))["pond"]
    assert after["name"] == f"{name} Two"


def test_a_pasted_text_waits_for_its_turn_and_stays_in_one_piece(tmp_path: Path) -> None:
    terminal, pond = opened(tmp_path)
    try:
        terminal.type_on("nseen: \x1b[200~jul 1 heron\x1b[201~ again\r")
        terminal.wait_for("saved: ")
    finally:
        terminal.kill()
    written = "".join(f.read_text() for f in (pond / "journal").glob("*.txt"))
    assert written.count("| seen: jul 1 heron again\n") == 1


def send(app: PondApp, key: str) -> None:
    """A key as the terminal sends it."""
    character = key if len(key) == 1 else None
    app.post_message(events.Key(NAMES.get(key, key), character))


async def after(folder: Path, keys: Sequence[str], *, slowly: bool) -> tuple[object, ...]:
    """What stands on the screen, in the fields and on the disk after these keys."""
    app = app_on(write_pond(folder, desk=LEVELS + FILLED))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for key in keys:
            send(app, key)
            if slowly:
                await settle(pilot)
        await handled(pilot)
        fields = [(field.id, field.value) for field in app.screen.query(Input)]
        lines = [entry.canonical for entry in app.session.journal.entries]
        book = app.session.describing
        described = book.draft.pond.data if book is not None else {}
        screens = [type(screen).__name__ for screen in app.screen_stack]
        return screens, app.screen.focused and app.screen.focused.id, fields, described, lines


@pytest.mark.parametrize("seed", range(3))
async def test_keys_at_once_do_what_they_do_one_after_the_other(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    # `r` is left out: Refill lets a key that comes too soon after a step pass, so that one which
    # is held down does not tick the next step as well
    keys = [chance.choice(KEYS) for _ in range(40)]
    slow = await after(tmp_path / "slow", keys, slowly=True)
    assert await after(tmp_path / "fast", keys, slowly=False) == slow


async def test_what_is_typed_on_after_the_end_reaches_no_screen(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for key in ("q", "1", "n", "a", "\r"):
            send(app, key)
        await pilot.pause()
        send(app, "1")
        await pilot.pause()
        assert app.return_code == 0
    assert [e for e in app.session.journal.entries if e.instant >= NOW] == []
    app.one_by_one.leave()
    assert [each.key for each in one_by_one.left if isinstance(each, events.Key)][:3] == [*"1na"]
    one_by_one.left.clear()


async def test_what_is_never_at_rest_holds_no_key_up_for_long(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)

        async def never() -> None:
            while True:
                await asyncio.sleep(0)

        busy = asyncio.create_task(never())
        for key in "nab":
            send(app, key)
        await until(pilot, lambda: [f.value for f in app.screen.query(Input)] == ["ab", ""])
        busy.cancel()
