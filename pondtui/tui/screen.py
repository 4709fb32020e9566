"""What every screen shares: head, what is to be said, keys, small terminals, fresh states."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widget import Widget
from textual.widgets import Input

from pondtui.tui import paint
from pondtui.tui.bars import KeyBar, Line, head
from pondtui.tui.keys import Key, keys_of, sitter_may
from pondtui.tui.notices import notices
from pondtui.tui.quick import QuickKeys
from pondtui.tui.session import Session
from pondtui.views.today import WATCH, rows, step_line

if TYPE_CHECKING:
    from textual.geometry import Size

    from pondtui.tui.app import PondApp

SMALL = (60, 20)  # under this a plain panel: the step and its amount
PHONE = (36, 16)  # the same where there is but one thing to look at: a sitter's screens, Refill
LOW = 9  # rows under which the plain panel has no head and foot
TINY = (20, 5)  # under this one line

Answer = TypeVar("Answer")


class KeepsFocus(Screen[Answer]):
    """Where a small window hides the widgets, the toolkit forgets which one was typed into."""

    _typed_in: Widget | None = None
    _resumed = False

    def _on_screen_resume(self, event: events.ScreenResume) -> None:
        """A screen that has just been built and dressed need not be dressed a second time."""
        if not self._resumed:
            self._resumed, event.refresh_styles = True, False

    def keep_focus(self, *, hidden: bool) -> None:
        """Remember the focus while all is hidden, and give it back."""
        if hidden:
            self._typed_in = self._typed_in or self.focused
        elif self._typed_in is not None:
            self.call_after_refresh(self._give_back, self._typed_in)
            self._typed_in = None

    def _give_back(self, kept: Widget) -> None:
        if kept.is_attached:
            self.set_focus(kept)


class PondScreen(QuickKeys, KeepsFocus[None]):
    """A room of the program. A subclass names its `ROOM` in the key table and its `TITLE`, yields
    its widgets in `body`, and fills them in `show`, which runs whenever something changed."""

    AUTO_FOCUS = "*"
    PLAIN_WHEN_SMALL: ClassVar[bool] = True
    NEEDS: ClassVar[tuple[int, int]] = SMALL

    @property
    def session(self) -> Session:
        """The open pond."""
        return self.pond.session

    def body(self) -> ComposeResult:
        """The screen's own widgets, between head and keys."""
        yield from ()

    def show(self) -> None:
        """Fill the widgets from the session's state."""

    def room_keys(self) -> list[Key]:
        """The keys that work here."""
        session = self.session
        return keys_of(self.ROOM, session.settings.keys, sitter=bool(session.sitter))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """In the sitter's mode the keys that are not shown are off."""
        if self.session.sitter and not sitter_may(action):
            return False
        return super().check_action(action, parameters)

    def compose(self) -> ComposeResult:
        """Head, body, what is to be said, keys; and the plain text for small terminals."""
        yield Line(id="head")
        yield from self.body()
        yield Line(id="plain", classes="-empty")
        with Vertical(id="foot"):
            yield Line(id="strip", classes="-empty")  # as it will be: dressed once
            yield KeyBar(self.room_keys())

    def refresh_state(self) -> None:
        """Show what is known now; called by the app on every change, and on coming back."""
        there = self.pond.is_running and self.is_mounted and bool(self.children)
        if not there or not self.size.width:
            return  # not there yet, or there no more: a worker may come back while all closes
        self.query_one("#head", Line).say(
            head(self.session.setup.pond.name, self.title or "", self.size.width - 2)
        )
        self.tell()
        if self.fit(self.size):
            self.query_one("#plain", Line).say(self._plain())
        else:
            self.query_one("#plain", Line).say(Content(""))
            self.show()
        self.call_after_refresh(self.pond.drawn)

    def tell(self) -> None:
        """Say what is saved, not saved or not read: the first thing that is shown of it."""
        self.query_one("#strip", Line).say(self._notices())

    def fit(self, size: Size) -> bool:
        """Mark the screen as small or tiny where it is; whether only the plain text has room."""
        tiny = under(size, TINY)
        least = PHONE if self.session.sitter else self.NEEDS
        small = tiny or (self.PLAIN_WHEN_SMALL and under(size, least))
        _mark(self, tiny, small, size)
        self.keep_focus(hidden=small)
        return small

    def on_resize(self, _event: events.Resize) -> None:
        """Lay out anew."""
        self.refresh_state()

    def on_screen_resume(self) -> None:
        """Something may have changed while another screen was in front."""
        self.refresh_state()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The foot shows the keys that work now."""
        self.query_one(KeyBar).while_typing(isinstance(event.widget, Input))

    def action_back(self) -> None:
        """Leave; what was typed stays in the screen."""
        self.pond.go_back()

    def _notices(self) -> Content:
        return paint.joined(paint.words(text, role) for role, text in notices(self.session)[:2])

    def _plain(self) -> Content:
        status = self.session.status()
        step, amount = step_line(status)
        if self.has_class("-tiny"):
            return paint.words(f"{amount} {step}"[: max(self.size.width, 1)])
        lines = [paint.words(step), paint.words(amount, bold=True)]
        for row in rows(status):
            if row.role == "danger" or row.head == WATCH:
                told = paint.words(f"{row.head} {row.text}", row.role)
                lines.append(told.truncate(max(self.size.width - 4, 1), ellipsis=True))
        lines.append(paint.words("60 x 20 and more shows the drawings", "quiet"))
        return paint.joined(lines)


class Dialog(KeepsFocus[Answer], ModalScreen[Answer]):
    """A panel at the foot of the screen that asks one thing and goes away."""

    KEYS: ClassVar[tuple[Key, ...]] = ()

    @property
    def pond(self) -> PondApp:
        """The app, by its own type."""
        return cast("PondApp", self.app)

    @property
    def session(self) -> Session:
        """The open pond."""
        return self.pond.session

    def on_mount(self) -> None:
        """What was said of an earlier key would lie over the fields."""
        self.app.clear_notifications()

    def on_resize(self, event: events.Resize) -> None:
        """A list without any width would break the toolkit: under 20x5 one line is left."""
        tiny = under(event.size, TINY)
        self.set_class(tiny, "-tiny")
        self.keep_focus(hidden=tiny)

    def action_leave(self) -> None:
        """Go away without an answer."""
        self.dismiss(None)


def mark_small(screen: Screen[Answer], size: Size) -> None:
    """Mark a screen of its own make as small, low or tiny."""
    tiny = under(size, TINY)
    _mark(screen, tiny, tiny or under(size, SMALL), size)


def _mark(screen: Screen[Answer], tiny: bool, small: bool, size: Size) -> None:
    low = small and size.height < LOW
    # in one go: each change reads the styles of all widgets anew
    screen.update_classes({"-tiny": tiny, "-small": small and not tiny, "-low": low})


def under(size: Size, least: tuple[int, int]) -> bool:
    """Whether a terminal is smaller than that, one way or the other."""
    return size.width < least[0] or size.height < least[1]
