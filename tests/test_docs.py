"""The documents say what the program does: every call that is shown is run on a sample pond."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from pondtui.cli.pages import manual
from pondtui.cli.words import parse
from pondtui.pond.state.kinds import KINDS
from tests.cli.calls import call, write_pond
from tests.sample.copies import SAMPLE, copy_sample, sample_now

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROGRAMS = ("pondtui", "pipx", "uv", "git", "python", "python3", ".venv", ".ci")

# Calls that a test cannot make here, each with the reason. `DIR` and the like stand for something.
NOT_RUN = {
    "pipx install DIR": "installs; .ci/run does it from the wheel",
    "uv tool install DIR": "installs; .ci/run does it from the wheel",
    "pipx install .": "installs; .ci/run does it from the wheel",
    "uv tool install .": "installs; .ci/run does it from the wheel",
    "pondtui new DIR": "asks its questions in a terminal; tests/tui/test_first_run.py answers them",
    "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/pondtui sample": "installs; "
    "needs the network",
    "python3 -m venv .venv && .venv/bin/pip install -e '.[test,reference]' && .venv/bin/pytest": (
        "the tests themselves"
    ),
    "python -m tests.man_page": "writes the man page; tests/test_man_page.py does the same",
    "python -m tests.sample.tour": "writes the README; tests/sample/test_tour.py does the same",
    "python3 -m venv .venv && .venv/bin/pip install -e '.[test,reference]'": ".ci/run does it",
}
BY_CI = (".venv/bin/", ".ci/run")  # what DEVELOPERS.md names for the checkout itself
# What stands for something in a call that is shown, and what is put there.
STANDS_FOR = {
    "bash|zsh|fish": ["bash"],
    "KIND": ["level"],
    "NAME=VALUE": ["reading=62 mm"],
    "TOPIC": ["gauge"],
    "MARK": ["summer mark"],
    "STAMP": ["2026-09-20 12:00:00+02:00"],
    "FROM": ["2026-10-12"],
    "TO": ["2026-10-20"],
    "NAME": ["Tam Brook"],
}
# What must have happened before the call, by the words that it begins with.
BEFORE = {
    "bucket-test read": ["bucket-test", "start", "pond=62 mm", "bucket=40 mm", "pump=on"],
    "import report": ["sheet", "2026-10-12", "2026-10-20"],
    "undo": ["add", "note", "-m", "written to be taken back"],
}
# The files that calls take in: their words, the file's name, what stands in it.
FILES = (
    ("import weather", "day.csv", "Date,Tmax,Rain\n2026-10-08,14,0\n"),
    ("import log", "log.csv", "Time,Level [mm]\n2026-10-08 07:00,74\n"),
    ("import report", "report.txt", "2.1 ok\n"),
    ("worksheet trend", "readings.csv", "x,y\n" + "".join(f"{n},{n % 3 + n}\n" for n in range(9))),
)


def commands(text: str) -> set[str]:
    """Every call in a text: `code`, lines set in by four blanks, and fenced ones."""
    joined = re.sub(r"\n *", " ", text)
    found = re.findall(r"`((?:pondtui|python -m)(?: [^`]*)?)`", joined)
    for block in re.findall(r"^```sh\n(.*?)^```", text, re.M | re.S):
        found += [line.strip() for line in block.splitlines()]
    found += [line.strip() for line in text.splitlines() if line.startswith("    ")]
    found = [line.split("  #")[0].strip() for line in found]
    found = [re.sub(r"^source <\((.*)\)$|^(.*) \| source$", r"\1\2", line) for line in found]
    return {line for line in found if re.split("[ /]", line)[0] in PROGRAMS}


SHOWN = sorted({
    line for text in (README, DEVELOPERS, *(page.text for page in manual()))
    for line in commands(text) if " [" not in line and "..." not in line
})  # fmt: skip
OURS = [
    line
    for line in SHOWN
    if line.startswith(("pondtui", "python -m pondtui")) and line not in NOT_RUN
]


def filled(line: str) -> list[str]:
    """The words of a call with something put where a word stands for something."""
    name = next((name for words, name, _ in FILES if f" {words} " in line), "out")
    values = {**STANDS_FOR, "FILE": [name], "DIR": ["out"]}
    typed = shlex.split(line.replace("python -m pondtui", "pondtui"))[1:]
    words = [part for word in typed for part in values.get(word, [word])]
    return [*words, "--yes"] if words[:1] == ["import"] else words


@pytest.mark.parametrize("line", OURS)
def test_every_call_that_is_shown_can_be_made(
    line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if "--us" in line.split() and not (SAMPLE / "us").is_dir():
        pytest.skip("there is no sample in US units yet")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PONDTUI_POND", str(copy_sample(tmp_path / "pond")))
    for _, name, text in FILES:
        (tmp_path / name).write_text(text, encoding="utf-8")
    for begin, before in BEFORE.items():
        if line.startswith(f"pondtui {begin}"):
            assert call(*before, now=sample_now()).code == 0
    words = filled(line)
    result = call(*words, now=sample_now())
    assert result.code in ((0, 1) if "--exit-code" in words else (0,)), result.err


def test_every_call_that_is_shown_is_run_or_has_its_reason() -> None:
    rest = [line for line in SHOWN if line not in OURS and not line.startswith((*BY_CI, "git "))]
    assert set(rest) == set(NOT_RUN)


def test_the_calls_of_git_can_be_made(tmp_path: Path) -> None:
    if shutil.which("git") is None:
        pytest.skip("no git here")
    copy_sample(tmp_path / "DIR")
    who = ["-c", "user.name=t", "-c", "user.email=t@example.invalid"]
    for line in (
        "git init DIR",
        "git -C DIR add .",
        'git -C DIR commit -m "the pond as it stands"',
    ):
        assert line in SHOWN
        git, *words = shlex.split(line)
        done = subprocess.run([git, *who, *words], cwd=tmp_path, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr


def test_the_tour_of_a_refill_can_be_walked(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    refill = next(page for page in manual() if page.name == "refill")
    steps = sorted(line for line in commands(refill.text) if line.startswith("pondtui add "))
    assert len(steps) >= 5
    for line in steps:
        result = call("--pond", str(folder), *shlex.split(line)[1:], "--dry-run")
        assert (result.code, result.err) == (0, ""), line


def test_the_readme_names_help_topics_that_are_there() -> None:
    named = re.findall(r"^- `pondtui help ([\w.-]+)`", README, re.M)
    assert len(named) > 15
    for topic in named:
        assert call("help", topic).code == 0


@pytest.mark.parametrize("line", [line for line in SHOWN if line.startswith("pondtui")])
def test_every_call_that_is_shown_is_understood(line: str) -> None:
    parse(shlex.split(line)[1:])


def test_the_test_command_ends_in_pytest() -> None:
    marked = README.split("<!-- test command -->\n```sh\n")[1].split("\n")[0]
    assert marked.endswith("pytest")


def test_a_journal_line_that_is_shown_can_be_read(tmp_path: Path) -> None:
    texts = [README, *(page.text for page in manual())]
    lines = [line.strip() for text in texts
             for line in re.findall(r"^    (20\d\d-\d\d-\d\d .*?\|.*)$", text, re.M)]  # fmt: skip
    assert len(lines) > 8
    folder = write_pond(tmp_path / "pond", hand="\n".join(lines) + "\n")
    answer = call("--pond", str(folder), "journal", "--json")
    assert answer.err == ""
    assert {entry["kind"] for entry in answer.json["entries"]} <= set(KINDS)


@pytest.mark.parametrize("text", [README, DEVELOPERS])
def test_a_file_that_is_named_stands_there(text: str) -> None:
    named = re.findall(r"`((?:pondtui|tests|\.ci|man)/[\w./]+)`", text)
    assert [name for name in named if not (ROOT / name).exists()] == []
