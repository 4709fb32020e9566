"""What stands behind the screens: acknowledged is on the disk, and nothing typed is lost."""

from __future__ import annotations

import threading
from pathlib import Path
from time import sleep

import pytest

from pondtui.books.amend import with_entries
from pondtui.books.journal import Journal
from pondtui.books.lines import render
from pondtui.books.store import Saved, Store
from pondtui.errors import FileError, InputError
from pondtui.pond.state.entry import Entry
from pondtui.tui.notices import notices
from pondtui.tui.session import Changed, Session
from pondtui.tui.writer import Pending
from tests.tui.ponds import FILLED, LEVELS, NOW, session_on, write_pond


class FailingStore(Store):
    """A disk that is full until somebody makes room."""

    full = True

    def append(self, entry: Entry) -> Saved:
        """Refuse while full."""
        if self.full:
            raise FileError("not saved: the disk is full")
        return super().append(entry)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_pond(tmp_path / "pond")


def desk_lines(folder: Path) -> list[str]:
    return (folder / "journal/2026-desk.txt").read_text(encoding="utf-8").splitlines()


def test_a_written_entry_is_on_the_disk_and_in_the_state(folder: Path) -> None:
    session = session_on(folder)
    done = session.write("level", {"reading": "75 mm"}, "after rain")
    assert isinstance(done, Saved)
    line = "2026-08-14 18:20:00+02:00 | level   | reading=75 mm; by=AB | after rain"
    assert desk_lines(folder)[-1] == line
    level = session.state().level
    assert level is not None
    assert level.reading_mm == 75


def test_entries_of_one_second_each_get_a_moment_of_their_own(folder: Path) -> None:
    session = session_on(folder)
    for number in range(4):
        session.write("note", {}, f"note {number}")
    moments = [entry.instant for entry in session.journal.entries if entry.note[:5] == "note "]
    assert len(moments) == len(set(moments)) == 4


def test_what_the_session_knows_is_what_a_fresh_reading_knows(folder: Path) -> None:
    session = session_on(folder)
    session.write("level", {"reading": "75 mm"})
    session.write("note", {}, "two")
    fresh = session_on(folder)
    assert [render(e) for e in session.journal.entries] == [
        render(e) for e in fresh.journal.entries
    ]
    assert session.state() == fresh.state()
    assert [e.line for e in session.journal.entries] == [e.line for e in fresh.journal.entries]
    assert not session.changed()


def test_a_failed_write_keeps_the_entry_and_counts_for_nothing(folder: Path) -> None:
    store = FailingStore(folder, "desk")
    session = session_on(folder, store=store)
    before = session.state()
    done = session.write("level", {"reading": "75 mm"})
    assert isinstance(done, Pending)
    assert done.reason == "not saved: the disk is full"
    assert session.state() == before
    assert [each.line for each in session.pending] == [done.line]
    assert ("danger", f"NOT SAVED, trying again: {done.line}") in notices(session)


def test_the_very_same_line_is_retried_until_it_is_written(folder: Path) -> None:
    store = FailingStore(folder, "desk")
    session = session_on(folder, store=store)
    first = session.write("level", {"reading": "75 mm"})
    second = session.write("note", {}, "still full")
    assert isinstance(first, Pending)
    assert isinstance(second, Pending)
    session.retry()
    assert len(session.pending) == 2
    store.full = False
    session.retry()
    assert not session.pending
    assert desk_lines(folder)[-2:] == [first.line, second.line]


def test_two_entries_of_one_second_and_kind_never_share_it(folder: Path) -> None:
    store = FailingStore(folder, "desk")
    session = session_on(folder, store=store)
    session.write("note", {}, "one")
    session.write("note", {}, "two")
    store.full = False
    session.retry()
    session.write("note", {}, "three")
    stamps = [line.partition(" |")[0] for line in desk_lines(folder)[-3:]]
    assert stamps == [f"2026-08-14 18:20:0{second}+02:00" for second in range(3)]


def test_nothing_is_written_while_older_years_are_unread(tmp_path: Path) -> None:
    old = "2025-08-11 07:40:00+02:00 | level | reading=50 mm |\n"
    folder = write_pond(tmp_path / "pond", others={"2025-desk": old})
    loaded = session_on(folder).loaded
    session = Session(folder, loaded, lambda: NOW, years="newest", inline=True)
    assert session.journal.partial
    with pytest.raises(FileError, match="older years"):
        session.write("note", {}, "too early")
    session.take(session.read())
    assert isinstance(session.write("note", {}, "now"), Saved)
    assert len(session.state().levels) == 5


