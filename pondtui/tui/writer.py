"""The one writer: appends entries in their order in a thread of its own, and keeps each until the
disk has it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from queue import Empty, SimpleQueue
from time import monotonic

from pondtui.books.lines import render
from pondtui.books.store import Saved, Store
from pondtui.errors import FileError
from pondtui.pond.state.entry import Entry
from pondtui.records import NamedTuple


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
    """`told` is called in the writer's thread when there is an outcome; `outcomes` gives them, to
    be settled in the thread of all else. `inline` writes at once, without a thread."""

    def __init__(self, store: Store, *, inline: bool) -> None:
        self.told: Callable[[], object] = lambda: None
        self._store = store
        self._inline = inline
        self._pending: dict[str, Pending] = {}  # by canonical text, in the order of writing
        self._in_flight: set[str] = set()
        self._to_write: SimpleQueue[Entry] = SimpleQueue()
        self._done: SimpleQueue[Outcome] = SimpleQueue()
        self._thread: threading.Thread | None = None

    @property
    def pending(self) -> tuple[Pending, ...]:
        """Entries that are not on the disk yet, in the order of writing."""
        return tuple(self._pending.values())

    @property
    def busy(self) -> bool:
        """Whether the thread has something in hand."""
        return bool(self._in_flight)

    def send(self, entry: Entry) -> None:
        """Take an entry for writing."""
        self._pending[entry.canonical] = Pending(entry, render(entry))
        self._hand_over(entry)

    def retry(self) -> None:
        """Write again, as the very same line, what could not be written."""
        for text, pending in list(self._pending.items()):
            if text not in self._in_flight:
                self._hand_over(pending.entry)

    def outcomes(self, wait_s: float = 0.0) -> Iterator[Outcome]:
        """What has come back; with `wait_s` also what comes within that time."""
        end = monotonic() + wait_s
        while self._in_flight:
            try:
                outcome = self._done.get(timeout=max(end - monotonic(), 0.0))
            except Empty:
                return
            self._settle(outcome)
            yield outcome

    def _settle(self, outcome: Outcome) -> None:
        """What is saved is pending no more."""
        text = outcome.entry.canonical
        self._in_flight.discard(text)
        if outcome.saved is not None:
            self._pending.pop(text, None)
        elif text in self._pending:
            self._pending[text] = self._pending[text]._replace(reason=outcome.reason)

    def _hand_over(self, entry: Entry) -> None:
        self._in_flight.add(entry.canonical)
        if self._inline:
            self._done.put(self._append(entry))
            return
        if self._thread is None:
            self._thread = threading.Thread(target=self._write_on, name="writer", daemon=True)
            self._thread.start()
        self._to_write.put(entry)

    def _write_on(self) -> None:
        """One entry after the other, as long as the program runs."""
        while True:
            self._done.put(self._append(self._to_write.get()))
            self.told()

    def _append(self, entry: Entry) -> Outcome:
        try:
            return Outcome(entry, self._store.append(entry))
        except FileError as error:
            return Outcome(entry, None, str(error))
