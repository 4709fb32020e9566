"""The one writer: appends entries in their order in a thread of its own, and keeps each until the
disk has it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from queue import SimpleQueue
from typing import NamedTuple

from pondtui.books.lines import render
from pondtui.books.store import Saved, Store
from pondtui.errors import FileError
from pondtui.pond.state.entry import Entry


class Pending(NamedTuple):
    """An entry on its way to the disk; `reason` says why the last try failed."""

    entry: Entry
    line: str
    reason: str = ""


class Outcome(NamedTuple):
    """What the writer came back with: saved, or the reason why not."""

    entry: Entry
    saved: Saved | None
    reason: str = ""


class Writer:
    """`told` is called in the writer's thread with each outcome; what it leads to is `settle`, in
    the thread of all else. `inline` writes at once, without a thread."""

    def __init__(self, store: Store, *, inline: bool) -> None:
        self.told: Callable[[Outcome], None] = lambda _outcome: None
        self._store = store
        self._inline = inline
        self._pending: dict[str, Pending] = {}  # by canonical text, in the order of writing
        self._in_flight: set[str] = set()
        self._queue: SimpleQueue[Entry | None] = SimpleQueue()
        self._thread: threading.Thread | None = None

    @property
    def pending(self) -> tuple[Pending, ...]:
        """Entries that are not on the disk yet, in the order of writing."""
        return tuple(self._pending.values())

    @property
    def busy(self) -> bool:
        """Whether the thread has something in hand."""
        return bool(self._in_flight)

    def send(self, entry: Entry) -> Outcome | None:
        """Take an entry for writing; inline the outcome comes at once, settled by the caller."""
        self._pending[entry.canonical] = Pending(entry, render(entry))
        return self._hand_over(entry)

    def retry(self) -> list[Outcome]:
        """Give again, as the very same line, what could not be written."""
        again = [p.entry for text, p in self._pending.items() if text not in self._in_flight]
        return [outcome for outcome in map(self._hand_over, again) if outcome is not None]

    def settle(self, outcome: Outcome) -> None:
        """Take in an outcome: what is saved is pending no more."""
        text = outcome.entry.canonical
        self._in_flight.discard(text)
        if outcome.saved is not None:
            self._pending.pop(text, None)
        elif text in self._pending:
            self._pending[text] = self._pending[text]._replace(reason=outcome.reason)

    def close(self) -> None:
        """Let the thread finish what it has in hand."""
        if self._thread is not None:
            self._queue.put(None)
            self._thread.join(timeout=5)
            self._thread = None

    def _hand_over(self, entry: Entry) -> Outcome | None:
        if self._inline:
            return self._append(entry)
        self._in_flight.add(entry.canonical)
        if self._thread is None:
            self._thread = threading.Thread(target=self._write_on, name="writer", daemon=True)
            self._thread.start()
        self._queue.put(entry)
        return None

    def _write_on(self) -> None:
        """One entry after the other, until None."""
        while (entry := self._queue.get()) is not None:
            self.told(self._append(entry))

    def _append(self, entry: Entry) -> Outcome:
        try:
            return Outcome(entry, self._store.append(entry))
        except FileError as error:
            return Outcome(entry, None, str(error))
