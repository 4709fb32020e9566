"""No text of anybody's is obeyed by the terminal: looked for in the bytes that reach a real one,
and in what goes into a pipe."""

from __future__ import annotations

import io
import json
import os
from pathlib import Path

import pytest

from pondtui.cli.main import main
from tests.cli.calls import NOW, call
from tests.security import hostile
from tests.security.payloads import ALL, CONTROLS, MARKUP, TERMINAL, UNSEEN
from tests.security.seen import obeyed
from tests.tui.ponds import write_pond
from tests.tui.terminal import Terminal

CLOCK = {"PONDTUI_NOW": "2026-08-14T18:20:00+02:00"}
REPORT = "\n".join(f"1.{n} {text}" for n, text in enumerate(ALL, 1))
# every verb that shows something, on a pond that is hostile through and through
CALLS: tuple[tuple[str, ...], ...] = (
    ("status",), ("status", "--alarms"), ("plan",), ("chores",), ("tests",), ("supplies",),
    ("journal", "--last", "500"), ("check",), ("water",), ("loss",), ("outlook",), ("automation",),
    ("away", "2026-08-20", "2026-08-27"), ("sheet",), ("sheet", "2026-08-20", "2026-08-27"),
    ("sheet", "--as", "markdown"), ("sheet", "--private"), ("where",), ("export", "entries"),
    ("chores", "history", "c0 \x1b[6666m"), ("import", "weather", "weather/\x1b[6666m.csv"),
    ("import", "log", "weather/\x1b[6666m.csv"), ("import", "report", "report\x1b[6666m.txt"),
    ("import", "report", "\x1b]0;title6666\x07"), ("bucket-test",), ("worksheet", "\x1b[6666m"),
    ("add", "note", "-m", "\x1b]52;c;NjY2Ng==\x07", "--dry-run"), ("add", "\x1b[6666m"),
    ("add", "level", "\x1b[6666m=1"), ("add", "level", "reading=\x1b[6666m"), ("\x1b[6666m",),
    ("status", "--\x1b[6666m"), ("help", "\x1b[6666m"), ("journal", "\x9b6666m"),
    ("status", "--pond", "/no\x1b[6666m/\u202eplace"), ("chores", "tick", "\x1b[6666m"),
    ("sheet", "--sitter", "\x1b[6666m"), ("export", "entries", "-o", "/no\x1b[6666m/x.csv"),
    ("away", "\x1b[6666m", "\u202e"), ("new", "pond\x1b[6666m", "--from", "x\x1b[6666m.toml"),
)  # fmt: skip
KEYS = (
    "?q", "p", "\x1b[6~\x1b[6~q", "j", "\r", "q\x1b[B\r", "q\x1b[6~\x1b[6~\r", "qq", "c",
    "\x1b[6~q",
    "r", "\x1b[B?q", "q", "a", "q", "s", "q", "b", "q", "w", "q", "h", "q", "e", "count \x1b", "n",
    "\x1b",
)  # fmt: skip
SCRIPT = """
import json, sys
from pondtui.cli.main import main
for words in json.load(open(sys.argv[1])):
    main(words)
"""


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = hostile.write(tmp_path / "pond")
    hostile.settings(tmp_path / "config/pondtui")
    (folder / "report\x1b[6666m.txt").write_bytes(REPORT.encode("utf-8", "surrogatepass"))
    monkeypatch.setattr("socket.gethostname", lambda: "desk.example")
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.chdir(folder)
    return folder


def test_there_are_enough_payloads_and_no_two_are_alike() -> None:
    assert len(set(ALL)) == len(ALL) >= 100
    assert min(len(TERMINAL), len(UNSEEN), len(MARKUP), len(CONTROLS)) >= 14


