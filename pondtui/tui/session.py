"""What stands behind the screens: the pond, its journal, the clock, and one writer. No widgets.

An entry is acknowledged when the disk says so. What could not be written is kept, shown, and
tried again as the very same line; until it is saved nothing counts as done.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import tzinfo
from functools import cached_property
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from pondtui.books.amend import one_line_more, with_entries, without
from pondtui.books.folder import PondFolder, Watch, unwritten_of
from pondtui.books.journal import Journal, read_folder
from pondtui.books.lines import make, render, strike_of
from pondtui.books.pondfile import LoadedPond, load
from pondtui.books.settings import Settings
from pondtui.books.store import Saved, Store, move_on, stamp_for
from pondtui.errors import FileError, Problem
from pondtui.paths import data_dir
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import Folding
from pondtui.pond.state.merge import Key
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.tui.worked import Worked, outlook_of, season_of
from pondtui.tui.writer import Outcome, Pending, Writer
from pondtui.views.status import Status, look

if TYPE_CHECKING:
    from pondtui.pond.away.falling import TooLittle
    from pondtui.pond.away.outlook import Outlook
    from pondtui.pond.daily.climate import Climate
    from pondtui.pond.water.season_budget import TwoYears
    from pondtui.tui.setup_book import SetupBook

OLDER_YEARS = "older years are still being read: try again in a moment"
ANSWER_S = 0.005  # most disks have an entry by then: one frame tells it, not two
_LATEST = 1 << 40  # a line whose number is not known yet stands behind all that are


class Changed(NamedTuple):
    """Nothing was written: another device wrote about this barrel since the screen was drawn."""

    barrel: str
    sentence: str


class Fresh(NamedTuple):
    """The folder as it was read again, and how many of our own lines were saved by then."""

    loaded: LoadedPond
    journal: Journal
    folding: Folding
    saved: int


class Session:
    """One open pond. `now` gives UTC seconds; `inline` writes and reads at once (for tests).

    All of it is used from one thread; only the writer and `read` run in others.
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
        sitter: str = "",
    ) -> None:
        if loaded.setup is None:
            raise FileError(str(loaded.problems[0]))
        self.folder = folder
        self.settings = settings or Settings()
        self.sitter = sitter  # whose mode this is; "" for the keeper's
        if sitter:
            self.settings = self.settings._replace(by=sitter)
        self.device = device
        self.now = now
        self.inline = inline
        self.loaded = loaded
        self.setup: Setup = loaded.setup
        self._watch = Watch(PondFolder(folder))
        self._journal = read_folder(folder, self.zone, self.setup.gallon, years)
        self._to_merge: list[Entry] = []  # saved, and not in the journal yet
        self._merging = Lock()  # workers ask for the journal too
        # what is worked out beside the screen goes by turns: of several threads that want the
        # processor each is the equal of the screen's, and it would answer keys last
        self.at_work = Lock()
        self.version = 0  # grows with every change of what is to be shown
        self.facts = 0  # grows with every change of what the journal says
        self._used: tuple[int, set[Key]] = (-1, set())  # instants and kinds in use
        self._store = store or Store(folder, device)
        self._saved: list[Entry] = []
        self._writer = Writer(self._store, inline=inline)
        self._folding = Folding(self.setup)
        self._state: tuple[int, int, PondState] | None = None
        self._status: tuple[int, int, Status] | None = None
        self.describing: SetupBook | None = None  # the description while Setup changes it
        self.unwritten = not sitter and unwritten_of(data_dir(), folder).exists()  # of earlier
        self.climate: Climate | None = None  # worked out beside the screen, see `take_climate`

    # --- what is known ----------------------------------------------------------------------------

    @cached_property
    def zone(self) -> tzinfo:
        """The pond's time zone, as it was when the pond was opened."""
        return ZoneInfo(self.setup.pond.time_zone)

    @cached_property
    def season(self) -> Worked[TwoYears]:
        """The season's water budget, worked out when a screen asks for it."""
        return season_of(self)

    @cached_property
    def outlook(self) -> Worked[Outlook | TooLittle]:
        """What the level will do, worked out when a screen asks for it."""
        return outlook_of(self)

    @property
    def journal(self) -> Journal:
        """What the journal says. What was just saved is merged in when that is asked for: the word
        that it is saved shall not wait for decades to be copied."""
        with self._merging:
            while self._to_merge:
                self._journal = with_entries(self._journal, [self._to_merge.pop(0)])
            return self._journal

    @property
    def partial(self) -> bool:
        """Older years are still to be read."""
        return self._journal.partial

    @property
    def read_only(self) -> bool:
        """A file of the journal was left out: nothing may be written."""
        return self._journal.read_only

    @property
    def problems(self) -> list[Problem]:
        """What is wrong in pond.toml and in the journal, remarks left out."""
        both = (*self.loaded.problems, *self.journal.problems)
        return [problem for problem in both if problem.severity == "problem"]

    def state(self) -> PondState:
        """What the journal says now. Kept for a minute: what runs is computed from stamps."""
        now = self.now()
        if self._folding.setup is not self.setup:
            self._folding = Folding(self.setup)
        if self._state is None or self._state[:2] != (self.facts, now // 60):
            state = self._folding.state(self.journal.live, now)
            state = state._replace(partial=self.partial)
            self._state = (self.facts, now // 60, state)
        return self._state[2]

    def status(self) -> Status:
        """What Today tells now; while water runs it is another one every second."""
        now, state = self.now(), self.state()
        runs = any(barrel.running for barrel in state.barrels.values())
        key = (self.facts, now if runs else now // 60)
        if self._status is None or self._status[:2] != key:
            problems = (*self.loaded.problems, *self.journal.problems)
            found = look(self.setup, state, self.journal.live, now, problems, self.climate)
            self._status = (*key, found)
        return self._status[2]

    def take_climate(self, found: Climate) -> None:
        """Let the weather count, once a worker has it."""
        self.climate, self._status = found, None

    @property
    def pending(self) -> tuple[Pending, ...]:
        """Entries that are not on the disk yet, in the order of writing."""
        return self._writer.pending

    @property
    def writing(self) -> bool:
        """Whether an entry is on its way to the disk."""
        return self._writer.busy

    @property
    def last_saved(self) -> Entry | None:
        """The entry that was saved last, since the program began."""
        return self._saved[-1] if self._saved else None

    # --- writing ----------------------------------------------------------------------------------

    def draft(
        self, kind: str, fields: Mapping[str, str], note: str = "", *, at: int | None = None
    ) -> Entry:
        """The entry that would be written, of now or of a moment past. Raises InputError."""
        full = dict(fields)
        if self.settings.by:
            full.setdefault("by", self.settings.by)
        batch = fields.get("batch", "")
        last = self._last_of_batch(batch) if batch else None
        instant = stamp_for(self.now(), last, kind) if at is None else at
        entry = make(kind, full, note, instant, self.zone, self.setup.gallon)
        return move_on(entry, self._taken())

    def write(
        self,
        kind: str,
        fields: Mapping[str, str],
        note: str = "",
        *,
        at: int | None = None,
        drawn_revision: tuple[str, int] | None = None,
    ) -> Saved | Pending | Changed:
        """Write an entry. Saved only where the disk has it within a moment; else it is pending.

        `at` is the moment of a late entry. `drawn_revision` (barrel, its revision when the screen
        was drawn): the folder is read again first, and nothing is written where that barrel has
        changed. Raises InputError for what cannot be an entry, FileError while nothing may be
        written.
        """
        self._refuse_unread()
        if drawn_revision is not None:
            self.reload_if_changed()
            changed = self._changed(*drawn_revision)
            if changed is not None:
                return changed
        return self._send(self.draft(kind, fields, note, at=at))

    def last_own(self) -> Entry | None:
        """The entry that this device wrote last and that still counts; a sitter's own only."""
        ending = f"-{self.device}.txt"
        ours = [e for e in self.journal.live if e.kind != "strike" and e.path.endswith(ending)]
        if self.sitter:
            ours = [e for e in ours if e.fields.get("by") == self.sitter]
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

    def when_told(self, told: Callable[[], object]) -> None:
        """Whom the writer's thread calls when it is back; that has to lead to `settle`."""
        self._writer.told = told

    def retry(self) -> None:
        """Let the writer try again what it could not write."""
        self._writer.retry()
        self.settle()

    def settle(self, wait_s: float = 0.0) -> list[Outcome]:
        """Take in what the writer came back with; with `wait_s` also what comes within that."""
        back = list(self._writer.outcomes(wait_s))
        for outcome in back:
            self.version += 1
            if outcome.saved is not None:
                self._take_saved(outcome.entry, outcome.saved)
        return back

    def _take_saved(self, entry: Entry, saved: Saved) -> None:
        entry.path = f"journal/{saved.path.name}"
        self._saved.append(entry)
        grown = len(saved.line.encode()) + 1
        with self._merging:
            if self._watch.wrote(entry.path, grown, saved.before, saved.after):
                self._journal, entry.line = one_line_more(self._journal, entry.path)
            self._to_merge.append(entry)
        self.facts += 1
        if self._used[0] == self.facts - 1:  # one more, without a walk over all the years
            self._used[1].add((entry.instant, entry.kind))
            self._used = (self.facts, self._used[1])

    def _refuse_unread(self) -> None:
        if self.partial:
            raise FileError(OLDER_YEARS)
        if self.read_only:
            raise FileError("a file of the journal is left out, so nothing is written: see the "
                            "problems in Journal")  # fmt: skip

    def _changed(self, barrel: str, revision: int) -> Changed | None:
        found = self.state().barrels.get(barrel)
        if found is None or found.revision == revision:
            return None
        about = [e for e in self.journal.live if e.get("barrel") == barrel or _of(e, found.batch)]
        last = f": {render(about[-1])}" if about else ""
        return Changed(barrel, f"{barrel} has changed since this was drawn{last}")

    def _taken(self) -> set[Key]:
        """Instants and kinds that no new entry may have, those on their way included."""
        if self._used[0] != self.facts:
            self._used = (self.facts, self.journal.taken())
        waiting = {(each.entry.instant, each.entry.kind) for each in self.pending}
        return self._used[1] | waiting if waiting else self._used[1]

    def _last_of_batch(self, batch: str) -> Entry | None:
        """What this device last wrote about the batch."""
        ending = f"-{self.device}.txt"
        read = [e for e in self.journal.entries if e.path.endswith(ending)]
        ours = [*read, *(each.entry for each in self.pending)]
        about = [e for e in ours if e.get("batch") == batch]
        return max(about, key=lambda entry: entry.order, default=None)

    def _send(self, entry: Entry) -> Saved | Pending:
        self._writer.send(entry)
        self.version += 1
        for outcome in self.settle(ANSWER_S):
            if outcome.entry is entry and outcome.saved is not None:
                return outcome.saved
        return next(each for each in self.pending if each.entry is entry)

    # --- what others write ------------------------------------------------------------------------

    def changed(self) -> bool:
        """Whether the folder holds something new; to be asked every second or so."""
        return self._watch.changed()

    def read(self) -> Fresh:
        """The folder as it stands now, folded; may run in a worker's thread."""
        saved = len(self._saved)
        loaded = load(self.folder)
        setup = loaded.setup or self.setup
        journal, folding = read_folder(self.folder, self.zone, setup.gallon), Folding(setup)
        folding.state(journal.live, self.now())
        _ = journal.live.places  # made here, where no key waits for it
        return Fresh(loaded, journal, folding, saved)

    def take(self, fresh: Fresh) -> None:
        """Let what was read count; a description that cannot be used leaves the old one in place.

        What we saved while it was read is added again: it may have come too late for the reader.
        What is pending does not count, even where it was found: a disk that failed to keep it may
        still show it.
        """
        self.loaded, self._folding = fresh.loaded, fresh.folding
        self.setup = fresh.folding.setup
        waiting = {each.entry.canonical for each in self.pending}
        with self._merging:
            self._journal = with_entries(
                without(fresh.journal, waiting), self._saved[fresh.saved :]
            )
            self._to_merge = []
        self.version += 1
        self.facts += 1

    def described(self, loaded: LoadedPond) -> None:
        """Let a description count that was written here; the journal stays as it was read."""
        if loaded.setup is not None:
            self.setup = loaded.setup
        self.loaded = loaded
        self.version += 1
        self.facts += 1

    def reload_if_changed(self) -> bool:
        """Read again here and now, where something is new."""
        if not self.changed():
            return False
        self.take(self.read())
        return True

    def vanished(self) -> list[Entry]:
        """Entries that were saved and that a fresh reading no longer holds."""
        if self.writing or self.partial or self.read_only:
            return []  # not all of it was read
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
