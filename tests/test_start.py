"""What a start loads: a quick verb waits for neither the screen nor the unit library."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.calls import write_pond

PLANNER = "pondtui.pond.away.planner"  # of absences: a dozen modules that no look needs
HEAVY = ("textual", "rich", "pint", "numpy", "scipy", "asyncio", PLANNER)
PROGRAM = """
import io, json, sys
from pondtui.cli.main import main
code = main(sys.argv[1:], io.StringIO(), io.StringIO())
print(json.dumps([code, sorted(sys.modules)]))
"""


def loaded(*words: str) -> set[str]:
    """The heavy modules that a fresh interpreter holds after the call, which must end with 0."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, *words], capture_output=True, text=True, check=True
    )
    code, modules = json.loads(done.stdout)
    assert code == 0
    return {name for name in modules if name in HEAVY}


@pytest.fixture
def pond(tmp_path: Path) -> str:
    line = "2026-08-14 10:00:00+02:00 | level | reading=62 mm |\n"
    return str(write_pond(tmp_path / "pond", desk=line))


@pytest.mark.parametrize("words", [["--version"], ["help"], ["worksheet"], ["where"]])
def test_what_needs_no_pond_loads_nothing_heavy(words: list[str]) -> None:
    assert loaded(*words) == set()


def test_a_worksheet_loads_no_screen() -> None:
    words = ("worksheet", "water-weight", "volume=200 L", "--json")
    assert loaded(*words) == set()


@pytest.mark.parametrize("verb", ["status", "plan", "check", "journal"])
def test_a_look_at_the_pond_loads_nothing_heavy(pond: str, verb: str) -> None:
    assert loaded(verb, "--pond", pond) == set()


def test_an_entry_is_written_without_anything_heavy(pond: str) -> None:
    assert loaded("add", "level", "reading=62 mm", "--pond", pond) == set()


def test_the_rule_would_see_a_heavy_module() -> None:
    done = subprocess.run(
        [sys.executable, "-c", "import json, pint, sys; print(json.dumps(sorted(sys.modules)))"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "pint" in json.loads(done.stdout)
