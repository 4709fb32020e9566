"""Chores, tests, alarms, the one line and the days after an absence, on the screen."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input

from pondtui.tui.alarms import AlarmsScreen
from pondtui.tui.app import PondApp
from pondtui.tui.back import Back
from pondtui.tui.chores import ChoresScreen
from pondtui.tui.dialogs import Show
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.quick_line import QuickLine
from pondtui.tui.run import make_app
from pondtui.tui.today import TodayScreen
from pondtui.tui.water_tests import TestsScreen
from tests.cli.calls import POND, write_pond
from tests.tui.ponds import COLOURS, NOW, press, screen_text, session_on, settle, type_into, until

CARE = """
[[chore]]
name = "look at fish"
every = "1 d"
[[chore]]
name = "skim"
every = "2 d"
[[supply]]
name = "food"
reorder_at = "100 g"
place = "tin"
"""
DESK = """\
2026-08-12 08:00:00+02:00 | chore | name=look at fish |
2026-08-14 07:00:00+02:00 | level | reading=60 mm; temp=20 degC |
2026-08-14 07:10:00+02:00 | test | where=pond; nitrite=0.5 mg/L as NO2; ph=7.5 |
2026-08-14 07:20:00+02:00 | supply | item=food; left=90 g |
"""


def app_on(tmp_path: Path, desk: str = DESK, now: int = NOW) -> PondApp:
    folder = write_pond(tmp_path / "pond", POND + CARE, desk=desk)
    return make_app(session_on(folder, now=now), COLOURS)


def desk(app: PondApp) -> list[str]:
    return (app.session.folder / "journal" / "2026-desk.txt").read_text().splitlines()


def shows(app: PondApp, words: str) -> bool:
    return any(words in line for line in screen_text(app))


async def test_a_digit_ticks_its_chore_once_and_keeps_its_number(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert shows(app, "1 look at fish (1 day late)  2 skim")
        await press(pilot, "1")
        assert "chore   | name=look at fish; by=AB |" in desk(app)[-1]
        assert shows(app, "1 look at fish (done)  2 skim")
        number = len(desk(app))
        await press(pilot, "1", "7")
        assert len(desk(app)) == number


async def test_a_chore_is_skipped_only_with_its_reason(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "c")
        assert isinstance(app.screen, ChoresScreen)
        assert shows(app, "LATE")
        assert shows(app, "food: LOW: 90 g left")
        await press(pilot, "x", "enter")
        assert isinstance(app.screen, EntryForm)
        assert shows(app, "say why")
        await type_into(pilot, "note", "too cold")
        await press(pilot, "enter")
        assert isinstance(app.screen, ChoresScreen)
        assert "name=look at fish; skipped=yes; by=AB | too cold" in desk(app)[-1]


async def test_a_chore_is_ticked_for_another_time_and_its_history_shown(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "c", "o")
        await type_into(pilot, "when", "07:42")
        await press(pilot, "enter")
        assert desk(app)[-1].startswith("2026-08-14 07:42:00+02:00 | chore   | name=look at fish")
        await press(pilot, "u", "y")
        assert "strike" in desk(app)[-1]
        await press(pilot, "enter")
        assert isinstance(app.screen, Show)
        assert shows(app, "2026-08-12 08:00 done")


async def test_the_tests_screen_judges_and_says_what_to_do(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "s")
        assert isinstance(app.screen, TestsScreen)
        assert shows(app, "WATCH     nitrite 0.5 mg/L as NO2")
        await press(pilot, "enter")
        assert isinstance(app.screen, Show)
        assert shows(app, "SRAC 462")
        assert shows(app, "measure it again tomorrow")


async def test_a_test_is_written_from_the_tests_screen_in_the_kits_terms(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "s", "t")
        await type_into(pilot, "where", "pond")
        await type_into(pilot, "ammonia", "0.5")
        await press(pilot, "enter")
        assert shows(app, "of what? say it as N, NH3 or NH4")
        await type_into(pilot, "ammonia", "0.5 mg/L as N")
        await press(pilot, "enter")
        assert "where=pond; ammonia=0.5 mg/L as N; by=AB" in desk(app)[-1]


async def test_an_alarm_is_put_off_with_a_reason_until_a_day(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "p")
        assert isinstance(app.screen, AlarmsScreen)
        assert shows(app, "nitrite stands in watch")
        await press(pilot, "o", "enter")
        assert shows(app, "say why")
        assert app.screen.query_one("#until", Input).value == "2026-08-17"
        await type_into(pilot, "note", "kit is ordered")
        await press(pilot, "enter")
        assert "| putoff  | alarm=reading-nitrite; until=2026-08-17; by=AB |" in desk(app)[-1]
        assert not shows(app, "nitrite stands in watch")


async def test_one_line_is_previewed_completed_and_written(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "e")
        await type_into(pilot, "line", "level 62 on")
        assert isinstance(app.screen, QuickLine)
        assert shows(app, "will be written: 2026-08-14 18:20:00+02:00 | level   | reading=62 mm;")
        await press(pilot, "enter")
        assert isinstance(app.screen, TodayScreen)
        assert desk(app)[-1].endswith("| level   | reading=62 mm; pump=on; by=AB |")
        await press(pilot, "j", "e", *"chore lo")
        await until(pilot, lambda: app.screen.query_one("#line", Input)._suggestion != "")
        await press(pilot, "right", "enter")
        assert desk(app)[-1].endswith("| chore   | name=look at fish; by=AB |")


async def test_one_line_that_means_nothing_is_told_and_kept(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        before = desk(app)
        await press(pilot, "e")
        await type_into(pilot, "line", "dip yard 900")
        await press(pilot, "enter")
        assert shows(app, "more than yard holds to its brim")
        await press(pilot, "escape", "e")
        assert app.screen.query_one("#line", Input).value == "dip yard 900"
        assert desk(app) == before


async def test_after_weeks_one_screen_asks_and_missed_chores_are_a_line_each(
    tmp_path: Path,
) -> None:
    app = app_on(tmp_path, now=NOW + 19 * 86_400)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Back)
        assert shows(app, "nothing was written for 19 days")
        assert sum("look at fish: last done" in line for line in screen_text(app)) == 1
        assert shows(app, "look at fish: last done 21 days ago")
        await type_into(pilot, "level", "95")
        await type_into(pilot, "barrel-0", "900")
        await press(pilot, "enter")
        assert shows(app, "more than yard holds to its brim")
        assert "level   | reading=95" not in desk(app)[-1]
        await type_into(pilot, "barrel-0", "20")
        await type_into(pilot, "bottle-0", "300")
        await press(pilot, "enter")
        assert isinstance(app.screen, TodayScreen)
        assert [line.split(" | ", 1)[1] for line in desk(app)[-3:]] == [
            "level   | reading=95 mm; by=AB |",
            "dip     | barrel=yard; left=20 L; by=AB |",
            "supply  | item=conditioner; left=300 mL; by=AB |",
        ]


async def test_a_week_is_no_absence(tmp_path: Path) -> None:
    app = app_on(tmp_path, now=NOW + 6 * 86_400)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, TodayScreen)


async def test_automation_stands_among_the_worksheets(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=(80, 60)) as pilot:
        await press(pilot, "w")
        await press(pilot, "enter")
        assert isinstance(app.screen, Show)
        assert shows(app, "cross-connection")
        assert shows(app, "the flow must stop")
