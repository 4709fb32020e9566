"""Whatever is pressed, in whatever window: nothing breaks, and every line written can be read."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from textual import events
from textual.geometry import Size

from pondtui.books.journal import read_folder
from tests.tui.ponds import FILLED, LEVELS, app_on, press, write_pond

KEYS = (
    *"rltdjwnu?hkpxcsqy07 a", "enter", "enter", "escape", "tab", "up", "down", "down", "backspace",
    "home", "end", "pageup", "pagedown",
)  # fmt: skip
SIZES = ((80, 24), (60, 20), (59, 19), (120, 40), (19, 4), (1, 1), (40, 12))
NAMES = {"?": "question_mark", " ": "space"}


@pytest.mark.painted
@pytest.mark.parametrize("seed", range(3))
async def test_no_key_in_no_window_breaks_anything(
    tmp_path: Path, seed: int, request: pytest.FixtureRequest
) -> None:
    chance = random.Random(seed)
    number = 300 if request.config.getoption("--long-walk") else 150
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    app = app_on(folder)
    rooms = set()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        for _ in range(number):
            if app.return_value is not None or not app.is_running:
                break
            if chance.random() < 0.02:
                width, height = chance.choice(SIZES)
                size = Size(width, height)
                app.post_message(events.Resize(size, size))
            # `q` on Today ends the walk: pressed only where it goes back
            key = chance.choice(KEYS)
            if key == "q" and getattr(app.screen, "ROOM", "") == "today":
                continue
            await press(pilot, key)
            rooms.add(type(app.screen).__name__)
    assert {"TodayScreen", "EntryForm"} < rooms
    assert len(rooms) >= 5  # the walk really went about
    journal = read_folder(folder, app.session.zone, None)
    assert [p for p in journal.problems if p.severity == "problem"] == []
    assert len(journal.entries) == len(app.session.journal.entries)
    assert app.session.state().entries == len(app.session.journal.live)
