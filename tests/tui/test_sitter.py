"""The sitter's mode: the visit list, refill, level, note, emergencies, and nothing else."""

from __future__ import annotations

import random
from datetime import date
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.books.sheets import keep_record
from pondtui.pond.away.default_visits import daily_looks
from pondtui.pond.away.sheet import make_sheet
from pondtui.pond.state.entry import Entry
from pondtui.tui import keys
from pondtui.tui.app import PondApp
from pondtui.tui.ask import Ask
from pondtui.tui.emergency import EmergencyScreen
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.help import Help
from pondtui.tui.refill import RefillScreen
from pondtui.tui.run import make_app
from pondtui.tui.visits import VisitsScreen
from tests.tui.ponds import (
    COLOURS,
    NOW,
    PEOPLE,
    handled,
    press,
    screen_text,
    session_on,
    settle,
    type_into,
    until,
    write_pond,
)

DAY = 86_400
SIZES = [(80, 24), (60, 20), (40, 20)]


def with_sheet(folder: Path, *, sitter: str = "Tam", first: int = 14, last: int = 17) -> Path:
    """A pond whose keeper has made a sheet for some days of August."""
    write_pond(folder, more=PEOPLE)
    keep_sheet(folder, sitter, first, last)
    return folder


def keep_sheet(folder: Path, sitter: str, first: int, last: int, made: int = NOW - DAY) -> None:
    session = session_on(folder, now=made)
    setup, state = session.setup, session.state()
    days = date(2026, 8, first), date(2026, 8, last)
    visits = daily_looks(setup, state, *days, made)
    sheet = make_sheet(setup, state, session.journal.live, made, visits, first=days[0],
                       last=days[1], sitter=sitter)  # fmt: skip
    keep_record(folder, sheet)


def app_for(folder: Path, *, sitter: str = "Tam", now: int = NOW) -> PondApp:
    return make_app(session_on(folder, now=now, sitter=sitter), COLOURS)


def said(app: PondApp) -> str:
    return " ".join(" ".join(screen_text(app)).split())


async def press_at_once(pilot: Pilot[int], *pressed: str) -> None:
    screen = pilot.app.screen
    for key in pressed:
        if isinstance(screen, VisitsScreen):
            screen.settle_s = 0.0
        await press(pilot, key)
        screen = pilot.app.screen


def written(app: PondApp) -> list[Entry]:
    return [e for e in app.session.journal.live if e.fields.get("by") == "Tam"]


@pytest.mark.parametrize("size", SIZES)
async def test_the_visit_of_today_stands_there_with_the_numbers_of_the_sheet(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, VisitsScreen)
        text = said(app)
        assert "TODAY, about 18:00: visit 1 of 4" in text
        assert "1.1 Fish" in text
        assert "1.3 Read the gauge" in text or "1.3 gauge (mm)" in text
        assert "██" in text or "┃" in text  # large digits


async def test_a_tick_and_a_reading_become_entries_by_the_sitter(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "enter", "space", "enter")
        assert isinstance(app.screen, Ask)
        await type_into(pilot, "asked", "81")
        await press_at_once(pilot, "enter")
        told = {e.note: e for e in written(app)}
        kinds = {note: entry.kind for note, entry in told.items()}
        assert kinds == {"task 1.1": "chore", "task 1.2": "chore", "task 1.3": "level"}
        assert told["task 1.3"].get("reading") == 81
        assert all(e.instant >= NOW for e in written(app))
        assert "gauge: 81 mm" in said(app)


async def test_what_was_not_done_is_written_with_its_reason(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "x", "enter")
        assert "say why in a few words" in said(app)
        await type_into(pilot, "asked", "one lies still")
        await press_at_once(pilot, "enter")
        assert written(app)[0].note == "task 1.1 look at fish: no: one lies still"
        assert "! 1.1" in said(app)


async def test_an_answer_that_was_left_stands_there_again(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "x")
        await type_into(pilot, "asked", "one lies st")
        await press_at_once(pilot, "escape", "x")
        assert app.screen.query_one("#asked", Input).value == "one lies st"
        await type_into(pilot, "asked", "one lies still")
        await press_at_once(pilot, "enter", "down", "x")
        assert app.screen.query_one("#asked", Input).value == ""
        assert written(app)[0].note == "task 1.1 look at fish: no: one lies still"


@pytest.mark.parametrize("typed", ["12,5", "wet", "3 kg", "", "9 mm 12 mm"])
async def test_what_is_no_reading_is_refused_and_stays_to_be_mended(
    tmp_path: Path, typed: str
) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "down", "down", "enter")
        await type_into(pilot, "asked", typed)
        await press_at_once(pilot, "enter")
        assert isinstance(app.screen, Ask)
        assert "1.3" in said(app)
        assert app.screen.query_one("#asked", Input).value == typed
        assert not written(app)


