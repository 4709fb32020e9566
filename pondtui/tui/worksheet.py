"""One worksheet: its fields, and the result as one types."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from pondtui.books.texts import read_text
from pondtui.errors import PondError
from pondtui.tui import keys, paint
from pondtui.tui.bars import Line
from pondtui.tui.choices import Choices
from pondtui.tui.field import Field
from pondtui.tui.screen import PondScreen
from pondtui.views import forms, sheets
from pondtui.views.explain import Explanation
from pondtui.views.sheets import ResultRow
from pondtui.worksheets.registry import Worksheet
from pondtui.worksheets.run import run


class WorksheetScreen(PondScreen):
    """Fields above, results below; what is typed is kept until the program is closed."""

    ROOM = "worksheet"
    BINDINGS = keys.bindings(keys.keys_of("worksheet", {}))
    AUTO_FOCUS = "Input"
    PLAIN_WHEN_SMALL = False

    def __init__(self, sheet: Worksheet) -> None:
        super().__init__()
        self.title = f"{sheet.name}: {sheet.title}"
        self._sheet = sheet
        self._rows: list[ResultRow] = []
        self._worked: dict[str, str] | None = None  # what the results shown belong to

    def body(self) -> ComposeResult:
        """A row a field, what the field takes, the results."""
        typed = self.pond.typed.get(self._key, {})
        with VerticalScroll(id="fields", can_focus=False):
            for field in self._sheet.inputs:
                with Horizontal(classes="field"):
                    yield Static(paint.words(field.name), classes="label", markup=False)
                    yield Field(
                        typed.get(field.name, ""),
                        example=sheets.hint(self._sheet, field, self._system),
                        id=f"in-{field.name}",
                        acts={"question_mark": "screen.explain"},
                    )
                yield Line(id=f"wrong-{field.name}", classes="wrong")
        yield Line(id="takes")
        yield Choices(id="results")
        yield Line(id="told")

    def on_mount(self) -> None:
        """Work out what an earlier visit left."""
        self._work_out()

    def explanation(self) -> Explanation:
        """The worksheet's formula, sources and cautions."""
        return sheets.explain(self._sheet, self._typed(), self._rows)

    def on_input_changed(self, _event: Input.Changed) -> None:
        """The result follows what is typed."""
        self.pond.typed[self._key] = self._typed()
        self._work_out()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter goes on to the next field, from the last one to the results."""
        self.focus_next()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the field takes."""
        name = (event.widget.id or "").removeprefix("in-")
        field = next((each for each in self._sheet.inputs if each.name == name), None)
        text = "c copies the chosen result into a note; ? shows formula and source"
        if field is not None:
            text = f"{field.help}: {sheets.takes(field, self._system)}"
        self.query_one("#takes", Line).say(paint.words(text, "quiet"))

    def action_next(self) -> None:
        """To the next field, or to the results."""
        self.focus_next()

    def action_previous(self) -> None:
        """To the field before."""
        self.focus_previous()

    def action_copy(self) -> None:
        """Open a note with the chosen result in it."""
        from pondtui.tui.entry_form import EntryForm

        place = self.query_one(OptionList).highlighted
        if place is None or place >= len(self._rows):
            return
        text = sheets.as_note(self._sheet, self._typed(), self._rows[place])
        self.pond.typed["note"] = {"note": text}
        self.pond.push_screen(EntryForm(forms.note_form()))

    @property
    def _key(self) -> str:
        return f"worksheet {self._sheet.name}"

    @property
    def _system(self) -> str:
        return self.session.setup.pond.units

    def _typed(self) -> dict[str, str]:
        return {
            field.id.removeprefix("in-"): field.value for field in self.query(Input) if field.id
        }

    def _work_out(self) -> None:
        """Results, or what is missing or wrong, each beside its field."""
        typed, gallon = self._typed(), self.session.setup.gallon
        if typed == self._worked:
            return
        self._worked = typed
        wrong, notes, self._rows = "", [], []
        try:
            answer = run(self._sheet.name, typed, gallon=gallon, read_file=read_text)
            self._rows = sheets.result_rows(answer, gallon)
            notes = [f"note: {note}" for note in answer.notes]
        except PondError as error:
            wrong = str(error) if any(typed.values()) else ""
        rest = wrong
        for field in self._sheet.inputs:
            about = wrong.startswith(f"{field.name}:") and bool(typed[field.name])
            self._say(f"wrong-{field.name}", wrong if about else "", "danger")
            rest = "" if about else rest
        notes += [f"caution: {text}" for text in self._sheet.cautions] if self._rows else []
        if rest:
            missing = " still needs " in rest
            self._say("told", rest, "quiet" if missing else "danger")
        else:
            self._say("told", "\n".join(notes), "warn")
        self._show_rows()

    def _show_rows(self) -> None:
        listed = self.query_one(OptionList)
        listed.display = bool(self._rows)
        wide = max((len(row.key) for row in self._rows), default=0)
        listed.set_options(
            Option(Content.assemble(
                (f"{row.key:<{wide}}  ", paint.style("quiet")),
                (f"{row.own} {row.other}".strip(), paint.style("good", bold=True)),
                (f"  {row.help}", paint.style("text")),
            ))
            for row in self._rows
        )  # fmt: skip
        if self._rows:
            listed.highlighted = 0

    def _say(self, line: str, text: str, role: str) -> None:
        self.query_one(f"#{line}", Line).say(paint.words(text, role) if text else Content(""))
