"""Bad terminals, bad folders, sudden ends: one sentence where one is needed, never a trace."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.tui.ponds import FILLED, LEVELS, write_pond
from tests.tui.terminal import Terminal

CLOCK = {"PONDTUI_NOW": "2026-08-14T18:20:00+02:00", "TZ": "UTC"}
FULL = (80, 24)
Size = tuple[int, int]


def at_home(home: Path, environ: Mapping[str, str] = CLOCK, size: Size = FULL) -> Terminal:
    words = {"HOME": str(home), "LANG": "en_IE.UTF-8", **CLOCK, **environ}
    return Terminal(["-m", "pondtui"], words, *size)


def on_pond(folder: Path, environ: Mapping[str, str] = CLOCK) -> Terminal:
    words = {"HOME": str(folder.parent), "LANG": "en_IE.UTF-8", **CLOCK, **environ}
    return Terminal(["-m", "pondtui", "--pond", str(folder)], words)


def text(terminal: Terminal) -> str:
    return "\n".join(terminal.lines())


def test_a_terminal_closed_while_setting_up_keeps_the_answers(tmp_path: Path) -> None:
    terminal = at_home(tmp_path)
    terminal.wait_for("Welcome")
    terminal.press("\r")
    terminal.wait_for("called")
    terminal.press("Alder Nook\r")
    terminal.wait_for("time zone")
    terminal.hang_up()
    terminal.process.wait(timeout=15)
    again = at_home(tmp_path)
    again.wait_for("1 answer is kept")
    again.press("\r")
    again.wait_for("time zone")
    again.kill()


@pytest.mark.parametrize("place", [".config/pondtui", ".local/share/pondtui"])
def test_a_folder_of_the_program_that_is_a_file_is_told_and_stops_nothing(
    tmp_path: Path, place: str
) -> None:
    path = tmp_path / place
    path.parent.mkdir(parents=True)
    path.write_text("a file in its place", encoding="utf-8")
    terminal = at_home(tmp_path)
    terminal.wait_for("Welcome")
    terminal.press("\r")
    terminal.wait_for("called")
    terminal.press("Alder Nook\r")
    terminal.wait_for("time zone")
    assert "Traceback" not in text(terminal)
    terminal.kill()


def test_a_folder_in_which_nothing_can_be_written_is_refused_where_it_is_asked(
    tmp_path: Path,
) -> None:
    (tmp_path / "lid").write_text("a file", encoding="utf-8")
    terminal = at_home(tmp_path)
    terminal.wait_for("Welcome")
    terminal.press("\r")
    for question, typed in (
        ("called", "Alder Nook"), ("time zone", ""), ("latitude", "51"), ("Which units", ""),
        ("How is the level", ""), ("Which shape", ""), ("How long", "3 m"), ("How wide", "2 m"),
        ("How deep", "80 cm"), ("brimful", ""), ("refill", ""), ("too low", ""),
        ("How does the barrel stand", ""), ("inner diameter", "57 cm"), ("How high is it", "90 cm"),
        ("How high do you fill", "85 cm"), ("its outlet", "7 cm"), ("hose give", ""),
        ("conditioner", "8 mL"), ("For how much", "100 L"), ("chores", ""),
        ("which folder", "~/lid/pond"),
    ):  # fmt: skip
        terminal.wait_for(question)
        terminal.press(f"{typed}\r")
    terminal.wait_for("nothing can be written in")
    assert "which folder" in text(terminal)
    terminal.kill()


@pytest.mark.parametrize("size", [(20, 5), (19, 4), (10, 3), (40, 20), (59, 19), (30, 8)])
def test_every_first_screen_starts_in_any_window(tmp_path: Path, size: tuple[int, int]) -> None:
    terminal = at_home(tmp_path, size=size)
    terminal.come_to_rest()
    terminal.wait_for("wider" if size < (20, 5) else "Look" if size[1] > 5 else "Enter")
    terminal.press("\r")
    terminal.come_to_rest()
    assert "Traceback" not in text(terminal)
    assert terminal.process.poll() is None
    terminal.kill()


@pytest.mark.parametrize(
    "environ",
    [{"LANG": "C", "LC_ALL": "C"}, {"LANG": "en_IE.ISO-8859-1", "LC_ALL": "en_IE.ISO-8859-1"}],
)
def test_a_locale_without_utf8_gets_letters_that_every_terminal_has(
    tmp_path: Path, environ: dict[str, str]
) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    terminal = on_pond(folder, environ)
    terminal.wait_for("q quit")
    assert text(terminal).isascii()
    terminal.press("r")
    terminal.wait_for("Give conditioner")
    assert text(terminal).isascii()
    terminal.kill()
    first = at_home(tmp_path / "new", environ)
    first.wait_for("Welcome")
    assert text(first).isascii()
    first.kill()


def test_a_dumb_terminal_gets_the_state_as_plain_lines(tmp_path: Path) -> None:
    terminal = on_pond(write_pond(tmp_path / "pond"), {"TERM": "dumb"})
    code = terminal.close()
    assert code == 0
    assert "80 mm" in text(terminal)
    assert "Traceback" not in text(terminal)


def test_a_dumb_terminal_without_a_pond_is_told_what_to_do(tmp_path: Path) -> None:
    terminal = at_home(tmp_path, {"TERM": "dumb"})
    terminal.close()
    said = text(terminal)
    assert "pondtui" in said
    assert "Traceback" not in said


@pytest.mark.parametrize(
    "environ", [{"NO_COLOR": "1"}, {"TERM": "xterm"}, {"TERM": "linux"}, {"TERM": "vt100"}]
)
def test_few_colours_or_none_show_the_same_words(tmp_path: Path, environ: dict[str, str]) -> None:
    folder = write_pond(tmp_path / "pond", desk=LEVELS + FILLED)
    terminal = on_pond(folder, environ)
    terminal.wait_for("q quit")
    assert "80 mm below" in text(terminal)
    used = {cell.fg for row in terminal.screen.buffer.values() for cell in row.values()}
    if "NO_COLOR" in environ:
        assert used == {"default"}
    names = {"default", "black", "red", "green", "brown", "blue", "magenta", "cyan", "white"}
    assert {colour.removeprefix("bright") for colour in used} <= names
    terminal.kill()


def test_the_foot_tells_the_keys_of_the_field_while_it_is_open_and_no_longer(
    tmp_path: Path,
) -> None:
    terminal = on_pond(write_pond(tmp_path / "pond", desk=LEVELS + FILLED))
    terminal.wait_for("q quit")
    terminal.press("r")
    terminal.wait_for("8/17")
    terminal.press("\r")
    terminal.wait_for("leave the field")
    terminal.come_to_rest()
    assert "leave the field" in text(terminal)
    terminal.press("\x1b")
    terminal.wait_for("Enter do it")
    terminal.kill()
