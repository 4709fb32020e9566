"""The pond's folder: noticing changes from outside, and replacing small files safely."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from pondtui.books.folder import GIT_ATTRIBUTES, PondFolder, Watch, replace_file
from pondtui.errors import FileError


@pytest.fixture
def folder(tmp_path: Path) -> PondFolder:
    """A pond's folder with a file of each sort."""
    pond = PondFolder(tmp_path)
    pond.journal.mkdir()
    pond.weather.mkdir()
    pond.pond.write_text("format = 1\n")
    (pond.journal / "2026-desk.txt").write_text("# one\n# two\n")
    (pond.weather / "2026.csv").write_text("Date\n")
    return pond


def test_the_fingerprint_names_what_the_state_comes_from(folder: PondFolder) -> None:
    (folder.journal / "note.md").write_text("x")
    assert sorted(folder.fingerprint()) == [
        "journal/2026-desk.txt",
        "pond.toml",
        "weather/2026.csv",
    ]


def test_an_empty_place_has_an_empty_fingerprint(tmp_path: Path) -> None:
    assert PondFolder(tmp_path / "gone").fingerprint() == {}


def test_what_grew_or_came_is_noticed_once(folder: PondFolder) -> None:
    watch = Watch(folder)
    assert not watch.changed()
    with (folder.journal / "2026-desk.txt").open("a") as file:
        file.write("# three\n")
    assert [watch.changed(), watch.changed()] == [True, False]
    (folder.journal / "2026-phone.txt").write_text("")
    assert [watch.changed(), watch.changed()] == [True, False]
    folder.procedure.write_text("")
    assert [watch.changed(), watch.changed()] == [True, False]


def test_a_replaced_file_of_the_same_size_is_noticed(folder: PondFolder) -> None:
    watch = Watch(folder)
    before = folder.pond.stat()
    (folder.path / "new").write_text("format = 2\n")
    os.utime(folder.path / "new", ns=(before.st_atime_ns, before.st_mtime_ns))
    os.replace(folder.path / "new", folder.pond)
    assert watch.changed()


def test_a_file_that_shrank_is_believed_when_two_looks_agree(folder: PondFolder) -> None:
    watch = Watch(folder)
    (folder.journal / "2026-desk.txt").write_text("# one\n")
    assert [watch.changed(), watch.changed(), watch.changed()] == [False, True, False]


def test_a_file_caught_in_the_middle_of_writing_is_not_believed(folder: PondFolder) -> None:
    watch = Watch(folder)
    path = folder.journal / "2026-desk.txt"
    path.write_text("")
    assert not watch.changed()
    path.write_text("# one\n# two\n# three\n")
    assert [watch.changed(), watch.changed()] == [True, False]


def test_a_file_that_went_away_is_believed_at_the_second_look(folder: PondFolder) -> None:
    watch = Watch(folder)
    folder.pond.unlink()
    assert [watch.changed(), watch.changed(), watch.changed()] == [False, True, False]


def test_git_is_told_to_keep_both_sides() -> None:
    assert GIT_ATTRIBUTES == "journal/*.txt merge=union text eol=lf\n"


def test_a_small_file_is_replaced_with_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "pond.toml"
    replace_file(path, "one\n")
    assert path.stat().st_mode & 0o777 == 0o600
    path.chmod(0o644)
    replace_file(path, "zwei ä\n")
    assert path.read_bytes() == "zwei ä\n".encode()
    assert path.stat().st_mode & 0o777 == 0o644
    assert [file.name for file in path.parent.iterdir()] == ["pond.toml"]


def test_a_link_is_followed_and_stays(tmp_path: Path) -> None:
    (tmp_path / "real.toml").write_text("old")
    (tmp_path / "pond.toml").symlink_to("real.toml")
    replace_file(tmp_path / "pond.toml", "new")
    assert (tmp_path / "pond.toml").is_symlink()
    assert (tmp_path / "real.toml").read_text() == "new"


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_failure_leaves_the_old_file_and_no_litter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    path = tmp_path / "pond.toml"
    path.write_text("old")

    def fail(*_arguments: object) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, call, fail)
    with pytest.raises(FileError, match=r"pond\.toml is not saved: the disk is full"):
        replace_file(path, "new")
    assert path.read_text() == "old"
    assert [file.name for file in tmp_path.iterdir()] == ["pond.toml"]
