"""A screen that is one list of lines with a cursor: chores, tests, alarms."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.records import NamedTuple
from pondtui.tui import paint
from pondtui.tui.bars import Line
from pondtui.tui.screen import PondScreen


class Item(NamedTuple):
    """One line: its id, a head word, a text; a heading has no id."""

    id: str
    head: str
    text: str
    role: str = "text"


class ListScreen(PondScreen):
    """Fills its list anew whenever something changed; the cursor stays on its line."""

    AUTO_FOCUS = "#items"
    PLAIN_WHEN_SMALL: ClassVar[bool] = False
    MOST_LINES: ClassVar[int] = 3

    def __init__(self) -> None:
        super().__init__()
        self._items: tuple[Item, ...] = ()

    def items(self) -> Sequence[Item]:
        """The lines as they are now."""
        return ()

    def above(self) -> str:
        """What stands over the list; "" for nothing."""
        return ""

    def chosen(self, item: Item) -> None:  # noqa: ARG002 - other lists ask for it
        """Enter was pressed on a line: show how it came about."""
        self.action_explain()

    def body(self) -> ComposeResult:
        """A line of words, and the list."""
        yield Line(id="found")
        yield OptionList(id="items", markup=False, compact=True)

    def show(self) -> None:
        """Fill the list."""
        self.query_one("#found", Line).say(paint.words(self.above(), "mark"))
        items = tuple(self.items())
        if items == self._items and self.query_one(OptionList).option_count:
            return
        before = self.item()
        self._items = items
        listed = self.query_one(OptionList)
        width = self.size.width - 4
        listed.set_options(
            Option(paint.words(item.text, "mark", bold=True), disabled=True)
            if not item.id
            else Option(
                paint.hanging(item.head, item.text, item.role, width, most=self.MOST_LINES),
                id=item.id,
            )
            for item in items
        )
        ids = [item.id for item in items]
        first = next((place for place, name in enumerate(ids) if name), None)
        same = before is not None and before.id in ids
        listed.highlighted = ids.index(before.id) if before is not None and same else first

    def on_resize(self, _event: object) -> None:
        """Other widths break the lines elsewhere."""
        self._items = ()
        self.refresh_state()

    def item(self) -> Item | None:
        """The line under the cursor."""
        place = self.query_one(OptionList).highlighted
        return None if place is None or place >= len(self._items) else self._items[place]

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open what stands behind the line."""
        if event.option_index < len(self._items):
            self.chosen(self._items[event.option_index])
