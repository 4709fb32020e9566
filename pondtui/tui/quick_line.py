"""One line for any entry: what it means is shown before it is written."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.suggester import Suggester
from textual.widgets import Input, Static

from pondtui.books.lines import render
from pondtui.errors import InputError, PondError
from pondtui.pond.daily.possible import impossible
from pondtui.pond.daily.quick import complete, understand
from pondtui.pond.daily.times import local_day
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views.forms import second_look

_KEPT = "quick line"  # where what was typed is kept
_EXAMPLES = "level 62   rain 4   note heron again   dip yard 90   chore feed   temp 18"


class _Completing(Suggester):
    """The pond's own words behind the cursor; Right takes them."""

    def __init__(self, setup: Setup) -> None:
        super().__init__(use_cache=False, case_sensitive=True)
        self._setup = setup

    async def get_suggestion(self, value: str) -> str | None:
        """The whole line, its last word completed."""
        line = complete(value, self._setup)
        # what is typed stays as it is typed, capitals included
        return value + line[len(value) :] if line.casefold().startswith(value.casefold()) else None


class QuickLine(Dialog[bool]):
    """Reads one line and writes the entry that it means. Leaving keeps the text."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("write", "enter", "write", "write it down", "write the entry"),
        Key("take", "right", "", "take the grey word", "complete the word"),
        Key("leave", "escape", "leave", "back, keeps the text", "leave; the text is kept"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    def compose(self) -> ComposeResult:
        """The line, and below it what it means."""
        typed = self.pond.typed.get(_KEPT, {}).get("line", "")
        with Vertical(classes="panel"):
            yield Static(paint.words("One line for any entry", "mark", bold=True), markup=False)
            yield Input(
                typed,
                placeholder=_EXAMPLES,
                id="line",
                compact=True,
                select_on_focus=False,
                suggester=_Completing(self.session.setup),
            )
            yield Line(id="second-look")
            yield Line(id="preview")
            yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Show what an earlier visit left."""
        self._judge()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Keep it, and say at once what it means."""
        self.pond.typed[_KEPT] = {"line": event.value}
        self._judge()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter writes it."""
        self.action_write()

    def action_leave(self) -> None:
        """Leave; the text is kept."""
        self.dismiss(False)

    def action_write(self) -> None:
        """Write the entry if the line means one."""
        entry = self._judge(asked=True)
        if entry is None:
            return
        fields = {name: text for name, text in entry.fields.items() if name != "by"}
        try:
            self.session.write(entry.kind, fields, entry.note)
        except PondError as error:
            self._say("preview", str(error), "danger")
            return
        self.pond.typed.pop(_KEPT, None)
        self.pond.state_changed()
        self.dismiss(True)

    def _judge(self, *, asked: bool = False) -> Entry | None:
        """Show the line that would be written, or why there is none."""
        text = self.query_one("#line", Input).value
        session = self.session
        self._say("second-look", "", "warn")
        try:
            quick = understand(text, session.setup)
            entry = session.draft(quick.kind, quick.fields, quick.note)
            wrong = impossible(session.setup, entry, local_day(session.setup, entry.instant))
            if wrong:
                raise InputError(wrong)
            if not entry.note and not entry.fields.keys() - {"by"}:
                raise InputError(f"{quick.kind}: say a few words more")
        except InputError as error:
            quiet = not text.strip() or (not asked and len(text.split()) < 2)
            self._say("preview", "" if quiet and not asked else str(error), "danger")
            return None
        value = entry.get("reading")
        if isinstance(value, float):
            self._say("second-look", second_look(session.setup, session.state(), value), "warn")
        self._say("preview", f"will be written: {render(entry)}", "quiet")
        return entry

    def _say(self, line: str, text: str, role: str) -> None:
        self.query_one(f"#{line}", Line).say(paint.words(text, role) if text else Content(""))
