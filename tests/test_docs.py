"""The documents say what the program does."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS
from pondtui.cli.words import parse
from pondtui.pond.state.kinds import KINDS
from tests.cli.calls import call, write_pond

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
# `code` and fenced lines that begin with the program's name
SHOWN = sorted(
    {
        line
        for text in (README, DEVELOPERS)
        for line in re.findall(r"`(pondtui(?: [^`\n]*)?)`", text)
    }
)
WORDS = ("DIR", "KIND", "NAME=VALUE", "VERB", "FILE", "MARK", "N")  # stand for something


def meant(line: str) -> list[str]:
    """The words of a shown call, without the program's name and what stands for something."""
    return [word for word in shlex.split(line)[1:] if word not in WORDS]


@pytest.mark.parametrize("line", SHOWN)
def test_every_call_that_is_shown_is_understood(line: str) -> None:
    parsed = parse(meant(line))
    if parsed.verb.name == "help" and parsed.words:
        assert call("help", *parsed.words).code == 0


def test_the_tour_of_a_refill_can_be_walked(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    steps = [line for line in SHOWN if line.startswith("pondtui add ") and "KIND" not in line]
    assert len(steps) >= 5
    for line in steps:
        result = call("--pond", str(folder), *shlex.split(line)[1:], "--dry-run")
        assert (result.code, result.err) == (0, ""), line


def test_the_table_of_commands_names_every_verb() -> None:
    shown = {
        parse(meant(line)).verb.name for line in re.findall(r"^\| `(pondtui.*?)`", README, re.M)
    }
    assert shown == set(VERBS)


def test_every_option_of_a_verb_stands_in_the_readme() -> None:
    for verb in VERBS.values():
        for option in (*verb.options, *GLOBAL_OPTIONS):
            if option.name not in ("help", "version", "output", "note"):
                assert f"--{option.name}" in README, f"{verb.name} --{option.name}"


def test_the_test_command_ends_in_pytest() -> None:
    marked = README.split("<!-- test command -->\n```sh\n")[1].split("\n")[0]
    assert marked.endswith("pytest")


def test_a_journal_line_that_is_shown_can_be_read(tmp_path: Path) -> None:
    lines = re.findall(r"`(20\d\d-\d\d-\d\d .*?\|.*?)`", README)
    assert lines
    folder = write_pond(tmp_path / "pond", hand="\n".join(lines) + "\n")
    answer = call("--pond", str(folder), "journal", "--json")
    assert (len(answer.json["entries"]), answer.err) == (len(lines), "")
    assert {entry["kind"] for entry in answer.json["entries"]} <= set(KINDS)


@pytest.mark.parametrize("text", [README, DEVELOPERS])
def test_a_file_that_is_named_stands_there(text: str) -> None:
    named = re.findall(r"`((?:pondtui|tests|\.ci)/[\w./]+)`", text)
    assert [name for name in named if not (ROOT / name).exists()] == []
