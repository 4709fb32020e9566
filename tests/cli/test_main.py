"""Exit codes, errors and streams: what every verb owes its caller."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import pondtui
from pondtui.cli.main import main
from pondtui.errors import PondError
from tests.cli.calls import call, refused, write_pond


def break_the_journal(monkeypatch: pytest.MonkeyPatch, fault: BaseException) -> None:
    def broken(*_: object) -> int:
        raise fault

    monkeypatch.setattr("pondtui.cli.journal.run", broken)


def process(*words: str, pipe: str = "") -> subprocess.CompletedProcess[str]:
    line = [sys.executable, "-m", "pondtui", *words]
    if pipe:
        return subprocess.run(
            ["bash", "-o", "pipefail", "-c", f'"$@" {pipe}', "-", *line],
            capture_output=True,
            text=True,
        )
    return subprocess.run(line, capture_output=True, text=True, stdin=subprocess.DEVNULL)


def test_the_version_is_one_line() -> None:
    assert call("--version") == (0, f"pondtui {pondtui.__version__}\n", "")


def test_a_wrong_word_ends_with_2() -> None:
    refused(call("frobnicate"), 2, "there is no verb 'frobnicate'")


def test_with_json_an_error_is_an_object_on_standard_error() -> None:
    result = call("worksheet", "nope", "--json")
    assert result.out == ""
    assert "no worksheet 'nope'" in json.loads(result.err)["error"]
    assert result.code == 2


def test_without_any_pond_the_way_to_one_is_named() -> None:
    refused(call("journal"), 2, "pondtui sample", "pondtui new DIR", "--pond DIR")


def test_a_missing_pond_folder_ends_with_3(tmp_path: Path) -> None:
    refused(call("journal", "--pond", str(tmp_path / "gone")), 3, "gone", "does not exist")


def test_a_home_that_nobody_has_is_a_missing_folder() -> None:
    refused(call("--pond", "~nobody-at-all/pond", "journal"), 3, "does not exist")


def test_an_installation_without_its_packages_says_what_is_missing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "platformdirs", None)
    refused(call("where"), 70, "the package platformdirs is missing", "install pondtui again")


def test_an_empty_pond_folder_is_not_the_pond_used_last() -> None:
    refused(call("--pond", "", "journal"), 2, "--pond: name the pond folder")


def test_a_file_in_place_of_the_pond_folder_ends_with_3(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    refused(call("--pond", str(tmp_path / "file"), "journal"), 3, "is no folder")


def test_a_folder_without_a_description_is_no_pond(tmp_path: Path) -> None:
    refused(call("--pond", str(tmp_path), "check"), 3, "no pond.toml in it")


@pytest.mark.usefixtures("pond")
def test_the_pond_of_the_call_goes_before_the_environment(tmp_path: Path) -> None:
    line = "2026-08-01 10:00:00Z | note | | the other pond\n"
    other = write_pond(tmp_path / "other", hand=line)
    assert "the other pond" in call("--pond", str(other), "journal").out
    assert "the other pond" not in call("journal").out


def test_a_fault_of_ours_is_one_sentence_and_its_trace_a_file(
    pond: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    break_the_journal(monkeypatch, KeyError("private words"))
    result = call("journal", "--pond", str(pond))
    refused(result, 70, "please report", "KeyError")
    kept = result.err.rpartition(" ")[2].strip()
    assert "Traceback" in Path(kept).read_text()


def test_a_fault_that_cannot_be_kept_is_still_one_sentence(
    pond: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "file"))
    break_the_journal(monkeypatch, KeyError("x"))
    refused(call("journal", "--pond", str(pond)), 70, "please report")


def test_the_trace_is_printed_only_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PONDTUI_DEBUG", "1")
    break_the_journal(monkeypatch, KeyError("x"))
    assert "Traceback" in call("journal").err


@pytest.mark.parametrize(
    ("fault", "code"),
    [
        (BrokenPipeError(), 0),
        (KeyboardInterrupt(), 128 + signal.SIGINT),
        (PermissionError(13, "Permission denied", "pond.toml"), 3),
        (IsADirectoryError(21, "Is a directory", "journal"), 3),
        (PondError("a sentence"), 70),
        (RecursionError(), 70),
    ],
)
def test_each_way_to_end_has_its_code(
    monkeypatch: pytest.MonkeyPatch, fault: BaseException, code: int
) -> None:
    break_the_journal(monkeypatch, fault)
    result = call("journal")
    assert result.code == code
    assert result.out == ""


def test_a_terminal_is_never_sent_what_it_would_obey(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text(
        "2026-08-01 10:00:00Z | note | | title \x1b]0;owned\x07 here\n"
    )
    for words in (["journal"], ["help", "\x1b[2J"], ["\x1b[2J"], ["add", "\x1b[2J"]):
        result = call(*words, terminal=True)
        assert "\x1b" not in result.out + result.err


def test_nothing_that_is_printed_carries_colour(pond: Path) -> None:
    for words in (["help"], ["journal"], ["check"], ["where"], ["worksheet", "air-gap"]):
        result = call(*words, "--pond", str(pond), terminal=True)
        assert "\x1b" not in result.out + result.err


@pytest.mark.parametrize("text", ["yesterday", "2026-08-14 18:20", "2026-02-30 10:00:00Z", "nan"])
def test_a_clock_that_is_no_moment_is_refused(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setenv("PONDTUI_NOW", text)
    refused(call("where", now=None), 2, "PONDTUI_NOW")


def test_the_clock_can_be_set(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PONDTUI_NOW", "2026-06-03 07:42:00+02:00")
    assert call("where", "--json", now=None).json["now"] == "2026-06-03 05:42:00+00:00"


def test_both_ways_to_start_are_the_same() -> None:
    assert process("--version").stdout == f"pondtui {pondtui.__version__}\n"


def test_a_reader_that_goes_away_is_no_error() -> None:
    done = process("help", pipe="| head -c 5 >/dev/null")
    assert (done.returncode, done.stderr) == (0, "")
    done = process("worksheet", pipe="| true")
    assert (done.returncode, done.stderr) == (0, "")


def test_a_locale_without_our_signs_still_gets_an_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    done = process("help", "values")
    assert (done.returncode, done.stderr) == (0, "")
    assert "18.5 degC" in done.stdout


def test_an_argument_that_is_no_text_is_refused_like_any_other() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pondtui", b"\xff\xfe"], capture_output=True, text=True
    )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_a_full_disk_behind_the_output_is_one_sentence() -> None:
    done = process("help", pipe=">/dev/full")
    assert done.returncode == 3
    assert done.stderr == "pondtui: the output: No space left on device\n"


@pytest.mark.parametrize("closed", [">&-", "2>&-", "<&-"])
def test_a_closed_stream_is_no_fault(closed: str) -> None:
    done = process("--version", pipe=closed)
    assert (done.returncode, done.stderr) == (0, "")


def test_errors_that_nobody_reads_change_nothing() -> None:
    class Gone(io.StringIO):
        def write(self, _: str) -> int:
            raise BrokenPipeError

    assert main(["frobnicate"], io.StringIO(), Gone()) == 2


def test_settings_that_cannot_be_read_are_told_and_left_alone(
    pond: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = tmp_path / "settings" / "pondtui" / "settings.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text("theme = [")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    result = call("add", "note", "-m", "x", "--pond", str(pond))
    assert result.code == 0
    assert "settings.toml" in result.err
    assert settings.read_text() == "theme = ["


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_an_unreadable_journal_is_named(pond: Path) -> None:
    (pond / "journal").chmod(0)
    try:
        result = call("check")
    finally:
        (pond / "journal").chmod(0o700)
    assert "journal" in result.out
    assert result.code == 1


def test_a_file_in_place_of_the_journal_is_named_and_nothing_written(pond: Path) -> None:
    (pond / "journal").rmdir()
    (pond / "journal").write_text("")
    assert call("check").code == 1
    assert call("journal").code == 0
    refused(call("add", "note", "-m", "x"), 3, "read-only")


def test_a_folder_in_place_of_this_devices_file_is_named(pond: Path) -> None:
    (pond / "journal" / "2026-desk.txt").mkdir()
    refused(call("add", "note", "-m", "x"), 3, "not saved", "2026-desk.txt")
