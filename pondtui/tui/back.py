"""I'm back: one screen after weeks without the app asks level, barrels and bottle."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Input, Static

from pondtui.errors import InputError, PondError
from pondtui.pond.daily.possible import impossible
from pondtui.pond.daily.times import local_day
from pondtui.pond.state.entry import Entry
from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views import back


class Back(Dialog[bool]):
    """Writes an entry for every field that is filled in."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("write", "enter", "write", "write what is typed", "write the entries"),
        Key("next", "tab,down", "next", "next field", "go to the next field"),
        Key("leave", "escape", "leave", "later", "leave without writing"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", show=False),
        Binding("down", "next", show=False),
        Binding("up", "previous", show=False),
    ]

    def __init__(self, away_s: int) -> None:
        super().__init__()
        self._away_s = away_s
        self._wanted: tuple[back.Wanted, ...] = ()

    def compose(self) -> ComposeResult:
        """How long it was, what to look at, what was missed."""
        status = self.session.status()
        self._wanted = back.wanted(status)
        with Vertical(classes="panel"):
            yield Static(paint.words(back.title(self._away_s), "mark", bold=True), markup=False)
            for want in self._wanted:
                with Horizontal(classes="field"):
                    yield Static(paint.words(want.blank.label), classes="label", markup=False)
                    yield Input(placeholder=want.blank.example, id=want.blank.name, compact=True)
                yield Line(id=f"wrong-{want.blank.name}", classes="wrong -empty")
            most = max(self.pond.size.height - len(self._wanted) - 7, 2)
            lines = back.said(status, most)
            yield Static(paint.joined(paint.words(line, "quiet") for line in lines), markup=False)
            yield KeyBar(self.KEYS)

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter writes from any field."""
        self.action_write()

    def action_next(self) -> None:
        """To the next field."""
        self.focus_next(Input)

    def action_previous(self) -> None:
        """To the field before."""
        self.focus_previous(Input)

    def action_leave(self) -> None:
        """Leave; nothing is written."""
        self.dismiss(False)

    def action_write(self) -> None:
        """Write all that is filled in, or nothing where one of them cannot be."""
        entries: list[Entry] = []
        faults = 0
        for want in self._wanted:
            field = self.query_one(f"#{want.blank.name}", Input)
            fault = ""
            if field.value.strip():
                try:
                    entries.append(self._entry(want, field.value))
                except InputError as error:
                    fault, faults = str(error), faults + 1
            line = self.query_one(f"#wrong-{want.blank.name}", Line)
            line.say(paint.words(fault, "danger") if fault else Content(""))
        if not faults:
            self._write(entries)

    def _entry(self, want: back.Wanted, typed: str) -> Entry:
        """The entry of one field. Raises InputError."""
        session = self.session
        entry = session.draft(want.kind, back.meant(session.setup, want, typed))
        wrong = impossible(session.setup, entry, local_day(session.setup, entry.instant))
        if wrong:
            raise InputError(wrong)
        return entry

    def _write(self, entries: list[Entry]) -> None:
        try:
            for entry in entries:
                fields = {name: text for name, text in entry.fields.items() if name != "by"}
                self.session.write(entry.kind, fields)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
            return
        self.pond.state_changed()
        self.dismiss(True)
