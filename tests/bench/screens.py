"""Programs in a real terminal, and how long they take to answer; what they write is not drawn."""

from __future__ import annotations

import os
import re
import time
from pathlib import Path
from time import perf_counter

from tests.tui.terminal import Terminal

MOMENT = "2026-10-09T17:40:00+02:00"
QUIET_S = 0.1  # longer than any frame that follows another
_CODES = re.compile(rb"\x1b\[[0-9;?<>=]*[A-Za-z]|\x1b[()].|\x1b[=>]")
_HEAD = "from textual.app import App\nfrom textual.widgets import OptionList, Static\n"
BARE_STATIC = (
    _HEAD
    + """
class Bare(App):
    def compose(self):
        yield Static("Today")
Bare().run()
"""
)
BARE_LIST = (
    _HEAD
    + """
class Bare(App):
    def compose(self):
        yield OptionList(*(f"row {n} of a thousand" for n in range(1000)))
Bare().run()
"""
)


class Screen(Terminal):
    """A program started in a terminal."""

    def __init__(self, words: list[str], home: Path) -> None:
        self.begun = perf_counter()
        self._seen = b""
        super().__init__(words, {"HOME": str(home), "PONDTUI_NOW": MOMENT})

    def until(self, text: str, seconds: float = 30.0) -> float:
        """Read until a text (a pattern) was written; how long that took since `begun`, ms."""
        end = time.monotonic() + seconds
        while not re.search(text.encode(), _CODES.sub(b"", self._seen)):
            if time.monotonic() > end:
                raise AssertionError(f"{text!r} did not appear: {self._seen[-500:]!r}")
            self._seen += self.take(0.5)
        took = (perf_counter() - self.begun) * 1000
        self._seen = b""
        return took

    def answer(self, key: str) -> float:
        """How long a key takes until the screen writes something, ms; waits until it is done."""
        begin = perf_counter()
        self.type_on(key)
        if not self.take(5.0):
            raise AssertionError(f"no answer to the key {key!r}")
        took = (perf_counter() - begin) * 1000
        self.rest()
        return took

    def told(self, key: str, text: str) -> float:
        """How long a key takes until a text is written, ms."""
        self.begun = perf_counter()
        self.type_on(key)
        took = self.until(text)
        self.rest()
        return took

    def rest(self) -> None:
        """Read until nothing is written any more."""
        while self.take(QUIET_S):
            pass

    def settle(self) -> None:
        """Wait until nothing is read or worked out any more."""
        end = time.monotonic() + 20
        used = -1.0
        while time.monotonic() < end and self.processor_s() - used > 0.05:
            used = self.processor_s()
            pause = time.monotonic() + 0.5
            while (left := pause - time.monotonic()) > 0:
                self.take(left)

    # --- what the system says of the process ------------------------------------------------------

    def processor_s(self) -> float:
        """Processor time used so far, seconds."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def peak_mib(self) -> float:
        """The most memory that it held at once, MiB."""
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        found = re.search(r"VmHWM:\s+(\d+) kB", status)
        assert found is not None
        return int(found[1]) / 1024


def pond(folder: Path, home: Path) -> Screen:
    """Our program on a pond."""
    return Screen(["-m", "pondtui", "--pond", str(folder)], home)


def read_whole(folder: Path, home: Path) -> Screen:
    """Our program on a pond, once all years are read, all that is worked out is, and it rests."""
    screen = pond(folder, home)
    screen.until(READ)
    screen.settle()
    return screen


READ = "below the edge, read"  # the last reading, on Today
