"""Help: the keys of a screen from the one table, what the screen is for, how things are done."""

from __future__ import annotations

from collections.abc import Mapping

from textual.content import Content

from pondtui.tui import keys, paint
from pondtui.tui.dialogs import Show
from pondtui.views.manual import CAUTIONS, HOW_TO, ROOMS


def page(room: str, own: Mapping[str, str]) -> Show:
    """The help of one screen."""
    shown = keys.keys_of(room, own)
    wide = max(len(keys.names(key.keys)) for key in shown) + 2
    parts = [paint.words(text) for text in ROOMS.get(room, ())]
    parts += [Content(""), paint.words("Keys", bold=True)]
    parts += [
        Content.assemble((f"{keys.names(key.keys):<{wide}}", "bold $accent"), key.help)
        for key in shown
    ]
    moves = "arrows, Home, End, Page: move; Enter: open or write; Tab: next field"
    parts += [paint.words(moves, "quiet"), Content("")]
    for title, text in HOW_TO:
        parts += [paint.words(title, bold=True), paint.words(text), Content("")]
    parts += [paint.words(text, "quiet") for text in CAUTIONS]
    return Show(f"Help: {room}", paint.joined(parts))
