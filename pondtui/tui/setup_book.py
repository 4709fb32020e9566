"""The description while it is changed: both files, what the reader says of them, their writing."""

from __future__ import annotations

from datetime import date

from pondtui.books import describing, unwritten
from pondtui.books.describing import Draft, Written
from pondtui.books.folder import unwritten_of
from pondtui.books.pondfile import NAME, load
from pondtui.errors import FileError
from pondtui.paths import data_dir
from pondtui.pond.daily.times import local_day
from pondtui.pond.refill.own_steps import own_step_findings
from pondtui.pond.refill.procedure import step_ids
from pondtui.pond.setup import edit
from pondtui.pond.setup.changes import Changes
from pondtui.pond.setup.edit import FORMS, Place
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.read import read_findings
from pondtui.pond.setup.references import candidates, naming_entries, naming_tables
from pondtui.pond.setup.tables_steps import STEP
from pondtui.records import NamedTuple
from pondtui.tui.session import Session
from pondtui.tui.setup_keep import Keeper
from pondtui.views.setup_figures import Known
from pondtui.views.words import count


class Ready(NamedTuple):
    """A file that can be written."""

    name: str
    changes: Changes
    written: Written


class SetupBook:
    """Lives as long as the program: what was changed and is not written stays here."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.draft: Draft = describing.read_draft(session.folder)
        self.measured: dict[str, dict[str, str]] = {}  # what stands in measuring forms
        self._judged: tuple[Setup | None, list[Finding]] | None = None
        self._place = unwritten_of(data_dir(), session.folder)
        self._keeper = Keeper(self._place, inline=session.inline)

    # --- what is known ----------------------------------------------------------------------------

    @property
    def changed(self) -> bool:
        """Whether anything is not written yet."""
        return any(changes.changed for _, changes in self.draft.files)

    def judged(self) -> tuple[Setup | None, list[Finding]]:
        """The pond as it stands in the forms, and all that is wrong with it."""
        if self._judged is None:
            setup, findings = read_findings(self.draft.pond.data)
            steps, more = own_step_findings(self.draft.steps.data)
            if setup is not None:
                setup = setup._replace(own_steps=steps)
            self._judged = (setup, [*findings, *more])
        return self._judged

    def blocking(self) -> list[Finding]:
        """What keeps it from being written; that a pond is not whole yet does not, if it was so."""
        known = {f.message for f in read_findings(self.draft.pond.base)[1] if not f.table}
        return [
            finding
            for finding in self.judged()[1]
            if finding.severity == "problem" and finding.message not in known
        ]

    def differing(self) -> list[Place]:
        """The places that differ from the files."""
        found = []
        for table in FORMS.values():
            changes = self.draft.of(table.name)
            if not edit.misshapen(changes.data, table):
                here = edit.places(changes.data, table)
                found += [place for place in here if changes.differs(place)]
        return found

    def day(self) -> date:
        """Today at the pond."""
        return local_day(self._session.setup, self._session.now())

    def known(self) -> Known:
        """What the journal adds: timed releases by barrel, the tap's latest test."""
        state = self._session.state()
        timed = {name: barrel.timed for name, barrel in state.barrels.items()}
        return Known(timed, state.tap_chlorine)

    def named_by(self, place: Place, name: str) -> list[str]:
        """What else names a thing of the description, as sentences."""
        if not name:
            return []
        told = []
        others = naming_tables(self.draft.of(place.table).data, place.table, name)
        if others:
            told.append(f"named in pond.toml by {', '.join(others)}")
        row = edit.row_of(self.draft.of(place.table).data, place) or {}
        names = (name, str(row.get("initials", name)))
        entries = naming_entries(self._session.journal.live, place.table, names)
        if entries:
            told.append(f"{count(entries, 'entry', 'entries')} of the journal name it")
        return told

    def candidates(self, place: Place, key: str) -> list[str]:
        """What a field that names something may hold."""
        if (place.table, key) == (STEP.name, "after"):
            return list(step_ids())
        return candidates(self.draft.pond.data, place.table, key)

    # --- changing ---------------------------------------------------------------------------------

    def put(self, place: Place, typed: dict[str, str]) -> None:
        """Take over what stands in a form."""
        self.draft.of(place.table).put(place, typed)
        self._touched()

    def add(self, table: str, name: str = "") -> Place:
        """One more table."""
        place = self.draft.of(table).add(table, name)
        self._touched()
        return place

    def copy(self, place: Place) -> Place:
        """A copy, right behind it."""
        to = self.draft.of(place.table).copy(place)
        self._touched()
        return to

    def remove(self, place: Place) -> None:
        """Take a table away."""
        self.draft.of(place.table).remove(place)
        self._touched()

    def move(self, place: Place, by: int) -> Place:
        """Move a table up or down among its kind."""
        to = self.draft.of(place.table).move(place, by)
        self._touched()
        return to

    def forget(self) -> None:
        """Back to what the files say."""
        for _, changes in self.draft.files:
            changes.forget()
        self._touched()

    def _touched(self) -> None:
        """Keep what is changed on the disk, in case the program is killed before it is written."""
        self._judged = None
        if self._session.unwritten:
            return  # what an earlier run left is still to be asked about
        try:
            self._keeper.keep(unwritten.as_text(self.draft) if self.changed else None)
        except FileError as error:
            self._keeper.fault = str(error)

    # --- what an earlier run left -----------------------------------------------------------------

    @property
    def not_kept(self) -> str:
        """Why what is changed would not outlive a killed program; "" where it would."""
        return self._keeper.fault

    def settle(self, wait_s: float) -> None:
        """Wait until what is changed is kept."""
        self._keeper.settle(wait_s)

    def take_up(self) -> None:
        """Go on with what was kept. Raises FileError where it cannot be read: it is set aside."""
        try:
            found = unwritten.read(self._place)
        except FileError as error:
            aside = unwritten.set_aside(self._place)
            self._session.unwritten = False
            raise FileError(f"{error}; it stays beside its place as {aside}") from None
        self._session.unwritten = False
        if found is not None:
            self.draft, self._judged = found, None

    def drop_kept(self) -> None:
        """Let go what was kept."""
        unwritten.drop(self._place)
        self._session.unwritten = False

    # --- the files --------------------------------------------------------------------------------

    def follow(self) -> None:
        """Read again what was changed by hand, where nothing was changed here. Raises FileError."""
        for name, changes in self.draft.files:
            if not changes.changed and self._by_hand(name, changes) and not self.gone():
                changes.rebase(*describing.read_file(self._session.folder, name))
                self._touched()

    def by_hand(self) -> list[str]:
        """The files that were changed by hand and here. Raises FileError."""
        both = [(name, c) for name, c in self.draft.files if c.changed]
        return [name for name, changes in both if self._by_hand(name, changes)]

    def gone(self) -> bool:
        """Whether pond.toml is not there any more, so that only what stands here is left of it."""
        return describing.changed_by_hand(self._session.folder, NAME, self.draft.pond.text) and (
            not describing.read_file(self._session.folder, NAME)[0]
        )

    def read_again(self) -> None:
        """Take the files as they are now, and lay what was changed here over them."""
        for name, changes in self.draft.files:
            changes.rebase(*describing.read_file(self._session.folder, name))
        self._touched()

    def ready(self) -> list[Ready]:
        """The files as they would be written. Raises FileError."""
        return [
            Ready(name, changes, describing.as_written(changes))
            for name, changes in self.draft.files
            if changes.changed
        ]

    def rescued(self) -> list[Ready]:
        """pond.toml as it stands here, although the file is gone. Raises FileError."""
        changes = self.draft.pond
        return [Ready(NAME, changes, describing.as_written(changes))]

    def write(self, ready: list[Ready]) -> None:
        """Write them, and let the pond be as described. Raises FileError; what is typed stays."""
        folder = self._session.folder
        for each in ready:
            describing.write(folder, each.name, each.written, each.changes.text)
            each.changes.written(each.written.text)
        self._touched()
        self._session.described(load(folder))

    def _by_hand(self, name: str, changes: Changes) -> bool:
        return describing.changed_by_hand(self._session.folder, name, changes.text)
