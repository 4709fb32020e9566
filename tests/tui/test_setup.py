"""Setup: key -> form -> file, mistakes at their field, hands that change the file meanwhile."""

from __future__ import annotations

import random
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.geometry import Size
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from pondtui.books import describing
from pondtui.books.folder import replace_file
from pondtui.books.pondfile import load
from pondtui.errors import FileError
from pondtui.pond.setup.edit import FORMS
from pondtui.tui import paint
from pondtui.tui.app import PondApp
from pondtui.tui.bars import Line
from pondtui.tui.setup import SetupScreen
from pondtui.tui.setup_form import SetupForm
from tests.golden_files import Golden
from tests.tui.ponds import POND, app_on, handled, press, screen_text, settle, type_into, write_pond
from tests.tui.terminal import ROOT

NAMES = {" ": "space"}
COMMENTED = POND.replace('outlet = "80 mm"', 'outlet = "80 mm"   # by dipstick')


def data_of(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "pond.toml").read_text("utf-8"))


def text_of(app: PondApp) -> str:
    return "\n".join(screen_text(app))


def said(app: PondApp, line: str) -> str:
    return app.screen.query_one(f"#{line}", Line)._said.plain


async def open_setup(pilot: Pilot[int]) -> None:
    await settle(pilot)
    await press(pilot, "o")
    assert isinstance(pilot.app.screen, SetupScreen)


async def go_to(pilot: Pilot[int], row: str) -> None:
    listed = pilot.app.screen.query_one("#tables", OptionList)
    listed.highlighted = listed.get_option_index(row)
    await settle(pilot)


async def open_form(pilot: Pilot[int], row: str) -> None:
    await go_to(pilot, row)
    await press(pilot, "enter")
    assert isinstance(pilot.app.screen, SetupForm)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = write_pond(tmp_path / "pond")
    (made / "pond.toml").write_text(COMMENTED, encoding="utf-8")
    return made


async def test_a_field_is_changed_and_written_with_its_comment_and_the_old_file_beside(
    folder: Path,
) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "barrel:0")
        await type_into(pilot, "in-outlet", "65 mm")
        assert "16 L stay as the heel" in said(app, "setup-figures")
        await press(pilot, "escape")
        assert "not written yet" in said(app, "setup-state")
        assert "(changed)" in text_of(app)
        assert data_of(folder)["barrel"][0]["outlet"] == "80 mm"
        await press(pilot, "s")
        assert app.session.setup.barrels[0].outlet_mm == 65
        assert "as they stand on the disk" in said(app, "setup-state")
    text = (folder / "pond.toml").read_text("utf-8")
    assert text == COMMENTED.replace('"80 mm"   # by dipstick', '"65 mm"   # by dipstick')
    assert (folder / "pond.toml.before").read_text("utf-8") == COMMENTED


async def test_figures_of_a_barrel_follow_what_is_typed(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "barrel:0")
        told = said(app, "setup-figures")
        assert "200 L to the full line, 20 L stay as the heel" in told  # 0.25 m2 x 0.8 m, x 80 mm
        assert "dose 16 mL" in told  # 8 mL for 100 L
        assert "a full one runs out in" in told
        await type_into(pilot, "in-full_line", "0.4 m")
        assert "100 L to the full line" in said(app, "setup-figures")
        await type_into(pilot, "in-full_line", "2 m")
        assert "lies above the brim at" in said(app, "wrong-full_line")
        assert "without a mistake" in said(app, "setup-figures")


async def test_figures_of_a_basin_tell_area_litres_and_room(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "basin:0")
        told = said(app, "setup-figures")
    assert "6 m2 at the edge, 4800 L" in told  # 3 m x 2 m x 0.8 m
    assert "6 L for each mm" in told
    assert "room from stone up to rim: 150 L" in told  # 25 mm over 6 m2


async def test_a_mistake_stands_at_its_field_and_nothing_is_written(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "mark:1")
        await type_into(pilot, "in-reading", "45 parsec")
        assert "parsec" in said(app, "wrong-reading")
        await press(pilot, "escape")
        assert "1 mistake, marked !" in said(app, "setup-state")
        await go_to(pilot, "pond:0")
        await press(pilot, "s")
        assert data_of(folder) == tomllib.loads(COMMENTED)
        assert app.screen.query_one("#tables", OptionList).highlighted is not None
        await press(pilot, "enter")
        assert app.screen.query_one("#in-reading", Input).value == "45 parsec"


