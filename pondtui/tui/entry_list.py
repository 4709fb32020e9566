"""A list of any length with a cursor: only the lines in sight are painted."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.visual import Visual


class EntryList(ScrollView):
    """Lines that are asked for by their number."""

    can_focus = True
    COMPONENT_CLASSES: ClassVar[set[str]] = {"entry-list--cursor"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("home", "go(0)", show=False),
        Binding("end", "go(-1)", show=False),
        Binding("enter", "choose", show=False),
    ]
    cursor: reactive[int] = reactive(0, repaint=False)  # `watch_cursor` says which lines

    class Chosen(Message):
        """Enter was pressed on a line, or it was clicked twice."""

        def __init__(self, place: int) -> None:
            super().__init__()
            self.place = place

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._number = 0
        self._paint: Callable[[int, int], Content] = lambda _place, _width: Content("")

    def fill(self, number: int, paint: Callable[[int, int], Content]) -> None:
        """Show `number` lines; `paint` gives the one at a place for a width."""
        self._number, self._paint = number, paint
        self.virtual_size = Size(self.size.width, number)
        self.cursor = min(self.cursor, max(number - 1, 0))
        self.refresh()

    def validate_cursor(self, place: int) -> int:
        """The cursor stays on a line."""
        return min(max(place, 0), max(self._number - 1, 0))

    def watch_cursor(self, before: int, after: int) -> None:
        """Keep the cursor in sight; where nothing else moves only two lines are painted again."""
        top, rows = round(self.scroll_offset.y), self.size.height
        if top <= after < top + rows:
            self.refresh_line(before)
            self.refresh_line(after)
            return
        if rows:
            to = after if after < top else after - rows + 1
            self.scroll_to(y=to, animate=False, immediate=True)
        self.refresh()

    def on_resize(self) -> None:
        """A new width is another layout of the same lines."""
        self.virtual_size = Size(self.size.width, self._number)

    def render_line(self, y: int) -> Strip:
        """One line in sight."""
        bar = self.scrollbar_size_vertical if self._number > self.size.height else 0
        width = max(self.size.width - bar, 1)  # under the bar the sign of a cut would not be seen
        place = round(self.scroll_offset.y) + y
        on = place == self.cursor and place < self._number
        style = self.get_visual_style("entry-list--cursor") if on else self.visual_style
        content = self._paint(place, width) if place < self._number else Content("")
        strips = Visual.to_strips(self, content, width, 1, style, pad=True)
        return strips[0] if strips else Strip.blank(width, style.rich_style)

    def on_click(self, event: events.Click) -> None:
        """To the line under the pointer; once more opens it."""
        place = round(self.scroll_offset.y) + event.y
        if place == self.cursor:
            self.action_choose()
        self.cursor = place

    def action_move(self, lines: int) -> None:
        """Up or down."""
        self.cursor += lines

    def action_page(self, pages: int) -> None:
        """A screen up or down."""
        self.cursor += pages * max(self.size.height - 1, 1)

    def action_go(self, place: int) -> None:
        """To the first line, or with -1 to the last."""
        self.cursor = place if place >= 0 else self._number - 1

    def action_choose(self) -> None:
        """Open the line under the cursor."""
        if self._number:
            self.post_message(self.Chosen(self.cursor))
