"""Odd clocks: set back and forward, summer time, leap day, a year's end in a batch, far offsets."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.pondfile import load
from pondtui.books.store import Saved
from pondtui.errors import InputError
from pondtui.pond.refill.case import current_case
from pondtui.pond.refill.progress import progress
from pondtui.tui.session import Session
from tests.tui.ponds import POND, write_pond


class Clock:
    """A clock that is set by hand."""

    def __init__(self, text: str) -> None:
        self.now = int(datetime.fromisoformat(text).timestamp())

    def __call__(self) -> int:
        """UTC seconds."""
        return self.now

    def on(self, **ahead: float) -> None:
        """Time passes, or the clock is set."""
        self.now += int(timedelta(**ahead).total_seconds())


def _open(folder: Path, clock: Clock, years: str = "all") -> Session:
    return Session(folder, load(folder), clock, years=years, inline=True)


def _pond(tmp_path: Path, zone: str = "Europe/Brussels") -> Path:
    folder = write_pond(tmp_path / "pond", desk="")
    (folder / "pond.toml").write_text(POND.replace("Europe/Brussels", zone), encoding="utf-8")
    return folder


def _text(folder: Path) -> str:
    files = sorted((folder / "journal").glob("*.txt"))
    return "".join(path.read_text(encoding="utf-8") for path in files)


def test_a_clock_set_back_a_little_keeps_the_order_of_a_batch(tmp_path: Path) -> None:
    clock = Clock("2026-08-14T16:20:00Z")
    session = _open(_pond(tmp_path), clock)
    batch = {"batch": "gate-260814"}
    session.write("tick", {"step": "outlet-shut", **batch})
    clock.on(minutes=-9)
    session.write("tick", {"step": "barrel-sound", **batch})
    session.write("tick", {"step": "hose-above-rim", **batch})
    steps = [entry.fields["step"] for entry in session.journal.live]
    assert steps == ["outlet-shut", "barrel-sound", "hose-above-rim"]
    fresh = _open(session.folder, clock)
    assert [entry.fields["step"] for entry in fresh.journal.live] == steps


def test_a_clock_set_back_a_day_is_said_in_a_batch_and_nothing_is_written(tmp_path: Path) -> None:
    clock = Clock("2026-08-14T16:20:00Z")
    session = _open(_pond(tmp_path), clock)
    session.write("tick", {"step": "outlet-shut", "batch": "gate-260814"})
    before = _text(session.folder)
    clock.on(days=-1)
    with pytest.raises(InputError, match="the clock stands 1440 min before the last entry"):
        session.write("tick", {"step": "barrel-sound", "batch": "gate-260814"})
    assert _text(session.folder) == before
    clock.on(days=1, minutes=1)
    assert isinstance(session.write("tick", {"step": "mix", "batch": "gate-260814"}), Saved)


def test_entries_of_a_clock_far_ahead_are_kept_and_count_when_their_time_comes(
    tmp_path: Path,
) -> None:
    clock = Clock("2027-08-14T16:20:00Z")  # a year ahead
    session = _open(_pond(tmp_path), clock)
    session.write("level", {"reading": "90 mm"})
    clock.on(days=-365)
    session.write("level", {"reading": "70 mm"})
    level = session.state().level
    assert level is not None
    assert level.reading_mm == 70
    clock.on(days=366)
    later = _open(session.folder, clock).state().level
    assert later is not None
    assert later.reading_mm == 90


@pytest.mark.parametrize(
    ("zone", "begin"),
    [
        ("Europe/Brussels", "2026-10-25T00:30:00Z"),  # 03:00 becomes 02:00
        ("Europe/Brussels", "2026-03-29T00:30:00Z"),
        ("America/New_York", "2026-11-01T05:30:00Z"),
        ("America/New_York", "2026-03-08T06:30:00Z"),
        ("Australia/Lord_Howe", "2026-04-04T14:30:00Z"),  # by half an hour
        ("Australia/Lord_Howe", "2026-10-03T15:00:00Z"),
    ],
)
def test_an_hour_that_comes_twice_or_never_moves_no_entry(
    tmp_path: Path, zone: str, begin: str
) -> None:
    clock = Clock(begin)
    start = clock.now
    session = _open(_pond(tmp_path, zone), clock)
    for number in range(12):
        session.write("level", {"reading": f"{60 + number} mm"})
        clock.on(minutes=10)
    offsets = {line[19:25] for line in _text(session.folder).splitlines()}
    assert len(offsets) == 2
    fresh = _open(session.folder, clock)
    assert [entry.instant - start for entry in fresh.journal.entries] == list(range(0, 7200, 600))
    assert [entry.fields["reading"] for entry in fresh.journal.entries] == [
        f"{60 + number} mm" for number in range(12)
    ]
    assert fresh.journal.problems == []


def test_a_leap_day_is_a_day_like_any_other(tmp_path: Path) -> None:
    clock = Clock("2028-02-28T22:30:00Z")
    session = _open(_pond(tmp_path), clock)
    for reading in ("60 mm", "61 mm", "62 mm"):
        session.write("level", {"reading": reading})
        clock.on(days=1)
    days = [line[:10] for line in _text(session.folder).splitlines()]
    assert days == ["2028-02-28", "2028-02-29", "2028-03-01"]
    assert _open(session.folder, clock).journal.problems == []


def test_a_batch_over_the_year_s_end_goes_on_in_the_new_year_s_file(tmp_path: Path) -> None:
    clock = Clock("2026-12-31T23:50:00+01:00")
    folder = _pond(tmp_path)
    session = _open(folder, clock)
    batch = {"barrel": "gate", "batch": "gate-261231"}
    for step in ("outlet-shut", "barrel-sound", "hose-above-rim"):
        session.write("tick", {"step": step, "batch": "gate-261231"})
    session.write("start", {"what": "fill", **batch})
    clock.on(minutes=15)
    session.write("fill", {**batch, "added": "130 L", "source": "tap"})
    assert [path.name for path in sorted((folder / "journal").iterdir())] == [
        "2026-desk.txt", "2027-desk.txt"
    ]  # fmt: skip
    barrel = session.setup.barrels[0]
    fresh = _open(folder, clock)
    for each in (session, fresh):
        case = current_case(each.setup, each.state(), barrel, clock.now)
        assert case.batch.label == "gate-261231"
        assert [row.step.id for row in progress(case).steps if row.status == "done"][:3] == [
            "outlet-shut", "barrel-sound", "hose-above-rim"
        ]  # fmt: skip
    newest = _open(folder, clock, "newest")
    assert newest.journal.partial  # the old year comes after the first frame
    newest.take(newest.read())
    assert newest.state() == fresh.state()


@pytest.mark.parametrize(
    ("zone", "offset"), [("Pacific/Kiritimati", "+14:00"), ("Etc/GMT+12", "-12:00")]
)
def test_the_farthest_offsets_are_written_and_read(tmp_path: Path, zone: str, offset: str) -> None:
    clock = Clock("2026-12-31T11:00:00Z")
    session = _open(_pond(tmp_path, zone), clock)
    session.write("level", {"reading": "60 mm"})
    line = _text(session.folder)
    assert line[19:25] == offset
    name = next((session.folder / "journal").iterdir()).name
    assert name[:4] == line[:4] == ("2027" if offset[0] == "+" else "2026")
    (entry,) = _open(session.folder, clock).journal.entries
    assert entry.instant == clock.now


@pytest.mark.parametrize("year", [1999, 2099])
def test_entries_of_another_century_are_written_and_read(tmp_path: Path, year: int) -> None:
    clock = Clock("2026-08-14T16:20:00Z" if year < 2026 else f"{year}-08-14T16:20:00Z")
    session = _open(_pond(tmp_path), clock)
    at = int(datetime(year, 7, 1, 12, tzinfo=UTC).timestamp())
    session.write("level", {"reading": "60 mm"}, at=at)
    assert (session.folder / f"journal/{year}-desk.txt").exists()
    (entry,) = _open(session.folder, clock).journal.live
    assert entry.instant == at
    assert datetime.fromtimestamp(at, ZoneInfo("Europe/Brussels")).isoformat(" ") == entry.stamp
