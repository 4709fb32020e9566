"""What Setup asks around the files: what an earlier run left, and each doubt before it writes."""

from __future__ import annotations

from pondtui.errors import FileError
from pondtui.pond.setup.edit import Place
from pondtui.tui.dialogs import Choose
from pondtui.tui.screen import PondScreen
from pondtui.tui.setup_book import Ready, SetupBook
from pondtui.views import setup_rows
from pondtui.views.words import count

_AGAIN, _WRITE, _TAKE, _DROP = "again", "write", "take", "drop"


class SetupWriting(PondScreen):
    """A screen over the description: the book with what is changed, and its way to the disk."""

    def __init__(self) -> None:
        super().__init__()
        self._fault = ""
        self._on = ""  # id of the row under the cursor, also while the list is filled anew
        self._asking = False

    @property
    def book(self) -> SetupBook | None:
        """The description; None while a file of it cannot be read."""
        session = self.session
        if session.describing is None:
            try:
                session.describing = SetupBook(session)
            except FileError as error:
                self._fault = str(error)
                return None
        return session.describing

    def _go_to(self, place: Place) -> None:
        self._on = f"{place.table}:{place.which}"

    # --- what an earlier run left -----------------------------------------------------------------

    def ask_about_kept(self, book: SetupBook) -> None:
        """Ask whether to take up what was changed and not written when the program ended."""
        if not self.session.unwritten or self._asking or not self.is_current:
            return
        self._asking = True

        def answered(what: str | None) -> None:
            self._asking = False
            if what == _TAKE:
                self._take_up(book)
            elif what == _DROP:
                book.drop_kept()
            else:
                self.action_back()  # nothing can be changed before that is answered
            self.refresh_state()

        choices = (
            (_TAKE, "take them up; s then writes them"),
            (_DROP, "drop them; the files stay as they are"),
        )
        title = "Changes of an earlier run are not written yet."
        self.pond.push_screen(Choose(title, choices), answered)

    def _take_up(self, book: SetupBook) -> None:
        try:
            book.take_up()
        except FileError as error:
            self.pond.notify(str(error), severity="error", markup=False, timeout=10)

    # --- writing ----------------------------------------------------------------------------------

    def action_write(self) -> None:
        """Write what was changed, if the reader takes it and nobody else has changed it."""
        book = self.book
        if book is None or not book.changed:
            self.pond.notify("nothing is changed", markup=False)
            return
        wrong = book.blocking()
        if wrong:
            found = setup_rows.place_of(wrong[0])
            if found is not None:
                self._go_to(found[0])
            self.refresh_state()
            self.pond.notify(f"not written: {wrong[0].message}", severity="error", markup=False)
            return
        try:
            if book.gone():
                self._ask_anew(book, book.rescued())
                return
            others = book.by_hand()
            ready = book.ready()
        except FileError as error:
            self._not_written(error)
            return
        if others:
            self._ask_again(book, others)
        elif lost := sum(each.written.comments_lost for each in ready):
            self._ask_comments(book, ready, lost)
        else:
            self._write(book, ready)

    def _ask_anew(self, book: SetupBook, ready: list[Ready]) -> None:
        def answered(what: str | None) -> None:
            if what == _WRITE:
                self._write(book, ready)

        choices = ((_WRITE, "write it anew, as it stands here"), ("", "leave it: it may come back"))
        title = "pond.toml is gone from the folder. Nothing is written yet."
        self.pond.push_screen(Choose(title, choices), answered)

    def _ask_again(self, book: SetupBook, names: list[str]) -> None:
        def answered(what: str | None) -> None:
            if what == _AGAIN:
                try:
                    book.read_again()
                except FileError as error:
                    self._not_written(error)
            self.refresh_state()

        title = f"{' and '.join(names)} was changed by hand meanwhile. Nothing is written yet."
        choices = ((_AGAIN, "read it again, and keep what was typed here"), ("", "leave both"))
        self.pond.push_screen(Choose(title, choices), answered)

    def _ask_comments(self, book: SetupBook, ready: list[Ready], lost: int) -> None:
        def answered(what: str | None) -> None:
            if what == _WRITE:
                self._write(book, ready)

        title = f"Writing this takes {count(lost, 'line')} of comments out of the file."
        kept = ", ".join(f"{each.name}.comments" for each in ready if each.written.comments_lost)
        choices = (
            ("", "do not write: keep the file with its comments, change it by hand"),
            (_WRITE, f"write; the file as it is stays beside it as {kept}"),
        )
        self.pond.push_screen(Choose(title, choices), answered)

    def _write(self, book: SetupBook, ready: list[Ready]) -> None:
        try:
            book.write(ready)
        except FileError as error:
            self._not_written(error)
            return
        names = " and ".join(each.name for each in ready)
        self.pond.notify(f"{names} written; as it was it stays as {ready[0].name}.before",
                         markup=False)  # fmt: skip
        self.pond.state_changed()

    def _not_written(self, error: FileError) -> None:
        text = f"{error}; what was typed here stays"
        self.pond.notify(text, severity="error", markup=False, timeout=10)
