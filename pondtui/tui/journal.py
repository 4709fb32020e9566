"""Journal: every entry, newest first; search, filter, strike, correct."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input

from pondtui.books.journal import Journal
from pondtui.books.lines import render, strike_of
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.kinds import KINDS
from pondtui.tui import keys, paint
from pondtui.tui.bars import Line
from pondtui.tui.entry_list import EntryList
from pondtui.tui.screen import PondScreen
from pondtui.views import forms, journal
from pondtui.views.explain import Explanation
from pondtui.views.words import count

_WHEN = 17  # columns of the stamp
_KIND = 9


class JournalScreen(PondScreen):
    """All entries."""

    ROOM = "journal"
    TITLE = "Journal"
    BINDINGS = keys.bindings(keys.keys_of("journal", {}))
    AUTO_FOCUS = "#entries"
    PLAIN_WHEN_SMALL = False

    def __init__(self) -> None:
        super().__init__()
        self._found: list[Entry] = []
        self._texts: tuple[Journal | None, list[str]] = (None, [])
        self._kind = ""

    def body(self) -> ComposeResult:
        """How many are shown, the words to search, the entries."""
        yield Line(id="found")
        yield Input(id="words", compact=True, placeholder="words that the entries must hold")
        yield EntryList(id="entries")

    def on_mount(self) -> None:
        """The field for words appears when it is asked for."""
        self.query_one("#words").display = False

    def show(self) -> None:
        """Find again; the cursor stays where it is."""
        entries = self.session.journal.entries
        words = self.query_one("#words", Input).value.casefold().split()
        self._found = self._matching(words)
        listed = self.query_one(EntryList)
        listed.fill(len(self._found), self._line)
        shown = count(len(entries), "entry", "entries")
        if words or self._kind:
            shown = f"{len(self._found)} of {shown}"
            shown += f", kind {self._kind}" if self._kind else ""
        if self.session.partial:
            shown += " (older years are being read)"
        shown = shown if entries else "nothing is written yet: n writes a note"
        number = len(self.session.problems)
        wrong = f"; {count(number, 'line')} not understood: p shows which" if number else ""
        self.query_one("#found", Line).say(
            Content.assemble((shown, paint.style("quiet")), (wrong, paint.style("warn")))
        )

    def on_input_changed(self, _event: Input.Changed) -> None:
        """Search as one types."""
        self.show()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter goes on to what was found."""
        self.query_one(EntryList).focus()

    def on_entry_list_chosen(self, event: EntryList.Chosen) -> None:
        """Show the entry whole."""
        self.query_one(EntryList).cursor = event.place
        self.action_explain()

    def explanation(self) -> Explanation | None:
        """The chosen entry, field by field."""
        entry = self._chosen()
        if entry is None:
            return None
        told = journal.facts(entry, self.session.strikes_of(entry))
        return Explanation("Entry", render(entry), tuple(told))

    def action_search(self) -> None:
        """Open the field for words."""
        field = self.query_one("#words", Input)
        field.display = True
        field.focus()

    def action_back(self) -> None:
        """From the field to the list, from the list to Today."""
        field = self.query_one("#words", Input)
        if self.focused is field:
            field.display = bool(field.value)
            self.query_one(EntryList).focus()
        else:
            self.pond.go_back()

    def action_kind(self) -> None:
        """Show one kind only."""
        from pondtui.tui.dialogs import Choose

        present = {entry.kind for entry in self.session.journal.entries}
        choices = [("", "all kinds")]
        choices += [(k, f"{k:<9}{KINDS[k].help}") for k in KINDS if k in present]
        choices += [(k, f"{k:<9}a kind of a newer version") for k in sorted(present - set(KINDS))]
        self.pond.push_screen(Choose("Show which kind?", choices), self._choose_kind)

    def action_problems(self) -> None:
        """What could not be read, and what is worth a look."""
        from pondtui.tui.dialogs import Show

        session = self.session
        found = sorted(
            (*session.loaded.problems, *session.journal.problems),
            key=lambda problem: problem.severity != "problem",
        )
        lines = journal.told_problems(found) or ["everything in the pond's files was understood"]
        text = paint.joined(paint.words(each) for each in lines)
        self.pond.push_screen(Show("Problems and remarks", text))

    def action_strike(self) -> None:
        """Take the chosen entry back with a reason; a struck one can be let count again."""
        entry = self._chosen()
        if entry is None:
            return
        strikes = self.session.strikes_of(entry)
        if strikes:
            from pondtui.tui.dialogs import Confirm

            question = "This entry is struck. Let it count again?"
            self.pond.push_screen(
                Confirm(question, render(entry)),
                lambda yes: self._let_count(strikes) if yes else None,
            )
            return
        from pondtui.tui.entry_form import EntryForm

        given = {"of": strike_of(entry, self.session.zone)}
        self.pond.push_screen(EntryForm(forms.strike_form(render(entry)), given))

    def action_correct(self) -> None:
        """Write the chosen entry again as it should be, at its own time; the old line is struck."""
        from pondtui.tui.entry_form import EntryForm

        entry = self._chosen()
        asked = forms.again_form(entry) if entry is not None else None
        if entry is None or asked is None or self.session.strikes_of(entry):
            self.pond.notify("this entry cannot be written again here", markup=False)
            return
        form, typed = asked
        self.pond.typed.setdefault(form.key, typed)
        self.pond.push_screen(EntryForm(form, instead_of=entry))

    def _let_count(self, strikes: list[Entry]) -> None:
        for strike in strikes:
            self.strike(strike)

    def _choose_kind(self, kind: str | None) -> None:
        if kind is not None:
            self._kind = kind
            self.show()

    def _chosen(self) -> Entry | None:
        place = self.query_one(EntryList).cursor
        return self._found[place] if place < len(self._found) else None

    def _matching(self, words: list[str]) -> list[Entry]:
        """The entries that hold all words, newest first."""
        entries = self.session.journal.entries
        if not words and not self._kind:
            return entries[::-1]
        if words and self._texts[0] is not self.session.journal:
            self._texts = (self.session.journal, [render(entry).casefold() for entry in entries])
        texts = self._texts[1] if words else [""] * len(entries)
        return [
            entry
            for entry, text in zip(reversed(entries), reversed(texts), strict=True)
            if (not self._kind or entry.kind == self._kind) and all(w in text for w in words)
        ]

    def _line(self, place: int, width: int) -> Content:
        """One entry in the list; on a narrow screen without the year."""
        entry = self._found[place]
        struck = self.session.journal.is_struck(entry)
        told = journal.line(entry, self.session.zone, struck=struck)
        when = told.when if width >= 70 else told.when[5:]
        role = "quiet" if struck else "text"
        parts = [(f"{when:<{len(when) + 1}}", paint.style("quiet")),
                 (f"{told.kind:<{_KIND}}", paint.style("mark" if not struck else "quiet")),
                 (told.text, paint.style(role))]  # fmt: skip
        if told.note:
            parts.append(("  " if told.text else "", ""))
            parts.append((told.note, paint.style("quiet" if told.text else role)))
        return Content.assemble(*parts).truncate(width, ellipsis=True)