async def test_a_task_is_answered_once(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "enter", "home", "enter", "x")
        assert len(written(app)) == 1
        assert isinstance(app.screen, VisitsScreen)


async def test_a_key_held_down_ticks_one_task(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for _ in range(4):
            app.post_message(events.Key("enter", None))
        await settle(pilot)
        assert len(written(app)) == 1


async def test_the_program_begun_again_stands_at_the_same_task(tmp_path: Path) -> None:
    folder = with_sheet(tmp_path / "pond")
    first = app_for(folder)
    async with first.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "enter", "enter")
        before = said(first)
    again = app_for(folder)
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "1.3 Read the gauge" in before
        assert said(again)[:430] == before[:430]  # under it a line tells what was saved


@pytest.mark.parametrize(
    ("days", "told"),
    [(-1, "NEXT: visit 1 of 4, Fri 14 Aug"), (2, "TODAY, about 18:00: visit 3 of 4"),
     (6, "No absence is planned.")],
)  # fmt: skip
async def test_the_day_decides_which_visit_is_on(tmp_path: Path, days: int, told: str) -> None:
    app = app_for(with_sheet(tmp_path / "pond"), now=NOW + days * DAY)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert told in said(app)


async def test_other_visits_can_be_looked_at(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "right")
        assert "NEXT: visit 2 of 4, Sat 15 Aug" in said(app)
        await press_at_once(pilot, "right", "right", "right", "right")
        assert "visit 4 of 4" in said(app)
        await press_at_once(pilot, "left", "left", "left", "left")
        assert "visit 1 of 4" in said(app)


async def test_a_visit_that_is_done_says_so_and_what_comes(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for _ in range(20):
            if isinstance(app.screen, Ask):
                await type_into(pilot, "asked", app.screen.query_one("#asked", Input).value or "80")
            if "DONE" in said(app):
                break
            await press_at_once(pilot, "enter")
        assert "DONE: visit 1 of 4" in said(app)
        assert "Next: visit 2, Sat 15 Aug" in said(app)


@pytest.mark.parametrize("size", SIZES)
async def test_without_an_absence_refill_level_note_and_emergency_are_offered(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_for(write_pond(tmp_path / "pond", more=PEOPLE))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        text = said(app)
        assert "No absence is planned." in text
        for word in ("r refill", "l level", "n note", "s EMERGENCY"):
            assert word in text
        for key, screen in (("r", RefillScreen), ("l", EntryForm), ("n", EntryForm),
                            ("s", EmergencyScreen), ("h", Help)):  # fmt: skip
            await press_at_once(pilot, key)
            assert isinstance(app.screen, screen), key
            await press_at_once(pilot, "escape")
            assert isinstance(app.screen, VisitsScreen)


async def test_an_absence_of_the_journal_gets_its_sheet(tmp_path: Path) -> None:
    line = (
        "2026-08-13 20:00:00+02:00 | away | from=2026-08-15; to=2026-08-18; sitter=Tam; by=MO |\n"
    )
    folder = write_pond(tmp_path / "pond", more=PEOPLE, others={"2026-hand": line})
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await until(pilot, lambda: "NEXT: visit 1 of" in said(app))
        assert len(list((folder / "sheets").glob("*.json"))) == 1


async def test_the_own_absence_goes_before_anothers(tmp_path: Path) -> None:
    folder = with_sheet(tmp_path / "pond", first=16, last=17)
    keep_sheet(folder, "Kim", 14, 15)
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "visit 1 of 2, Sun 16 Aug" in said(app)


async def test_level_and_note_bear_the_sitters_name(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "l")
        await type_into(pilot, "reading", "83")
        await press_at_once(pilot, "enter", "n")
        await type_into(pilot, "note", "heron again")
        await press_at_once(pilot, "enter")
        assert {e.kind for e in written(app)} == {"level", "note"}


async def test_a_step_of_a_refill_bears_the_sitters_name_and_none_is_passed_over(
    tmp_path: Path,
) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(40, 20)) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "r")
        assert "Outlet shut" in said(app)
        await press_at_once(pilot, "b")
        assert "PASSING OVER" not in said(app)
        await press_at_once(pilot, "enter")
        assert [e.kind for e in written(app)] == ["tick"]
        await press_at_once(pilot, "s")
        assert isinstance(app.screen, EmergencyScreen)


