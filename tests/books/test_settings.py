"""The program's settings: broken ones never stop it, and nobody's keys are lost."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from pondtui.books.settings import NAME, Settings, read_settings, write_settings
from pondtui.errors import FileError


def test_without_a_file_the_defaults_hold(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "gone") == (Settings(), [])


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    settings = Settings("desk", "MO", "/ponds/quince", "dusk", True, {"today": "t"})
    write_settings(tmp_path / "new", settings)
    assert read_settings(tmp_path / "new") == (settings, [])
    write_settings(tmp_path / "new", Settings("desk"))
    assert read_settings(tmp_path / "new") == (Settings("desk"), [])


def test_keys_of_a_newer_program_stay(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text('by = "MO"\nsounds = true\n[window]\nwide = 3\n')
    settings, problems = read_settings(tmp_path)
    assert (settings.by, problems) == ("MO", [])
    write_settings(tmp_path, settings._replace(device="desk"))
    assert tomllib.loads((tmp_path / NAME).read_text()) == {
        "by": "MO",
        "device": "desk",
        "sounds": True,
        "window": {"wide": 3},
    }


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b'by = "MO\n', "mend it or delete it"),
        (b"\xff\xfe", "not UTF-8 text"),
        (b"x = " + b"[" * 3_000, "too deep"),
        (b"#" * (256 * 1024 + 1), "larger than 256 KiB"),
    ],
)
def test_a_broken_file_is_a_problem_and_is_kept_aside(
    tmp_path: Path, data: bytes, message: str
) -> None:
    (tmp_path / NAME).write_bytes(data)
    settings, problems = read_settings(tmp_path)
    assert settings == Settings()
    assert message in problems[0].message
    write_settings(tmp_path, Settings("desk"))
    assert read_settings(tmp_path) == (Settings("desk"), [])
    assert (tmp_path / f"{NAME}.broken").read_bytes() == data


@pytest.mark.parametrize(
    "text",
    [
        'device = "My Desk"',
        'device = "hand"',
        "device = 3",
        'by = "a;b"',
        'ascii = "yes"',
        "keys = 3",
        "keys = {today = 3}",
        "theme = []",
    ],
)
def test_a_setting_that_cannot_be_used_is_left_at_its_default(tmp_path: Path, text: str) -> None:
    (tmp_path / NAME).write_text(f'last_pond = "/ponds/quince"\n{text}\n')
    settings, problems = read_settings(tmp_path)
    assert settings == Settings(last_pond="/ponds/quince")
    assert problems[0].message.startswith(text.split(" ")[0])


def test_hidden_characters_of_a_setting_become_visible(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text('by = "M\\u001b[31mO"\n')
    assert read_settings(tmp_path)[0].by == "M␛[31mO"
    write_settings(tmp_path, Settings(last_pond="/ponds/\udcff"))
    assert read_settings(tmp_path)[0].last_pond == "/ponds/�"


def test_a_folder_in_the_file_s_place_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / NAME).mkdir()
    settings, problems = read_settings(tmp_path)
    assert settings == Settings()
    assert "a folder stands in its place" in problems[0].message


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(FileError, match="a file stands where a folder belongs"):
        write_settings(tmp_path / "file", Settings("desk"))
