"""The lines that every screen has: its head, what is to be said, and the keys that work now."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from functools import lru_cache

from textual import events
from textual.cache import LRUCache
from textual.content import Content
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions
from textual.widget import Widget
from textual.widgets import Static

from pondtui.tui import keys, paint
from pondtui.tui.keys import Key

_LINES = 2
_KEPT = 4  # as many texts stay painted in each line: who goes to and fro looks at few
_Painted = LRUCache[tuple[Hashable, ...], list[Strip]]
TYPING = (
    Key("", "enter", "app.simulate_key('enter')", "take", ""),
    Key("", "tab", "app.focus_next", "next", ""),
    Key("", "escape", "back", "leave the field, keeps the text", ""),
)


LEAST_NAME = 6  # columns in which a name that is cut is still known again


def _room(widget: Widget) -> int:
    """Columns between its edges, as it was laid out last. (Asked for its region the toolkit would
    arrange the whole screen anew, which costs more than all that is painted.)"""
    return max(widget.outer_size.width - widget.styles.gutter.width, 0)


class Text(Static):
    """A text in which no number is parted from its unit."""

    def __init__(
        self, content: Content, *, id: str | None = None, classes: str | None = None
    ) -> None:
        super().__init__(content, id=id, classes=classes, markup=False)
        self._said: Content = content

    @property
    def said(self) -> Content:
        """What it shows."""
        return self._said

    def laid(self, width: int) -> Content:
        """What it shows, its lines broken for so many columns."""
        return paint.unbroken(self._said, width)

    def render(self) -> Content:
        """What it shows, its lines broken already."""
        return self.laid(_room(self))

    def get_content_height(
        self,
        container: Size,  # noqa: ARG002 -- the toolkit's own signature
        viewport: Size,  # noqa: ARG002 -- as above
        width: int,
    ) -> int:
        """As many lines as it takes at that width."""
        return paint.height(self.laid(width), width) if width else 1


class Laid(Text):
    """A text that is laid out anew for every width that it is given."""

    def __init__(self, lay: Callable[[int], Content]) -> None:
        super().__init__(Content(""))
        self._lay = lru_cache(2)(lay)  # with the scroll bar and without

    @property
    def said(self) -> Content:
        """What it shows."""
        return self.laid(_room(self))

    def laid(self, width: int) -> Content:
        """What it shows, made for so many columns."""
        return self._lay(width)


class _Kept(Content):
    """A content that takes its painted lines from those that its widget has kept."""

    __slots__ = ("_kept",)

    def __init__(self, content: Content, kept: _Painted) -> None:
        super().__init__(content.plain, list(content.spans), strip_control_codes=False)
        self._kept = kept

    def render_strips(
        self, width: int, height: int | None, style: Style, options: RenderOptions
    ) -> list[Strip]:
        """Its lines, painted."""
        if options.selection is not None:  # marked with the mouse
            return super().render_strips(width, height, style, options)
        key = (self.plain, tuple(self.spans), width, height, style)
        found = self._kept.get(key)
        if found is None:
            found = self._kept[key] = super().render_strips(width, height, style, options)
        return found


class Line(Text):
    """A text that is painted again only when it changed: a screen at rest sends nothing."""

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        self._kept = _Painted(_KEPT)
        super().__init__(Content(""), id=id, classes=classes)
        # No text of ours has links: the toolkit would look for them, and make each line anew.
        self.set_reactive(Widget.auto_links, False)

    def render(self) -> Content:
        """What it shows; where that was painted not long ago, it is not painted again."""
        return _Kept(super().render(), self._kept)

    def notify_style_update(self) -> None:
        """Other colours or another size of the borders: nothing that was painted holds any more."""
        self._kept.clear()
        super().notify_style_update()

    def say(self, content: Content) -> None:
        """Show this, if it is not shown already; all else is laid out anew only where it must."""
        if content != self._said or content.spans != self._said.spans:
            before, moves = self._said, not self._keeps_room(content)
            self._said = content
            if moves:
                self.update(content)
            else:  # a row that says the same is not painted again
                width = _room(self)
                rows = paint.changed_rows(before, content, width)
                self.refresh(*(Region(0, y, width, 1) for y in rows))
        self.set_class(not content.plain, "-empty")

    def _keeps_room(self, content: Content) -> bool:
        """Whether it takes as much room as what is shown, so that nothing else moves."""
        if not self.styles.auto_dimensions:
            return True
        width = _room(self)
        if not width or self.styles.is_auto_width:
            return False
        return paint.height(self._said, width) == paint.height(content, width)


class KeyBar(Widget):
    """The keys that work now; a click on one does the same."""

    can_focus = False

    def __init__(self, shown: Sequence[Key], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._all = [key for key in shown if key.shown]
        self._shown: Sequence[Key] = self._all

    def offer(self, shown: Sequence[Key]) -> None:
        """Show the keys that work now."""
        self._show([key for key in shown if key.shown])

    def while_typing(self, typing: bool) -> None:
        """In a field letters are letters: only a few keys are left."""
        self._show(TYPING if typing else self._all)

    def _show(self, wanted: Sequence[Key]) -> None:
        """Paint these keys; all else is laid out anew only where they take more lines or fewer."""
        if wanted != self._shown:
            width = _room(self)
            moves = len(_laid_out(wanted, width)) != len(_laid_out(self._shown, width))
            self._shown = wanted
            self.refresh(layout=moves)

    def get_content_height(
        self,
        container: Size,  # noqa: ARG002 - the toolkit names it
        viewport: Size,  # noqa: ARG002 - the toolkit names it
        width: int,
    ) -> int:
        """One line, or two where one is too narrow."""
        return len(_laid_out(self._shown, width))

    def render(self) -> Content:
        """The keys' names and their words."""
        lines = [
            Content("  ").join(
                [Content.assemble((_name(k), "bold $footer-key-foreground"), f" {k.label}")
                 for k in line]
            )
            for line in _laid_out(self._shown, _room(self))
        ]  # fmt: skip
        return Content("\n").join(lines)

    def on_click(self, event: events.Click) -> None:
        """Do what the key under the pointer does."""
        place = event.get_content_offset(self)
        lines = _laid_out(self._shown, _room(self))
        if place is None or place.y >= len(lines):
            return
        x = 0
        for key in lines[place.y]:
            wide = len(_name(key)) + 1 + len(key.label)
            if x <= place.x < x + wide:
                self.call_later(self.screen.run_action, key.action)
            x += wide + 2