async def test_a_mark_is_added_moved_and_written(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "mark:3")
        await press(pilot, "a")
        assert "missing: such as 20 mm" in said(app, "wrong-reading")
        await type_into(pilot, "in-name", "lily")
        await type_into(pilot, "in-reading", "140 mm")
        app.screen.query_one("#in-role", Input).focus()
        await press(pilot, *["space"] * 5)
        assert app.screen.query_one("#in-role", Input).value == "warn"
        await press(pilot, "escape", "i", "i", "k")
        await press(pilot, "s")
    assert [m["name"] for m in data_of(folder)["mark"]] == [
        "rim", "stone", "sedge shelf", "lily", "pump",
    ]  # fmt: skip


async def test_a_barrel_goes_only_after_a_question_that_names_its_entries(folder: Path) -> None:
    line = "2026-08-14 07:50:00+02:00 | dip     | barrel=gate; left=0 L |\n"
    with open(folder / "journal" / "2026-desk.txt", "a", encoding="utf-8") as file:
        file.write(line)
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "barrel:0")
        await press(pilot, "x")
        assert "1 entry of the journal name it" in text_of(app)
        await press(pilot, "n")
        book = app.session.describing
        assert book is not None
        assert not book.changed
        await press(pilot, "x", "y")
        assert book.changed
        await press(pilot, "f", "y")
        assert not book.changed


async def test_a_new_one_in_which_nothing_was_typed_goes_again(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "add:person")
        await press(pilot, "enter", "escape")
        assert "as they stand on the disk" in said(app, "setup-state")


async def test_a_usual_chore_is_chosen_and_written(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "add:chore")
        await press(pilot, "enter", "end", "enter")
        assert app.screen.query_one("#in-after", Input).value == "power-cut"
        await press(pilot, "escape", "escape")
        assert any("Setup: changed" in line for line in screen_text(app))
        await press(pilot, "o", "s")
    assert data_of(folder)["chore"][-1]["name"] == "look at everything after a power cut"


async def test_a_source_is_copied_under_another_name(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "source:tap")
        await press(pilot, "c")
        await type_into(pilot, "asked", "yard tap")
        await press(pilot, "enter", "escape", "s")
    sources = data_of(folder)["source"]
    assert sources["yard tap"] == sources["tap"]


async def test_a_size_that_the_shape_does_not_use_says_so(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "barrel:0")
        assert (
            app.screen.query_one("#in-diameter", Input).placeholder == "not where shape is straight"
        )
        await type_into(pilot, "in-shape", "upright")
        assert app.screen.query_one("#in-diameter", Input).placeholder == "such as 572 mm"
        assert app.screen.query_one("#in-bucket", Input).placeholder == "10 L when left out"
        await type_into(pilot, "in-delivery", "piped")
        told = app.screen.query_one("#in-bucket", Input).placeholder
        assert told == "only where delivery is carried"


async def test_a_source_gets_its_name_when_it_is_added(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "add:source")
        await press(pilot, "enter")
        await type_into(pilot, "asked", "tap")
        await press(pilot, "enter")
        assert "not there yet" in said(app, "asked-wrong")
        await type_into(pilot, "asked", "garden well")
        await press(pilot, "enter")
        await type_into(pilot, "in-flow", "8 L/min")
        await press(pilot, "escape", "s")
    assert data_of(folder)["source"]["garden well"] == {"flow": "8 L/min"}


async def test_own_steps_are_written_into_their_own_file(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "add:step")
        await press(pilot, "enter")
        await type_into(pilot, "in-id", "own lid")
        app.screen.query_one("#in-after", Input).focus()
        await type_into(pilot, "in-after", "mi")
        assert "mix" in said(app, "takes")
        await press(pilot, "space")
        assert app.screen.query_one("#in-after", Input).value == "mix"
        await type_into(pilot, "in-text", "Lay the lid on")
        assert "small letters" in said(app, "wrong-id")
        await type_into(pilot, "in-id", "own-lid")
        assert said(app, "wrong-id") == ""
        await press(pilot, "escape", "s")
        assert [step.id for step in app.session.setup.own_steps] == ["own-lid"]
    assert (folder / "pond.toml").read_text("utf-8") == COMMENTED


