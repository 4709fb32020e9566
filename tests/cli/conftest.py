"""A pond to call the command line on."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.calls import write_pond


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small pond folder without a journal line, named by PONDTUI_POND; the device is `desk`."""
    monkeypatch.setattr("socket.gethostname", lambda: "desk.example")
    folder = write_pond(tmp_path / "pond")
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    return folder
