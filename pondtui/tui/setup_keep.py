"""Keeps what is changed in Setup on the disk while it is typed; no key waits for the disk."""

from __future__ import annotations

import threading
from pathlib import Path

from pondtui.books import unwritten
from pondtui.errors import FileError


class Keeper:
    """Writes in a thread of its own, the latest only; `inline` writes at once (for tests)."""

    def __init__(self, place: Path, *, inline: bool) -> None:
        self.fault = ""  # why the latest is not kept
        self._place = place
        self._inline = inline
        self._next: tuple[str | None] | None = None
        self._thread: threading.Thread | None = None
        self._lock = threading.Lock()

    def keep(self, text: str | None) -> None:
        """Keep a text in place of the one before; None: nothing is to be kept any more."""
        if self._inline:
            self._put(text)
            return
        with self._lock:
            self._next = (text,)
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, daemon=True)
                self._thread.start()

    def settle(self, wait_s: float) -> None:
        """Wait until the latest is on the disk, seconds at most."""
        thread = self._thread
        if thread is not None:
            thread.join(wait_s)

    def _work(self) -> None:
        while True:
            with self._lock:
                if self._next is None:
                    self._thread = None
                    return
                (text,), self._next = self._next, None
            self._put(text)

    def _put(self, text: str | None) -> None:
        try:
            if text is None:
                unwritten.drop(self._place)
            else:
                unwritten.write(self._place, text)
            self.fault = ""
        except FileError as error:
            self.fault = str(error)
