"""The keys that work on many screens: quick entries, undo, explain, help, other rooms.

What they open is imported when it is opened: the first frame waits for none of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, cast

from pondtui.errors import PondError
from pondtui.pond.state.entry import Entry
from pondtui.views.explain import Explanation

if TYPE_CHECKING:
    from textual.screen import Screen

    from pondtui.tui.app import PondApp
    from pondtui.views.forms import Form


class QuickKeys:
    """Actions of a screen; mixed into `PondScreen`."""

    ROOM = ""

    @property
    def pond(self) -> PondApp:
        """The app, by its own type."""
        return cast("PondApp", cast("Screen[None]", self).app)

    def explanation(self) -> Explanation | None:
        """How the focused figure came about; None where nothing is to be explained."""
        return None

    def action_open(self, room: str) -> None:
        """Go to another screen."""
        self.pond.open_room(room)

    def action_level(self) -> None:
        """Write down what the gauge reads."""
        from pondtui.views import forms

        self._form(forms.level_form(self.pond.session.setup))

    def action_note(self) -> None:
        """Write a note."""
        from pondtui.views import forms

        self._form(forms.note_form())

    def action_water_test(self) -> None:
        """Write down a water test."""
        from pondtui.views import forms

        session = self.pond.session
        self._form(forms.test_form(session.setup, session.state()))

    def action_quick_line(self) -> None:
        """Write any entry as one line."""
        from pondtui.tui.quick_line import QuickLine

        self.pond.push_screen(QuickLine())

    def put(self, kind: str, fields: dict[str, str]) -> None:
        """Write an entry at once, and say where it cannot be."""
        try:
            self.pond.session.write(kind, fields)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
        self.pond.tell()

    def action_chore(self) -> None:
        """Tick off a chore: those that are due stand first."""
        from pondtui.tui.dialogs import Choose
        from pondtui.views import forms

        session = self.pond.session
        chores = forms.chores(session.setup, session.status().due)
        if not chores:
            self.pond.notify("pond.toml describes no [[chore]]", markup=False)
            return
        self.pond.push_screen(Choose("Which chore is done?", chores), self._done)

    def _done(self, chore: str | None) -> None:
        if chore is not None:
            self.put("chore", {"name": chore})

    def action_undo(self) -> None:
        """Take back the entry that this device wrote last, after a question."""
        from pondtui.books.lines import render
        from pondtui.tui.dialogs import Confirm

        last = self.pond.session.last_own()
        if last is None:
            self.pond.notify("this device has written nothing that could be taken back",
                             markup=False)  # fmt: skip
            return
        self.pond.push_screen(
            Confirm("Take this entry back? The line stays, struck.", render(last)),
            lambda yes: self.strike(last) if yes else None,
        )

    def action_explain(self) -> None:
        """Show how the chosen figure came about."""
        from pondtui.tui.dialogs import explanation

        found = self.explanation()
        if found is None:
            self.pond.notify("this line holds no computed figure", markup=False)
        else:
            self.pond.push_screen(explanation(found))

    def action_help(self) -> None:
        """Show the keys of this screen and what it is for, and search the manual."""
        from pondtui.tui.help import Help, room_page

        session = self.pond.session
        first = room_page(self.ROOM, session.settings.keys, sitter=bool(session.sitter))
        self.pond.push_screen(Help(first, self.pond.manual))

    def strike(self, entry: Entry, note: str = "") -> None:
        """Take an entry back and say so."""
        try:
            self.pond.session.strike(entry, note)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
        self.pond.tell()

    def _form(self, form: Form, given: Mapping[str, str] | None = None) -> None:
        from pondtui.tui.entry_form import EntryForm

        self.pond.push_screen(EntryForm(form, given))