@pytest.mark.parametrize("text", [*TERMINAL, *CONTROLS, *UNSEEN], ids=ascii)
def test_the_look_at_the_output_sees_every_payload(text: str) -> None:
    if text not in ("lines\nsecond6666", "cr\rover6666"):
        assert obeyed(f"a{text}b".encode("utf-8", "surrogatepass"))


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize("words", CALLS, ids=lambda words: ascii(" ".join(words))[:40])
def test_no_answer_in_a_pipe_holds_what_a_terminal_obeys(words: tuple[str, ...]) -> None:
    done = call(*words)
    assert done.code != 70, done.err
    assert done.out + done.err
    assert obeyed((done.out + done.err).encode("utf-8", "surrogatepass")) == []
    assert "\r" not in (done.out + done.err).replace("\r\n", "")


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize("words", CALLS, ids=lambda words: ascii(" ".join(words))[:40])
def test_no_answer_as_json_holds_it_either(words: tuple[str, ...]) -> None:
    done = call(*words, "--json")
    assert done.code != 70, done.err
    if words[0] != "export" and "--as" not in words:
        assert all(isinstance(json.loads(each), dict | list) for each in (done.out,) if each)
    assert obeyed((done.out + done.err).encode("utf-8", "surrogatepass")) == []


def test_no_byte_of_an_answer_on_a_real_terminal_is_obeyed(pond: Path, tmp_path: Path) -> None:
    (tmp_path / "calls.json").write_text(json.dumps(CALLS))
    environ = {**CLOCK, "HOME": str(tmp_path), "PONDTUI_POND": str(pond)}
    environ["XDG_CONFIG_HOME"] = str(tmp_path / "config")
    environ["PYTHONPATH"] = os.pathsep.join(
        (str(Path(__file__).parents[2]), os.environ["PYTHONPATH"])
    )
    terminal = Terminal(["-c", SCRIPT, str(tmp_path / "calls.json")], environ, 200, 50)
    data = b""
    while terminal.process.poll() is None:
        data += terminal.read(0.3)
    data += terminal.read(0.5)
    assert terminal.close() == 0
    assert len(data) > 50_000
    assert obeyed(data) == []


def test_no_byte_of_the_screen_is_obeyed(pond: Path, tmp_path: Path) -> None:
    environ = {**CLOCK, "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    terminal = Terminal(["-m", "pondtui", "--pond", str(pond)], environ, 120, 45)
    terminal.wait_for("q quit", 30)
    terminal.come_to_rest()  # what is collected begins with a whole sign
    data = b""
    terminal.type_on("n")
    data += terminal.come_to_rest()
    for text in (*TERMINAL[:20], *UNSEEN[:20]):  # pasted, and looked at in the field itself
        terminal.type_on(f"\x1b[200~{text}\x1b[201~")
        data += terminal.read(0.1)
    data += terminal.come_to_rest()
    assert "6666" in "\n".join(terminal.lines())
    terminal.type_on("\x1b")
    data += terminal.come_to_rest()
    seen: set[str] = set()
    for keys in KEYS:
        terminal.type_on(keys)
        data += terminal.come_to_rest()
        seen.update(terminal.lines())
    shown = "\n".join(seen)
    assert shown.count("\u241b[6666m") > 5  # where it stands, it stands as signs
    assert "[@click=app.quit]out[/]" in shown
    for room in ("Journal", "Chores", "Refill"):
        assert room in shown
    assert len(data) > 20_000
    assert obeyed(data) == []
    terminal.kill()


def test_a_payload_typed_as_a_note_is_shown_as_signs_and_kept_on_one_line(
    pond: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pond = write_pond(tmp_path / "plain")  # each note reads all of it: only the notes are hostile
    monkeypatch.setenv("PONDTUI_POND", str(pond))
    for text in ALL:
        before = (pond / "journal/2026-desk.txt").read_bytes().count(b"\n")
        done = call("add", "note", "-m", f"x{text}", "--json")
        assert done.code == 0, done.err
        assert (pond / "journal/2026-desk.txt").read_bytes().count(b"\n") == before + 1
    out, err = io.StringIO(), io.StringIO()
    assert main(["check"], out, err, NOW) in (0, 1)
