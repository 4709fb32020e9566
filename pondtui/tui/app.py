"""The app: it wires screens, keys, clock and signals together, and decides nothing itself."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from importlib import import_module
from typing import Any, ClassVar

from textual.app import SystemCommand
from textual.screen import Screen

from pondtui.pond.state.entry import Entry
from pondtui.tui import keys
from pondtui.tui.base import BaseApp
from pondtui.tui.looks import Looks
from pondtui.tui.messages import EntrySettled, PondRead, WeatherRead
from pondtui.tui.screen import SMALL, Dialog, PondScreen
from pondtui.tui.session import Fresh, Session

LOOK_S = 1.5  # how often the folder is looked at
CHOOSE = -1  # the code of an app that was closed to choose another pond
LEAVE_S = 2.0  # how long closing waits for the writer
WEATHER_TICKS = 2400  # the weather is worked out anew every hour or so
SENT_S = 0.02  # by then a frame has left for the terminal
RETRY_TICKS = 4  # every so many looks what could not be written is tried again


def _room(place: str) -> Callable[[], Screen[None]]:
    """A screen that is imported and built on its first visit."""

    def build() -> Screen[None]:
        module, _, name = place.partition(":")
        screen: Screen[None] = getattr(import_module(module), name)()
        return screen

    return build


ROOMS = {
    "today": "pondtui.tui.today:TodayScreen",
    "visits": "pondtui.tui.visits:VisitsScreen",
    "emergency": "pondtui.tui.emergency:EmergencyScreen",
    "refill": "pondtui.tui.refill:RefillScreen",
    "journal": "pondtui.tui.journal:JournalScreen",
    "chores": "pondtui.tui.chores:ChoresScreen",
    "tests": "pondtui.tui.water_tests:TestsScreen",
    "alarms": "pondtui.tui.alarms:AlarmsScreen",
    "water": "pondtui.tui.water:WaterScreen",
    "bucket": "pondtui.tui.bucket:BucketScreen",
    "away": "pondtui.tui.away:AwayScreen",
    "worksheets": "pondtui.tui.worksheets:WorksheetsScreen",
    "setup": "pondtui.tui.setup:SetupScreen",
}


SITTER_ROOMS = ("visits", "refill", "emergency")


class PondApp(BaseApp[int]):
    """One pond on the screen."""

    TITLE = "pondtui"
    ENABLE_COMMAND_PALETTE = True
    SCREENS: ClassVar[dict[str, Callable[[], Screen[None]]]] = {
        name: _room(place) for name, place in ROOMS.items()
    }

    def __init__(
        self, session: Session, looks: Looks, all_looks: Callable[[], Looks] | None = None
    ) -> None:
        super().__init__(looks)
        self._all_looks = all_looks
        self.session = session
        self.barrel = ""  # the barrel that Refill was opened for
        self.faults = keys.check(session.settings.keys)[1]  # told once, when the app is up
        self._ticks = 0
        self.begun = False  # until the first frame is on the screen
        self._greeted = False
        self._offered = False
        self._shown: tuple[int, int] = (-1, -1)
        self.set_keymap(keys.check(session.settings.keys)[0])

    # --- beginning, ending ------------------------------------------------------------------------

    def get_default_screen(self) -> Screen[Any]:
        """Today, or a sitter's visit: the lowest of the screens, not one laid over an empty one,
        which would be built, dressed and laid out as well before the first frame."""
        return self.get_screen("visits" if self.session.sitter else "today")

    def on_mount(self) -> None:
        """Begin to take keys, and what the disk and the system say."""
        self.session.when_told(lambda: self.post_message(EntrySettled()))
        self.catch_signals()
        self.one_by_one.begin()
        self._tell(self.faults)

    def _tell(self, faults: Sequence[str]) -> None:
        for fault in faults:
            self.notify(fault, severity="warning", markup=False, timeout=10)

    def drawn(self) -> None:
        """A screen has been drawn: at the first one begins what no frame has to wait for."""
        if self.begun:
            return
        self.begun = True
        self.dress_rooms()
        self.state_changed()
        self.call_after_refresh(self._know_all_looks)
        if not self.session.inline:
            self.set_interval(LOOK_S, self._look)
            if self.session.partial:
                self._read()
        self._greet()

    def _know_all_looks(self) -> None:
        """No frame waits for themes that nobody wears; what is wrong with one is told here."""
        if self._all_looks is not None:
            self.know(self._all_looks())
            self._tell(self.looks.faults)

    def _greet(self) -> None:
        """After weeks without an entry one screen asks what is to be looked at."""
        from pondtui.views.back import long_away

        if self._greeted or self.session.partial or self.session.sitter:
            return
        self._greeted = True
        away = long_away(self.session.journal.live, self.session.now())
        if away is not None:
            from pondtui.tui.back import Back

            self.push_screen(Back(away))

    # --- what changes -----------------------------------------------------------------------------

    def state_changed(self) -> None:
        """Let the screen in front show what is known now; those behind do when they come back."""
        self._shown = (self.session.version, self.session.now() // 60)
        for screen in reversed(self.screen_stack):
            if isinstance(screen, PondScreen):
                screen.refresh_state()
                return

    def tell(self) -> None:
        """Say at once what became of an entry; what follows from it is worked out when the terminal
        has that word: the thread that sends it would have to wait for it."""
        if self.is_running and isinstance(self.screen, PondScreen) and self.screen.is_mounted:
            self.screen.tell()
        if self.session.inline:
            self.screen.call_after_refresh(self.state_changed)
        else:
            self.set_timer(SENT_S, self.state_changed)

    def on_entry_settled(self, _message: EntrySettled) -> None:
        """The writer came back; where that was waited for it has been told already."""
        if self.session.settle():
            self.tell()

    def on_pond_read(self, message: PondRead) -> None:
        """A worker has read the folder again."""
        self.session.take(message.fresh)
        gc.freeze()  # decades of entries stay: looking for garbage among them would hold a key up
        self.state_changed()
        self._greet()
        self._look_for_gone(first=True)

    def _look(self) -> None:
        """Every second or so: what others wrote, what is still to be written, what time it is."""
        self._ticks += 1
        if self.session.changed():
            self._read()
        if self._ticks % WEATHER_TICKS == 2 and not self.session.partial:
            self._read_weather()
        if self._ticks % RETRY_TICKS == 0:
            self.session.retry()
            if self.session.read_only:
                self._read()  # what could not be read shows no change when it can be again
        if self._shown != (self.session.version, self.session.now() // 60):
            self.state_changed()

    def _read_weather(self) -> None:
        """Read the weather in a thread: the alarms that need it wait for it, nothing else does."""
        from pondtui.tui.weather import weather_of

        session = self.session
        state, now = session.state(), session.now()

        def work() -> None:
            with session.at_work:
                found = weather_of(session, state, now)
            self.post_message(WeatherRead(found))

        self.run_worker(work, thread=True, exclusive=True, group="weather")

    def on_weather_read(self, message: WeatherRead) -> None:
        """A worker has the weather: only its first reading or another alarm is worth painting."""
        before, first = self.session.status().alarms, self.session.climate is None
        self.session.take_climate(message.climate)
        if first or self.session.status().alarms != before:
            self.state_changed()

    def _read(self) -> None:
        """Read the folder in a thread; keys are answered meanwhile."""

        def work() -> None:
            fresh: Fresh = self.session.read()
            self.post_message(PondRead(fresh))

        self.run_worker(work, thread=True, exclusive=True, group="read")

    def _look_for_gone(self, *, first: bool) -> None:
        """Offer again what was saved and two looks miss; not while anything is typed or written."""
        if not self.screen_stack:
            return  # all is closing
        if self._offered or self.session.writing or isinstance(self.screen, Dialog):
            self.set_timer(LOOK_S, partial(self._look_for_gone, first=first))
        elif gone := self.session.vanished():
            self._offer_again(gone)
        elif first:
            self.set_timer(LOOK_S, partial(self._look_for_gone, first=False))

    def _offer_again(self, gone: list[Entry]) -> None:
        from pondtui.books.lines import render
        from pondtui.tui.dialogs import Confirm

        def answered(again: bool | None) -> None:
            self._offered = False
            if again:
                self.session.write_again(gone)
            else:
                self.session.forget(gone)
            self.state_changed()

        self._offered = True  # the answer comes a moment after its dialog has gone
        question = f"Gone from the journal although saved ({len(gone)}). Append again?"
        self.push_screen(Confirm(question, *(render(entry) for entry in gone[:4])), answered)

    # --- commands ---------------------------------------------------------------------------------

    def get_system_commands(self, screen: Screen[Any]) -> Iterator[SystemCommand]:
        """What the palette offers: the keys of the screen in front, and the manual's topics."""
        from pondtui.tui.palette import commands

        return commands(self, screen)

    def action_command_palette(self) -> None:
        """Open the palette where it has room: a list without any width would break the toolkit."""
        if self.size.width >= SMALL[0] // 2 and self.size.height >= SMALL[1] // 2:
            super().action_command_palette()

    # --- keys -------------------------------------------------------------------------------------

    def open_room(self, room: str, barrel: str = "") -> None:
        """Open a screen by its id; one that is open already, or that is none, stays as it is."""
        is_open = any(isinstance(s, PondScreen) and room == s.ROOM for s in self.screen_stack)
        shut = bool(self.session.sitter) and room not in SITTER_ROOMS
        if room in self.SCREENS and not is_open and not shut:
            self.barrel = barrel
            self.push_screen(room)

    def go_back(self) -> None:
        """Back to the screen before; never past the first one."""
        if len(self.screen_stack) > 1:
            self.pop_screen()

    async def action_ponds(self) -> None:
        """Close this pond to choose another one."""
        await self._close(CHOOSE)

    async def action_quit(self) -> None:
        """Close; with entries that are not saved only after a question."""
        await self._close(0)

    async def _close(self, code: int) -> None:
        self.session.settle(wait_s=LEAVE_S)
        pending = self.session.pending
        details = [each.line for each in pending[:4]]
        book = self.session.describing
        if book is not None and book.changed:
            kept = "are lost" if book.not_kept else "are kept for the next start"
            details.append(f"changes in Setup {kept}; o, then s, writes them")
        if not details:
            self.exit(code, return_code=code)
            return
        from pondtui.tui.dialogs import Confirm

        number = len(pending) + (len(details) > len(pending[:4]))
        lost = ", and lose them" if pending else ""
        question = f"Not saved yet ({number}). Close all the same{lost}?"
        self.push_screen(
            Confirm(question, *details),
            lambda yes: self.exit(code, return_code=code) if yes else None,
        )
