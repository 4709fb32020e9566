"""The disk fails at every call of the writing path in turn, while the app goes on."""

from __future__ import annotations

import errno
from collections.abc import Callable
from pathlib import Path

import pytest

from pondtui.books.store import Saved
from pondtui.tui.notices import notices
from pondtui.tui.session import Session
from pondtui.tui.writer import Pending
from tests.durability.faulty import PATH, SHORT, Faults, Plan
from tests.tui.ponds import LEVELS, session_on, write_pond

TORN = LEVELS + "2026-08-14 17:00:00+02:00 | note | | half a li"
PLACES = {"a new file": "", "whole lines": LEVELS, "a torn line": TORN}


def _lines(folder: Path) -> list[str]:
    path = folder / "journal/2026-desk.txt"
    return path.read_text(encoding="utf-8").split("\n") if path.exists() else [""]


def _write(session: Session, number: int) -> Saved | Pending:
    done = session.write("level", {"reading": f"{90 + number} mm", "pump": "on"}, f"no {number}")
    assert isinstance(done, Saved | Pending)
    return done


def _judge(session: Session, done: Saved | Pending, number: int) -> None:
    """What is saved stands there once; what is not is kept, told, and counts for nothing."""
    if isinstance(done, Saved):
        assert _lines(session.folder).count(done.line) == 1
        return
    assert done.reason.startswith("not saved")
    assert done.line in [each.line for each in session.pending]
    assert all(entry.note != f"no {number}" for entry in session.journal.live)
    said = [text for role, text in notices(session) if role == "danger"]
    assert said[0].startswith("NOT SAVED")
    assert said[1].startswith("not saved")


def _three_lines(folder: Path, faults: Faults) -> None:
    """Three entries go out while the disk fails; when it works again each stands there once."""
    before = _lines(folder)
    session = session_on(folder)
    done = []
    for number in range(3):
        done.append(_write(session, number))
        _judge(session, done[-1], number)
    session.retry()
    faults.over = True
    session.retry()
    assert not session.pending
    after = _lines(folder)
    assert after[-1] == ""
    assert [after.count(each.line) for each in done] == [1, 1, 1]
    whole = before[:-1]
    assert after[: len(whole)] == whole
    assert len(after) == len(before) + 3 + (before[-1] != "")
    fresh = session_on(folder)
    assert [e.note for e in fresh.journal.live if e.note.startswith("no ")] == [
        "no 0", "no 1", "no 2"
    ]  # fmt: skip
    assert fresh.state().level == session.state().level


def _calls(monkeypatch: pytest.MonkeyPatch, folder: Path) -> dict[str, int]:
    """How often each call is made where nothing fails."""
    with monkeypatch.context() as patch:
        faults = Faults(patch)
        session = session_on(folder)
        for number in range(3):
            _write(session, number)
    return faults.count


@pytest.mark.parametrize("place", PLACES)
def test_a_fault_at_any_call_loses_nothing_and_doubles_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str, figures: Callable[[str], None]
) -> None:
    count = _calls(monkeypatch, write_pond(tmp_path / "probe", desk=PLACES[place]))
    assert count["write"] == 3
    hits = runs = 0
    for call, errors in PATH.items():
        for nth in range(1, count.get(call, 0) + 1):
            for plan in [
                Plan(call, nth, error, ever) for error in errors for ever in (False, True)
            ]:
                with monkeypatch.context() as patch:
                    faults = Faults(patch, plan)
                    folder = tmp_path / f"pond{runs}"
                    _three_lines(write_pond(folder, desk=PLACES[place]), faults)
                runs += 1
                hits += faults.hits
                assert faults.hits, plan
    figures(f"faults of the writing path on {place}: {runs} plans, {hits} faults, nothing lost")


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("nth", [1, 2, 3])
def test_half_a_line_that_cannot_be_taken_back_becomes_the_whole_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str, nth: int
) -> None:
    plans = Plan("write", nth, SHORT, False), Plan("ftruncate", 1, errno.EIO, True)
    faults = Faults(monkeypatch, *plans)
    _three_lines(write_pond(tmp_path / "pond", desk=PLACES[place]), faults)
    assert faults.hits >= 2


def test_after_a_failed_sync_the_very_bytes_are_given_to_the_disk_once_more(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plans = Plan("fsync", 1, errno.EIO, False), Plan("ftruncate", 1, errno.EIO, True)
    faults = Faults(monkeypatch, *plans)
    session = session_on(write_pond(tmp_path / "pond"))
    done = _write(session, 0)
    assert "pwrite" not in faults.count
    session.retry()
    assert faults.count["pwrite"] == 1
    assert _lines(session.folder).count(done.line) == 1


@pytest.mark.parametrize("error", PATH["pwrite"])
def test_a_disk_that_fails_once_more_while_it_mends_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: int
) -> None:
    once_more = Plan("ftruncate", 1, errno.EIO, True), Plan("pwrite", 1, error, False)
    plans = Plan("fsync", 2, errno.EIO, False), *once_more
    faults = Faults(monkeypatch, *plans)
    _three_lines(write_pond(tmp_path / "pond"), faults)
    assert faults.hits >= 3


@pytest.mark.parametrize("call", ["write", "fsync", "stat"])
def test_what_is_told_as_not_saved_does_not_stand_there_and_can_be_given_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    faults = Faults(monkeypatch, Plan(call, 1, errno.EIO, True))
    session = session_on(write_pond(tmp_path / "pond"))
    _write(session, 0)
    faults.over = True
    assert _lines(session.folder) == LEVELS.split("\n")
