"""The Refill screen: only keys that do something are shown, and nothing lies over them."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual._compositor import ChopsUpdate, Compositor
from textual.content import Content
from textual.geometry import Region
from textual.pilot import Pilot
from textual.widgets._toast import Toast

from pondtui.tui.bars import KeyBar, Line
from tests.tui.ponds import (
    FILLED,
    LEVELS,
    app_on,
    press,
    screen_text,
    settle,
    until,
    write_pond,
)

STANDING = """\
2026-08-13 18:00:00+02:00 | fill    | barrel=gate; added=130 L; source=tap; by=AB |
2026-08-13 18:10:00+02:00 | treat   | barrel=gate; dose=20 mL; by=AB |
2026-08-13 18:30:00+02:00 | test    | where=gate; chlorine_total=<0.02 mg/L; by=AB |
2026-08-13 18:40:00+02:00 | giveup  | batch=gate-260813; by=AB |
"""
SIDE = """\
[[barrel]]
name = "side"
shape = "upright"
diameter = "57 cm"
height = "0.9 m"
full_line = "0.8 m"
outlet = "80 mm"
source = "rain"
"""
HOSE_IN = "".join(line for line in FILLED.splitlines(keepends=True) if "tap-shut" not in line)


@pytest.mark.parametrize(("desk", "offered"), [(STANDING, True), (STANDING + HOSE_IN, False)])
async def test_no_filling_is_offered_only_before_filling(
    tmp_path: Path, desk: str, offered: bool
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + desk))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "r")
        text = "\n".join(screen_text(app))
        assert "gate" in text
        assert ("no filling" in text) is offered
        before = app.session.state().entries
        await press(pilot, "f")
        assert (app.session.state().entries > before) is offered


async def _toast(pilot: Pilot[int]) -> Region:
    """Where the one message lies."""
    await until(pilot, lambda: bool(pilot.app.screen.query(Toast)))
    await settle(pilot)
    return pilot.app.screen.query_one(Toast).region


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_a_message_leaves_the_keys_free(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=size, notifications=True) as pilot:
        await press(pilot, "r")
        await press(pilot, "p")  # no part is offered here
        toast = await _toast(pilot)
        assert not toast.overlaps(app.screen.query_one(KeyBar).region)


async def test_a_form_opens_without_the_message_before_it(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "r")
        await press(pilot, "p")
        await _toast(pilot)
        await press(pilot, "l")
        await until(pilot, lambda: any("gauge reads" in line for line in screen_text(app)))
        await settle(pilot)
        assert not app.screen.query(Toast)


@pytest.mark.painted
async def test_the_words_of_another_barrel_are_painted_before_its_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    paint, say = Compositor.render_partial_update, Line.say

    def painted(compositor: Compositor) -> ChopsUpdate | None:
        done.append("a frame")
        return paint(compositor)

    def said(line: Line, content: Content) -> None:
        if content.plain != line.said.plain:
            done.append(line.id or "")
        say(line, content)

    monkeypatch.setattr(Compositor, "render_partial_update", painted)
    monkeypatch.setattr(Line, "say", said)
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED, more=SIDE))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "r")
        await settle(pilot)
        done.clear()
        await press(pilot, "o")
        await settle(pilot)
        assert done.index("plan") < done.index("a frame") < done.index("drawing")
        assert "a frame" in done[done.index("drawing") :]
