"""SIGKILL at random points, in the store and on the Refill screen: what was acknowledged stands."""

from __future__ import annotations

import json
import random
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from time import monotonic

from pondtui.books.lines import render
from tests.durability.lines import entry
from tests.durability.lives import Nursery
from tests.tui.ponds import lately
from tests.tui.terminal import ROOT, Terminal

BEGIN = datetime.fromisoformat("2026-10-10T17:45:00+02:00")


def test_no_kill_while_the_store_writes_loses_or_damages_a_line(
    tmp_path: Path, full: bool, figures: Callable[[str], None]
) -> None:
    lives = 1900 if full else 190
    words = [sys.executable, "-m", "tests.durability.lives", str(tmp_path), str(lives), "20261125"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True)
    report = json.loads(done.stdout)
    found = report["found"]
    figures(
        f"kills in the store: {found['kills']}; lines acknowledged {found['acknowledged']}, "
        f"written before they were acknowledged {found['unacknowledged']}, lost 0, "
        f"torn lines healed {found['healed']} of {found['torn']} torn"
    )
    assert report["wrong"] == []
    assert found["kills"] == lives
    # every second life, and of every second one that finds a torn line, writes before it is shot
    assert found["acknowledged"] >= lives // 2
    assert found["healed"] >= found["torn"] // 2


def test_a_kill_may_tear_the_line_that_was_being_written_and_no_other(tmp_path: Path) -> None:
    told, next_one, stranger = (render(entry(n)).encode() for n in range(3))
    torn = told + b"\n" + next_one[:40]
    for added, new in ((torn, [told]), (b"\n" + torn, [told]), (next_one[:1], [])):
        nursery = Nursery(tmp_path, 1)
        nursery._judge(added, b"torn" if added.startswith(b"\n") else b"", new, next_one)
        assert nursery.wrong == []
        assert nursery.found["torn"] == 1
    for added in (told + b"\n" + stranger[:40], told[:40], next_one + b"\n" + told):
        nursery = Nursery(tmp_path, 1)
        nursery._judge(added, b"", [told], next_one)
        assert nursery.wrong


KEYS = {1: "\r", 2: "\r", 3: "\r", 4: "78\r", 5: "\r", 6: "150\r", 7: "\r", 8: "\r\r", 9: "\r",
        10: "\r", 11: "", 12: "0\r", 13: "14\r", 14: "\r", 15: "\r", 16: "\rall\r", 17: "\r",
        18: "60\r"}  # fmt: skip
MINUTES = {6: 9, 11: 13, 16: 12}  # what water and agent need; a minute elsewhere


class Batch:
    """A batch on the Refill screen, walked by a keeper who is cut off again and again."""

    def __init__(self, pond: Path, dice: random.Random) -> None:
        self._pond = pond
        self._dice = dice
        self._now = BEGIN
        self._reached = 1  # the step that the screen last showed
        self._counts_s = 0.3  # how long a step took to count, the last time
        self.acknowledged = 0
        self.over = False

    def life(self, at_random: bool) -> None:
        """Open, see that nothing is lost, do the step, and be shot.

        At random, before or after the step counts; else the moment that the screen says so.
        """
        self._now += timedelta(minutes=MINUTES.get(self._reached, 1))
        before = self._lines()
        terminal = self._open()
        try:
            step = _step(terminal)
            assert step is not None
            assert step >= self._reached, "an acknowledged step is gone"
            for key in KEYS[step]:
                terminal.type_on(key)
                terminal.read(0.02)
            begin = monotonic()
            if at_random:
                terminal.read(self._dice.uniform(0, 2 * self._counts_s))
            elif step not in (11, 18):  # the one takes time, not keys, the other ends the batch
                terminal.wait_for(f"{step + 1}/18  ")
                self._counts_s = monotonic() - begin
            seen = _step(terminal) or step  # shot in the middle of a frame, it has shown nothing
        finally:
            terminal.kill()
        added = self._judge(before)
        self.over = step == 18 and bool(added)
        self._reached = max(step, seen)
        if seen > step and step != 11:
            self.acknowledged += 1
            assert added == 1, "a step counts that is not in the journal"

    def _open(self) -> Terminal:
        environ = {"HOME": str(self._pond.parent), "PONDTUI_NOW": self._now.isoformat()}
        terminal = Terminal(["-m", "pondtui", "--pond", str(self._pond)], environ)
        terminal.wait_for("Today")
        terminal.press("r")
        terminal.wait_for("/18  ")
        return terminal

    def _lines(self) -> dict[str, list[bytes]]:
        folder = self._pond / "journal"
        return {path.name: path.read_bytes().split(b"\n") for path in folder.iterdir()}

    def _judge(self, before: dict[str, list[bytes]]) -> int:
        """How many lines were added: at most one, whole, and nothing else has changed."""
        added = 0
        for name, now in self._lines().items():
            then = before.get(name, [b""])
            assert now[: len(then) - 1] == then[:-1]
            assert now[-1] == b"" or now == then
            added += len(now) - len(then)
        assert added <= 1
        return added


def _step(terminal: Terminal) -> int | None:
    """The number of the step that stands on the screen; None where none does."""
    found = re.search(r"(\d+)/18  ", "\n".join(terminal.lines()))
    return None if found is None else int(found[1])


def test_no_kill_on_the_refill_screen_loses_a_step_that_counted(
    tmp_path: Path, full: bool, figures: Callable[[str], None]
) -> None:
    dice, kills, batches, acknowledged = random.Random(7), 0, 0, 0
    while kills < (100 if full else 10):
        batch = Batch(lately(tmp_path / str(batches) / "pond"), dice)
        while not batch.over and kills < (100 if full else 10):
            batch.life(at_random=kills % 2 == 0)
            kills += 1
        batches += 1
        acknowledged += batch.acknowledged
    figures(f"kills on the Refill screen, in a terminal: {kills}, steps that counted {acknowledged}"
            ", lost 0")  # fmt: skip
    assert acknowledged >= kills // 4  # every second life waits for it, where keys do the step