async def test_a_file_changed_by_hand_is_asked_about_and_both_changes_are_kept(
    folder: Path,
) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        await press(pilot, "escape")
        by_hand = COMMENTED.replace('"Alder Yard"', '"Alder Court"')
        (folder / "pond.toml").write_text(by_hand, encoding="utf-8")
        await press(pilot, "s")
        assert "changed by hand meanwhile" in text_of(app)
        assert (folder / "pond.toml").read_text("utf-8") == by_hand
        await press(pilot, "enter", "s")
    assert data_of(folder)["pond"]["name"] == "Alder Court"
    assert data_of(folder)["gauge"]["error"] == "3 mm"


async def test_a_change_by_hand_is_followed_where_nothing_was_typed(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        by_hand = COMMENTED.replace('"Alder Yard"', '"Alder Court"')
        (folder / "pond.toml").write_text(by_hand, encoding="utf-8")
        app.state_changed()
        await settle(pilot)
        assert "Alder Court, metric" in text_of(app)


async def test_comments_go_only_after_a_question_that_offers_to_keep_them(folder: Path) -> None:
    text = COMMENTED.replace('[gauge]\nreads = "down"\n', 'gauge = { reads = "down" } # odd\n')
    text = text.replace("format = 1\n", "").replace("gauge =", "format = 1\ngauge =", 1)
    start = text.index("gauge =")
    line = text[start : text.index("\n", start) + 1]
    text = line + text.replace(line, "")
    (folder / "pond.toml").write_text(text, encoding="utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        await press(pilot, "escape", "s")
        assert "2 lines of comments" in text_of(app)
        await press(pilot, "enter")
        assert (folder / "pond.toml").read_text("utf-8") == text
        await press(pilot, "s", "down", "enter")
    assert data_of(folder)["gauge"] == {"reads": "down", "error": "3 mm"}
    assert (folder / "pond.toml.comments").read_text("utf-8") == text


async def test_a_disk_that_refuses_is_told_and_what_was_typed_stays(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_words: object) -> None:
        raise FileError("pond.toml is not saved: the disk is full; make room on it")

    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        await press(pilot, "escape")
        monkeypatch.setattr(describing, "replace_file", refuse)
        await press(pilot, "s")
        assert any("the disk is full" in told.message for told in app._notifications)
        assert "not written yet" in said(app, "setup-state")
        monkeypatch.setattr(describing, "replace_file", replace_file)
        await press(pilot, "s")
    assert data_of(folder)["gauge"]["error"] == "3 mm"


async def test_a_file_that_is_gone_is_written_anew_when_asked(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        (folder / "pond.toml").unlink()
        await press(pilot, "escape", "s")
        assert "pond.toml is gone" in text_of(app)
        await press(pilot, "enter")
    assert data_of(folder)["gauge"]["error"] == "3 mm"
    assert data_of(folder)["barrel"][0]["name"] == "gate"


async def test_closing_asks_while_something_is_not_written(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        await press(pilot, "escape", "escape", "q")
        assert "changes in Setup" in text_of(app)
        await press(pilot, "n")
        assert app.is_running


async def test_measuring_help_fills_the_field_it_was_asked_from(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "source:tap")
        app.screen.query_one("#in-flow", Input).focus()
        await press(pilot, "question_mark")
        await type_into(pilot, "m-volume", "10 L")
        await type_into(pilot, "m-time", "50 s")
        await press(pilot, "enter")
        assert app.screen.query_one("#in-flow", Input).value == "12 L/min"
        await press(pilot, "escape", "s")
    assert data_of(folder)["source"]["tap"]["flow"] == "12 L/min"


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (160, 50), (40, 12), (19, 4)])
async def test_resizing_loses_nothing_that_was_typed(folder: Path, size: tuple[int, int]) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "mark:0")
        await type_into(pilot, "in-reading", "half a")
        app.post_message(events.Resize(Size(*size), Size(*size)))
        await settle(pilot)
        assert app.screen.query_one("#in-reading", Input).value == "half a"


async def test_a_window_too_small_for_the_list_shows_the_plain_panel_and_changes_nothing(
    folder: Path,
) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "mark:1")
        await pilot.resize_terminal(50, 15)
        await press(pilot, "x", "a", "i", "c", "s", "f")
        assert "60 x 20 and more" in text_of(app)
        assert isinstance(app.screen, SetupScreen)
        await pilot.resize_terminal(80, 24)
        await settle(pilot)
        assert "as they stand on the disk" in said(app, "setup-state")


