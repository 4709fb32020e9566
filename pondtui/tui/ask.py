"""One line that is asked for, judged while it stands there; a pasted text is kept whole."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from pondtui.errors import InputError
from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog


class _Whole(Input):
    """A field that keeps all lines of what was pasted; it shows how many they are."""

    pasted = ""
    shown = ""

    def on_paste(self, event: events.Paste) -> None:
        """A field of one line would keep the first one only."""
        if "\n" not in event.text.strip():
            return
        event.prevent_default().stop()
        self.hold(event.text)

    def hold(self, text: str) -> None:
        """Keep several lines, and show how many."""
        self.pasted = text
        self.shown = self.value = f"({len(text.splitlines())} lines pasted)"

    @property
    def text(self) -> str:
        """What was typed, or pasted where that was not typed over."""
        return self.pasted if self.pasted and self.value == self.shown else self.value


class Ask(Dialog[str]):
    """Answers with what was typed, once `check` takes it; it raises InputError with the reason."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "take", "take what is typed"),
        Key("leave", "escape", "leave", "back, keeps the text", "leave; the text is kept"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    def __init__(
        self, title: str, example: str, value: str, check: Callable[[str], object]
    ) -> None:
        super().__init__()
        self._title, self._example, self._value, self._check = title, example, value, check

    def compose(self) -> ComposeResult:
        """The question, the line, and what is wrong with it."""
        kept = self.pond.typed.get(self._title, {}).get("line", self._value)
        field = _Whole(kept, placeholder=self._example, id="asked", compact=True,
                       select_on_focus=False)  # fmt: skip
        if "\n" in kept.strip():
            field.hold(kept)
        with Vertical(classes="panel"):
            yield Static(paint.words(self._title, "mark", bold=True), markup=False)
            yield field
            yield Line(id="asked-wrong", classes="-empty")
            yield KeyBar(self.KEYS)

    def on_input_changed(self, _event: Input.Changed) -> None:
        """Keep it, for whoever leaves and comes back."""
        text = self.query_one("#asked", _Whole).text
        if text == self._value:
            self.pond.typed.pop(self._title, None)
        else:
            self.pond.typed[self._title] = {"line": text}

    def on_input_submitted(self, _event: Input.Submitted) -> None:
        """Enter takes it, or says why it cannot be."""
        text = self.query_one("#asked", _Whole).text
        try:
            self._check(text)
        except InputError as error:
            self.query_one("#asked-wrong", Line).say(paint.words(str(error), "danger"))
            return
        self.pond.typed.pop(self._title, None)
        self.dismiss(text)
