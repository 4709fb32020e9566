"""The bucket test: its steps, where it stands, and the looks at both levels."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from pondtui.errors import InputError, PondError
from pondtui.pond.water.bucket_test import Phase, phases
from pondtui.tui import keys, paint
from pondtui.tui.bars import Line
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.screen import PondScreen
from pondtui.views import bucket as view


class BucketScreen(PondScreen):
    """Is it a leak?"""

    ROOM = "bucket"
    TITLE = "Bucket test"
    BINDINGS = keys.bindings(keys.keys_of("bucket", {}))
    AUTO_FOCUS = "#bucket"
    PLAIN_WHEN_SMALL = False

    def body(self) -> ComposeResult:
        """Where it stands, then how it is done."""
        with VerticalScroll(id="bucket", can_focus=True):
            yield Line(id="bucket-told")

    def show(self) -> None:
        """What the journal says of the test now."""
        session = self.session
        width = self.size.width - 4
        found = self._found()
        told = view.told(session.setup, session.state(), found)
        lines = [paint.bullet(text, role, width, bold=role != "text") for text, role in told]
        lines.append(paint.words(""))
        lines.append(paint.words("How it is done", "mark", bold=True))
        lines += [paint.bullet(step, "text", width) for step in view.STEPS]
        if found:  # else it stands on top already
            promise = view.promise(session.setup, session.state())
            lines.append(paint.bullet(f"Beforehand: {promise}.", "text", width))
        lines.append(paint.bullet("Leave whenever you like: it goes on from what is written down.",
                                  "quiet", width))  # fmt: skip
        self.query_one("#bucket-told", Line).say(paint.joined(lines))

    def _found(self) -> list[Phase]:
        session = self.session
        try:
            return phases(session.setup, session.state(), session.journal.live)
        except InputError:
            return []

    def action_begin(self) -> None:
        """Write down both levels at the start."""
        found = self._found()
        if found and found[-1].open:
            self.pond.notify("a test is going on: x gives it up first", markup=False)
            return
        self._ask("start")

    def action_read(self) -> None:
        """Write down both levels; when its time is over, the verdict too."""
        found = self._found()
        if not found or not found[-1].open:
            self.pond.notify("no test is going on: s begins one", markup=False)
            return
        self._ask("read")

    def action_stop(self) -> None:
        """Give the test up, after a question."""
        from pondtui.tui.dialogs import Confirm

        found = self._found()
        if found and found[-1].open:
            self.pond.push_screen(
                Confirm("Give the bucket test up? Its looks stay in the journal."),
                lambda yes: self._write("bucket", {"what": "stop"}) if yes else None,
            )

    def _ask(self, what: str) -> None:
        form = view.look_form(what, self.session.setup)
        self.pond.push_screen(EntryForm(form, {"what": what}), lambda wrote: self._wrote(wrote))

    def _wrote(self, wrote: bool | None) -> None:
        """A look that ends the test brings its verdict into the journal."""
        found = self._found()
        if wrote and found and found[-1].done:
            self._write("note", {}, view.note(self.session.setup, found[-1]))

    def _write(self, kind: str, fields: dict[str, str], note: str = "") -> None:
        try:
            self.session.write(kind, fields, note)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
        self.pond.state_changed()
