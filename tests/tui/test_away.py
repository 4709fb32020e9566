"""Away on the screen: dates in, plan out, sheet to look at and to print, report back."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events
from textual.widgets import Input

from pondtui.errors import InputError
from pondtui.tui.ask import Ask
from pondtui.tui.away import AwayScreen, dates_of
from pondtui.tui.bars import Laid
from pondtui.tui.dialogs import Confirm, Show
from tests.tui.ponds import app_on, press, screen_text, settle, type_into, write_pond
from tests.tui.test_water import pond, text_of

DAYS = "2026-08-20 2026-09-05 Tam"


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (160, 50)])
async def test_dates_in_and_a_plan_out(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=size) as pilot:
        await press(pilot, "a")
        assert isinstance(app.screen, AwayScreen)
        assert "The level with no help" in text_of(app)
        await press(pilot, "d")
        await type_into(pilot, "asked", DAYS)
        await press(pilot, "enter")
        assert "Away from 2026-08-20 to 2026-09-05, 17 days" in text_of(app)
        assert "with no help" in text_of(app)


async def test_dates_the_wrong_way_round_stay_to_be_mended(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "a", "d")
        await type_into(pilot, "asked", "2026-09-05 2026-08-20")
        await press(pilot, "enter")
        assert isinstance(app.screen, Ask)
        assert "ends (2026-08-20) before it begins" in text_of(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, AwayScreen)


async def test_while_it_is_worked_out_nothing_is_said_of_other_days(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(120, 60), notifications=True) as pilot:
        await press(pilot, "a")
        screen = app.screen
        assert isinstance(screen, AwayScreen)
        screen._answer = None  # as while the thread works
        screen.show()
        await press(pilot, "s")
        assert "still being worked out" in text_of(app)
        assert "d first" not in text_of(app)
        assert "mm on the gauge with no help" not in text_of(app)


async def test_the_fan_stands_under_the_plan(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(120, 60)) as pilot:
        await press(pilot, "a")
        assert "mm on the gauge with no help, in hot weather" in text_of(app)
        assert "░" in text_of(app)
        assert "about " in text_of(app)


async def test_the_sheet_is_shown_printed_and_its_report_comes_back(tmp_path: Path) -> None:
    folder = pond(tmp_path / "pond")
    app = app_on(folder)
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "a", "d")
        await type_into(pilot, "asked", DAYS)
        await press(pilot, "enter", "s")
        assert isinstance(app.screen, Show)
        assert "CARE SHEET" in text_of(app)
        await press(pilot, "escape", "p")
        assert len(list((folder / "sheets").glob("*.txt"))) == 1
        assert len(list((folder / "sheets").glob("*.html"))) == 1
        await press(pilot, "r")
        await type_into(pilot, "asked", "1.1 ok")
        await press(pilot, "enter")
        assert isinstance(app.screen, Confirm)
        await press(pilot, "y")
        assert isinstance(app.screen, AwayScreen)
        assert app.session.journal.live[-1].get("by") == "Tam"
        await press(pilot, "r")
        await type_into(pilot, "asked", "1.1 ok")
        await press(pilot, "enter")
        assert "nothing new in it" in text_of(app)


async def test_the_sheet_is_laid_out_for_the_screen_and_printed_for_paper(tmp_path: Path) -> None:
    folder = pond(tmp_path / "pond")
    app = app_on(folder)
    async with app.run_test(size=(40, 20)) as pilot:
        await press(pilot, "a", "d")
        await type_into(pilot, "asked", DAYS)
        await press(pilot, "enter", "s")
        for columns in (40, 60, 80, 120):  # a window may change its size meanwhile
            await pilot.resize_terminal(columns, 20)
            await settle(pilot)
            lines = app.screen.query_one(Laid).said.plain.split("\n")
            assert max(map(len, lines)) == min(columns - 3, 76)  # margins and scroll bar
            shown = [line for line in lines[:12] if line]
            seen = [line.strip() for line in screen_text(app)]
            assert all(line.strip() in seen for line in shown)
        await press(pilot, "escape", "p")
    (written,) = (folder / "sheets").glob("*.txt")
    assert written.read_text("utf-8").splitlines() == lines


async def test_a_pasted_report_keeps_all_its_lines(tmp_path: Path) -> None:

    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "a", "d")
        await type_into(pilot, "asked", DAYS)
        await press(pilot, "enter", "p", "r")
        field = app.screen.query_one("#asked", Input)
        field.post_message(events.Paste("1.1 ok\n1.2 70 mm\n"))
        await settle(pilot)
        assert field.value == "(2 lines pasted)"
        await press(pilot, "enter")
        assert isinstance(app.screen, Confirm)
        assert "70 mm" in text_of(app)


async def test_without_any_reading_it_says_what_is_needed(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=""))
    async with app.run_test(size=(100, 30)) as pilot:
        await press(pilot, "a")
        assert "the gauge was never read" in text_of(app)


@pytest.mark.parametrize(
    "typed", ["", "tomorrow", "2026-02-30 2026-03-02", "2026-08-20 2026-09-05 a;b"]
)
def test_what_is_no_absence_is_refused(typed: str) -> None:
    with pytest.raises(InputError):
        dates_of(typed)


@pytest.mark.parametrize(
    ("text", "told"),
    [("1.1 ok\n1.1 ok\n", "Write 1 into"), ("1.1 ok\n1.1 no: gone\n", "nothing new in it"),
     ("9.9 ok\n", "nothing new in it"), ("hello there\n", "nothing new in it")],
)  # fmt: skip
async def test_a_report_pasted_twice_or_edited_by_hand_is_taken_once_or_told(
    tmp_path: Path, text: str, told: str
) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "a", "d")
        await type_into(pilot, "asked", DAYS)
        await press(pilot, "enter", "p", "r")
        field = app.screen.query_one("#asked", Input)
        field.post_message(events.Paste(text * 2))
        await settle(pilot)
        await press(pilot, "enter")
        assert told in text_of(app)


async def test_a_pasted_report_that_was_left_is_there_again_whole(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "a", "r")
        report = "1.1 ok\n1.2 70 mm\n1.3 no: gate shut"
        app.screen.query_one("#asked", Input).post_message(events.Paste(report))
        await pilot.pause()
        await press(pilot, "escape", "r")
        assert "(3 lines pasted)" in text_of(app)
        kept = [each["line"] for each in app.typed.values()]
        assert kept == [report]  # the text itself, not the sign that stands for it
