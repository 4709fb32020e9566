"""Setup: the whole description as a list; Enter opens a table, s writes all that was changed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.errors import FileError, InputError
from pondtui.pond.setup import edit
from pondtui.pond.setup.edit import FORMS, Place
from pondtui.tui import keys, paint
from pondtui.tui.ask import Ask
from pondtui.tui.bars import Line
from pondtui.tui.choices import Choices
from pondtui.tui.dialogs import Choose, Confirm
from pondtui.tui.setup_book import SetupBook
from pondtui.tui.setup_write import SetupWriting
from pondtui.views import setup_figures, setup_rows
from pondtui.views.explain import Explanation
from pondtui.views.setup_fields import takes
from pondtui.views.setup_rows import Row
from pondtui.views.words import count

ROOMY = 110  # columns from which figures and drawing stand beside the list
_HEAD = 20  # columns of the names
_CHANGING = ("add", "copy", "remove", "move", "forget", "write")


class SetupScreen(SetupWriting):
    """Everything that pond.toml and procedure.toml hold."""

    ROOM = "setup"
    TITLE = "Setup"
    BINDINGS = keys.bindings(keys.keys_of("setup", {}))
    AUTO_FOCUS = "#tables"

    def __init__(self) -> None:
        super().__init__()
        self._rows: list[Row] = []

    def body(self) -> ComposeResult:
        """The list, and beside or below it what follows from the table under the cursor."""
        yield Line(id="setup-state")
        with Horizontal(id="setup"):
            yield Choices(id="tables")
            with Vertical(id="setup-side"):
                yield Line(id="side-figures")
                yield Line(id="side-picture")
        yield Line(id="setup-figures")

    def show(self) -> None:
        """The list as the forms stand now."""
        self.set_class(self.size.width >= ROOMY, "-roomy")
        book, told = self.book, ""
        if book is None:
            self._state(f"{self._fault}; correct it by hand, then all of it stands here", "danger")
            return
        try:
            book.follow()
        except FileError as error:
            told = f"{error}; what was typed here stays"
        self._rows = setup_rows.rows(
            book.draft.pond.data, book.draft.steps.data, book.judged()[1], book.differing()
        )
        self._fill()
        if told:
            self._state(told, "danger")
        else:
            self._say_state(book)
        self._tell()
        self.ask_about_kept(book)

    def _say_state(self, book: SetupBook) -> None:
        wrong = book.blocking()
        whole = [finding.message for finding in book.judged()[1] if not finding.table]
        if wrong and not wrong[0].table:
            self._state(wrong[0].message, "danger")
        elif wrong:
            told = f"{count(len(wrong), 'mistake')}, marked !: nothing is written until it is right"
            self._state(told, "danger")
        elif book.changed:
            self._state("changed, not written yet: s writes it", "warn")
        elif whole:
            self._state(whole[0], "warn")
        else:
            self._state("pond.toml and procedure.toml, as they stand on the disk", "quiet")

    def _state(self, text: str, role: str) -> None:
        self.query_one("#setup-state", Line).say(paint.words(text, role))

    def _fill(self) -> None:
        listed = self.query_one("#tables", Choices)
        on = self._on
        wide = self.size.width * 3 // 5 if self.has_class("-roomy") else self.size.width
        listed.set_options(
            Option(paint.words(row.text, "mark", bold=True), disabled=True)
            if not row.id
            else Option(paint.columns(row.head, row.text, row.role, _HEAD, wide - 5), id=row.id)
            for row in self._rows
        )
        ids = [row.id for row in self._rows]
        first = next((place for place, name in enumerate(ids) if name), None)
        listed.highlighted = ids.index(on) if on and on in ids else first

    def _tell(self) -> None:
        """What follows from the table under the cursor."""
        book, row = self.book, self._row()
        if book is None or row is None:
            return
        told: list[str] = []
        picture = Content("")
        if row.place is not None:
            setup = book.judged()[0]
            texts = book.draft.of(row.place.table).typed(row.place)
            told = setup_figures.figures(setup, row.place.table, texts, book.day(), book.known())
            size = (self.size.width * 2 // 5 - 4, max(self.size.height - 14, 0))
            drawn = setup_figures.picture(setup, row.place.table, texts, book.day(),
                                          (size[0], min(size[1], 22)),
                                          ascii=self.session.settings.ascii)  # fmt: skip
            picture = paint.drawing(drawn)
        told = told or [FORMS[row.table].help if row.table else row.text]
        roomy = self.has_class("-roomy")
        width = self.size.width * 2 // 5 - 4 if roomy else self.size.width - 2
        said = paint.joined(paint.wrapped(text, "good", width) for text in told)
        self.query_one("#setup-figures", Line).say(Content("") if roomy else said)
        self.query_one("#side-figures", Line).say(said if roomy else Content(""))
        self.query_one("#side-picture", Line).say(picture if roomy else Content(""))

    def _row(self) -> Row | None:
        place = self.query_one("#tables", OptionList).highlighted
        return None if place is None or place >= len(self._rows) else self._rows[place]

    def explanation(self) -> Explanation | None:
        """What may stand in the table under the cursor."""
        row = self._row()
        name = row.place.table if row is not None and row.place else row.table if row else ""
        if not name:
            return None
        table, system = FORMS[name], self.session.setup.pond.units
        fields = tuple((field.key, takes(field, system)) for field in table.fields)
        return Explanation(f"{table.title} in the file", table.help, fields)

    # --- keys -------------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is changed in a list that has no room to be seen."""
        unseen = self.has_class("-small") or self.has_class("-tiny")
        return False if unseen and action in _CHANGING else super().check_action(action, parameters)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The figures follow the cursor."""
        self._on = event.option.id or self._on
        self._tell()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the form, or add one."""
        row = self._rows[event.option_index]
        if row.place is not None:
            self._open(row.place)
        elif row.table:
            self._add(row.table)

    def action_add(self) -> None:
        """One more of the kind under the cursor."""
        row = self._row()
        table = row.table if row is not None else ""
        if table and FORMS[table].many:
            self._add(table)
        else:
            self.pond.notify("this stands once: Enter opens it", markup=False)

    def action_copy(self) -> None:
        """A copy of the table under the cursor, opened: it needs a name or a day of its own."""
        book, row = self.book, self._row()
        if book is None or row is None or row.place is None:
            return
        many = FORMS[row.place.table].many
        if many == "list":
            self._open(book.copy(row.place))
        elif many == "named":
            self._ask_name(row.place.table, book.draft.pond.typed(row.place))
        else:
            self.pond.notify("this stands once: Enter opens it", markup=False)

    def action_remove(self) -> None:
        """Take the table under the cursor out, after a question."""
        book, row = self.book, self._row()
        place = row.place if row is not None else None
        if book is None or row is None or place is None:
            return
        data = book.draft.of(place.table).data
        found = edit.row_of(data, place)
        if found is None:
            self.pond.notify("nothing stands here yet", markup=False)
            return
        name = str(found.get("name", found.get("id", place.which)))
        what = row.head.strip()
        details = [*book.named_by(place, name), "it goes from the file when s writes"]

        def answered(yes: bool | None) -> None:
            if yes:
                book.remove(place)
            self.refresh_state()

        question = f"Take {what} out of the description?"
        self.pond.push_screen(Confirm(question, *details), answered)

    def action_move(self, by: int) -> None:
        """Move the table under the cursor up or down among its kind."""
        book, row = self.book, self._row()
        if book is None or row is None or row.place is None:
            return
        if FORMS[row.place.table].many != "list":
            self.pond.notify("the order means nothing here", markup=False)
            return
        self._go_to(book.move(row.place, by))
        self.refresh_state()

    def action_forget(self) -> None:
        """Back to what stands on the disk, after a question."""
        book = self.book
        if book is None or not book.changed:
            self.pond.notify("nothing is changed", markup=False)
            return

        def answered(yes: bool | None) -> None:
            if yes:
                book.forget()
            self.refresh_state()

        self.pond.push_screen(Confirm("Forget all that is not written yet?"), answered)

    def _open(self, place: Place) -> None:
        from pondtui.tui.setup_form import SetupForm

        book = self.book
        if book is not None:
            self._go_to(place)
            self.pond.push_screen(SetupForm(book, place))

    def _add(self, table: str) -> None:
        book = self.book
        if book is None:
            return
        if table == "chore":
            self._ask_chore(book)
        elif FORMS[table].many == "named":
            self._ask_name(table, {})
        else:
            self._open(book.add(table))

    def _ask_chore(self, book: SetupBook) -> None:
        """One of the usual chores that is not there yet, or an empty one."""
        there = {str(row.get("name")) for row in book.draft.pond.data.get("chore", ())}
        usual = {name: chore for name, chore in setup_rows.usual_chores() if name not in there}
        choices = [("", "one of your own")]
        choices += [(name, setup_rows.summary(FORMS["chore"], chore | {"name": ""}, name))
                    for name, chore in usual.items()]  # fmt: skip

        def answered(name: str | None) -> None:
            if name is None:
                return
            place = book.add("chore")
            book.put(place, usual.get(name, {}))
            self._open(place)

        self.pond.push_screen(Choose("Which chore?", choices), answered)

    def _ask_name(self, table: str, texts: dict[str, str]) -> None:
        """The name of a new table such as [source.NAME], then its form with these texts."""
        book = self.book
        if book is None:
            return
        taken = [place.which for place in edit.places(book.draft.pond.data, FORMS[table])]

        def check(typed: str) -> None:
            name = " ".join(typed.split())
            if not name or name in taken or set(";|.") & set(name):
                raise InputError(f"a name that is not there yet, without ; | or a point: {name}")

        def named(typed: str | None) -> None:
            if typed is not None:
                place = book.add(table, " ".join(typed.split()))
                book.put(place, texts)
                self._open(place)

        title = f"What is the new {table} called?"
        self.pond.push_screen(Ask(title, "such as well", "", check), named)
