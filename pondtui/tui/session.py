"""What stands behind the screens: the pond, its journal, the clock, and one writer. No widgets.

An entry is acknowledged when the disk says so. What could not be written is kept, shown, and
tried again as the very same line; until it is saved nothing counts as done.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from datetime import UTC, tzinfo
from functools import cached_property
from pathlib import Path
from queue import SimpleQueue
from typing import NamedTuple
from zoneinfo import ZoneInfo

from pondtui.books.folder import PondFolder, Watch
from pondtui.books.journal import Journal, read_folder
from pondtui.books.lines import make, render, strike_of
from pondtui.books.pondfile import LoadedPond, load
from pondtui.books.settings import Settings
from pondtui.books.store import Saved, Store, move_on, stamp_for
from pondtui.errors import FileError, Problem
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.pond.state.model import PondState
from pondtui.views.status import Status, look

OLDER_YEARS = "older years are still being read: try again in a moment"
_SAID_S = 120  # how long a saved entry is told of
_LATEST = 1 << 40  # a line whose number is not known yet stands behind all that are


class Pending(NamedTuple):
    """An entry on its way to the disk; `reason` says why the last try failed."""

    entry: Entry
    line: str
    reason: str = ""


class Changed(NamedTuple):
    """Nothing was written: another device wrote about this barrel since the screen was drawn."""

    barrel: str
    sentence: str


class Outcome(NamedTuple):
    """What the writer came back with: saved, or the reason why not."""

    entry: Entry
    saved: Saved | None
    reason: str = ""


class Fresh(NamedTuple):
    """The folder as it was read again, and how many of our own lines were saved by then."""

    loaded: LoadedPond
    journal: Journal
    saved: int


class Session:
    """One open pond. `now` gives UTC seconds; `inline` writes and reads at once (for tests).

    All of it is used from one thread; only the writer's `Store.append`, `read` and what they
    touch run in others. `told` is called from those: the app posts it as a message to itself.
    """

    def __init__(
        self,
        folder: Path,
        loaded: LoadedPond,
        now: Callable[[], int],
        *,
        settings: Settings | None = None,
        device: str = "desk",
        years: str = "all",
        store: Store | None = None,
        inline: bool = False,
    ) -> None:
        if loaded.setup is None:
            raise FileError(str(loaded.problems[0]))
        self.folder = folder
        self.settings = settings or Settings()
        self.device = device
        self.now = now
        self.inline = inline
        self.told: Callable[[Outcome], None] = lambda _outcome: None
        self.loaded = loaded
        self.setup: Setup = loaded.setup
        self._watch = Watch(PondFolder(folder))
        self.journal = read_folder(folder, self.zone, self.setup.gallon, years)
        self.version = 0  # grows with every change of what is known
        self._store = store or Store(folder, device)
        self._pending: dict[str, Pending] = {}  # by canonical text, in the order of writing
        self._in_flight: set[str] = set()
        self._saved: list[Entry] = []
        self._queue: SimpleQueue[Entry | None] = SimpleQueue()
        self._writer: threading.Thread | None = None
        self._state: tuple[int, int, PondState] | None = None
        self._status: tuple[int, int, Status] | None = None

    # --- what is known ----------------------------------------------------------------------------

    @cached_property
    def zone(self) -> tzinfo:
        """The pond's time zone, as it was when the pond was opened."""
        return ZoneInfo(self.setup.pond.time_zone) if self.setup else UTC

    @property
    def problems(self) -> list[Problem]:
        """What is wrong in pond.toml and in the journal, remarks left out."""
        both = (*self.loaded.problems, *self.journal.problems)
        return [problem for problem in both if problem.severity == "problem"]

    def state(self) -> PondState:
        """What the journal says now. Kept for a minute: what runs is computed from stamps."""
        now = self.now()
        if self._state is None or self._state[:2] != (self.version, now // 60):
            self._state = (self.version, now // 60, fold(self.setup, self.journal.live, now))
        return self._state[2]

    def status(self) -> Status:
        """What Today tells now; while water runs it is another one every second."""
        now, state = self.now(), self.state()
        runs = any(barrel.running for barrel in state.barrels.values())
        key = (self.version, now if runs else now // 60)
        if self._status is None or self._status[:2] != key:
            problems = (*self.loaded.problems, *self.journal.problems)
            found = look(self.setup, state, self.journal.live, now, problems)
            self._status = (*key, found)
        return self._status[2]

    @property
    def pending(self) -> tuple[Pending, ...]:
        """Entries that are not on the disk yet, in the order of writing."""
        return tuple(self._pending.values())

    def notices(self) -> list[tuple[str, str]]:
        """What is to be said under every screen, the gravest first, each with its role."""
        found = []
        failed = [each for each in self._pending.values() if each.reason]
        if failed:
            more = f" (and {len(failed) - 1} more)" if len(failed) > 1 else ""
            found.append(("danger", f"NOT SAVED{more}, trying again: {failed[0].line}"))
            found.append(("danger", failed[0].reason))
        if self.journal.read_only:
            found.append(("danger", "read-only: a file of the journal cannot be taken; "
                                    "j, then p shows which"))  # fmt: skip
        if self.journal.partial:
            found.append(("warn", "reading older years: nothing is written until they are in"))
        if self._pending and not failed:
            found.append(("warn", f"saving: {next(iter(self._pending.values())).line}"))
        if self.loaded.setup is None:
            found.append(("warn", f"the last good description is used: {self.loaded.problems[0]}"))
        if self._last_saved is not None and self.now() - self._last_saved.instant < _SAID_S:
            found.append(("good", f"saved: {render(self._last_saved)}"))
        return found

    @property
    def _last_saved(self) -> Entry | None:
        return self._saved[-1] if self._saved else None

    # --- writing ----------------------------------------------------------------------------------

    def draft(self, kind: str, fields: Mapping[str, str], note: str = "") -> Entry:
        """The entry that would be written now. Raises InputError."""
        full = dict(fields)
        if self.settings.by:
            full.setdefault("by", self.settings.by)
        batch = fields.get("batch", "")
        instant = stamp_for(self.now(), self._last_of_batch(batch) if batch else None)
        entry = make(kind, full, note, instant, self.zone, self.setup.gallon)
        waiting = {(each.entry.instant, each.entry.kind) for each in self._pending.values()}
        return move_on(entry, self.journal.taken() | waiting)

    def write(
        self,
        kind: str,
        fields: Mapping[str, str],
        note: str = "",
        *,
        drawn_revision: tuple[str, int] | None = None,
    ) -> Saved | Pending | Changed:
        """Write an entry. Saved only where it is on the disk already (inline); else it is pending.

        `drawn_revision` (barrel, its revision when the screen was drawn): the folder is read
        again first, and nothing is written where that barrel has changed. Raises InputError for
        what cannot be an entry, FileError while nothing may be written.
        """
        self._refuse_unread()
        if drawn_revision is not None:
            self.reload_if_changed()
            changed = self._changed(*drawn_revision)
            if changed is not None:
                return changed
        return self._send(self.draft(kind, fields, note))

    def last_own(self) -> Entry | None:
        """The entry that this device wrote last and that still counts."""
        ending = f"-{self.device}.txt"
        ours = [e for e in self.journal.live if e.kind != "strike" and e.path.endswith(ending)]
        order = {entry.canonical: place for place, entry in enumerate(self._saved)}
        return max(
            ours,
            key=lambda e: (e.path, e.line or _LATEST, order.get(e.canonical, -1)),
            default=None,
        )

    def strike(self, entry: Entry, note: str = "") -> Saved | Pending | Changed:
        """Take an entry back; of a strike, so that what it struck counts again."""
        return self.write("strike", {"of": strike_of(entry, self.zone)}, note)

    def strikes_of(self, entry: Entry) -> list[Entry]:
        """The live strikes that name this entry."""
        key = (entry.instant, entry.kind)
        return [e for e in self.journal.live if e.kind == "strike" and e.get("of") == key]

    def retry(self) -> None:
        """Give the writer again what it could not write."""
        for text, pending in list(self._pending.items()):
            if text not in self._in_flight:
                self._hand_over(pending.entry)

    def settle(self, outcome: Outcome) -> None:
        """Take in what the writer came back with."""
        entry, text = outcome.entry, outcome.entry.canonical
        self._in_flight.discard(text)
        self.version += 1
        if outcome.saved is None:
            if text in self._pending:
                self._pending[text] = self._pending[text]._replace(reason=outcome.reason)
            return
        self._pending.pop(text, None)
        entry.path = f"journal/{outcome.saved.path.name}"
        self._watch.wrote(entry.path, len(outcome.saved.line.encode()) + 1)
        self._saved.append(entry)
        self.journal = _with(self.journal, [entry])

    def close(self) -> None:
        """Let the writer finish what it has in hand."""
        if self._writer is not None:
            self._queue.put(None)
            self._writer.join(timeout=5)
            self._writer = None

    def _refuse_unread(self) -> None:
        if self.journal.partial:
            raise FileError(OLDER_YEARS)
        if self.journal.read_only:
            raise FileError("a file of the journal is left out, so nothing is written: see the "
                            "problems in Journal")  # fmt: skip

    def _changed(self, barrel: str, revision: int) -> Changed | None:
        found = self.state().barrels.get(barrel)
        if found is None or found.revision == revision:
            return None
        about = [e for e in self.journal.live if e.get("barrel") == barrel or _of(e, found.batch)]
        last = f": {render(about[-1])}" if about else ""
        return Changed(barrel, f"{barrel} has changed since this was drawn{last}")

    def _last_of_batch(self, batch: str) -> int | None:
        """When this device last wrote something about the batch."""
        ending = f"-{self.device}.txt"
        read = [e for e in self.journal.entries if e.path.endswith(ending)]
        ours = [*read, *(each.entry for each in self._pending.values())]
        return max((e.instant for e in ours if e.get("batch") == batch), default=None)

    def _send(self, entry: Entry) -> Saved | Pending:
        self._pending[entry.canonical] = Pending(entry, render(entry))
        outcome = self._hand_over(entry)
        if outcome is not None and outcome.saved is not None:
            return outcome.saved
        self.version += 1
        return self._pending[entry.canonical]

    def _hand_over(self, entry: Entry) -> Outcome | None:
        """To the writer's thread; inline the outcome comes at once."""
        if self.inline:
            outcome = self._append(entry)
            self.settle(outcome)
            self.told(outcome)
            return outcome
        self._in_flight.add(entry.canonical)
        if self._writer is None:
            self._writer = threading.Thread(target=self._write_on, name="writer", daemon=True)
            self._writer.start()
        self._queue.put(entry)
        return None

    def _write_on(self) -> None:
        """The writer's thread: one entry after the other, until None."""
        while (entry := self._queue.get()) is not None:
            self.told(self._append(entry))

    def _append(self, entry: Entry) -> Outcome:
        try:
            return Outcome(entry, self._store.append(entry))
        except FileError as error:
            return Outcome(entry, None, str(error))

    # --- what others write ------------------------------------------------------------------------

    def changed(self) -> bool:
        """Whether the folder holds something new; to be asked every second or so."""
        return self._watch.changed()

    def read(self) -> Fresh:
        """The folder as it stands now; may run in a worker's thread."""
        saved = len(self._saved)
        loaded = load(self.folder)
        gallon = (loaded.setup or self.setup).gallon
        return Fresh(loaded, read_folder(self.folder, self.zone, gallon), saved)

    def take(self, fresh: Fresh) -> None:
        """Let what was read count; a description that cannot be used leaves the old one in place.

        What we saved while it was read is added again: it may have come too late for the reader.
        """
        if fresh.loaded.setup is not None:
            self.setup = fresh.loaded.setup
        self.loaded = fresh.loaded
        self.journal = _with(fresh.journal, self._saved[fresh.saved :])
        self.version += 1

    def reload_if_changed(self) -> bool:
        """Read again here and now, where something is new."""
        if not self.changed():
            return False
        self.take(self.read())
        return True

    def vanished(self) -> list[Entry]:
        """Entries that were saved and that a fresh reading no longer holds."""
        if self._in_flight or self.journal.partial:
            return []
        return self._store.vanished(self.journal.entries)

    def write_again(self, entries: list[Entry]) -> None:
        """Append entries that vanished, as the very same lines."""
        for entry in entries:
            self._send(entry)

    def forget(self, entries: list[Entry]) -> None:
        """Let vanished entries go: they were taken out on purpose."""
        self._store.forget(entries)


def _of(entry: Entry, batch: object) -> bool:
    label = getattr(batch, "label", "")
    return bool(label) and entry.get("batch") == label


def _with(journal: Journal, entries: list[Entry]) -> Journal:
    """The journal with some more entries merged in."""
    if not entries:
        return journal
    merged = merge([*journal.entries, *entries])
    return journal._replace(entries=merged.entries, live=merged.live, struck=merged.struck)
