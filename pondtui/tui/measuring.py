"""Measuring help: what a tape, a stick or a watch shows is typed, and the size fills a field."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from pondtui.errors import PondError
from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.field import Field
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views.measures import Measure, Worked, asked, example, work_out
from pondtui.views.measuring import TEXTS
from pondtui.views.sheets import takes


class Measuring(Dialog[dict[str, str]]):
    """Answers with the texts for the fields of the table, by their keys; with None when left.

    `form` holds what stands in the table's fields, `kept` what was typed here before: it is filled
    as one types, so that nothing is lost by leaving.
    """

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "into the field", "take the result"),
        Key("next", "tab,down", "next", "next", "the next line"),
        Key("leave", "escape", "leave", "back, keeps the text", "leave; the text is kept"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    def __init__(
        self,
        measure: Measure,
        key: str,
        form: Mapping[str, str],
        system: str,
        kept: dict[str, str],
    ) -> None:
        super().__init__()
        self._measure, self._key, self._system = measure, key, system
        self._form, self._kept = form, kept

    def compose(self) -> ComposeResult:
        """How it is done, what is measured, what follows."""
        table = self._measure.serves[0].partition(".")[0]
        with Vertical(classes="panel"):
            yield Static(paint.words(f"Measure {self._measure.title}", "mark", bold=True),
                         markup=False)  # fmt: skip
            with VerticalScroll(can_focus=False):
                for text in TEXTS.get(f"{table}_{self._key}", ()):
                    yield Static(paint.words(text, "quiet"), markup=False)
                for blank in asked(self._measure):
                    with Horizontal(classes="field"):
                        label = blank.name.replace("_", " ")
                        yield Static(paint.words(label), classes="label", markup=False)
                        yield Field(
                            self._kept.get(blank.name, ""),
                            example=example(self._measure, blank.name, self._system),
                            id=f"m-{blank.name}",
                        )
            yield Line(id="measure-takes")
            yield Line(id="measured")
            yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Work out what an earlier visit left."""
        self.query(Field).first().focus()
        self._work_out()

    def on_descendant_focus(self, _event: events.DescendantFocus) -> None:
        """Say what the line takes."""
        at = (self.focused.id or "") if self.focused is not None else ""
        for blank in asked(self._measure):
            if at == f"m-{blank.name}":
                self._say("measure-takes", f"{blank.help}: {takes(blank, self._system)}", "quiet")

    def on_input_changed(self, _event: Input.Changed) -> None:
        """The result follows what is typed."""
        self._kept.update(self._typed())
        self._work_out()

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter takes the result, or goes on where there is none yet."""
        self.action_take()

    def action_take(self) -> None:
        """Fill the field."""
        found = self._work_out()
        if found is not None:
            self.dismiss(found.fills)
        else:
            self.focus_next(Input)

    def action_next(self) -> None:
        """To the next line."""
        self.focus_next(Input)

    def action_previous(self) -> None:
        """To the line before."""
        self.focus_previous(Input)

    def _typed(self) -> dict[str, str]:
        fields = self.query(Input)
        return {field.id.removeprefix("m-"): field.value for field in fields if field.id}

    def _work_out(self) -> Worked | None:
        """Show the result, or what is missing or wrong."""
        try:
            found = work_out(self._measure, self._key, self._typed(), self._form, self._system)
        except PondError as error:
            missing = " still needs " in str(error)
            self._say("measured", str(error), "quiet" if missing else "danger")
            return None
        self._say("measured", "; ".join(found.told), "good")
        return found

    def _say(self, line: str, text: str, role: str) -> None:
        self.query_one(f"#{line}", Line).say(paint.words(text, role) if text else Content(""))
