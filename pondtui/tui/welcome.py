"""The first screen where no pond is open: look round, set up, open; and which of several ponds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import Screen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from pondtui.books.draft import folder_of, pond_name, read_draft
from pondtui.books.settings import Settings, keep
from pondtui.errors import FileError, InputError
from pondtui.paths import config_dir
from pondtui.records import NamedTuple
from pondtui.tui import keys, paint
from pondtui.tui.ask import Ask
from pondtui.tui.bars import KeyBar, Line, head
from pondtui.tui.base import BaseApp, leave_with_terminal
from pondtui.tui.choices import Choices
from pondtui.tui.dialogs import Confirm
from pondtui.tui.keys import Key
from pondtui.tui.looks import Looks, looks
from pondtui.tui.screen import mark_small

_HELLO = (
    "Fill a barrel, treat the water, let it into the pond: this program walks you through it, "
    "works out the amounts, and writes down what was done."
)


class Way(NamedTuple):
    """What was chosen: `sample` with its name, or `open` with a pond's folder."""

    what: str
    which: str


class Home(NamedTuple):
    """Where things are on this machine."""

    settings: Settings
    data: Path  # the program's own data folder
    samples: tuple[str, ...]  # names of the invented ponds
    device: str
    zone: str  # the machine's time zone
    note: str = ""  # why no pond is open, where that needs a word
    units: str = ""  # the machine's unit system, where it names one


class WelcomeApp(BaseApp[Way]):
    """Ends with the way that was chosen, or with None."""

    TITLE = "pondtui"

    def __init__(self, home: Home, now: Callable[[], int], looks: Looks) -> None:
        super().__init__(looks)
        self.home = home
        self.now = now

    def on_mount(self) -> None:
        """Show the ways, and what was wrong with the looks."""
        self.catch_signals()
        self.one_by_one.begin()
        self.dress_rooms()
        self.push_screen(WelcomeScreen())
        for fault in self.looks.faults:
            self.notify(fault, severity="warning", markup=False, timeout=10)


