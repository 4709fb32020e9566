"""A sitter's visit in a real terminal, killed with SIGKILL after every task: it is there again."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from tests.tui.terminal import Terminal
from tests.tui.test_sitter import with_sheet

NOW = datetime.fromisoformat("2026-08-14T18:20:00+02:00")
VISIT: tuple[tuple[str, str], ...] = (
    ("\r", "1.2  Pump, fall and air"),
    (" ", "1.3  Read the gauge"),
    ("\r81\r", "1.4  Water temperature"),
    ("xno thermometer\r", "1.5  "),
)


def _open(pond: Path) -> Terminal:
    environ = {"HOME": str(pond.parent), "PONDTUI_NOW": NOW.isoformat()}
    return Terminal(["-m", "pondtui", "--pond", str(pond), "--sitter", "TA"], environ)


def test_a_visit_killed_after_every_task_goes_on_at_the_next_one(tmp_path: Path) -> None:
    pond = with_sheet(tmp_path / "pond")
    stands = "1.1  Fish"
    for keys, then in VISIT:
        terminal = _open(pond)
        try:
            terminal.wait_for(stands)  # where the last life stood
            terminal.press(keys)
            terminal.wait_for(then)
        finally:
            terminal.kill()
        stands = then
    written = "".join(f.read_text() for f in sorted((pond / "journal").glob("*.txt")))
    for note in ("task 1.1", "task 1.2", "task 1.3", "task 1.4 water temperature: no: no thermo"):
        assert note in written
    assert "reading=81 mm" in written
    assert written.count("by=Tam") == 4
