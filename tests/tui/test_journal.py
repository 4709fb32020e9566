"""The journal's screen: newest first, found as one types, struck in words too, fast when long."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import perf_counter

import pytest
from textual.content import Content
from textual.strip import Strip
from textual.widgets import Input

from pondtui.tui.dialogs import Choose, Show
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.entry_list import EntryList
from pondtui.tui.journal import JournalScreen
from tests.golden_files import Golden
from tests.tui.ponds import (
    FILLED,
    LEVELS,
    app_on,
    press,
    screen_text,
    settle,
    type_into,
    write_pond,
)

STRUCK = (
    "2026-08-12 07:50:00+02:00 | strike | of=2026-08-12 07:42:30+02:00 level; by=AB | misread\n"
)
BROKEN = "2026-08-13 09:00 level reading=75 mm\n"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)], ids=lambda s: f"{s[0]}x{s[1]}")
async def test_the_journal_looks_like_this(
    tmp_path: Path, golden: Golden, size: tuple[int, int]
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + STRUCK + BROKEN))
    async with app.run_test(size=size) as pilot:
        await press(pilot, "j")
        golden(f"journal-{size[0]}x{size[1]}", screen_text(app))


async def test_a_line_that_is_cut_says_so_beside_the_bar_too(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "j")
        text = screen_text(app)
        assert app.screen.query_one(EntryList).show_vertical_scrollbar
        assert any("added 130…" in line for line in text)


async def test_words_are_found_as_they_are_typed(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j", "slash")
        await type_into(pilot, "words", "HERON dawn")
        text = screen_text(app)
        assert "1 of 6 entries" in text[1]
        assert "heron at dawn" in text[3]
        await press(pilot, "escape", "escape")
        assert not isinstance(app.screen, JournalScreen)


async def test_one_kind_is_chosen_from_those_that_are_there(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j", "k")
        assert isinstance(app.screen, Choose)
        await press(pilot, "down", "enter")
        assert "1 of 6 entries, kind note" in screen_text(app)[1]


async def test_enter_shows_the_entry_whole_with_its_place(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + STRUCK))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j")
        app.screen.query_one(EntryList).cursor = 5
        await press(pilot, "enter")
        text = "\n".join(screen_text(app))
        assert isinstance(app.screen, Show)
        assert "journal/2026-desk.txt:2" in text
        assert "a reading of the pond's gauge" in text
        assert "STRUCK" in text
        assert "misread" in text


async def test_problems_are_listed_with_file_line_and_caret(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + BROKEN))
    async with app.run_test(size=(100, 24)) as pilot:
        await press(pilot, "j", "p")
        text = screen_text(app)
        place = next(n for n, line in enumerate(text) if "journal/2026-desk.txt:7" in line)
        assert "put a | between the parts" in text[place]
        assert BROKEN.strip() in text[place + 1]
        assert text[place + 2].strip() == "^"


async def test_an_entry_is_struck_with_a_reason_and_let_count_again(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j", "down", "x")
        assert isinstance(app.screen, EntryForm)
        await type_into(pilot, "note", "wrong day")
        await press(pilot, "enter")
        path = app.session.folder / "journal/2026-desk.txt"
        assert path.read_text("utf-8").splitlines()[-1].endswith("level; by=AB | wrong day")
        assert any("STRUCK 80 mm" in line for line in screen_text(app))
        app.screen.query_one(EntryList).cursor = 2
        await press(pilot, "x", "y")
        assert not any("STRUCK 80 mm" in line for line in screen_text(app))


async def test_a_corrected_entry_keeps_its_time_and_the_old_line_is_struck(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j", "down", "c")
        assert isinstance(app.screen, EntryForm)
        assert app.screen.query_one("#reading", Input).value == "80 mm"
        await type_into(pilot, "reading", "78 mm")
        await press(pilot, "enter")
    again, strike = (
        (app.session.folder / "journal/2026-desk.txt").read_text("utf-8").splitlines()[-2:]
    )
    fields = "reading=78 mm; pump=on; temp=22 degC; by=AB"
    assert again == f"2026-08-14 07:43:11+02:00 | level   | {fields} | calm"
    assert "of=2026-08-14 07:43:10+02:00 level" in strike
    level = app.session.state().level
    assert level is not None
    assert level.reading_mm == 78


@pytest.mark.painted
async def test_a_key_paints_the_two_lines_that_change_and_all_where_they_move(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted: list[int] = []
    render_line = EntryList.render_line

    def seen(listed: EntryList, y: int) -> Strip:
        painted.append(y)
        return render_line(listed, y)

    monkeypatch.setattr(EntryList, "render_line", seen)
    app = app_on(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    async with app.run_test(size=(60, 12)) as pilot:
        await press(pilot, "j")
        listed = app.screen.query_one(EntryList)
        region, rows = listed.region.reset_offset, listed.size.height
        keys = ["down", "down", "up", "end", "up", "home", "down", "pagedown", "up", "pageup"]
        for key in keys:
            top = listed.scroll_offset.y
            painted.clear()
            await press(pilot, key)
            few = 2 if listed.scroll_offset.y == top else rows
            assert len(painted) <= few, key
            shown = listed.render_lines(region)
            listed.refresh()
            await settle(pilot)
            assert listed.render_lines(region) == shown


async def test_tens_of_thousands_of_entries_paint_only_what_is_in_sight(tmp_path: Path) -> None:
    first = datetime(2026, 8, 14, 16, tzinfo=UTC) - timedelta(hours=2 * 73_000)
    many = "".join(
        f"{first + timedelta(hours=2 * n)} | note | | entry {n}\n" for n in range(73_000)
    )
    app = app_on(write_pond(tmp_path / "pond", desk=many))
    painted: list[int] = []
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "j")
        screen = app.screen
        assert isinstance(screen, JournalScreen)
        listed = screen.query_one(EntryList)

        def paint(place: int, width: int) -> Content:
            painted.append(place)
            return screen._line(place, width)

        listed.fill(73_000, paint)
        started = perf_counter()
        await press(pilot, "end")
        assert perf_counter() - started < 5
        assert listed.cursor == 72_999
        assert "entry 0" in screen_text(app)[-3]
        assert 0 < len(set(painted)) < 100
