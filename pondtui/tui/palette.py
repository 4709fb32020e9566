"""The command palette: every key of the screen in front by its words, and the manual's topics."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.app import SystemCommand
from textual.screen import Screen

from pondtui.tui import keys
from pondtui.tui.help import Help
from pondtui.tui.screen import PondScreen
from pondtui.views.pages.contents import parts_of, topics

if TYPE_CHECKING:
    from pondtui.tui.app import PondApp
    from pondtui.views.pages.page import Page


def commands(app: PondApp, screen: Screen[Any]) -> Iterator[SystemCommand]:
    """The commands of a screen. Over a dialog only the manual is left: it must be answered."""
    if isinstance(screen, PondScreen):
        for key in screen.room_keys():
            told = f"key {keys.names(key.keys)}"
            yield SystemCommand(f"{key.label}: {key.help}", told,
                                partial(screen.run_action, key.action))  # fmt: skip
    for page in topics(app.manual()):
        show = partial(_show, app, page)
        yield SystemCommand(f"help {page.name}: {page.title}", "the manual", show, discover=False)


def _show(app: PondApp, page: Page) -> None:
    app.push_screen(Help(page, app.manual, parts=parts_of(app.manual(), page.name)))