class WelcomeScreen(Screen[None]):
    """A list of ways."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("take", "enter", "take", "take", "take the chosen line"),
        Key("help", "h,f1", "help", "help", "the first ten minutes, and all pages of the manual"),
        Key(
            "forget",
            "x",
            "forget",
            "off the list",
            "take the chosen pond off the list; its folder stays",
        ),
        Key("leave", "escape,q", "leave", "quit", "close the program"),
    )
    BINDINGS: ClassVar[list[BindingType]] = keys.bindings(KEYS[1:])
    AUTO_FOCUS = "#ways"

    def compose(self) -> ComposeResult:
        """A greeting, the ways, the keys."""
        yield Line(id="head")
        yield Line(id="hello")
        yield Choices(id="ways")
        yield Line(id="plain")
        with Vertical(id="foot"):
            yield KeyBar(self.KEYS)

    def on_resize(self, event: events.Resize) -> None:
        """Under 20x5 one line is left."""
        mark_small(self, event.size)
        self.show()

    def on_screen_resume(self) -> None:
        """A description may have been begun meanwhile."""
        self.show()

    def show(self) -> None:
        """Fill the screen."""
        width = self.size.width
        title = "Which pond?" if self._home.settings.ponds else "Welcome"
        self.query_one("#head", Line).say(head("pondtui", title, width - 2))
        self.query_one("#hello", Line).say(paint.words(self._home.note or _HELLO))
        self.query_one("#plain", Line).say(paint.words("wider, please"[: max(width, 1)]))
        here = [key for key in self.KEYS if self._home.settings.ponds or key.id != "forget"]
        self.query_one(KeyBar).offer(here)
        ways = self.query_one("#ways", Choices)
        before = ways.highlighted or 0
        ways.set_options(
            Option(paint.hanging(name, text, "text", width - 6), id=id)
            for id, name, text in self._ways()
        )
        ways.highlighted = min(before, ways.option_count - 1)

    @property
    def _home(self) -> Home:
        return cast("WelcomeApp", self.app).home

    def _ways(self) -> list[tuple[str, str, str]]:
        """Id, head word and text of each way."""
        home = self._home
        found = []
        for folder in home.settings.ponds:
            name = pond_name(Path(folder))
            gone = "cannot be read" if Path(folder).exists() else "is not there any more"
            found.append((f"open:{folder}", "Open", f"{name} ({folder})" if name else
                          f"{folder} {gone}"))  # fmt: skip
        begun = len(read_draft(home.data))
        if begun:
            kept = "1 answer is kept" if begun == 1 else f"{begun} answers are kept"
            found.append(("setup:", "Go on", f"with my pond: {kept}"))
        else:
            found.append(("setup:", "Set up", "my pond: some twenty short questions, in your own "
                          "units; leave at any time and go on later"))  # fmt: skip
        for name in home.samples:
            units = "US units" if name == "us" else "metric units"
            found.append((f"sample:{name}", "Look", f"round an invented pond first ({units})"))
        found.append(("folder:", "Folder", "open a pond's folder that is somewhere else"))
        return found

    def action_take(self) -> None:
        """Take the line under the cursor."""
        self.query_one(OptionList).action_select()

    def action_help(self) -> None:
        """Show how to begin, and search the manual."""
        from pondtui.tui.help import Help

        manual = cast("WelcomeApp", self.app).manual
        first = next(page for page in manual() if page.name == "first-steps")
        self.app.push_screen(Help(first, manual))

    def action_forget(self) -> None:
        """Take a pond off the list, after a question."""
        ways = self.query_one("#ways", Choices)
        chosen = ways.highlighted_option
        what, _, folder = ((chosen.id if chosen else "") or "").partition(":")
        if what != "open":
            self.notify("only a pond can be taken off the list", markup=False)
            return

        def answered(yes: bool | None) -> None:
            if yes:
                self._forget(folder)

        details = f'Its folder {folder} is not touched; "Folder" opens it again.'
        self.app.push_screen(Confirm("Take this pond off the list?", details), answered)

    def _forget(self, folder: str) -> None:
        app = cast("WelcomeApp", self.app)
        left = tuple(each for each in self._home.settings.ponds if each != folder)
        last = self._home.settings.last_pond
        last = "" if last == folder else last
        app.home = self._home._replace(
            settings=self._home.settings._replace(ponds=left, last_pond=last)
        )
        try:
            keep(config_dir(), ponds=left, last_pond=last)
        except FileError as error:
            self.notify(f"until the program is closed: {error}", severity="warning", markup=False)
        self.show()

    def action_leave(self) -> None:
        """Close."""
        self.app.exit(None)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go the way."""
        what, _, which = (event.option.id or "").partition(":")
        if what == "setup":
            from pondtui.tui.wizard import WizardScreen

            self.app.push_screen(WizardScreen())
        elif what == "folder":
            ask = Ask("Which folder? The one that holds pond.toml.", "~/pond", "", _pond_folder)
            self.app.push_screen(ask, self._open)
        else:
            self._open(which) if what == "open" else self.app.exit(Way(what, which))

    def _open(self, typed: str | None) -> None:
        if typed is None:
            return
        try:
            _pond_folder(typed)
        except InputError as error:
            self.notify(str(error), severity="error", markup=False)
            return
        self.app.exit(Way("open", str(folder_of(typed))))


def _pond_folder(typed: str) -> None:
    """Raises InputError where no pond can be opened."""
    folder = folder_of(typed)
    if not typed.strip():
        raise InputError("type the path of a folder, such as ~/pond")
    if not (folder / "pond.toml").is_file():
        raise InputError(f"there is no pond.toml in {folder}: name another folder, or set up one")
    if not pond_name(folder):
        raise InputError(f"{folder}: its pond.toml cannot be read; `pondtui check` shows why")


def welcome(
    home: Home, now: Callable[[], int], environ: Mapping[str, str]
) -> tuple[int, Way | None]:
    """Ask what to open: an exit code, and the way where one was chosen."""
    app = WelcomeApp(home, now, looks(home.settings, environ))
    leave_with_terminal(lambda: None)
    way = app.run()
    app.one_by_one.leave()
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0, way
