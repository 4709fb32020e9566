"""A slow line hands over many keys in one piece: all of them go where the keeper meant them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.tui.terminal import ROOT, Terminal


@pytest.mark.parametrize(
    ("keys", "stands"),
    [
        ("l7812", "7812"),  # not 812, nor a tick of chore 1
        ("nheron again", "heron again"),
        ("elevel 78", "level 78"),
    ],
)
def test_what_is_typed_while_a_form_opens_stands_in_its_field(
    tmp_path: Path, keys: str, stands: str
) -> None:
    pond = tmp_path / "pond"
    shutil.copytree(ROOT / "sample" / "metric", pond)
    environ = {"HOME": str(tmp_path), "PONDTUI_NOW": "2026-10-10T17:45:00+02:00"}
    terminal = Terminal(["-m", "pondtui", "--pond", str(pond)], environ)
    try:
        terminal.wait_for("Today")
        terminal.wait_for("Ahead")
        terminal.type_on(keys)
        terminal.wait_for(stands, 10)
    finally:
        terminal.kill()
    written = "".join(f.read_text() for f in (pond / "journal").glob("*.txt"))
    assert "2026-10-10" not in written
