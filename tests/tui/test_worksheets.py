"""Worksheets are found by typing, compute while one types, explain themselves and are copied."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input, OptionList

from pondtui.tui.dialogs import Show
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.worksheet import WorksheetScreen
from pondtui.tui.worksheets import WorksheetsScreen
from pondtui.worksheets.registry import find, sheets
from tests.tui.ponds import app_on, press, screen_text, settle, type_into, write_pond


async def test_a_worksheet_is_found_computed_explained_and_copied(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "w")
        await type_into(pilot, "words", "weighs")
        screen = app.screen
        assert isinstance(screen, WorksheetsScreen)
        screen.query_one(OptionList).focus()
        await press(pilot, "enter")
        assert isinstance(app.screen, WorksheetScreen)
        await type_into(pilot, "in-volume", "150 L")
        assert any("mass_kg  150 kg" in line for line in screen_text(app))
        await press(pilot, "question_mark")
        assert isinstance(app.screen, Show)
        assert "Source" in "\n".join(screen_text(app))
        await press(pilot, "q", "tab", "c")
        assert isinstance(app.screen, EntryForm)
        await press(pilot, "enter")
    line = (app.session.folder / "journal/2026-desk.txt").read_text("utf-8").splitlines()[-1]
    assert line.endswith("| water-weight: mass_kg = 150 kg from volume=150 L")


async def test_a_mistake_stands_under_its_field_and_what_is_missing_is_named(
    tmp_path: Path,
) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "w")
        await type_into(pilot, "words", "fill-time")
        app.screen.query_one(OptionList).focus()
        await press(pilot, "enter")
        await type_into(pilot, "in-volume", "150 kg")
        lines = screen_text(app)
        place = next(n for n, line in enumerate(lines) if "150 kg" in line)
        assert "volume: a volume such as 150 L, not 150 kg" in lines[place + 1]
        await type_into(pilot, "in-volume", "150 L")
        assert any("still needs flow" in line for line in screen_text(app))


async def test_what_was_typed_is_still_there_on_the_next_visit(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        for visit in range(2):
            await press(pilot, "w")
            await type_into(pilot, "words", "fill-time")
            app.screen.query_one(OptionList).focus()
            await press(pilot, "enter")
            field = app.screen.query_one("#in-volume", Input)
            assert field.value == ("" if visit == 0 else "150 L")
            field.value = "150 L"
            await settle(pilot)
            await press(pilot, "escape", "escape", "escape")


async def test_the_largest_worksheets_open_on_a_small_screen_and_compute_their_examples(
    tmp_path: Path,
) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(60, 20)) as pilot:
        for sheet in sorted(sheets(), key=lambda s: -len(s.inputs))[:4]:
            app.typed[f"worksheet {sheet.name}"] = dict(sheet.example)
            app.push_screen(WorksheetScreen(sheet))
            await pilot.pause()
            fields = app.screen.query(Input)
            assert [f.id for f in fields] == [f"in-{field.name}" for field in sheet.inputs]
            if not any(field.kind == "file" for field in sheet.inputs):
                assert app.screen.query_one("#results", OptionList).option_count, sheet.name
            app.pop_screen()


async def test_on_a_pond_in_us_units_a_worksheet_asks_in_them_and_its_examples_work_out(
    tmp_path: Path,
) -> None:
    folder = write_pond(tmp_path / "pond")
    text = (folder / "pond.toml").read_text("utf-8")
    (folder / "pond.toml").write_text(text.replace('units = "metric"', 'units = "us"'), "utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(WorksheetScreen(find("fill-time")))
        await settle(pilot)
        lines = screen_text(app)
        assert any("such as 53 US gal" in line for line in lines)
        assert any("and 2641721 US gal" in line for line in lines)
        assert not any(" L" in line for line in lines)
        await type_into(pilot, "in-volume", "53 US gal")
        assert any("a flow such as 2.9 US gal/min" in line for line in screen_text(app))
        await type_into(pilot, "in-flow", "3.2 US gal/min")
        assert any("16.56 min" in line for line in screen_text(app))  # 53 / 3.2
