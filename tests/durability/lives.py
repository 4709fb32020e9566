"""Many short lives of a process that writes through the store, each ended by SIGKILL.

`python -m tests.durability.lives FOLDER LIVES SEED` prints what was found, as JSON. The process
that counts never writes an entry; each life is forked from it, so that a life costs milliseconds.
"""

from __future__ import annotations

import json
import os
import random
import select
import signal
import sys
import time
from pathlib import Path

from pondtui.books.lines import render
from pondtui.books.store import Store
from tests.durability.lines import NAME, broken_promises, entry

LONGEST_S = 0.025  # a life may be as long as this
LIVES_A_POND = 100  # then a new folder: the audit reads the whole file after every life
NUMBERS_A_LIFE = 400


class Nursery:
    """Begins lives, ends them, and audits the journal after each."""

    def __init__(self, folder: Path, seed: int) -> None:
        self._folder = folder
        self._dice = random.Random(seed)
        self._acknowledged: list[bytes] = []
        self.found = {"kills": 0, "acknowledged": 0, "unacknowledged": 0, "torn": 0, "healed": 0}
        self.wrong: list[str] = []

    def run(self, lives: int) -> None:
        """So many lives, one after the other."""
        for life in range(lives):
            pond = self._folder / str(life // LIVES_A_POND)
            if life % LIVES_A_POND == 0:
                pond.mkdir()
                self._acknowledged = []
            self._one(pond, life)

    def _one(self, pond: Path, life: int) -> None:
        path = pond / "journal" / NAME
        before = path.read_bytes() if path.exists() else b""
        first = life * NUMBERS_A_LIFE
        if before.endswith(b"\n") and life % 5 == 0:  # the power failed in the middle of a line
            before += render(entry(first + NUMBERS_A_LIFE - 1)).encode()[
                : self._dice.randint(1, 70)
            ]
            path.write_bytes(before)
            self.found["torn"] += 1
        new = self._live_and_die(pond, first, writing=life % 2 == 0)
        self.found["kills"] += 1
        self.found["acknowledged"] += len(new)
        self._acknowledged += new
        data = path.read_bytes() if path.exists() else b""
        self.wrong += broken_promises(data, before, self._acknowledged)
        self._judge(data[len(before) :], before, new, render(entry(first + len(new))).encode())

    def _judge(self, added: bytes, before: bytes, new: list[bytes], after: bytes) -> None:
        """What a life added: a newline where one was missing, and whole lines in their order.

        Linux looks for a kill between the pages of a write, so the line `after` those that were
        acknowledged may be torn where a page of the file ends.
        """
        if before and not before.endswith(b"\n") and added:
            self.found["healed"] += 1
            if not added.startswith(b"\n"):
                self.wrong.append(f"a torn line was written on: {added[:80]!r}")
            added = added[1:]
        lines = added.split(b"\n")
        if lines[-1]:
            self.found["torn"] += 1
            if not after.startswith(lines[-1]):
                self.wrong.append(f"half of no line is left: {lines[-1]!r}")
        if lines[: len(new)] != new or len(lines) - 1 - len(new) not in (0, 1):
            self.wrong.append(f"written {lines[:-1]!r}, acknowledged {new!r}")
        self.found["unacknowledged"] += len(lines) - 1 - len(new)

    def _live_and_die(self, pond: Path, first: int, *, writing: bool) -> list[bytes]:
        """The lines that one life acknowledged before it was shot: at random from its birth, or
        from its first line, which comes late on a busy machine."""
        ours, theirs = os.pipe()
        child = os.fork()
        if not child:
            _write_until_shot(pond, first, theirs)
        os.close(theirs)
        if writing:
            select.select([ours], [], [])  # it has a line, or has ended
        time.sleep(self._dice.uniform(0.0, LONGEST_S))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(ours, "rb") as told:
            return told.read().split(b"\n")[:-1]


def _write_until_shot(pond: Path, first: int, told: int) -> None:
    """A life: write, tell what is saved, write on."""
    store = Store(pond, "desk")
    for number in range(first, first + NUMBERS_A_LIFE - 1):
        os.write(told, store.append(entry(number)).line.encode() + b"\n")
    time.sleep(60)


def main() -> None:
    """Run, and print what was found."""
    folder, lives, seed = sys.argv[1:]
    nursery = Nursery(Path(folder), int(seed))
    nursery.run(int(lives))
    json.dump({"found": nursery.found, "wrong": nursery.wrong[:10]}, sys.stdout)


if __name__ == "__main__":
    main()
