"""A journal in memory brought up to date with lines just saved, without reading it all again."""

from __future__ import annotations

from collections.abc import Collection

from pondtui.books.journal import Journal
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.merge import merge


def with_entries(journal: Journal, entries: list[Entry]) -> Journal:
    """The journal with some more entries merged in."""
    if not entries:
        return journal
    last = entries[-1]
    if len(entries) == 1 and last.kind != "strike" and _is_newest(journal, last):
        return journal._replace(entries=[*journal.entries, last], live=journal.live.plus(last))
    merged = merge([*journal.entries, *entries])
    return journal._replace(entries=merged.entries, live=merged.live, struck=merged.struck)


def without(journal: Journal, texts: Collection[str]) -> Journal:
    """The journal without the entries of these canonical texts."""
    if not texts:
        return journal
    kept = [entry for entry in journal.entries if entry.canonical not in texts]
    if len(kept) == len(journal.entries):
        return journal
    merged = merge(kept)
    return journal._replace(entries=merged.entries, live=merged.live, struck=merged.struck)


def one_line_more(journal: Journal, path: str) -> tuple[Journal, int]:
    """The journal with one of its files a line longer, and that line's number."""
    files = [f._replace(lines=f.lines + 1) if f.path == path else f for f in journal.files]
    number = next((f.lines for f in files if f.path == path), 0)
    return journal._replace(files=files), number


def _is_newest(journal: Journal, entry: Entry) -> bool:
    """It stands behind all others, and nothing struck it beforehand: no merge is needed."""
    struck = (entry.instant, entry.kind) in journal.struck
    return not struck and (not journal.entries or journal.entries[-1].order < entry.order)
