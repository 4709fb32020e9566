"""The man page is that of today's tables, and men's own readers take it without a word."""

from __future__ import annotations

import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

from pondtui.cli.verbs import VERBS
from pondtui.pond.state.kinds import KINDS
from tests.man_page import FILE, text

ROOT = Path(__file__).parents[1]


def test_the_man_page_is_that_of_the_tables() -> None:
    """Where this fails after a wanted change: python -m tests.man_page"""
    assert FILE.read_text(encoding="utf-8") == text()


def test_the_man_page_names_every_verb_option_and_kind() -> None:
    page = FILE.read_text(encoding="ascii").replace("\\-", "-")
    for verb in VERBS.values():
        assert not verb.name or f".SS pondtui {verb.name}" in page
        assert all(f".B --{option.name}" in page for option in verb.options)
    assert all(f".TP\n.B {kind}\n" in page for kind in KINDS)


@pytest.mark.parametrize(
    "reader",
    [
        ["groff", "-Tutf8", "-man", "-ww"],
        ["mandoc", "-Tlint", "-Wwarning"],
        ["man", "--warnings", "-l"],
    ],
    ids=lambda reader: reader[0],
)
def test_a_reader_of_man_pages_takes_it_without_a_warning(reader: list[str]) -> None:
    if shutil.which(reader[0]) is None:
        pytest.skip(f"no {reader[0]} here")
    done = subprocess.run([*reader, str(FILE)], capture_output=True, text=True)
    assert done.stderr == ""
    assert done.returncode == 0
    if reader[0] == "mandoc":
        assert done.stdout == ""
    else:
        plain = re.sub(".\x08", "", done.stdout)  # bold is a letter struck twice
        assert "bucket-test" in plain.replace("\u2010", "-")


def test_wheel_and_sdist_take_the_man_page_along() -> None:
    build = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    targets = build["tool"]["hatch"]["build"]["targets"]
    shared = targets["wheel"]["shared-data"]
    assert shared == {"pondtui/cli/pondtui.1": "share/man/man1/pondtui.1"}
    assert "pondtui" in targets["sdist"]["only-include"]
