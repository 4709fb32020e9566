"""A whole batch in a real terminal, killed with SIGKILL in every stage: nothing is lost."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from pondtui.tui.refill import SETTLE_S
from tests.tui.ponds import lately
from tests.tui.terminal import Terminal

BEGIN = datetime.fromisoformat("2026-10-10T17:45:00+02:00")

# minutes later; keys, and what then stands on the screen, as often as one life lasts
BATCH: tuple[tuple[int, tuple[tuple[str, str], ...]], ...] = (
    (0, (("\r", "2/18  Barrel clean"),)),
    (1, (("\r", "3/18  Hose end"), ("\r", "4/18  Read the level"))),
    (1, (("78\r", "5/18  Hose on"),)),
    (1, (("\r", "6/18  Filled"),)),
    (8, (("", "6/18  Filled"),)),  # the hose has run for eight minutes: only time passed
    (1, (("150\r", "7/18  Tap shut"),)),
    (1, (("\r", "8/18  Give conditioner"),)),
    (1, (("\r\r", "9/18  Mix"),)),
    (1, (("\r", "10/18  "), ("\r", "11/18  Wait"))),
    (12, (("", "12/18  Test total chlorine"),)),
    (1, (("0\r", "13/18  Barrel temp"),)),
    (1, (("14\r", "14/18  Agree"), ("\r", "15/18  Outlet open"))),
    (1, (("\r", "16/18  Let out"),)),
    (4, (("", "16/18  Let out"),)),
    (8, (("all\r", "17/18  Outlet shut again"),)),
    (1, (("\r", "18/18  Read the level again"),)),
    (1, (("60\r", "closed up"),)),
)


@pytest.fixture
def pond(tmp_path: Path) -> Path:
    """The sample pond."""
    return lately(tmp_path / "pond")


def _open(pond: Path, now: datetime) -> Terminal:
    environ = {"HOME": str(pond.parent), "PONDTUI_NOW": now.isoformat()}
    terminal = Terminal(["-m", "pondtui", "--pond", str(pond)], environ)
    terminal.wait_for("Today")
    terminal.press("r")
    terminal.wait_for("yard ")
    return terminal


@pytest.mark.long
def test_a_batch_killed_in_every_stage_goes_on_at_the_same_step_with_the_right_numbers(
    pond: Path,
) -> None:
    now, stands = BEGIN, "1/18  Outlet shut"
    for minutes, life in BATCH:
        now += timedelta(minutes=minutes)
        terminal = _open(pond, now)
        try:
            for keys, then in life:
                if keys:
                    terminal.wait_for(stands)  # where the last life stood, or the last step led
                if keys.startswith("all"):
                    terminal.press("\r")
                    terminal.read(0.2)
                elif (keys, then) != life[0]:
                    terminal.read(SETTLE_S)
                terminal.press(keys)
                terminal.wait_for(then)
                stands = then
        finally:
            terminal.kill()
    written = "".join(f.read_text() for f in sorted((pond / "journal").glob("*.txt")))
    assert "added=150 L" in written


def test_digits_that_come_all_at_once_are_all_in_the_number(pond: Path) -> None:
    """A slow line hands over many keys in one piece: 78 may not become 8."""
    terminal = _open(pond, BEGIN)
    try:
        for place in ("1/18", "2/18", "3/18"):
            terminal.wait_for(place)
            terminal.read(0.4)
            terminal.press("\r")
        terminal.wait_for("4/18")
        terminal.read(0.4)
        terminal.type_on("78 off\r")
        terminal.wait_for("5/18")
    finally:
        terminal.kill()
    written = "".join(f.read_text() for f in sorted((pond / "journal").glob("*.txt")))
    assert "reading=78 mm; pump=off" in written
