"""Faults given by the system itself to the unmodified program, by `strace --inject`."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from pondtui.tui.refill import SETTLE_S
from tests.durability.lines import NAME
from tests.tui.ponds import write_pond
from tests.tui.terminal import ROOT, Terminal

NOW = "2026-08-14T18:20:00+02:00"


@cache
def _why_not() -> str:
    """Why no fault can be given here; "" where it can."""
    if shutil.which("strace") is None:
        return "no strace here"
    words = ["strace", "-qq", "-e", "trace=none", "true"]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    return f"strace may not trace here: {done.stderr.strip()[:80]}" if done.returncode else ""


pytestmark = pytest.mark.skipif(bool(_why_not()), reason=_why_not())


class Fault(NamedTuple):
    """A call, what becomes of it, and what the keeper is told."""

    call: str
    what: str
    told: str


FULL = "the disk is full"
RIGHTS = "its rights do not allow it"
BROKEN = "the disk reports a fault"
FAULTS = (
    Fault("write", "error=ENOSPC", FULL),
    Fault("write", "retval=20", FULL),  # says that 20 bytes were written, and writes none
    Fault("write", "error=EIO", BROKEN),
    Fault("fsync", "error=EIO", BROKEN),
    Fault("fsync", "error=ENOSPC", FULL),
    Fault("openat", "error=EACCES", RIGHTS),
    Fault("openat", "error=EROFS", "the disk is read-only"),
    Fault("flock", "error=EIO", BROKEN),
    Fault("newfstatat", "error=EIO", BROKEN),
    Fault("pread64", "error=EIO", BROKEN),
)
SHORT_FORM = (FAULTS[0], FAULTS[1], FAULTS[3], FAULTS[5])


def _strace(log: Path, path: Path, fault: Fault, when: str) -> list[str]:
    """The words before a command whose calls on one file fail."""
    inject = f"inject={fault.call}:{fault.what}:when={when}"
    return ["strace", "-f", "-qq", "-o", str(log), "-P", str(path), "-e", inject]


def _hits(log: Path) -> int:
    return log.read_text(encoding="utf-8", errors="replace").count("(INJECTED)")


def test_every_line_is_written_once_through_hundreds_of_faults(
    tmp_path: Path, full: bool, figures: Callable[[str], None]
) -> None:
    hits = runs = acknowledged = 0
    count = 40 if full else 10
    for fault in FAULTS if full else SHORT_FORM:
        for first, step in ((2, 3), (1, 4), (3, 7), (5, 11)) if full else ((2, 3),):
            pond = tmp_path / str(runs)
            path = pond / "journal" / NAME
            path.parent.mkdir(parents=True)
            path.write_bytes(b"# begun by hand")  # no newline: pread is on the way
            before = _strace(tmp_path / "log", path, fault, f"{first}+{step}")
            words = [sys.executable, "-m", "tests.durability.writing"]
            done = subprocess.run(
                [*before, *words, str(pond), "desk", "me", str(count)],
                cwd=ROOT, capture_output=True, text=True, check=True,
            )  # fmt: skip
            said = done.stderr.splitlines()
            hidden = fault.call == "newfstatat"  # also fails while the first is taken back
            assert 0 < len(said) <= _hits(tmp_path / "log")
            assert hidden or len(said) == _hits(tmp_path / "log"), "a fault was not told"
            assert all(line.startswith("not saved in") and fault.told in line for line in said)
            lines = path.read_text(encoding="utf-8").split("\n")
            assert lines == ["# begun by hand", *done.stdout.splitlines(), ""]
            assert len(set(lines)) == len(lines) == count + 2
            hits, runs, acknowledged = hits + len(said), runs + 1, acknowledged + count
    figures(f"faults injected by strace: {hits} in {runs} runs, {acknowledged} lines written, each "
            "once")  # fmt: skip
    assert hits >= (500 if full else 10)


def test_the_command_says_what_failed_and_succeeds_when_it_is_given_again(
    tmp_path: Path, full: bool
) -> None:
    environ = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "PONDTUI_NOW": NOW}
    for number, fault in enumerate(FAULTS[:-2] if full else SHORT_FORM[2:]):
        folder = write_pond(tmp_path / str(number))
        words = [sys.executable, "-m", "pondtui", "--pond", str(folder), "add", "note", "-m"]
        first = _run([*words, "first"], environ)
        assert first.returncode == 0
        (path,) = (p for p in folder.glob("journal/*") if "first" in p.read_text(encoding="utf-8"))
        before = path.read_bytes()
        when = "2+" if fault.call == "openat" else "1+"  # first the journal is read
        failed = _run([*_strace(tmp_path / "log", path, fault, when), *words, "second"], environ)
        assert failed.returncode == 3, failed.stderr
        assert len(failed.stderr.splitlines()) == 1
        assert fault.told in failed.stderr
        assert path.read_bytes() == before
        assert _run([*words, "second"], environ).returncode == 0
        assert path.read_bytes().startswith(before)
        assert path.read_text(encoding="utf-8").count("| second\n") == 1


def _run(words: list[str], environ: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(words, cwd=ROOT, env=environ, capture_output=True, text=True,
                          check=False)  # fmt: skip


def _wait_until_traced(pid: int) -> None:
    """Every thread: the writer is one of its own."""
    for _ in range(400):
        states = Path(f"/proc/{pid}/task").glob("*/status")
        if not any("\nTracerPid:\t0\n" in each.read_text() for each in states):
            return
        time.sleep(0.05)
    raise AssertionError("strace does not come")


def test_in_a_terminal_a_step_waits_for_the_disk_and_is_written_once(
    tmp_path: Path, full: bool
) -> None:
    for number, fault in enumerate((FAULTS[0], FAULTS[3], FAULTS[7]) if full else (FAULTS[0],)):
        folder = write_pond(tmp_path / str(number))
        environ = {"HOME": str(tmp_path), "PONDTUI_NOW": NOW}
        terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
        try:
            terminal.wait_for("Today")
            terminal.press("r")
            terminal.wait_for("1/17")
            terminal.press("\r")
            terminal.wait_for("2/17")
            (path,) = (p for p in folder.glob("journal/*") if b"outlet-shut" in p.read_bytes())
            before = path.read_bytes()
            log = tmp_path / f"log{number}"
            attach = [*_strace(log, path, fault, "1+"), "-p", str(terminal.process.pid)]
            strace = subprocess.Popen(attach, stderr=subprocess.DEVNULL)
            _wait_until_traced(terminal.process.pid)
            time.sleep(SETTLE_S)  # a key that comes too soon is taken for one that repeats itself
            terminal.press("\r")
            terminal.wait_for("NOT SAVED")
            assert any("2/17" in line for line in terminal.lines())
            strace.send_signal(signal.SIGINT)  # the disk works again
            strace.wait(10)
            terminal.wait_for("3/17")
            added = path.read_bytes().removeprefix(before)
            assert added.count(b"\n") == added.count(b"step=barrel-sound") == 1
            assert _hits(log)
        finally:
            terminal.kill()
