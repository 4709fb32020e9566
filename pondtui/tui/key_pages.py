"""The manual's page on keys, written from the table of keys; it needs no toolkit."""

from __future__ import annotations

from pondtui.tui.keys import EVERYWHERE, KEYS, Key, names
from pondtui.views.pages.page import Page, row

_INTRO = """\
The foot of each screen names the keys that work there, h or F1 shows all of
them. A mouse is never needed. In a field letters are letters: Escape leaves it
and keeps the text.

Arrows, Home, End, Page :: move
Tab :: the next field, or the next part of the screen
Enter :: open, or write
Ctrl+P :: all commands by name: type a word of what you want
Ctrl+Z :: stop the program for a moment; fg goes on

# Keys of your own
Write them into settings.toml (`pondtui where` names the place), by the word in
brackets that stands behind each key below:

    [keys]
    level = "g"
    note = "l"

A key that is taken on the same screen is named at the start, with both actions,
and the default stays. Two actions may change places. Keys that terminals take for
themselves, such as Ctrl+C, are refused.
"""


def pages() -> tuple[Page, ...]:
    """One page: every key of every screen."""
    rooms: dict[str, list[Key]] = {EVERYWHERE: []}
    for key in KEYS:
        for room in key.rooms.split() or [EVERYWHERE]:
            rooms.setdefault(room, []).append(key)
    parts = [_INTRO]
    for room, found in rooms.items():
        title = room[:1].upper() + room[1:] if room else "Everywhere"
        rows = "\n".join(row(names(key.keys), f"{key.help} [{key.id}]") for key in found)
        parts.append(f"# {title}\n{rows}\n")
    return (Page("keys", "every key, and keys of your own", "\n".join(parts)),)
