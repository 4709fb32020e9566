"""A file that a person named is read whole, or refused with its name and the reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from pondtui.books.texts import LARGEST, read_text
from pondtui.errors import FileError


def test_a_mark_at_the_start_of_a_file_is_no_text(tmp_path: Path) -> None:
    (tmp_path / "good.csv").write_bytes(b"\xef\xbb\xbfx,y\n")
    assert read_text(str(tmp_path / "good.csv")) == "x,y\n"


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("none.csv", None, "cannot be read: No such file"),
        ("latin.csv", b"\xff\xfe", "not UTF-8"),
        ("large.csv", b"x" * (LARGEST + 1), "larger than 5 MiB"),
        ("nul\0.csv", None, "cannot be read"),
    ],
)
def test_a_file_that_cannot_be_read_is_named(
    tmp_path: Path, name: str, data: bytes | None, words: str
) -> None:
    if data is not None:
        (tmp_path / name).write_bytes(data)
    with pytest.raises(FileError, match=words) as caught:
        read_text(str(tmp_path / name))
    assert name in str(caught.value)
