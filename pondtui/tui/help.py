"""Help: this screen's keys and what it is for, and all pages of the manual, searched as typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from pondtui.tui import key_pages, keys, paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.choices import Choices
from pondtui.tui.keys import Key
from pondtui.tui.screen import Dialog
from pondtui.views.manual import ROOMS
from pondtui.views.pages import contents
from pondtui.views.pages.page import Page, laid_out, row

Pages = Callable[[], Sequence[Page]]

_ROLES = {"head": "mark", "text": "text", "code": "good", "caution": "warn"}
_MOST = 80  # pages that a search lists
_MOVES = "arrows :: move; also Home, End, Page up, Page down"


def pages() -> tuple[Page, ...]:
    """The manual without the command line's own pages."""
    return (*contents.pages(), *key_pages.pages())


def room_page(room: str, own: Mapping[str, str], *, sitter: bool = False) -> Page:
    """What a screen is for, and its keys."""
    known = keys.keys_of(room, own, sitter=sitter)
    shown = [key for key in known if key.id not in keys.TICKS]
    rows = [row(keys.names(key.keys), key.help) for key in shown]
    text = "\n\n".join(ROOMS.get(room, ()))
    more = "Type words to search the manual. Tab lists its topics."
    return Page(room, f"this screen: {room}", "\n".join([text, "", *rows, _MOVES, "", more]))


class Help(Dialog[None]):
    """A line to search with; below it a page, or the pages that hold what was typed."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("", "tab", "topics", "topics", ""),
        Key("", "enter", "take", "open", ""),
        Key("", "pageup", "turn(-1)", "back", ""),
        Key("", "pagedown", "turn(1)", "on", ""),
        Key("", "escape", "leave", "leave", ""),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab,shift+tab", "topics", show=False, priority=True),
        Binding("up", "move(-1)", show=False, priority=True),
        Binding("down", "move(1)", show=False, priority=True),
        Binding("pageup", "turn(-1)", show=False, priority=True),
        Binding("pagedown", "turn(1)", show=False, priority=True),
        Binding("escape,f1", "leave", show=False),
    ]
    AUTO_FOCUS = "#help-words"

    def __init__(self, first: Page, manual: Pages, *, parts: Sequence[Page] = ()) -> None:
        super().__init__()
        self._first = list(parts) or [first]  # what is shown first, with its parts
        self._page = self._first
        self._manual = manual
        self._listed = False  # the list is in front, not a page
        self._in_text: set[str] = set()  # pages of the list that hold the words in their text only

    def compose(self) -> ComposeResult:
        """The line, the page, the list, the keys."""
        with Vertical(classes="panel tall"):
            yield Line(id="help-title")
            yield Input(placeholder="type to search the manual", id="help-words",
                        compact=True, select_on_focus=False)  # fmt: skip
            with VerticalScroll(id="help-page", can_focus=False):
                yield Line(id="help-text")
            yield Choices(id="help-found")
            yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Show the first page; the keys move in it while the line is typed into."""
        self.query_one("#help-found", Choices).can_focus = False
        self._open(self._first)

    def on_resize(self, event: events.Resize) -> None:
        """Lay the page out anew."""
        super().on_resize(event)
        self._draw()

    # --- searching --------------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Each letter searches; an empty line shows this screen's page again."""
        event.stop()
        if event.value.strip():
            self._find(event.value)
        elif self._listed:
            self._open(self._first)

    def action_topics(self) -> None:
        """List every topic."""
        self._list([(page, "") for page in contents.topics(self._manual())], "the manual")

    def _find(self, words: str) -> None:
        found = contents.holding(self._manual(), words)
        many = f"{len(found)} page{'s' * (len(found) != 1)} with: {words.strip()}"
        self._list(found[:_MOST], many if found else "no page holds all these words: try fewer")

    def _list(self, found: Sequence[tuple[Page, str]], title: str) -> None:
        shown = self.query_one("#help-found", Choices)
        shown.set_options(
            Option(paint.joined(_entry(page, line, self._width)), id=page.name)
            for page, line in found
        )
        shown.highlighted = 0 if found else None
        self._listed = True
        self._in_text = {page.name for page, line in found if line}
        self._show(title)

    # --- reading ----------------------------------------------------------------------------------

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter opens the chosen page."""
        event.stop()
        self.action_take()

    def action_take(self) -> None:
        """Open the page under the cursor."""
        if self._listed:
            self.query_one("#help-found", OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A topic comes with its parts."""
        event.stop()
        name = event.option.id or ""
        found = [page for page in self._manual() if page.name == name]
        self._open(contents.parts_of(self._manual(), name) or found)
        if name in self._in_text:
            self.call_after_refresh(self._go_to, self.query_one("#help-words", Input).value)

    def _open(self, shown: list[Page]) -> None:
        self._page = shown
        self._listed = False
        self._show(shown[0].title)
        self._draw()
        self.query_one("#help-page", VerticalScroll).scroll_home(animate=False)

    def _go_to(self, words: str) -> None:
        """Turn the page to the first line that holds the first word."""
        lines = self.query_one("#help-text", Line).said.plain.casefold().split("\n")
        first = "".join(words.casefold().split()[:1])
        found = next((n for n, line in enumerate(lines) if first and first in line), 0)
        self.query_one("#help-page", VerticalScroll).scroll_to(y=max(found - 2, 0), animate=False)

    def _show(self, title: str) -> None:
        self.query_one("#help-title", Line).say(paint.words(title, "mark", bold=True))
        self.query_one("#help-page").display = not self._listed
        self.query_one("#help-found").display = self._listed

    @property
    def _width(self) -> int:
        return max(self.size.width - 4, 1)

    def _draw(self) -> None:
        lines: list[Content] = []
        for page in self._page:
            if page is not self._page[0]:
                lines += [Content(""), paint.words(page.title, "mark", bold=True)]
            lines += [
                paint.words(line.text, _ROLES[line.role], bold=line.role == "head")
                for line in laid_out(page.text, self._width)
            ]
        self.query_one("#help-text", Line).say(paint.joined(lines))

    # --- moving -----------------------------------------------------------------------------------

    def action_move(self, step: int) -> None:
        """The cursor, or the page, one line on."""
        found = self.query_one("#help-found", Choices)
        if not self._listed:
            self.query_one("#help-page", VerticalScroll).scroll_relative(y=step, animate=False)
        elif step > 0:
            found.action_cursor_down()
        else:
            found.action_cursor_up()

    def action_turn(self, step: int) -> None:
        """The cursor, or the page, one page on."""
        if not self._listed:
            page = self.query_one("#help-page", VerticalScroll)
            page.scroll_relative(y=step * max(page.size.height - 1, 1), animate=False)
            return
        for _ in range(5):
            self.action_move(step)

    def action_leave(self) -> None:
        """From a page that was found back to the list; from a list, or the first page, away."""
        words = self.query_one("#help-words", Input)
        if self._listed or self._page is self._first:
            self.dismiss(None)
        elif words.value.strip():
            self._find(words.value)
        else:
            self.action_topics()


def _entry(page: Page, line: str, width: int) -> list[Content]:
    """A page in the list: its name and title, below it the line that was found."""
    title = f": {page.title}" if page.name == page.topic else ""
    shown = [Content.assemble((page.name, paint.style("text", bold=True)), paint.words(title))]
    if line:
        shown.append(paint.words(f"  {' '.join(line.split())}", "quiet"))
    return [each.truncate(max(width - 2, 1), ellipsis=True) for each in shown]
