"""Calling the command line in this process, as a person would."""

from __future__ import annotations

import io
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

from pondtui.cli.main import main

NOW = datetime(2026, 8, 14, 16, 20, tzinfo=UTC)
POND = """\
format = 1
[pond]
name = "Test Pond"
time_zone = "Europe/Brussels"
units = "metric"
[gauge]
reads = "down"
[[basin]]
name = "main pond"
floats = true
shape = "box"
length = "3 m"
width = "2 m"
depth = "0.8 m"
[[mark]]
name = "rim"
reading = "20 mm"
role = "spill"
[[mark]]
name = "full"
reading = "45 mm"
role = "target"
[[barrel]]
name = "yard"
shape = "straight"
width = "0.5 m"
breadth = "0.5 m"
height = "0.9 m"
full_line = "0.8 m"
outlet = "80 mm"
pipe_bore = "19 mm"
pipe_length = "9 m"
drop = "350 mm"
source = "tap"
[source.tap]
total_chlorine = "0.5 mg/L"
measured = 2026-08-01
chloramine = false
temperature = "15 degC"
flow = "11 L/min"
[[conditioner]]
from = 2026-04-02
kind = "liquid"
label_dose = "8 mL"
label_volume = "100 L"
rated_for = "1 mg/L"
wait = "10 min"
"""


class Result(NamedTuple):
    """What a call left behind."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The answer as JSON."""
        return json.loads(self.out)


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def call(*words: str, now: datetime | None = NOW, terminal: bool = False) -> Result:
    """Run one call on a clock that stands still."""
    out = Terminal() if terminal else io.StringIO()
    err = Terminal() if terminal else io.StringIO()
    code = main(words, out, err, now)
    return Result(code, out.getvalue(), err.getvalue())


def refused(result: Result, code: int, *fragments: str) -> None:
    """One clear sentence on standard error, nothing on standard output, and this exit code."""
    assert result.out == ""
    assert result.err.count("\n") == 1, result.err
    assert "Traceback" not in result.err
    for fragment in fragments:
        assert fragment in result.err
    assert result.code == code


def write_pond(folder: Path, text: str = POND, **journals: str) -> Path:
    """A pond folder; each further argument is a device and its lines of 2026."""
    (folder / "journal").mkdir(parents=True)
    (folder / "pond.toml").write_text(text)
    for device, lines in journals.items():
        (folder / "journal" / f"2026-{device}.txt").write_text(lines)
    return folder
