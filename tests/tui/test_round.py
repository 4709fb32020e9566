"""The daily round in a real terminal: how many keys it takes, and what stands in the journal."""

from __future__ import annotations

from pathlib import Path

from tests.cli.calls import POND, write_pond
from tests.tui.terminal import Terminal

CHORES = "".join(
    f'[[chore]]\nname = "{name}"\nevery = "1 d"\n' for name in ("fish", "pump", "skim")
)
DESK = "2026-08-13 18:00:00+02:00 | level | reading=58 mm |\n"
MOST_KEYS = 25


def test_reading_temperature_three_ticks_and_a_note_take_at_most_25_keys(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond", POND + CHORES, desk=DESK)
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-08-14 08:00:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(folder)], environ)
    pressed = ""

    def press(keys: str, until: str) -> None:
        nonlocal pressed
        pressed += keys
        terminal.press(keys)
        terminal.wait_for(until)

    try:
        terminal.wait_for("1 fish")
        press("l", "gauge reads")
        press("62\t\t18\r", "62 mm below the edge")
        press("1", "1 fish (done)")
        press("2", "2 pump (done)")
        press("3", "all done for today")
        press("n", "heron at dawn")  # the example in the empty field
        press("heron\r", "| heron")
        terminal.press("q")
    finally:
        terminal.close()
    lines = "".join(path.read_text() for path in sorted((folder / "journal").iterdir()))
    for written in (
        "| level   | reading=62 mm; temp=18 degC |",
        "| chore   | name=fish |",
        "| chore   | name=pump |",
        "| chore   | name=skim |",
        "| note    | | heron",
    ):
        assert lines.count(written) == 1, lines
    assert len(pressed) <= MOST_KEYS
