"""Random keys through the real Refill screen: deterministic, with minutes passing and restarts.

The walker knows nothing of guards and steps but their prompts: it presses keys by weight, types
amounts that a keeper might type (sound, wrong and nonsense), lets time pass and starts the program
anew in the middle of things.
"""

from __future__ import annotations

import random
from pathlib import Path
from typing import NamedTuple

from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.books.pondfile import load
from pondtui.tui.app import PondApp
from pondtui.tui.refill import RefillScreen
from pondtui.tui.refill_input import RefillInput
from pondtui.tui.run import make_app
from pondtui.tui.session import Session
from tests.pond.walks import ANSWERS
from tests.tui.ponds import handled

KEYS = {
    "enter": 60, "space": 6, "b": 2, "d": 2, "m": 3, "p": 4, "f": 2, "o": 2, "x": 1, "l": 6,
    "escape": 3, "t": 1, "n": 1, "u": 1, "y": 2, "question_mark": 1, "7": 1, "q": 1, "tab": 1,
}  # fmt: skip
AMOUNTS = ANSWERS | {
    "dose": ["", "", "", "", "5", "40", "2 tsp", "3 kg"],
    "level": ["75", "90 on", "110", "62", "off", "2 gallons"],
    "look": ["60 L", "300 mm", "nothing"],
    "bypass": ["kit is empty", "in a hurry", ""],
    "giveup": ["", "barrel moved"],
}
RESTART_EVERY = 150
GLANCE_EVERY = 40


class Walked(NamedTuple):
    """What a walk did."""

    keys: int
    restarts: int
    now: int


class Walker:
    """One seeded walk on a pond folder."""

    def __init__(self, folder: Path, start: int, seed: int) -> None:
        self.folder = folder
        self.now = start
        self.dice = random.Random(seed)
        self.pressed = 0
        self.restarts = 0

    async def run(self, keys: int) -> Walked:
        """Press so many keys, starting the program anew now and then."""
        while self.pressed < keys:
            await self._sitting(min(keys, self.pressed + RESTART_EVERY))
            self.restarts += 1
        return Walked(self.pressed, self.restarts, self.now)

    async def _sitting(self, until: int) -> None:
        session = Session(self.folder, load(self.folder), lambda: self.now, inline=True)
        app = make_app(session, {"TERM": "xterm-256color"})
        async with app.run_test(size=(80, 24)) as pilot:
            app.open_room("refill")
            await pilot.pause()
            while self.pressed < until:
                with app.batch_update():  # painted once every few keys: a glance now and then
                    for _ in range(GLANCE_EVERY):
                        await self._one(app, pilot)
                await pilot.pause(0)

    async def _one(self, app: PondApp, pilot: Pilot[int]) -> None:
        """Let time pass, or press the next key; type where a field is open."""
        if self.dice.random() < 0.25:
            self.now += self.dice.choice([20, 60, 180, 600, 600, 3600])
        if self.dice.random() < 0.002:
            self.now += self.dice.choice([86_400, 20 * 86_400])
        screen = app.screen
        if isinstance(screen, RefillScreen):
            screen.settle_s = 0.0
            field = screen.query_one(RefillInput)
            if field.taking_keys and field.asked is not None:
                await self._type(pilot, screen, field)
                return
        elif app.focused is not None and isinstance(app.focused, Input):
            app.focused.value = self.dice.choice(AMOUNTS["level"])
            await self._press(pilot, self.dice.choice(["enter", "enter", "escape"]))
            return
        elif self.dice.random() < 0.5:
            await self._press(pilot, "escape")
            if not isinstance(app.screen, RefillScreen) and len(app.screen_stack) == 1:
                app.open_room("refill")
            return
        names, weights = zip(*KEYS.items(), strict=True)
        await self._press(pilot, self.dice.choices(names, weights)[0])
        if self.dice.random() < 0.3 and isinstance(app.screen, RefillScreen):
            await self._freshen(app)

    async def _type(self, pilot: Pilot[int], screen: RefillScreen, field: RefillInput) -> None:
        """A text for the field; where it is doubted, the same once more or something else."""
        box = field.query_one(Input)
        asked = field.asked
        what = asked.what if asked is not None else "answer"
        on = screen._on()
        if what == "answer" and on is not None:
            what = on.step.asks
        chosen = self.dice.choice(AMOUNTS.get(what, ["5"]))
        if chosen or what not in ("dose",):
            box.value = chosen
        await self._press(pilot, "enter")
        if field.taking_keys:
            await self._press(pilot, self.dice.choice(["enter", "escape"]))

    async def _freshen(self, app: PondApp) -> None:
        """A keeper reads the gauge now and then: without it no release is ever allowed."""
        session = app.session
        level = session.state().level
        if level is None or self.now - level.instant > 3600:
            session.write("level", {"reading": f"{self.dice.randint(60, 120)} mm"})
            app.state_changed()

    async def _press(self, pilot: Pilot[int], key: str) -> None:
        """A key as the terminal sends it, fast."""
        character = key if len(key) == 1 else {"space": " ", "question_mark": "?"}.get(key)
        pilot.app.post_message(events.Key(key, character))
        self.pressed += 1
        await handled(pilot)
