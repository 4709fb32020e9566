"""Keys go one by one: the next is taken when all that the one before it began has been done.

A slow line, a pasted row of keys or a machine that wakes up hands over many keys at once. Each
belongs to what the one before it has opened: a field, a dialog, a screen that is still being built.
"""

from __future__ import annotations

import asyncio
from collections import deque
from functools import partial
from typing import Any

from textual import events
from textual.app import App, ScreenStackError
from textual.screen import Screen

MOST_TURNS = 1_000  # then the next key goes all the same: 1 s, where nothing but time passes
SHORT_S = 0.001  # between two looks while a timer or the drawing of a frame is awaited

left: list[events.Event] = []  # keys that the app before had no turn for: the next one begins so


class OneByOne:
    """The keys of one app that wait for their turn. A pasted text is one of them, and stays one.

    All of it runs in the app's thread.
    """

    def __init__(self, app: App[Any]) -> None:
        self._app = app
        self._waiting: deque[events.Event] = deque()
        self._turn: events.Event | None = None  # on its way back to the app
        self._up: Screen[Any] | None = None  # the screen that was drawn and took the last key
        self._task: asyncio.Task[None] | None = None
        self._over = False

    @property
    def idle(self) -> bool:
        """Whether every key has been handled."""
        return self._task is None

    def may_go(self, event: events.Event) -> bool:
        """Whether the app may take this key now; if not, it comes again when it is its turn."""
        if event is self._turn:
            self._turn = None
            return True
        free = not self._over and self._task is None and self._app.screen is self._up
        if not free:
            self._waiting.append(event)
        if self._task is None and not self._over:
            self._task = asyncio.create_task(self._follow())
        return free

    def begin(self) -> None:
        """Take over the keys that the app before had no turn for."""
        self._waiting.extend(left)
        left.clear()
        if self._waiting:
            self._task = asyncio.create_task(self._follow())

    def end(self) -> None:
        """The app is closing: what waits is for the next one, if there is any."""
        self._over = True

    def leave(self) -> None:
        """Leave what waits to the next app."""
        left[:] = self._waiting

    async def _follow(self) -> None:
        """See each key through, and give the next one its turn."""
        try:
            await self._rest()
            while self._waiting and not self._over:
                self._turn = self._waiting.popleft()
                self._app.post_message(self._turn)
                await self._rest()
        except ScreenStackError:
            pass  # all is closing
        finally:
            self._task = None

    async def _rest(self) -> None:
        """Wait until the app has nothing left to do and the screen in front has been drawn."""
        loop, asked = asyncio.get_running_loop(), None
        for _ in range(MOST_TURNS):
            # What widgets tell each other stands there; only what waits for time or a thread not.
            busy = bool(getattr(loop, "_ready", ()))
            if not busy and self._turn is None:
                screen = self._app.screen
                if self._over or screen is self._up:
                    return
                if screen is not asked:
                    asked = screen
                    screen.call_after_refresh(partial(self._drawn, screen))
            await asyncio.sleep(0 if busy else SHORT_S)

    def _drawn(self, screen: Screen[Any]) -> None:
        self._up = screen
