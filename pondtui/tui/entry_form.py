"""A quick entry: a few fields, the line that will be written, errors beside the field."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from pondtui.books.lines import render
from pondtui.books.moments import typed_moment
from pondtui.errors import InputError, PondError
from pondtui.pond.daily.possible import impossible
from pondtui.pond.daily.times import local_day
from pondtui.pond.state.entry import Entry
from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.field import Field
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views.forms import Form, meant, second_look


class EntryForm(Dialog[bool]):
    """Asks for one entry and writes it. Leaving keeps what was typed for the next time."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("write", "enter", "write", "write it down", "write the entry"),
        Key("next", "tab,down", "next", "next field", "go to the next field"),
        Key("leave", "escape", "leave", "back, keeps the text", "leave; the text is kept"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    def __init__(
        self, form: Form, given: Mapping[str, str] | None = None, *, instead_of: Entry | None = None
    ) -> None:
        super().__init__()
        self._form = form
        self._given = dict(given or {})  # fields that are not asked for
        self._instead_of = instead_of  # an entry that is struck once this one is written

    def compose(self) -> ComposeResult:
        """A row a field with its error under it, then the line that will be written."""
        typed = self.pond.typed.get(self._key, {})
        with Vertical(classes="panel"):
            yield Static(paint.words(self._form.title, "mark", bold=True), markup=False)
            yield from self._rows(typed)
            yield Line(id="second-look")
            yield Line(id="preview")
            yield KeyBar(self.KEYS)

    def _rows(self, typed: Mapping[str, str]) -> ComposeResult:
        with VerticalScroll(can_focus=False):
            for blank in self._form.blanks:
                with Horizontal(classes="field"):
                    yield Static(paint.words(blank.label), classes="label", markup=False)
                    yield Field(
                        typed.get(blank.name, ""),
                        example=blank.example,
                        id=blank.name,
                        acts={} if blank.name == "note" else {"q": "screen.leave"},
                    )
                yield Line(id=f"wrong-{blank.name}", classes="wrong -empty")

    def on_mount(self) -> None:
        """Show what an earlier visit left."""
        self._judge(all_fields=False)

    def on_input_changed(self, _event: Input.Changed) -> None:
        """Keep what is typed, and say at once what it means."""
        self.pond.typed[self._key] = self._typed()
        self._judge(all_fields=False)

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
        """Leave; `typed` keeps the texts."""
        self.dismiss(False)

    def action_write(self) -> None:
        """Write the entry if it can be one."""
        if self._judge(all_fields=True) is None:
            return
        fields, note = self._meant()
        try:
            self.session.write(self._form.kind, fields, note, at=self._at())
            if self._instead_of is not None:
                self.session.strike(self._instead_of, "written again")
        except PondError as error:
            self._say("preview", str(error), "danger")
            return
        self.pond.typed.pop(self._key, None)
        self.pond.state_changed()
        self.dismiss(True)

    @property
    def _key(self) -> str:
        return self._form.key or self._form.kind

    def _at(self) -> int | None:
        """The moment of the entry; None is now. Raises InputError."""
        if self._instead_of is not None:
            return self._instead_of.instant
        typed = self._typed().get("when", "")
        session = self.session
        return typed_moment(typed, session.now(), session.zone) if typed.strip() else None

    def _typed(self) -> dict[str, str]:
        return {field.id: field.value for field in self.query(Input) if field.id}

    def _meant(self) -> tuple[dict[str, str], str]:
        fields, note = meant(self._form, self._typed(), self.session.setup)
        return {**self._given, **fields}, note

    def _say(self, line: str, text: str, role: str) -> None:
        self.query_one(f"#{line}", Line).say(paint.words(text, role) if text else Content(""))

    def _judge(self, *, all_fields: bool) -> Entry | None:
        """Show the line that would be written, or what is wrong, each beside its field."""
        typed = self._typed()
        try:
            fields, note = self._meant()
            entry = self.session.draft(self._form.kind, fields, note, at=self._at())
            wrong = "" if note or fields else "type a few words"
            if self._form.why and not note:
                wrong = "note: say why"
            setup = self.session.setup
            wrong = wrong or impossible(setup, entry, local_day(setup, entry.instant))
        except InputError as error:
            entry, wrong = None, str(error)
        rest = self._sort_out(wrong, typed, all_fields=all_fields)
        self._say("second-look", self._second_look(entry), "warn")
        if entry is None or wrong:
            self._say("preview", rest, "danger")
            return None
        self._say("preview", f"will be written: {render(entry)}", "quiet")
        return entry

    def _second_look(self, entry: Entry | None) -> str:
        state = self.session.state()
        value = entry.get("reading") if entry is not None else None
        if entry is None or not isinstance(value, float):
            return ""
        late = state.level is not None and entry.instant < state.level.instant
        return "" if late else second_look(self.session.setup, state, value)

    def _sort_out(self, wrong: str, typed: dict[str, str], *, all_fields: bool) -> str:
        """Each mistake to its field, while typing only to those with a text; what is left over."""
        rest = []
        beside: dict[str, str] = {}
        for mistake in wrong.split("; ") if wrong else []:
            names = [b.name for b in self._form.blanks if _is_about(mistake, b.name)]
            name = names[0] if names else ""
            if name and (typed.get(name) or all_fields):
                beside[name] = mistake
            elif not name and (typed.get("more") or all_fields):
                rest.append(mistake)
        for blank in self._form.blanks:
            self._say(f"wrong-{blank.name}", beside.get(blank.name, ""), "danger")
        if all_fields and beside:
            self.query_one(f"#{next(iter(beside))}", Input).focus()
        return "; ".join(rest)


def _is_about(mistake: str, name: str) -> bool:
    return mistake.startswith((f"{name}:", f"{name} ")) or f" needs {name}:" in mistake
