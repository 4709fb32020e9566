"""The one field of the Refill screen: a step's number, a reason, a dip."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input

from pondtui.pond.refill.actions import Prompt
from pondtui.records import NamedTuple
from pondtui.tui import paint
from pondtui.tui.bars import Line

_ASKS = {
    "look": ("stands in it", ""),
    "bypass": ("why", "the reason, in a few words"),
    "giveup": ("why", "a reason, or nothing"),
}


class Task(NamedTuple):
    """What the field is open for: answer, look, bypass or giveup."""

    what: str
    words: str = ""  # said above the field
    example: str = ""  # where what may be typed depends on the pond's units


class RefillInput(Vertical):
    """Closed it says what to type; open it takes it. Leaving keeps what was typed."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "leave", show=False)]

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.asked: Task | None = None
        self.warned = ""  # the text that was doubted: the same again is meant
        self._prompt: Prompt | None = None

    def compose(self) -> ComposeResult:
        """Words, label and field."""
        yield Line(id="field-words")
        yield Input(id="field", compact=True, select_on_focus=False)
        yield Line(id="field-wrong")

    @property
    def taking_keys(self) -> bool:
        """Whether keys go into the field."""
        return self.screen.focused is self.query_one(Input)

    def offer(self, prompt: Prompt | None) -> None:
        """What the step that is on asks for; an open field stays as it is."""
        self._prompt = prompt
        if self.asked is None:
            self._show_closed()

    def begin(self, task: Task, first: str = "") -> None:
        """Open the field; what was left in it is still there."""
        field = self.query_one(Input)
        if self.asked is None or self.asked.what != task.what:
            self._say("")
        self.asked, self.warned = task, ""
        label, example = _ASKS.get(task.what, ("", ""))
        example = task.example or example
        if task.what == "answer" and self._prompt is not None:
            label, example = self._prompt.label, self._prompt.example
            if not field.value and not first:
                field.value = self._prompt.suggested
        field.display = True
        field.placeholder = example
        field.value = first if first else field.value
        field.cursor_position = len(field.value)
        words = f"{task.words}\n{label}:" if task.words else f"{label}:  (such as {example})"
        role = "danger" if task.what == "bypass" else "text"
        self.query_one("#field-words", Line).say(paint.words(words, role))
        self.screen.set_focus(field, scroll_visible=False)
        self.call_after_refresh(field.scroll_visible, animate=False)  # it was not laid out yet

    def leave(self, *, empty: bool = False) -> None:
        """Close the field."""
        field = self.query_one(Input)
        if empty or (self.asked is not None and self.asked.what != "answer"):
            field.value = ""
        self.asked, self.warned = None, ""
        self._say("")
        self.screen.set_focus(None)
        self._show_closed()

    def action_leave(self) -> None:
        """Esc."""
        self.leave()

    def refuse(self, sentence: str) -> None:
        """The text cannot be taken."""
        self._say(sentence)

    def warn(self, text: str, sentence: str) -> None:
        """The text is doubtful: the same once more is meant."""
        self.warned = text
        self._say(sentence)

    def on_input_changed(self, _event: Input.Changed) -> None:
        """What was wrong with the old text is not said of the new one."""
        if not self.warned:
            self._say("")

    def _say(self, sentence: str) -> None:
        self.query_one("#field-wrong", Line).say(paint.words(sentence, "danger"))

    def _show_closed(self) -> None:
        field = self.query_one(Input)
        field.display = False
        prompt = self._prompt
        words = ""
        if prompt is not None:
            kept = f" (typed: {field.value})" if field.value else ""
            words = f"{prompt.label}: type {prompt.example}{kept}"
        self.query_one("#field-words", Line).say(paint.words(words))
