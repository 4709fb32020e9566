"""The real program in a real terminal: a pseudo-terminal whose bytes a terminal emulator draws."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Mapping
from pathlib import Path

import pyte

ROOT = Path(__file__).parents[2]
LOOKS_AT_REST = 6  # in a row, 50 ms apart
opened: list[Terminal] = []  # and not closed: a test that fails leaves its program behind
INHERITED = ("PATH", "PYTHONPATH")  # where programs lie, and that there is no network


class Terminal:
    """Python with these words (`-m pondtui ...`), in a terminal of so many columns and rows."""

    def __init__(
        self, words: list[str], environ: Mapping[str, str], columns: int = 80, rows: int = 24
    ) -> None:
        self.screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self.screen)
        self._handle, far = pty.openpty()
        fcntl.ioctl(far, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.process = subprocess.Popen(
            [sys.executable, *words],
            stdin=far,
            stdout=far,
            stderr=far,
            cwd=ROOT,
            env={
                "TERM": "xterm-256color",
                **{name: os.environ[name] for name in INHERITED if name in os.environ},
                **environ,
            },
            start_new_session=True,
        )
        os.close(far)
        opened.append(self)

    def lines(self) -> list[str]:
        """What stands on the screen."""
        return [line.rstrip() for line in self.screen.display]

    def wait_for(self, text: str, seconds: float = 20.0) -> None:
        """Read until a text stands on the screen; fails with the screen where it does not."""
        end = time.monotonic() + seconds
        fresh = True  # not looked at yet
        while time.monotonic() < end:
            fresh = bool(self.read(0.05)) or fresh
            if fresh and any(text in line for line in self.lines()):
                return
            fresh = False
        raise AssertionError(f"{text!r} did not appear:\n" + "\n".join(self.lines()))

    def read(self, seconds: float) -> bytes:
        """Take in what the program writes within the time."""
        taken = b""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            data = self.take(left)
            if not data:
                break
            taken += data
            self._stream.feed(data)
        return taken

    def come_to_rest(self, seconds: float = 20.0) -> bytes:
        """Take in what the program writes until it is silent and asleep, however busy the machine.

        A time alone would not do: beside other work a program may be silent while it waits for a
        processor.
        """
        taken = b""
        end = time.monotonic() + seconds
        asleep = 0
        while asleep < LOOKS_AT_REST and time.monotonic() < end:
            data = self.read(0.05)
            taken += data
            asleep = 0 if data or self._awake() else asleep + 1
        return taken

    def _awake(self) -> bool:
        """Whether a thread of the program has, or waits for, a processor or a disk."""
        states = Path(f"/proc/{self.process.pid}/task").glob("*/stat")  # none on other systems
        with contextlib.suppress(OSError):  # it ends at this moment
            return any(each.read_text().rpartition(")")[2].split()[0] in "RD" for each in states)
        return True

    def take(self, seconds: float) -> bytes:
        """The next bytes that the program writes, not drawn; none where it stays silent."""
        ready, _, _ = select.select([self._handle], [], [], seconds)
        try:
            return os.read(self._handle, 65_536) if ready else b""
        except OSError:  # the program has ended
            return b""

    def press(self, keys: str) -> None:
        """Send keys as they are typed; `\\r` is Enter."""
        for key in keys:
            os.write(self._handle, key.encode())
            self.read(0.03)

    def type_on(self, keys: str) -> None:
        """Send keys without looking at what they do."""
        os.write(self._handle, keys.encode())

    def kill(self) -> None:
        """SIGKILL: no farewell of any kind."""
        self.process.send_signal(signal.SIGKILL)
        self.close()

    def hang_up(self) -> None:
        """Close the terminal, and tell the program nothing."""
        os.close(self._handle)
        self._handle = -1

    def close(self) -> int:
        """Wait for the end; ends it where it goes on."""
        end = time.monotonic() + 15
        while self.process.poll() is None and time.monotonic() < end:
            self.read(0.05)  # a program whose last words nobody reads would wait for ever
        if self.process.poll() is None:
            self.process.kill()
        code = self.process.wait()
        if self._handle >= 0:
            os.close(self._handle)
            self._handle = -1
        if self in opened:
            opened.remove(self)
        return code
