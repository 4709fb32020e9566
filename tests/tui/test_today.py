"""Today fits, tells what is wrong first, and its keys do what the footer says."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input, OptionList

from pondtui.tui.app import PondApp
from pondtui.tui.chores import ChoresScreen
from pondtui.tui.dialogs import Confirm, Show
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.journal import JournalScreen
from pondtui.tui.run import make_app
from pondtui.tui.today import TodayScreen
from tests.golden_files import Golden
from tests.tui.ponds import (
    COLOURS,
    FILLED,
    LEVELS,
    NOW,
    app_on,
    press,
    screen_text,
    session_on,
    settle,
    type_into,
    write_pond,
)

RAW = """\
2026-08-14 18:05:00+02:00 | start   | what=release; barrel=gate; batch=gate-260814; by=AB |
2026-08-14 18:15:00+02:00 | release | barrel=gate; batch=gate-260814; out=60 L; by=AB | forgot
"""
TEXTS = {"calm": LEVELS, "filled": LEVELS + FILLED, "alarm": LEVELS + FILLED + RAW, "empty": ""}


def desk(app: PondApp) -> list[str]:
    """The lines of this device's file."""
    return (app.session.folder / "journal/2026-desk.txt").read_text("utf-8").splitlines()


PICTURES = [(name, size) for size in ((80, 24), (60, 20)) for name in TEXTS]


@pytest.mark.parametrize(("name", "size"), [*PICTURES, ("filled", (120, 40))])
async def test_today_looks_like_this(
    tmp_path: Path, golden: Golden, name: str, size: tuple[int, int]
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=TEXTS[name]))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        golden(f"today-{name}-{size[0]}x{size[1]}", screen_text(app))


async def test_untreated_water_in_the_pond_stands_on_top_in_words(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED + RAW))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert screen_text(app)[1].startswith(" ALARM")
        gate = next(line for line in screen_text(app) if line.startswith(" Gate"))
        assert "DO NOT RELEASE" in gate


@pytest.mark.parametrize("size", [(59, 20), (60, 19), (20, 5)])
async def test_a_small_terminal_is_left_the_step_and_its_amount(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        text = " ".join(" ".join(screen_text(app)).split())
        assert "gate: Treat" in text
        if size != (20, 5):
            assert "dose 12 mL" in text  # 8 mL per 100 L for 150 L (constructed)


@pytest.mark.parametrize("size", [(59, 20), (60, 19), (40, 10)])
async def test_a_small_terminal_keeps_what_is_to_be_watched(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS.replace("=80 mm", "=130 mm")))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert any("Watch the level read 130 mm" in line for line in screen_text(app))


