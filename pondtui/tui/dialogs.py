"""Short questions and answers: yes or no, one of a list, and how a figure came about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from pondtui.tui import keys, paint
from pondtui.tui.bars import KeyBar, Laid, Text
from pondtui.tui.choices import Choices
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views.explain import Explanation, lines

_LEAVE = Key("leave", "escape,q,backspace,left", "leave", "back", "back to where you were")


class Confirm(Dialog[bool]):
    """A question that is answered with yes or no; Enter alone is no answer."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("yes", "y", "answer(True)", "yes", "do it"),
        Key("no", "n,escape,q", "answer(False)", "no", "leave all as it is"),
    )
    BINDINGS = keys.bindings(KEYS)

    def __init__(self, question: str, *details: str) -> None:
        super().__init__()
        self._question = question
        self._details = details

    def compose(self) -> ComposeResult:
        """The question, what it is about, and the two keys."""
        with Vertical(classes="panel"):
            yield Static(paint.words(self._question, bold=True), markup=False)
            for detail in self._details:
                yield Text(paint.words(detail))
            yield KeyBar(self.KEYS)

    def action_answer(self, yes: bool) -> None:
        """Go away with the answer."""
        self.dismiss(yes)


class Choose(Dialog[str]):
    """One of a list."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "take", "take the chosen line"),
        _LEAVE,
    )
    BINDINGS = keys.bindings((_LEAVE,))

    def __init__(self, title: str, choices: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._title = title
        self._choices = choices

    def compose(self) -> ComposeResult:
        """A title and the list."""
        with Vertical(classes="panel"):
            yield Static(paint.words(self._title, bold=True), markup=False)
            yield Choices()
            yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Fill the list."""
        self.query_one(Choices).add_options(
            Option(paint.words(text), id=name) for name, text in self._choices
        )
        self.query_one(Choices).highlighted = 0

    def action_take(self) -> None:
        """Take the line under the cursor."""
        self.query_one(OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """The answer is the id of the line."""
        self.dismiss(event.option.id)


class Show(Dialog[None]):
    """A text to be read: an explanation, an entry, a page of help; or what makes one of a width."""

    KEYS: ClassVar[tuple[Key, ...]] = (_LEAVE._replace(keys="escape,q,backspace,left,enter"),)
    BINDINGS = keys.bindings(KEYS)

    def __init__(self, title: str, text: Content | Callable[[int], Content]) -> None:
        super().__init__()
        self._title = title
        self._text = text

    def compose(self) -> ComposeResult:
        """A title and the text, which scrolls."""
        with Vertical(classes="panel tall"):
            yield Static(paint.words(self._title, "mark", bold=True), markup=False)
            with VerticalScroll(can_focus=True):
                yield Text(self._text) if isinstance(self._text, Content) else Laid(self._text)
            yield KeyBar(self.KEYS)


def explanation(found: Explanation) -> Show:
    """`?`: the figure large, and what it rests on."""
    first, *rest = lines(found)
    content = paint.joined([paint.words(first, bold=True), *(paint.words(t) for t in rest)])
    return Show(found.title, content)
