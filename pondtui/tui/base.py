"""What every app of ours has: its looks, an orderly end, and no trace on the screen."""

from __future__ import annotations

import asyncio
import gc
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, TypeVar

from textual import events
from textual.app import App
from textual.binding import Binding, BindingType
from textual.filter import ANSIToTruecolor, LineFilter

from pondtui.tui.looks import Looks, PlainSigns, SeenSigns
from pondtui.tui.one_by_one import OneByOne
from pondtui.tui.themes import TERMINAL

if TYPE_CHECKING:
    from rich.console import RenderableType

    from pondtui.views.pages.page import Page

LOOK_S = 1.5  # how often the terminal is looked at

Result = TypeVar("Result")


class BaseApp(App[Result]):
    """Dressed with a theme; ended by signals without leaving the terminal in disorder."""

    CSS_PATH = "pond.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+z", "suspend_process", show=False, priority=True),
        Binding("ctrl+c", "quit", show=False, system=True),
    ]

    def __init__(self, looks: Looks) -> None:
        self._dressed = False
        # The terminal's own colours have to be known before the toolkit sets up its filters.
        super().__init__(ansi_color=True if looks.theme == TERMINAL else None)
        self.looks = looks
        self.manual: Callable[[], Sequence[Page]] = _manual
        self.plain = looks.plain  # plain signs only
        self.typed: dict[str, dict[str, str]] = {}  # what stands in forms that were left
        self.one_by_one = OneByOne(self)
        self._seen_signs = SeenSigns()
        self._plain_signs = PlainSigns()
        for each in looks.themes.values():
            self.register_theme(each)
        self._begin_with(looks.theme)

    async def on_event(self, event: events.Event) -> None:
        """A key, or a pasted text, goes on when the one before it has been handled."""
        fresh = isinstance(event, events.Key | events.Paste) and not event.is_forwarded
        if not fresh or self.one_by_one.may_go(event):
            await super().on_event(event)

    def exit(
        self,
        result: Result | None = None,
        return_code: int = 0,
        message: RenderableType | None = None,
    ) -> None:
        """Close; what was typed on does not reach a screen that is going away."""
        self.one_by_one.end()
        super().exit(result, return_code, message)

    def _begin_with(self, theme: str) -> None:
        """Set the first theme before any style is read: the toolkit would read all of them twice
        and paint the first frame anew."""
        self._dressed = True
        self.set_reactive(App.theme, theme)
        self.stylesheet.set_variables(self.get_css_variables())
        dark = self.current_theme.dark
        self.set_class(dark, "-dark-mode", update=False)
        self.set_class(not dark, "-light-mode", update=False)

    def get_css_variables(self) -> dict[str, str]:
        """The theme's colours; none for a theme of the toolkit that no style is read with."""
        return super().get_css_variables() if self._dressed else {}

    def dress_rooms(self) -> None:
        """Read the styles of all that the first frame of a pond does not show."""
        self.stylesheet.read(Path(__file__).with_name("rooms.tcss"))
        self.stylesheet.parse()
        for screen in self.screen_stack[1:]:  # opened by keys that were typed ahead
            screen.update_node_styles(animate=False)

    def know(self, looks: Looks) -> None:
        """Let these themes be worn too."""
        self.looks = looks
        for name, theme in looks.themes.items():
            if name != self.theme:
                self.register_theme(theme)

    def wear(self, name: str) -> None:
        """Change the colours at once; the terminal's own are sent as they are."""
        self.theme = name
        if not self.no_color:
            self.ansi_color = True if name == TERMINAL else None

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Ours, and the toolkit's but one: that looks through each painted line for the terminal's
        own colours, which no theme has but the one that sends them as they are."""
        theirs = [f for f in super().get_line_filters() if not isinstance(f, ANSIToTruecolor)]
        found = [*theirs, self._seen_signs]
        return [*found, self._plain_signs] if self.plain else found

    def on_ready(self) -> None:
        """From the first frame on garbage is collected; what stands by then, stays."""
        self.call_after_refresh(_collect)

    def catch_signals(self) -> None:
        """Leave the terminal as it was, whoever ends us; the exit code tells the signal."""
        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT):
            loop.add_signal_handler(number, self._end, number)

    def _end(self, number: int) -> None:
        self.exit(return_code=128 + number)

    def _fatal_error(self) -> None:
        """A fault of ours: no trace on the screen, it may hold private lines; `run` reports it."""
        self._close_messages_no_wait()

    def panic(self, *_renderables: object) -> None:
        """The same for faults that the toolkit would draw its own way."""
        self._close_messages_no_wait()

    @property
    def fault(self) -> Exception | None:
        """What ended the app, where that was a fault."""
        return self._exception


def _collect() -> None:
    if not gc.isenabled():
        gc.freeze()
        gc.enable()


def _manual() -> Sequence[Page]:
    """The pages of the manual, read when they are asked for."""
    from pondtui.tui.help import pages

    return pages()


def leave_with_terminal(last: Callable[[], object]) -> None:
    """End with the terminal, after `last` has saved what is in hand.

    The toolkit blocks for ever on a terminal that was closed, whoever asks it to end; so this
    looks from a thread of its own and asks nobody.
    """

    def watch() -> None:
        while _terminal():
            time.sleep(LOOK_S)
        last()
        os._exit(128 + signal.SIGHUP)

    if _terminal():
        threading.Thread(target=watch, daemon=True).start()


def _terminal() -> bool:
    """Whether a terminal is there to be typed at."""
    return sys.__stdin__ is not None and not sys.__stdin__.closed and sys.__stdin__.isatty()
