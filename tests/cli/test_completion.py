"""Completion: the printed scripts, sourced by the shells themselves."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from pondtui.cli.completion import offers, script
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS
from pondtui.pond.state.kinds import KINDS
from pondtui.worksheets.registry import sheets
from tests.cli.calls import call, refused, write_pond

# What is typed, and what must be among the offers; "" behind a blank asks for the next word.
CASES = [
    (["st"], {"status"}),
    (["add", "le"], {"level"}),
    (["add", "level", ""], {"reading=", "pump=", "by="}),
    (["add", "level", "pump=o"], {"pump=on", "pump=off"}),
    (["add", "fill", "barrel="], {"barrel=yard"}),
    (["add", "-m", "a note", "ev"], {"event"}),
    (["sample", "pl"], {"plan"}),
    (["sheet", "--as", "h"], {"html"}),
    (["water", "--by", ""], {"day", "month", "season"}),
    (["plan", "--to", "f"], {"full"}),
    (["plan", "--e"], {"--exit-code"}),
    (["--j"], {"--json"}),
    (["worksheet", "fill"], {"fill-time"}),
    (["worksheet", "fill-time", "v"], {"volume="}),
    (["help", "temper"], {"tempering", "tempering-time"}),
    (["tests", "y"], {"yard"}),
    (["import", "log", "here"], {"here.csv"}),
    (["status", "zzz"], set[str]()),
]
IDS = [" ".join(typed) for typed, _ in CASES]


@pytest.fixture
def room(tmp_path: Path) -> dict[str, str]:
    """A pond, a file to complete, and the program on the path as people have it."""
    (tmp_path / "bin").mkdir()
    program = tmp_path / "bin" / "pondtui"
    program.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m pondtui "$@"\n')
    program.chmod(0o755)
    (tmp_path / "here.csv").touch()
    for shell in ("bash", "zsh", "fish"):
        (tmp_path / shell).write_text(call("completion", shell).out)
    path = f"{tmp_path / 'bin'}:{os.environ['PATH']}"
    pond = str(write_pond(tmp_path / "pond"))
    return {**os.environ, "PATH": path, "PONDTUI_POND": pond, "ROOM": str(tmp_path)}


def asked(shell: str, program: str, room: dict[str, str]) -> list[str]:
    """What the shell prints, line by line; nothing may stand on standard error."""
    if shutil.which(shell) is None:
        pytest.skip(f"no {shell} here")
    done = subprocess.run(
        [shell, "-c", program], env=room, cwd=room["ROOM"], capture_output=True, text=True
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout.splitlines()


def matches(found: list[str], typed: list[str], wanted: set[str]) -> bool:
    """Whether exactly what begins as typed is offered, and all that is wanted."""
    return wanted <= set(found) and all(each.startswith(typed[-1]) for each in found)


@pytest.mark.parametrize(("typed", "wanted"), CASES, ids=IDS)
def test_bash_offers(typed: list[str], wanted: set[str], room: dict[str, str]) -> None:
    # readline parts words at the "=", and puts the offer behind it
    parts = [part for word in typed for part in _parted(word)]
    if typed[-1].endswith("="):
        parts.pop()
    words = " ".join(shlex.quote(word) for word in ["pondtui", *parts])
    program = (
        f"source ./bash; COMP_WORDS=({words}); COMP_CWORD={len(parts)}; COMPREPLY=(); _pondtui; "
        '((${#COMPREPLY[@]})) && printf "%s\\n" "${COMPREPLY[@]}" || true'
    )
    start = typed[-1].partition("=")[0] + "=" if "=" in typed[-1] else ""
    found = [start + each for each in asked("bash", program, room)]
    assert matches(found, typed, wanted)


def _parted(word: str) -> list[str]:
    name, eq, value = word.partition("=")
    return [name, "=", value] if eq else [word]


@pytest.mark.parametrize(("typed", "wanted"), CASES, ids=IDS)
def test_fish_offers(typed: list[str], wanted: set[str], room: dict[str, str]) -> None:
    line = " ".join(["pondtui", *(shlex.quote(word) if " " in word else word for word in typed)])
    program = f"source ./fish; complete -C {shlex.quote(line)}"
    found = [each.partition("\t")[0] for each in asked("fish", program, room)]
    assert matches(found, typed, wanted)


@pytest.mark.parametrize(("typed", "wanted"), CASES, ids=IDS)
def test_zsh_offers(typed: list[str], wanted: set[str], room: dict[str, str]) -> None:
    # the completion system's own words, which here print what they are given
    program = """
    source ./zsh
    compset() { start="${words[CURRENT]%%=*}=" }
    compadd() { for name in ${(P)@[-1]}; do print -r -- "$start$name"; done }
    _files() { print -rl -- ${words[CURRENT]}*(N) }
    """
    words = " ".join(shlex.quote(word) for word in ["pondtui", *typed])
    program += f"words=({words}); CURRENT={len(typed) + 1}; start=''; _pondtui"
    found = [e for e in asked("zsh", program, room) if e.startswith(typed[-1])]  # compadd's part
    assert matches(found, typed, wanted)


def test_every_verb_option_kind_field_and_worksheet_is_offered() -> None:
    there = offers()
    assert set(there["::"]) == {name for name in VERBS if name}
    for verb in VERBS.values():
        wanted = {f"--{option.name}" for option in (*verb.options, *GLOBAL_OPTIONS)}
        assert set(there[f"{verb.name}:-:"]) == wanted
    assert there["add::"] == list(KINDS)
    assert there["worksheet::"] == [sheet.name for sheet in sheets()]
    for kind in KINDS.values():
        offered = {each.removesuffix("=") for each in there[f"add:{kind.name}:"]}
        assert offered == {field.name for field in kind.fields} | {"by"}


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_script_is_whole(shell: str) -> None:
    text = script(shell)
    assert "%" not in text.replace("%s", "").replace("%q", "").replace("%%", "")
    assert all(f"'{key}'" in text for key in offers())


def test_a_shell_that_is_not_known_is_refused() -> None:
    refused(call("completion", "bahs"), 2, "one of bash, zsh, fish", "did you mean bash?")
    refused(call("completion"), 2, "one of bash, zsh, fish, not nothing")


def test_without_a_pond_there_are_no_names_and_no_complaint() -> None:
    assert call("completion", "barrels") == (0, "", "")


def test_names_of_the_pond_are_told_one_a_line(tmp_path: Path) -> None:
    folder = str(write_pond(tmp_path / "pond"))
    assert call("--pond", folder, "completion", "marks").out.splitlines() == ["rim", "full"]
