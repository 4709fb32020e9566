"""Every text that any screen really paints, in every theme, can be read on what is behind it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from textual.color import Color
from textual.geometry import Region

import pondtui.tui
from pondtui.paths import themes_dir
from pondtui.tui import colours, themes
from pondtui.tui.app import ROOMS, PondApp
from pondtui.tui.screen import Dialog
from tests.tui.ponds import FILLED, LEVELS, app_on, press, settle, write_pond

NAMES = sorted(themes.load(themes_dir())[0])
LEAST = 4.5  # WCAG 2.1, success criterion 1.4.3
DIALOGS = ("v", "e", "n", "l", "t", "h", "question_mark")


Piece = tuple[str, Color, Color]


def painted(app: PondApp) -> Iterator[Piece]:
    """Each piece of text in front with its colour and its ground. Behind a dialog nothing counts:
    what cannot be used now may be faint."""
    screen = app.screen
    front = Region(0, 0, *app.size)
    if isinstance(screen, Dialog):
        front = screen.query_one(".panel").region
    strips = screen._compositor.render_strips(app.size)
    for y, strip in enumerate(strips):
        if not front.y <= y < front.bottom:
            continue
        for segment in strip:
            style = segment.style
            if style and style.color and style.bgcolor and re.search(r"\w", segment.text):
                yield (
                    segment.text.strip(),
                    Color.from_rich_color(style.color),
                    Color.from_rich_color(style.bgcolor),
                )


def faint(pieces: Iterable[Piece]) -> set[tuple[str, str, str, float]]:
    found = set()
    for text, colour, ground in pieces:
        ratio = colours.contrast(colour, ground)
        if ratio < LEAST:
            found.add((text, colour.hex, ground.hex, round(ratio, 2)))
    return found


@pytest.mark.parametrize("name", NAMES)
async def test_no_screen_and_no_dialog_paints_a_faint_word(tmp_path: Path, name: str) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    seen = set()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        app.wear(name)
        await settle(pilot)
        for room in ROOMS:
            app.open_room(room)
            await settle(pilot)
            pieces = list(painted(app))
            assert faint(pieces) == set(), room
            seen |= {(colour.hex, ground.hex) for _, colour, ground in pieces}
            if room != "today":
                app.go_back()
                await settle(pilot)
        for key in DIALOGS:
            await press(pilot, key)
            pieces = list(painted(app))
            assert faint(pieces) == set(), key
            seen |= {(colour.hex, ground.hex) for _, colour, ground in pieces}
            await press(pilot, "escape")
            if key == "v":  # it tries other looks on
                app.wear(name)
    assert len(seen) >= 8  # the walk really met several colours and grounds


def test_every_colour_of_the_style_sheet_is_among_the_checked_pairs() -> None:
    sheets = sorted(Path(pondtui.tui.__file__).parent.glob("*.tcss"))
    assert len(sheets) == 2
    sheet = "".join(path.read_text(encoding="utf-8") for path in sheets)
    texts = set(re.findall(r"[^-]color: \$([a-z-]+)", sheet))
    grounds = set(re.findall(r"background: \$([a-z-]+)", sheet))
    assert {"foreground", "quiet"} <= texts
    assert {"background", "panel", "surface"} <= grounds
    assert {(t, g) for t in texts for g in grounds} <= set(colours.PAIRS)
