"""Every screen on both samples at both sizes, as it was looked at: one start of the app for each.

`pytest --rebuild-goldens tests/tui/test_goldens.py` writes them anew; read the difference.
"""

from __future__ import annotations

import re
import shutil
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from textual.pilot import Pilot

from pondtui.pond.refill.case import current_case
from pondtui.pond.refill.progress import progress
from pondtui.tui.app import PondApp
from pondtui.tui.refill_input import RefillInput
from pondtui.tui.run import make_app
from tests.golden_files import Golden
from tests.sample import metric, us
from tests.sample.tale import Tale
from tests.tui.ponds import COLOURS, press, screen_text, session_on, settle, type_into

SIZES = ((80, 24), (60, 20))
# name, keys from Today; each walk ends with as many steps back as it has screens
WALKS = (
    ("today", (), 0),
    ("water", ("b",), 1),
    ("water, level", ("b", "c"), 1),
    ("water, loss", ("b", "c", "c"), 1),
    ("water, months", ("b", "c", "c", "c"), 1),
    ("bucket test", ("b", "k"), 2),
    ("tests", ("s",), 1),
    ("chores", ("c",), 1),
    ("journal", ("j",), 1),
    ("away", ("a",), 1),
    ("worksheets", ("w",), 1),
    ("automation", ("w", "enter"), 2),
    ("worksheet", ("w", "down", "enter"), 2),
    ("problems", ("p",), 1),
    ("help", ("h",), 1),
    ("looks", ("v",), 1),
)
PRESSES = 20
# screens of which a row is one line of the keeper's own free text, however long it is
MAY_CUT = ("journal",)
UNITS = "US gal|US fl oz|gal|mm|in|ft|mL|L|mg/L|°C|°F|mph|m/s|h|min|%"


async def walk(app: PondApp, pilot: Pilot[int]) -> dict[str, list[str]]:
    """The text of every screen by its name."""
    seen = {}
    for name, keys, back in WALKS:
        for key in keys:
            await press(pilot, key)
        seen[name] = screen_text(app)
        for _ in range(back):
            await press(pilot, "escape")
    await press(pilot, "r")
    seen["refill, begun"] = screen_text(app)
    await up_to_dose(app, pilot)
    seen["refill, dose"] = screen_text(app)
    await press(pilot, "escape")
    seen["today, with a batch"] = screen_text(app)
    return seen


async def plan_and_sheet(app: PondApp, pilot: Pilot[int], tale: Tale) -> dict[str, list[str]]:
    """A week away from the day of now: its plan and its care sheet, which is printed."""
    first = datetime.fromisoformat(tale.now).date()
    for key in ("a", "d"):
        await press(pilot, key)
    await type_into(pilot, "asked", f"{first} {first + timedelta(7)} {tale.sitter_name}")
    seen = {}
    for name, key in (("away, plan", "enter"), ("care sheet", "s")):
        await press(pilot, key)
        seen[name] = screen_text(app)
    for key in ("escape", "p"):
        await press(pilot, key)
    return seen


def step_on(app: PondApp) -> str:
    """The id of the step that is on."""
    session = app.session
    case = current_case(session.setup, session.state(), session.setup.barrels[0], session.now())
    on = progress(case).on
    assert on is not None
    return on.step.id


async def up_to_dose(app: PondApp, pilot: Pilot[int]) -> None:
    """Tick and type until the conditioner is to be given.

    An Enter that follows another too quickly is taken for a slip: it is pressed again.
    """
    field = app.screen.query_one(RefillInput)
    while (step := step_on(app)) != "dose":
        for _ in range(PRESSES):
            await press(pilot, "enter")
            if field.asked is not None or step_on(app) != step:
                break
            await pilot.pause(0.1)
        if step == "filled":
            await type_into(pilot, "field", "line")
            await press(pilot, "enter")
        assert field.asked is None
        assert step_on(app) != step


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("tale", [metric.TALE, us.TALE], ids=lambda tale: tale.name)
async def test_the_screens_look_like_this(
    tmp_path: Path, golden: Golden, tale: Tale, size: tuple[int, int]
) -> None:
    folder = tmp_path / "pond"
    shutil.copytree(tale.folder, folder)
    now = int(datetime.fromisoformat(tale.now).timestamp())
    app = make_app(session_on(folder, now=now), COLOURS)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        seen = await walk(app, pilot)
        seen |= await plan_and_sheet(app, pilot, tale)
    app = make_app(session_on(folder, now=now, sitter=tale.sitter_name), COLOURS)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        seen["the sitter's visit"] = screen_text(app)
    golden(f"screens-{tale.name}-{size[0]}x{size[1]}", pages(seen))
    assert broken(seen) == []
    assert cut(seen) == []


def pages(seen: dict[str, list[str]]) -> list[str]:
    """All screens one below the other, each under its name."""
    return [line for name, lines in seen.items() for line in (f"=== {name}", *lines)]


def cut(seen: dict[str, list[str]]) -> list[tuple[str, str]]:
    """Lines in which a text ends in the sign of a cut, but for the places where it may."""
    return [
        (name, line.strip())
        for name, lines in seen.items()
        for line in lines
        if "…" in line and name not in MAY_CUT
    ]


def broken(seen: dict[str, list[str]]) -> list[tuple[str, str]]:
    """Lines that end with a number whose unit, or with a ± whose number, stands in the next one."""
    found = []
    for name, lines in seen.items():
        for line, following in pairwise(lines):
            if re.search(r"(?<![\w.:/-])\d[\d./ ]*$", line.rstrip()) and re.match(
                rf"(?:{UNITS})(?![\w])", following.strip()
            ):
                found.append((name, f"{line.strip()} / {following.strip()}"))
            if line.rstrip().endswith("±"):
                found.append((name, line.strip()))
    return found