def _name(key: Key) -> str:
    return keys.names(key.keys.split(",")[0])


def _laid_out(shown: Sequence[Key], width: int) -> list[list[Key]]:
    """The keys on at most two lines. Where that is too little the help tells the rest: it and
    the way back, the last two, always stay."""
    kept = list(shown)
    lines = _lines(kept, width)
    while len(lines) > _LINES and len(kept) > 2:
        del kept[-3]
        lines = _lines(kept, width)
    return lines[:_LINES]


def _lines(shown: Sequence[Key], width: int) -> list[list[Key]]:
    lines: list[list[Key]] = [[]]
    used = 0
    for key in shown:
        wide = len(_name(key)) + 1 + len(key.label)
        if lines[-1] and used + wide > width:
            lines.append([])
            used = 0
        lines[-1].append(key)
        used += wide + 2
    return lines


def head(pond: str, title: str, width: int) -> Content:
    """`Today` at the left, the pond's name at the right; none where hardly a letter has room."""
    room = max(width - len(title) - 2, 0)
    cut = f"{pond[: room - 1]}…" if room >= LEAST_NAME else ""
    name = pond if len(pond) <= room else cut
    gap = " " * max(width - len(title) - len(name), 1)
    return Content.assemble((title, "bold"), gap, paint.words(name))