async def test_only_own_entries_can_be_taken_back(tmp_path: Path) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        before = len(app.session.journal.live)
        await press_at_once(pilot, "u")
        assert isinstance(app.screen, VisitsScreen)
        await press_at_once(pilot, "enter", "u", "y")
        live = app.session.journal.live
        assert len([e for e in live if e.kind != "strike"]) == before
        assert all(e.fields.get("by") == "Tam" for e in live if e.kind == "strike")


@pytest.mark.parametrize("size", SIZES)
async def test_the_emergency_page_tells_whom_to_ring_and_the_dose_for_the_whole_pond(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_for(write_pond(tmp_path / "pond", more=PEOPLE))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        await press_at_once(pilot, "s")
        text = said(app)
        assert "112" in text
        assert "Mo 555 01 23" in text
        assert "A person in the water" in text
        await press_at_once(pilot, "3")
        text = said(app)
        assert "Chlorine got in" in text
        assert "██" in text
        await press_at_once(pilot, "escape", "5")
        assert "hall cupboard" in said(app)


def test_the_dose_of_the_page_is_that_of_the_sheet(tmp_path: Path) -> None:
    from pondtui.pond.away.amounts import whole_pond
    from pondtui.views.emergency import cases

    session = session_on(write_pond(tmp_path / "pond", more=PEOPLE))
    day = date(2026, 8, 14)
    whole = whole_pond(session.setup, session.state(), day)
    assert whole is not None
    case = cases(session.setup, session.state(), day)[2]
    assert case.large == f"{whole.dose.measured:.6g} mL"
    assert whole.dose.told in " ".join(case.steps)


ALL = sorted(
    {part for key in keys.KEYS for part in key.keys.split(",")} | set("abcdefgijkmoptvwyz")
)
OPEN = {
    "VisitsScreen",
    "RefillScreen",
    "EmergencyScreen",
    "EntryForm",
    "Ask",
    "Show",
    "Confirm",
    "Help",
    "CommandPalette",
}


@pytest.mark.parametrize("room", ["", "r", "s"])
async def test_no_key_leads_out_of_the_sitters_mode(tmp_path: Path, room: str) -> None:
    """Every key of the table, in every room: what opens is one of a few, what is written is the
    sitter's."""
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        if room:
            await press_at_once(pilot, room)
        base = len(app.screen_stack)
        for key in (k for k in ALL if k not in ("q", "escape", "backspace")):
            app.post_message(events.Key(key, key if len(key) == 1 else None))
            await handled(pilot)
            assert {type(s).__name__ for s in app.screen_stack} <= OPEN, key
            while len(app.screen_stack) > base:
                app.pop_screen()
                await pilot.pause(0)
        new = [e for e in app.session.journal.live if e.instant >= NOW]
        assert new or room  # a field takes keys in Refill, nothing is written in an emergency
        assert all(e.fields.get("by") == "Tam" and e.kind != "bypass" for e in new)


@pytest.mark.painted
@pytest.mark.parametrize("seed", range(2))
async def test_random_keys_stay_in_the_sitters_mode(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    app = app_for(with_sheet(tmp_path / "pond"))
    pressed = [k for k in (*ALL, *"0123456789", "enter", "enter", "tab") if k != "q"]
    async with app.run_test(size=(60, 20)) as pilot:
        for _ in range(250):
            key = chance.choice(pressed)
            app.post_message(events.Key(key, key if len(key) == 1 else None))
            await handled(pilot)
            assert {type(s).__name__ for s in app.screen_stack} <= OPEN, key
        new = [e for e in app.session.journal.live if e.instant >= NOW]
        assert new
        assert all(e.fields.get("by") == "Tam" and e.kind != "bypass" for e in new)


@pytest.mark.parametrize("room", ["", "r", "s"])
async def test_the_palette_offers_no_more_than_the_keys(tmp_path: Path, room: str) -> None:
    app = app_for(with_sheet(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        if room:
            await press_at_once(pilot, room)
        offered = [c.title for c in app.get_system_commands(app.screen) if "key " in c.help]
        shown = [key for key in keys.KEYS if key.id in keys.SITTER]
        assert offered
        assert set(offered) <= {f"{key.label}: {key.help}" for key in shown}


def test_help_and_footer_name_only_keys_that_work() -> None:
    for room in ("visits", "refill", "emergency"):
        names = {key.id for key in keys.keys_of(room, {}, sitter=True)}
        assert names <= keys.SITTER
        assert {"help", "explain", "note"} <= names
    assert "pass_over" in {key.id for key in keys.keys_of("refill", {})}
