"""An invented pond for the screen's tests: its folder, a clock that stands, an app upon it."""

from __future__ import annotations

import asyncio
import shutil
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic
from typing import Any, cast

from textual import events
from textual._context import visible_screen_stack
from textual.keys import _character_to_key, key_to_character
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.books.pondfile import load
from pondtui.books.settings import Settings
from pondtui.books.store import Store
from pondtui.tui.app import PondApp
from pondtui.tui.run import make_app
from pondtui.tui.session import Session
from tests.tui.terminal import ROOT

NOW = int(datetime(2026, 8, 14, 16, 20, tzinfo=UTC).timestamp())  # 18:20 at the pond
WAIT_S = 20.0
REST_S = 5.0
COLOURS = {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
POND = """\
format = 1
[pond]
name = "Alder Yard"
time_zone = "Europe/Brussels"
units = "metric"
[gauge]
reads = "down"
[[basin]]
name = "main pond"
floats = true
shape = "box"
length = "3 m"
width = "2 m"
depth = "0.8 m"
[[mark]]
name = "rim"
reading = "20 mm"
role = "spill"
[[mark]]
name = "stone"
reading = "45 mm"
role = "target"
[[mark]]
name = "sedge shelf"
reading = "120 mm"
role = "warn"
[[mark]]
name = "pump"
reading = "250 mm"
role = "danger"
[[barrel]]
name = "gate"
shape = "straight"
width = "0.5 m"
breadth = "0.5 m"
height = "0.9 m"
full_line = "0.8 m"
outlet = "80 mm"
pipe_bore = "19 mm"
pipe_length = "9 m"
drop = "350 mm"
source = "tap"
[source.tap]
total_chlorine = "0.5 mg/L"
measured = 2026-08-01
chloramine = false
temperature = "15 degC"
flow = "11 L/min"
[[conditioner]]
from = 2026-04-02
kind = "liquid"
label_dose = "8 mL"
label_volume = "100 L"
rated_for = "1 mg/L"
wait = "10 min"
devices = [["syringe", "20 mL", "0.5 mL"]]
[[chore]]
name = "look at fish"
every = "1 d"
"""
PEOPLE = """\
[[person]]
name = "Mo"
initials = "MO"
role = "keeper"
phone = "555 01 23"
[[person]]
name = "Tam"
initials = "TA"
role = "sitter"
[house]
emergency_number = "112"
breaker = "hall cupboard, third from the left"
"""
LEVELS = """\
2026-08-11 07:40:00+02:00 | level   | reading=62 mm; pump=on; by=AB |
2026-08-12 07:42:30+02:00 | level   | reading=68 mm; pump=on; by=AB |
2026-08-12 07:45:00+02:00 | note    | by=AB | heron at dawn
2026-08-13 07:40:40+02:00 | level   | reading=74 mm; pump=on; by=AB |
2026-08-14 07:43:10+02:00 | level   | reading=80 mm; pump=on; temp=22 degC; by=AB | calm
2026-08-14 07:44:30+02:00 | chore   | name=look at fish; by=AB |
"""
FILLED = """\
2026-08-14 17:30:00+02:00 | tick    | step=outlet-shut; batch=gate-260814; by=AB |
2026-08-14 17:30:10+02:00 | tick    | step=barrel-sound; batch=gate-260814; by=AB |
2026-08-14 17:30:20+02:00 | tick    | step=hose-above-rim; batch=gate-260814; by=AB |
2026-08-14 17:31:30+02:00 | start   | what=fill; barrel=gate; batch=gate-260814; by=AB |
2026-08-14 17:43:40+02:00 | fill    | barrel=gate; batch=gate-260814; added=130 L; source=tap; by=AB |
2026-08-14 17:44:00+02:00 | tick    | step=tap-shut; batch=gate-260814; by=AB |
"""  # noqa: E501 - lines of a journal are as long as they are


def write_pond(
    folder: Path,
    *,
    desk: str = LEVELS,
    others: Mapping[str, str] | None = None,
    more: str = "",
) -> Path:
    """A pond folder; `desk` is this device's file, `others` further ones by name, `more`
    further tables of pond.toml."""
    (folder / "journal").mkdir(parents=True)
    (folder / "pond.toml").write_text(POND + more, encoding="utf-8")
    texts = {"2026-desk": desk, **(others or {})}
    for name, text in texts.items():
        if text:
            (folder / "journal" / f"{name}.txt").write_text(text, encoding="utf-8")
    return folder


def lately(folder: Path, since: str = "2026-09-20") -> Path:
    """The sample pond as if its keeper had only just begun: little to read at each of many
    starts."""
    shutil.copytree(ROOT / "sample" / "metric", folder, ignore=shutil.ignore_patterns("weather"))
    for path in (folder / "journal").iterdir():
        lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
        path.write_text("".join(line for line in lines if line >= since), encoding="utf-8")
    return folder


def session_on(
    folder: Path,
    *,
    store: Store | None = None,
    inline: bool = True,
    now: int = NOW,
    years: str = "all",
    sitter: str = "",
) -> Session:
    """The pond opened, its clock standing, writing at once."""
    return Session(
        folder, load(folder), lambda: now, settings=Settings(by="AB"), store=store, inline=inline,
        years=years, sitter=sitter,
    )  # fmt: skip


def app_on(folder: Path) -> PondApp:
    """The app on a pond."""
    return make_app(session_on(folder), COLOURS)


def screen_text(app: PondApp) -> list[str]:
    """What stands on the screen, line by line."""
    width, height = app.size
    visible_screen_stack.set(app._background_screens)  # what shows beside a dialog
    strips = app.screen._compositor.render_strips(app.size)
    lines = [strip.text for strip in strips]
    assert len(lines) == height
    assert all(len(line) == width for line in lines)
    return lines


async def settle(pilot: Pilot[Any]) -> None:
    """Let messages, threads and the drawing after them run out."""
    await pilot.pause()  # until the process rests: threads have no place in the loop
    await handled(pilot)


async def handled(pilot: Pilot[Any]) -> None:
    """Wait until every key that was posted has been handled, and what it began.

    The toolkit's own pause asks every widget of the screen whether it has done; here it is enough
    that the loop has nothing left to do. A new size is laid out a moment after it is told.
    """
    loop, app = asyncio.get_running_loop(), cast("PondApp", pilot.app)
    end = monotonic() + REST_S
    for _ in range(2):  # the second time for what the frame began
        while (waits := _waits(app)) or bool(getattr(loop, "_ready", ())):
            # who looks without end while keys wait keeps the app from its rest, and them waiting
            await asyncio.sleep(0.001 if waits else 0)
            if monotonic() > end:  # on a busy machine something is always due
                return
        if app.screen_stack:
            app.screen._on_timer_update()


def _waits(app: PondApp) -> bool:
    """Whether keys wait for their turn, or a size to be laid out."""
    return not app.one_by_one.idle or app._resize_timer is not None


async def press(pilot: Pilot[Any], *keys: str) -> None:
    """Press keys, each when the one before it has been handled."""
    for key in keys:
        name = _character_to_key(key) if len(key) == 1 and not key.isalnum() else key
        character = key if len(key) == 1 else key_to_character(key)
        pilot.app.post_message(events.Key(name, character))
        await handled(pilot)


async def until(pilot: Pilot[Any], true: Callable[[], bool], else_say: str = "") -> None:
    """Wait for what threads and timers bring about; fails with what stands on the screen."""
    end = monotonic() + WAIT_S
    while monotonic() < end:
        await asyncio.sleep(0.02)
        screen = pilot.app.screen
        screen._on_timer_update()
        if screen._compositor.size == pilot.app.size and true():  # laid out already
            return
    raise AssertionError("\n".join([else_say, *screen_text(cast("PondApp", pilot.app))]))


async def type_into(pilot: Pilot[Any], field: str, text: str) -> None:
    """Set a field's value as if it had been typed."""
    pilot.app.screen.query_one(f"#{field}", Input).value = text
    await settle(pilot)