async def test_every_field_of_every_table_can_be_reached(folder: Path) -> None:
    shutil.rmtree(folder)
    shutil.copytree(ROOT / "sample" / "metric", folder)
    app = app_on(folder)
    seen: dict[str, set[str]] = {}
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        screen = app.screen
        assert isinstance(screen, SetupScreen)
        book = screen.book
        assert book is not None
        places = {row.place.table: row.place for row in screen._rows if row.place is not None}
        for table, place in places.items():
            await app.push_screen(SetupForm(book, place))
            fields = app.screen.query(Input)
            seen[table] = {str(field.id).removeprefix("in-") for field in fields}
            app.pop_screen()
    assert seen == {name: {f.key for f in table.fields} for name, table in FORMS.items()}


async def test_a_copy_for_a_later_day_stands_beside_the_old_one(folder: Path) -> None:
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await go_to(pilot, "barrel:0")
        await press(pilot, "c")
        assert "another one holds from the same day" in said(app, "wrong-from")
        await type_into(pilot, "in-from", "2027-04-01")
        await type_into(pilot, "in-outlet", "90 mm")
        assert said(app, "wrong-from") == ""
        await press(pilot, "escape", "s")
    rows = data_of(folder)["barrel"]
    assert [row["outlet"] for row in rows] == ["80 mm", "90 mm"]