def test_an_outside_change_of_the_barrel_stops_the_entry(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    session = session_on(folder)
    drawn = ("gate", session.state().barrels["gate"].revision)
    other = "2026-08-14 18:19:00+02:00 | treat | barrel=gate; batch=gate-260814; dose=12 mL |\n"
    (folder / "journal/2026-phone.txt").write_text(other, encoding="utf-8")
    fields = {"barrel": "gate", "batch": "gate-260814", "dose": "12 mL"}
    done = session.write("treat", fields, drawn_revision=drawn)
    assert isinstance(done, Changed)
    assert "treat" in done.sentence
    assert len(desk_lines(folder)) == len((LEVELS + FILLED).splitlines())
    redrawn = ("gate", session.state().barrels["gate"].revision)
    assert isinstance(session.write("treat", fields, drawn_revision=redrawn), Saved)


def test_an_outside_change_elsewhere_stops_nothing(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    session = session_on(folder)
    drawn = ("gate", session.state().barrels["gate"].revision)
    other = "2026-08-14 18:19:00+02:00 | note | | seen from the phone\n"
    (folder / "journal/2026-phone.txt").write_text(other, encoding="utf-8")
    fields = {"barrel": "gate", "batch": "gate-260814", "dose": "12 mL"}
    assert isinstance(session.write("treat", fields, drawn_revision=drawn), Saved)
    assert any(entry.note == "seen from the phone" for entry in session.journal.entries)


def test_what_another_program_writes_is_taken_in(folder: Path) -> None:
    session = session_on(folder)
    assert not session.reload_if_changed()
    hand = "2026-08-14 18:00:00+02:00 | level | reading=90 mm |\n"
    (folder / "journal/2026-hand.txt").write_text(hand, encoding="utf-8")
    assert session.reload_if_changed()
    level = session.state().level
    assert level is not None
    assert level.reading_mm == 90


def test_a_broken_description_leaves_the_last_good_one_in_place(folder: Path) -> None:
    session = session_on(folder)
    (folder / "pond.toml").write_text("format = [", encoding="utf-8")
    session.changed()  # a file that shrank is believed at the second look
    assert session.reload_if_changed()
    assert session.setup.pond.name == "Alder Yard"
    assert any("last good description" in text for _, text in notices(session))


def test_undo_takes_back_the_last_entry_of_this_device_only(tmp_path: Path) -> None:
    phone = "2026-08-14 18:10:00+02:00 | note | | from the phone\n"
    folder = write_pond(tmp_path / "pond", others={"2026-phone": phone})
    session = session_on(folder)
    last = session.last_own()
    assert last is not None
    assert last.kind == "chore"
    session.write("note", {}, "a slip")
    slip = session.last_own()
    assert slip is not None
    assert slip.note == "a slip"
    session.strike(slip)
    assert session.journal.is_struck(slip)
    again = session.last_own()
    assert again == last


def test_a_strike_that_is_struck_lets_the_entry_count_again(folder: Path) -> None:
    session = session_on(folder)
    session.write("level", {"reading": "75 mm"})
    entry = session.last_own()
    assert entry is not None
    session.strike(entry)
    assert len(session.state().levels) == 4
    for strike in session.strikes_of(entry):
        session.strike(strike)
    assert len(session.state().levels) == 5


def test_a_clock_set_back_stops_an_entry_of_a_batch(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    session = session_on(folder, now=NOW - 7200)
    with pytest.raises(InputError, match="set the clock"):
        session.write("tick", {"step": "mix", "batch": "gate-260814"})


def test_a_line_that_vanished_is_offered_and_appended_again(folder: Path) -> None:
    session = session_on(folder)
    session.write("note", {}, "precious")
    path = folder / "journal/2026-desk.txt"
    path.write_text(LEVELS, encoding="utf-8")
    session.changed()  # a file that shrank is believed at the second look
    assert session.reload_if_changed()
    session.vanished()
    gone = session.vanished()
    assert [entry.note for entry in gone] == ["precious"]
    session.write_again(gone)
    assert desk_lines(folder)[-1].endswith("| precious")


class SlowStore(Store):
    """A disk that takes its time."""

    def append(self, entry: Entry) -> Saved:
        """Write at last."""
        sleep(0.3)
        return super().append(entry)


def test_the_writers_thread_saves_in_order_and_tells_when_it_is_back(folder: Path) -> None:
    session = session_on(folder, store=SlowStore(folder, "desk"), inline=False)
    told = threading.Event()
    session.when_told(told.set)
    assert isinstance(session.write("note", {}, "one"), Pending)
    assert isinstance(session.write("note", {}, "two"), Pending)
    assert told.wait(10)
    assert len(session.settle(wait_s=10)) == 2
    assert not session.pending
    assert [line.rpartition("| ")[2] for line in desk_lines(folder)[-2:]] == ["one", "two"]


def test_a_disk_that_answers_at_once_has_the_entry_when_writing_returns(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("pondtui.tui.session.ANSWER_S", 10.0)  # a busy machine is no slow disk
    session = session_on(folder, inline=False)
    assert isinstance(session.write("note", {}, "one"), Saved)
    assert not session.pending
    assert desk_lines(folder)[-1].endswith("| one")


def test_a_slow_disk_holds_nobody_up(folder: Path) -> None:
    session = session_on(folder, store=SlowStore(folder, "desk"), inline=False)
    assert isinstance(session.write("note", {}, "one"), Pending)
    assert [outcome.reason for outcome in session.settle(wait_s=10)] == [""]


def test_closing_waits_for_a_slow_disk_and_counts_what_it_saved(folder: Path) -> None:
    session = session_on(folder, store=SlowStore(folder, "desk"), inline=False)
    session.write("note", {}, "slow")
    assert session.settle() == []
    assert [outcome.reason for outcome in session.settle(wait_s=10)] == [""]
    assert not session.pending
    assert session.last_saved is not None


def test_a_disk_that_fails_in_the_thread_is_told_with_its_reason(folder: Path) -> None:
    session = session_on(folder, store=FailingStore(folder, "desk"), inline=False)
    session.write("note", {}, "no room")
    session.settle(wait_s=10)
    assert [each.reason for each in session.pending] == ["not saved: the disk is full"]


def test_a_pond_that_cannot_be_used_is_refused_with_its_first_problem(folder: Path) -> None:
    (folder / "pond.toml").write_text("format = [", encoding="utf-8")
    with pytest.raises(FileError, match=r"pond\.toml"):
        session_on(folder)


OLDER = "2025-08-11 07:40:00+02:00 | level | reading=50 mm | of last year\n"


def test_before_older_years_are_in_nothing_is_written_and_every_guard_is_shut(
    tmp_path: Path,
) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED, others={"2025-desk": OLDER})
    session = session_on(folder, years="newest")
    before = desk_lines(folder)
    assert ("warn", "reading older years: nothing is written until they are in") in notices(session)
    with pytest.raises(FileError, match="older years"):
        session.write("level", {"reading": "75 mm"})
    assert desk_lines(folder) == before
    status = session.status()
    assert status.step is not None
    assert [v.reason for v in status.step.verdicts] == ["older years are still being read"]
    assert {row.why_not for row in status.barrels} == {"older years are still being read"}

    session.take(session.read())
    assert not any("older years" in text for _, text in notices(session))
    status = session.status()
    assert "older years" not in str((status.step, status.barrels))
    assert isinstance(session.write("level", {"reading": "75 mm"}), Saved)


def test_what_the_first_frame_leaves_out_of_a_long_file_is_older_years_too(tmp_path: Path) -> None:
    old = "".join(
        f"2026-06-{day:02d} {hour:02d}:00:00+02:00 | note | | {'heron ' * 40}\n"
        for day in range(1, 31)
        for hour in range(24)
    )
    folder = write_pond(tmp_path / "pond", desk=old + LEVELS)
    session = session_on(folder, years="newest")
    assert session.journal.partial
    assert session.state().level is not None
    whole = session_on(folder)
    last = session.journal.entries[-1]
    assert last.line == whole.journal.entries[-1].line
    session.take(session.read())
    assert not session.journal.partial
    assert session.state() == whole.state()


def test_workers_that_ask_for_the_journal_meanwhile_lose_no_entry(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slow(journal: Journal, entries: list[Entry]) -> Journal:
        merged = with_entries(journal, entries)
        sleep(0.005)
        return merged

    monkeypatch.setattr("pondtui.tui.session.with_entries", slow)
    session = session_on(folder)
    before = len(session.journal.live)
    done = threading.Event()

    def ask() -> None:
        while not done.is_set():
            _ = session.journal.live

    workers = [threading.Thread(target=ask) for _ in range(3)]
    for worker in workers:
        worker.start()
    for number in range(20):
        session.write("note", {}, f"number {number}")
    done.set()
    for worker in workers:
        worker.join()
    assert len(session.journal.live) == before + 20
