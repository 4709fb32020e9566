"""Season and outlook on Today: worked out beside the screen after the first frame, then at rest."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from pondtui.pond.state.live import Live
from pondtui.tui.run import make_app
from pondtui.tui.worked import Worked
from tests.tui.ponds import (
    COLOURS,
    LEVELS,
    press,
    screen_text,
    session_on,
    settle,
    until,
    write_pond,
)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_it_comes_after_the_first_frame_from_a_worker(
    tmp_path: Path, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    session = session_on(write_pond(tmp_path / "pond"), inline=False)
    may_go, threads = threading.Event(), []
    work = session.outlook.work

    def slow() -> Callable[[], None]:
        inner = work()

        def later() -> None:
            threads.append(threading.current_thread())
            may_go.wait(10)
            inner()

        return later

    monkeypatch.setattr(session.outlook, "work", slow)
    app = make_app(session, COLOURS)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        before = " ".join(" ".join(screen_text(app)).split())
        may_go.set()
        await until(pilot, lambda: any("Ahead" in line for line in screen_text(app)))
        after = " ".join(" ".join(screen_text(app)).split())
    assert "Level" in before
    assert "Ahead" not in before
    assert "Ahead sedge shelf about" in after
    assert "days of readings" in after
    assert threads
    assert threading.main_thread() not in threads


async def test_once_it_is_there_nothing_is_worked_out_again_and_nothing_moves(
    tmp_path: Path,
) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    session.outlook.work()()
    app = make_app(session, COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        first = screen_text(app)
        assert not session.outlook.stale
        app.state_changed()
        await settle(pilot)
        assert screen_text(app) == first


async def test_with_too_few_readings_it_says_how_many_more(tmp_path: Path) -> None:
    line = LEVELS.splitlines()[-2] + "\n"
    session = session_on(write_pond(tmp_path / "pond", desk=line))
    session.outlook.work()()
    app = make_app(session, COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = " ".join(" ".join(screen_text(app)).split())
        assert "readings more, one a day" in text or "reading more, one a day" in text
        assert "Ahead" not in text


async def test_what_is_being_worked_out_is_not_begun_again_and_new_facts_wait_their_turn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = session_on(write_pond(tmp_path / "pond"), inline=False)
    may_go, at_once, most, begun = threading.Event(), 0, 0, 0
    work = session.outlook.work

    def slow() -> Callable[[], None]:
        nonlocal begun
        inner, begun = work(), begun + 1

        def later() -> None:
            nonlocal at_once, most
            at_once += 1
            most = max(most, at_once)
            may_go.wait(10)
            inner()
            at_once -= 1

        return later

    monkeypatch.setattr(session.outlook, "work", slow)
    app = make_app(session, COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: at_once == 1)
        for _ in range(3):
            await press(pilot, "question_mark")  # what is shown again is asked for again
            await press(pilot, "escape")
        assert begun == 1
        session.write("level", {"reading": "83 mm"})
        await until(pilot, lambda: bool(session.settle()) or not session.pending)
        app.state_changed()
        await until(pilot, lambda: begun == 2)
        may_go.set()
        await until(pilot, lambda: session.outlook.latest is not None and not session.outlook.stale)
    assert most == 1
    assert begun == 2


async def test_the_outlook_is_told_though_the_season_grew_old_before_its_turn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = session_on(write_pond(tmp_path / "pond"), inline=False)
    start = session.now()
    monkeypatch.setattr(session, "now", lambda: start)
    app = make_app(session, COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        with session.at_work:  # somebody else's turn: both are begun and wait
            await until(pilot, lambda: session.season.begun and session.outlook.begun)
            begun = session.season
            monkeypatch.setattr(session, "now", lambda: start - start % 600 + 600)
            assert session.outlook.begun  # the same hour
            assert not begun.begun
            app.state_changed()
            await until(pilot, lambda: begun.begun)
        await until(pilot, lambda: not (session.season.stale or session.outlook.stale))
        await until(pilot, lambda: any("Ahead" in line for line in screen_text(app)))


@pytest.mark.parametrize("name", ["season", "outlook"])
def test_after_a_new_fact_the_answer_is_that_of_a_fresh_start(tmp_path: Path, name: str) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    book: Worked[object] = getattr(session, name)
    before = book.work_out()
    session.write("level", {"reading": "83 mm"})
    assert book.stale
    after = book.work_out()
    assert not book.stale
    assert _told(after) != _told(before)
    assert _told(after) == _told(getattr(session_on(tmp_path / "pond"), name).work_out())


def _told(found: object) -> str:
    """All that an answer says, without where it lies in memory."""
    return re.sub(r" at 0x\w+", "", repr(found))


@pytest.mark.parametrize("newer", ["before", "meanwhile", "after"])
def test_work_of_older_facts_changes_nothing(tmp_path: Path, newer: str) -> None:
    session = session_on(write_pond(tmp_path / "pond"))
    asked: list[int] = []
    meanwhile: list[Callable[[], None]] = []

    def answer(_setup: object, _state: object, live: Live, _weather: object) -> int:
        asked.append(len(live))
        while meanwhile:
            meanwhile.pop()()
        return len(live)

    book = Worked(session, 600, answer)
    older, entries = book.work(), len(session.journal.live)

    def new_fact() -> None:
        session.write("level", {"reading": "83 mm"})
        assert book.stale
        assert not book.begun
        book.work()()

    if newer == "before":
        new_fact()
    if newer == "meanwhile":
        meanwhile.append(new_fact)
    older()
    if newer == "after":
        assert book.latest == entries
        new_fact()
    assert book.latest == entries + 1
    assert not book.stale
    assert asked == ([entries + 1] if newer == "before" else [entries, entries + 1])