async def test_what_the_file_lacks_stands_on_top_and_keeps_nothing_else_from_being_written(
    folder: Path,
) -> None:
    lacking = COMMENTED[: COMMENTED.index("[[conditioner]]")]
    (folder / "pond.toml").write_text(lacking, encoding="utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        assert "missing: one [[conditioner]]" in said(app, "setup-state")
        await open_form(pilot, "gauge:0")
        await type_into(pilot, "in-error", "3 mm")
        await press(pilot, "escape", "s")
        assert data_of(folder)["gauge"]["error"] == "3 mm"
        await go_to(pilot, "source:tap")
        await press(pilot, "x", "y")
        assert "2 mistakes" in said(app, "setup-state")
        await press(pilot, "s")
    assert "tap" in data_of(folder)["source"]


async def test_what_is_unknown_is_told_in_the_form_and_stays(folder: Path) -> None:
    text = COMMENTED.replace('name = "gate"', 'name = "gate"\ncolour = "blue"')
    (folder / "pond.toml").write_text(text, encoding="utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "barrel:0")
        assert "left as it is: colour" in said(app, "others")
        await type_into(pilot, "in-name", "gatepost")
        await press(pilot, "escape", "s")
    assert data_of(folder)["barrel"][0]["colour"] == "blue"


async def test_a_new_name_says_what_keeps_the_old_one(folder: Path) -> None:
    text = COMMENTED.replace('every = "1 d"', 'every = "1 d"\nperson = "Mo"')
    text += '[[person]]\nname = "Mo"\n'
    (folder / "pond.toml").write_text(text, encoding="utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_setup(pilot)
        await open_form(pilot, "person:0")
        await type_into(pilot, "in-name", "Moira")
        assert 'it was Mo: named in pond.toml by chore "look at fish"' in said(app, "wrong-name")


async def test_a_file_that_cannot_be_read_is_told_and_comes_back(folder: Path) -> None:
    app = app_on(folder)
    (folder / "procedure.toml").write_text("[[step]\n", encoding="utf-8")
    async with app.run_test(size=(80, 24)) as pilot:
        await open_setup(pilot)
        assert "procedure.toml:1: not TOML" in said(app, "setup-state")
        await press(pilot, "a", "x", "i", "s", "f", "c", "question_mark")
        (folder / "procedure.toml").unlink()
        app.state_changed()
        await settle(pilot)
        assert "as they stand on the disk" in said(app, "setup-state")


@pytest.mark.parametrize(
    "odd",
    [
        "basin = 3\nmark = [1, 2]\nsource = 'x'\nchore = 5\nlimits = 1\nweather = 2\n",
        "barrel = {name = 'a'}\nconditioner = []\nperson = ['x']\nsource = {tap = 3}\n",
        "barrel = [{name = 'a', roof = 3}]\nweather = {columns = 4}\nchore = [{name = ['x']}]\n",
    ],
)
async def test_what_a_hand_has_put_in_a_wrong_place_is_left_to_the_hand(
    folder: Path, odd: str
) -> None:
    (folder / "pond.toml").write_text(f"{odd}[pond]\nname = 'rill'\n", encoding="utf-8")
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        listed = app.screen.query_one("#tables", OptionList)
        assert any("by hand" in str(option.prompt) for option in listed.options)
        for name in [str(option.id) for option in listed.options if "odd:" in str(option.id)]:
            await go_to(pilot, name)
            for key in ("enter", "a", "x", "c", "i"):
                await press(pilot, key)
            assert isinstance(app.screen, SetupScreen)


@pytest.mark.painted
@pytest.mark.parametrize("seed", range(2))
async def test_no_key_in_setup_breaks_anything_or_writes_a_pond_with_mistakes(
    folder: Path, seed: int, request: pytest.FixtureRequest
) -> None:
    chance = random.Random(seed)
    number = 100 if request.config.getoption("--long-walk") else 50
    keys = [*"aaxikcsfyn12 m", "enter", "enter", "enter", "escape", "escape", "tab", "up", "down",
            "down", "down", "pagedown", "question_mark", "backspace", "home"]  # fmt: skip
    app = app_on(folder)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await open_setup(pilot)
        for _ in range(number):
            key = chance.choice(keys)
            app.post_message(events.Key(NAMES.get(key, key), key if len(key) == 1 else None))
            if chance.random() < 0.03:
                size = Size(*chance.choice(((80, 24), (60, 20), (19, 4), (160, 50), (1, 1))))
                app.post_message(events.Resize(size, size))
            await handled(pilot)
            if len(app.screen_stack) == 1:
                app.open_room("setup")
            assert app.is_running
        assert app.session.describing is not None
    assert [p for p in load(folder).problems if p.severity == "problem"] == []


def test_the_first_frame_waits_for_nothing_of_setup() -> None:
    program = (
        "import json, sys, pondtui.tui.run, pondtui.tui.today\n"
        "print(json.dumps([n for n in sys.modules if 'setup_' in n or 'describing' in n "
        "or n == 'pondtui.tui.setup']))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
@pytest.mark.parametrize("sample", ["metric", "us"])
async def test_setup_looks_like_this(
    tmp_path: Path, golden: Golden, size: tuple[int, int], sample: str
) -> None:
    shutil.copytree(ROOT / "sample" / sample, tmp_path / "pond")
    app = app_on(tmp_path / "pond")
    async with app.run_test(size=size) as pilot:
        await open_setup(pilot)
        golden(f"setup-{sample}-list-{size[0]}x{size[1]}", screen_text(app))
        for row in ("barrel", "basin"):
            await open_form(pilot, f"{row}:0")
            golden(f"setup-{sample}-{row}-{size[0]}x{size[1]}", screen_text(app))
            await press(pilot, "escape")


def test_no_unit_is_parted_from_its_number() -> None:
    text = "it holds 55.1 US gal, 12 min, 0.5 mm and 2 °C of 3 %"
    for width in range(12, 40):
        lines = paint.wrapped(text, "text", width).plain.split("\n")
        assert " ".join(lines) == text
        for line in lines:
            assert not line.startswith(("US", "gal", "min", "mm", "°C", "%"))
