"""`pondtui journal`: the entries, newest first, struck ones marked."""

from __future__ import annotations

from pondtui.books.export import entry_rows
from pondtui.books.lines import render
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.state.entry import Entry

_STRUCK = "struck "


def run(call: Call, context: Context) -> int:
    """Show the entries that hold all the words, at most `--last` of them."""
    last = _count(call.get("last"))
    journal = context.journal
    words = [word.casefold() for word in call.words]
    chosen = [
        (entry, row)
        for entry, row in zip(journal.entries, entry_rows(journal, context.zone), strict=True)
        if _holds(entry, words)
    ]
    chosen = chosen[::-1][:last]
    lines = [f"{_STRUCK if row['struck'] else ' ' * len(_STRUCK)}{render(e)}" for e, row in chosen]
    context.answer({"entries": [row for _, row in chosen]}, lines)
    if not chosen and not context.as_json:
        context.say("no entry holds these words" if words else "the journal has no entries yet")
    context.warn_unread()
    return 0


def _count(text: str | None) -> int | None:
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and 0 < int(text[:9]) == int(text)):
        raise UsageError(f"--last: a whole number such as 20, not {text or 'nothing'}")
    return int(text)


def _holds(entry: Entry, words: list[str]) -> bool:
    line = render(entry).casefold()
    return all(word in line for word in words)
