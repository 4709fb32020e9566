"""A screen that was just built is dressed once: it looks as it does when it is dressed again."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widget import Widget

from tests.tui.ponds import FILLED, LEVELS, app_on, press, settle, write_pond

pytestmark = pytest.mark.painted

ROOMS = (
    "r",
    "l",
    "t",
    "d",
    "c",
    "s",
    "p",
    "e",
    "n",
    "j",
    "b",
    "a",
    "w",
    "o",
    "v",
    "h",
    "question_mark",
)
DEEPER = (
    ("j", "k"),
    ("j", "slash"),
    ("b", "k"),
    ("a", "d"),
    ("w", "enter"),
    ("o", "enter"),
    ("r", "d"),
)


@pytest.mark.parametrize("keys", [*((key,) for key in ROOMS), *DEEPER], ids="-".join)
async def test_a_screen_is_dressed_as_if_twice(tmp_path: Path, keys: tuple[str, ...]) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, *keys)
        await settle(pilot)
        assert app.screen.id != "today"

        def dressed() -> list[tuple[object, ...]]:
            nodes = app.screen.walk_children(Widget, with_self=True)
            return [(n, n.styles.base.get_rules(), n.visual_style) for n in nodes]

        once = dressed()
        app.screen.update_node_styles(animate=False)
        await settle(pilot)
        assert dressed() == once