@pytest.mark.parametrize("size", [(19, 5), (20, 4), (3, 1), (1, 1)])
async def test_a_tiny_terminal_is_left_one_line_and_nothing_breaks(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert screen_text(app)[0].startswith("dose 12 mL gate:"[: size[0]])
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert app.screen.query_one("#rows").size.height > 3


async def test_a_level_is_written_with_three_keys(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l")
        await type_into(pilot, "reading", "75")
        form = app.screen
        assert isinstance(form, EntryForm)
        preview = "will be written: 2026-08-14 18:20:00+02:00 | level   | reading=75 mm; by=AB |"
        assert any(preview in line for line in screen_text(app))
        assert any("5 mm higher than 11 h ago" in line for line in screen_text(app))
        await press(pilot, "enter")
        assert isinstance(app.screen, TodayScreen)
        assert desk(app)[-1].startswith("2026-08-14 18:20:00+02:00 | level   | reading=75 mm")
        assert any(line.startswith(" Level     75 mm") for line in screen_text(app))


async def test_a_reading_far_from_the_last_one_is_asked_about_before_it_is_written(
    tmp_path: Path,
) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l")
        await type_into(pilot, "reading", "750 mm")
        assert any("typed right?" in line for line in screen_text(app))


async def test_a_mistake_is_told_beside_its_field_and_nothing_is_written(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        before = desk(app)
        await press(pilot, "l")
        await type_into(pilot, "reading", "6,2 cm")
        await type_into(pilot, "temp", "18")
        await press(pilot, "enter")
        lines = screen_text(app)
        place = next(n for n, line in enumerate(lines) if "6,2 cm" in line)
        assert "use a point: 6.2 cm" in lines[place + 1]
        assert isinstance(app.screen, EntryForm)
        assert app.screen.focused is app.screen.query_one("#reading")
        assert desk(app) == before


async def test_leaving_a_form_keeps_what_was_typed(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "n")
        await type_into(pilot, "note", "a frog on the [/shelf]")
        await press(pilot, "escape")
        assert isinstance(app.screen, TodayScreen)
        await press(pilot, "n")
        assert app.screen.query_one("#note", Input).value == "a frog on the [/shelf]"
        await press(pilot, "enter")
        assert desk(app)[-1].endswith("| a frog on the [/shelf]")
        await press(pilot, "n")
        assert app.screen.query_one("#note", Input).value == ""


async def test_a_late_reading_is_written_at_its_own_time(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l")
        await type_into(pilot, "reading", "79")
        await type_into(pilot, "when", "23:10")
        assert any("still to come" in line for line in screen_text(app))
        await type_into(pilot, "when", "yesterday 23:10")
        await press(pilot, "enter")
    assert desk(app)[-1].startswith("2026-08-13 23:10:00+02:00 | level   | reading=79 mm")


async def test_q_leaves_an_empty_field_and_is_a_letter_in_a_note(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "q")
        assert isinstance(app.screen, TodayScreen)
        await press(pilot, "n", "q")
        assert isinstance(app.screen, EntryForm)
        assert app.screen.query_one("#note", Input).value == "q"


async def test_no_colour_on_the_kit_is_written_as_below_its_first_step(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "t")
        await type_into(pilot, "where", "g")
        await type_into(pilot, "chlorine_total", "0")
        await type_into(pilot, "more", "ph=7.6; ammonia=0.1 mg/L as N")
        await press(pilot, "enter")
    fields = "where=gate; chlorine_total=<0.02 mg/L; ph=7.6; ammonia=0.1 mg/L as N; by=AB"
    assert desk(app)[-1] == f"2026-08-14 18:20:00+02:00 | test    | {fields} |"


async def test_undo_asks_and_only_yes_takes_back(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        before = desk(app)
        for key in ("enter", "n"):
            await press(pilot, "u")
            assert isinstance(app.screen, Confirm)
            await press(pilot, key)
            if key == "enter":
                await press(pilot, "escape")
            assert isinstance(app.screen, TodayScreen)
            assert desk(app) == before
        await press(pilot, "u", "y")
        assert "strike" in desk(app)[-1]
        assert "of=2026-08-14 07:44:30+02:00 chore" in desk(app)[-1]


async def test_a_question_mark_explains_the_chosen_line(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        rows = app.screen.query_one(OptionList)
        rows.highlighted = rows.get_option_index("level")
        await press(pilot, "question_mark")
        assert isinstance(app.screen, Show)
        text = "\n".join(screen_text(app))
        assert "journal/2026-desk.txt:5" in text
        assert "Formula" in text
        await press(pilot, "q")
        assert isinstance(app.screen, TodayScreen)


async def test_enter_on_the_due_chores_opens_them_and_space_ticks_one_off(tmp_path: Path) -> None:
    app = make_app(session_on(write_pond(tmp_path / "pond"), now=NOW + 86_400), COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        rows = app.screen.query_one(OptionList)
        rows.highlighted = rows.get_option_index("due")
        await press(pilot, "enter")
        assert isinstance(app.screen, ChoresScreen)
        await press(pilot, "space", "q")
        assert "chore   | name=look at fish; by=AB |" in desk(app)[-1]
        assert any("Due       all done for today: 1" in line for line in screen_text(app))


async def test_help_shows_the_keys_of_the_table(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 60)) as pilot:
        await press(pilot, "h")
        text = "\n".join(screen_text(app))
        assert "write down what the gauge reads" in text
        assert "all entries, newest first" in text


async def test_keys_open_rooms_and_come_back(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j")
        assert isinstance(app.screen, JournalScreen)
        await press(pilot, "q")
        assert isinstance(app.screen, TodayScreen)
        await press(pilot, "q")
    assert app.return_value == 0


async def test_a_click_on_the_footer_does_what_its_key_does(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        line = next(n for n, text in enumerate(screen_text(app)) if "j journal" in text)
        await pilot.click(offset=(screen_text(app)[line].index("j journal") + 3, line))
        await settle(pilot)
        assert isinstance(app.screen, JournalScreen)
