"""From an empty home to a described pond and its first reading, left and resumed on the way."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from pondtui.books.draft import read_draft
from pondtui.books.settings import Settings
from pondtui.paths import data_dir
from pondtui.tui.bars import Line
from pondtui.tui.looks import looks
from pondtui.tui.welcome import Home, Way, WelcomeApp
from pondtui.tui.wizard import WizardScreen
from pondtui.tui.wizard_steps import steps
from pondtui.tui.wizard_steps import wrong as judged
from tests.golden_files import Golden
from tests.tui.ponds import COLOURS, NOW, press, settle, write_pond
from tests.tui.terminal import Terminal

METRIC = (
    ("Alder Nook", "Europe/Brussels", "51", "metric", "down", "box", "3.2 m", "2.1 m", "75 cm"),
    ("", "30 mm", "240 mm", "upright", "572 mm", "90 cm", "85 cm", "7 cm"),
    ("11 L/min", "8 mL", "100 L", "1-6", "~/nook", "62 mm"),
)
US = (
    ("Fern Corner", "America/Chicago", "41.9", "us", "down", "battered", "10 ft", "7 ft", "30 in"),
    ("0.15", "", "", "", "lying", "22 1/2 in", "43 in", "20 in", "2 3/4 in"),
    ("3 US gal/min", "1 US fl oz", "300 gal", "none", "~/fern", "2 7/16 in"),
)


def app_at_home(note: str = "") -> WelcomeApp:
    home = Home(Settings(), data_dir(), ("metric",), "desk", "", note)
    return WelcomeApp(home, lambda: NOW, looks(Settings(), COLOURS))


def screen_lines(app: WelcomeApp) -> list[str]:
    return [strip.text for strip in app.screen._compositor.render_strips(app.size)]


async def begin(pilot: Pilot[Any]) -> None:
    await settle(pilot)
    await press(pilot, "enter")
    await settle(pilot)


async def answer(pilot: Pilot[Any], app: WelcomeApp, text: str) -> None:
    """Give one answer as typed, or choose the word."""
    screen = app.screen
    assert isinstance(screen, WizardScreen)
    step = screen._now()
    if step.words:
        screen._take(text)
    else:
        screen.query_one("#answer-field", Input).value = text
        await press(pilot, "enter")
    await settle(pilot)


def wrong(app: WelcomeApp) -> str:
    return app.screen.query_one("#answer-wrong", Line)._said.plain


@pytest.mark.parametrize(("answers", "folder"), [(METRIC, "nook"), (US, "fern")])
async def test_the_answers_of_one_sitting_make_a_pond_with_its_first_reading(
    answers: tuple[tuple[str, ...], ...], folder: str
) -> None:
    app = app_at_home()
    given = [text for part in answers for text in part]
    assert len(given) <= 25
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for text in given[:-1]:
            await answer(pilot, app, text)
            assert wrong(app) == ""
        app.screen.query_one("#answer-field", Input).value = given[-1]
        await press(pilot, "enter")
        await pilot.pause()
    made = Path.home() / folder
    assert app.return_value == Way("open", str(made))
    assert tomllib.loads((made / "pond.toml").read_text("utf-8"))["pond"]["name"] == given[0]
    journal = "".join(file.read_text("utf-8") for file in (made / "journal").glob("*.txt"))
    assert f"reading={given[-1]}" in journal
    assert read_draft(data_dir()) == {}


async def test_what_contradicts_an_earlier_answer_is_told_beside_the_field() -> None:
    app = app_at_home()
    given = [text for part in METRIC for text in part]
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for text in given[:15]:
            await answer(pilot, app, text)
        await answer(pilot, app, "95 cm")  # the full line
        assert "above the brim" in wrong(app)
        await answer(pilot, app, "3 kg")
        assert "a length" in wrong(app)
        await answer(pilot, app, "85 cm")
        assert wrong(app) == ""


async def test_leaving_and_coming_back_goes_on_at_the_same_question() -> None:
    app = app_at_home()
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await answer(pilot, app, "Alder Nook")
        await answer(pilot, app, "UTC")
        await press(pilot, "escape")
        await settle(pilot)
        assert any("2 answers are kept" in line for line in screen_lines(app))
        await press(pilot, "enter")
        await settle(pilot)
        assert any("latitude" in line for line in screen_lines(app))
        await press(pilot, "up")
        await settle(pilot)
        assert any("time zone" in line for line in screen_lines(app))


async def test_a_data_folder_that_cannot_be_written_is_told_and_stops_nothing() -> None:
    data_dir().parent.mkdir(parents=True, exist_ok=True)
    data_dir().write_text("a file in its place", encoding="utf-8")
    app = app_at_home()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await begin(pilot)
        await answer(pilot, app, "Alder Nook")
        assert any("not kept" in line for line in screen_lines(app))
        assert any("time zone" in line for line in screen_lines(app))


@pytest.mark.parametrize("size", [(20, 5), (19, 4), (40, 20), (1, 1)])
async def test_a_terminal_that_shrinks_keeps_question_and_text(size: tuple[int, int]) -> None:
    app = app_at_home()
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for text in ("Alder Nook", "UTC", "51", "metric", "down", "box"):
            await answer(pilot, app, text)
        app.screen.query_one("#answer-field", Input).value = "3.2"
        await pilot.resize_terminal(*size)
        await settle(pilot)
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert any("How long is it?" in line for line in screen_lines(app))
        assert app.screen.query_one("#answer-field", Input).value == "3.2"


@pytest.mark.parametrize(("width", "height"), [(80, 24), (60, 20)])
async def test_the_first_screens_as_they_were_looked_at(
    golden: Golden, width: int, height: int
) -> None:
    app = app_at_home()
    given = [text for part in METRIC for text in part]
    async with app.run_test(size=(width, height)) as pilot:
        await settle(pilot)
        golden(f"welcome-{width}x{height}", screen_lines(app))
        await begin(pilot)
        for text in given[:8]:
            await answer(pilot, app, text)
        golden(f"setting-up-pond-{width}x{height}", screen_lines(app))
        for text in given[8:18]:
            await answer(pilot, app, text)
        golden(f"setting-up-barrel-{width}x{height}", screen_lines(app))


def test_killed_in_the_middle_it_goes_on_with_the_answers_and_ends_on_today(tmp_path: Path) -> None:
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00", "TZ": "UTC"}
    terminal = Terminal(["-m", "pondtui"], environ)
    terminal.wait_for("Welcome")
    terminal.press("\r")
    terminal.wait_for("What is the pond called?")
    terminal.press("Alder Nook\r")
    terminal.wait_for("time zone")
    terminal.press("\r")
    terminal.wait_for("latitude")
    terminal.kill()
    terminal = Terminal(["-m", "pondtui"], environ)
    terminal.wait_for("2 answers are kept")
    terminal.press("\r")
    terminal.wait_for("latitude")
    for keys in ("51\r", "\r", "\r", "\r", "3 m\r", "2 m\r", "80 cm\r", "\r", "\r", "\r",
                 "\r", "57 cm\r", "90 cm\r", "85 cm\r", "7 cm\r", "\r", "8 mL\r", "100 L\r", "\r",
                 "\r", "62 mm\r"):  # fmt: skip
        terminal.press(keys)
        terminal.read(0.15)
    terminal.wait_for("Level     62 mm")
    terminal.press("q")
    assert terminal.close() == 0
    assert (tmp_path / "alder-nook" / "pond.toml").exists()


def test_another_pond_is_chosen_from_those_that_were_open(tmp_path: Path) -> None:
    for name in ("rill", "brook"):
        write_pond(tmp_path / name)
    text = (tmp_path / "brook" / "pond.toml").read_text("utf-8")
    (tmp_path / "brook" / "pond.toml").write_text(text.replace("Alder Yard", "Brook End"), "utf-8")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    for name in ("rill", "brook"):
        terminal = Terminal(["-m", "pondtui", "--pond", str(tmp_path / name)], environ)
        terminal.wait_for("q quit")
        terminal.press("q")
        assert terminal.close() == 0
    terminal = Terminal(["-m", "pondtui"], environ)
    terminal.wait_for("Brook End")
    terminal.press("y")
    terminal.wait_for("Which pond?")
    terminal.press("\x1b[B\r")
    terminal.wait_for("Alder Yard")
    terminal.wait_for("q quit")
    terminal.press("q")
    assert terminal.close() == 0


def test_a_last_pond_that_is_gone_leads_to_the_ways(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "rill")
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.press("q")
    terminal.close()
    folder.rename(tmp_path / "elsewhere")
    terminal = Terminal(["-m", "pondtui"], environ)
    terminal.wait_for("cannot be opened")
    terminal.wait_for("Folder")
    terminal.kill()


def test_a_pond_is_taken_off_the_list_and_its_folder_is_not_touched(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "rill")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    terminal.wait_for("q quit")
    terminal.press("y")
    terminal.wait_for("Which pond?")
    terminal.press("x")
    terminal.wait_for("Take this pond off the list?")
    terminal.wait_for("y yes  n no")
    assert "is not touched" in " ".join(" ".join(terminal.lines()).split())  # its path may be long
    terminal.press("y")
    terminal.wait_for("Welcome")
    terminal.press("q")
    assert terminal.close() == 0
    terminal = Terminal(["-m", "pondtui"], environ)
    terminal.wait_for("Welcome")
    assert not any("Alder Yard" in line for line in terminal.lines())
    terminal.kill()
    after = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert {path: after[path] for path in before} == before


async def test_what_is_measured_stands_in_the_answer_and_in_the_one_that_follows() -> None:
    app = app_at_home()
    given = [text for part in METRIC for text in part]
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for text in given[:13]:
            await answer(pilot, app, text)
        await press(pilot, "question_mark")
        await settle(pilot)
        app.screen.query_one("#m-girth", Input).value = "1.80 m"
        app.screen.query_one("#m-wall", Input).value = "3 mm"
        app.screen.query_one("#m-height", Input).value = "88 cm"
        await press(pilot, "enter")
        await settle(pilot)
        # 1800 / pi - 2 x 3 = 566.96 mm (constructed)
        assert app.screen.query_one("#answer-field", Input).value == "567 mm"
        await press(pilot, "enter")
        await settle(pilot)
        assert app.screen.query_one("#answer-field", Input).value == "88 cm"


async def test_a_flow_by_bucket_and_stopwatch_becomes_the_answer() -> None:
    app = app_at_home()
    given = [text for part in METRIC for text in part]
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for text in given[:17]:
            await answer(pilot, app, text)
        await press(pilot, "question_mark")
        await settle(pilot)
        app.screen.query_one("#m-volume", Input).value = "10 L"
        app.screen.query_one("#m-time", Input).value = "50 s"
        await press(pilot, "enter")
        await settle(pilot)
        assert app.screen.query_one("#answer-field", Input).value == "12 L/min"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("90 cm", "below the bottom"),
        ("-20 cm", "above the edge"),
        ("3 kg", "a length"),
        ("62 mm", ""),
    ],
)
async def test_the_first_level_is_held_against_the_depth(typed: str, words: str) -> None:
    answers = {"pond_units": "metric", "basin_length": "3 m", "basin_width": "2 m",
               "basin_depth": "80 cm", "spill": "0 mm"}  # fmt: skip
    step = steps(answers, "", "")[-1]
    assert step.id == "level"
    told = judged(step, typed, answers)
    assert (words in told) if words else not told
