"""Changes that are not in pond.toml yet come back as they were; a file that was cut says so."""

from __future__ import annotations

import json
import stat
from pathlib import Path
from typing import Any

import pytest

from pondtui.books import describing, unwritten
from pondtui.books.folder import unwritten_of
from pondtui.errors import FileError
from pondtui.pond.setup.edit import Place
from tests.tui.ponds import write_pond


def changed(folder: Path) -> describing.Draft:
    """A mark renamed and moved, another taken out, one added, a step of one's own."""
    draft = describing.read_draft(folder)
    draft.pond.put(Place("mark", 1), {**draft.pond.typed(Place("mark", 1)), "name": "slab"})
    draft.pond.move(Place("mark", 1), 1)
    draft.pond.remove(Place("mark", 0))
    draft.pond.put(draft.pond.add("mark"), {"name": 'a "quoted" \\ mark', "reading": "1 m"})
    draft.pond.put(Place("pond"), {**draft.pond.typed(Place("pond")), "name": "池 \U0001f41f"})
    draft.steps.put(draft.steps.add("step"), {"id": "net", "text": "lay the net"})
    return draft


def test_what_is_kept_comes_back_with_which_row_was_which(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "pond")
    draft, place = changed(folder), tmp_path / "kept.json"
    unwritten.write(place, unwritten.as_text(draft))
    back = unwritten.read(place)
    assert back is not None
    for (_, ours), (_, theirs) in zip(draft.files, back.files, strict=True):
        assert theirs.data == ours.data
        assert (theirs.text, theirs.base) == (ours.text, ours.base)
        assert theirs.changed
    assert back.pond.origins("mark") == draft.pond.origins("mark") == [2, 1, 3, None]
    assert stat.S_IMODE(place.stat().st_mode) == 0o600


def test_a_hand_that_changed_the_file_meanwhile_is_merged_and_not_overwritten(
    tmp_path: Path,
) -> None:
    folder, place = write_pond(tmp_path / "pond"), tmp_path / "kept.json"
    unwritten.write(place, unwritten.as_text(changed(folder)))
    text = (
        (folder / "pond.toml").read_text("utf-8").replace('reading = "45 mm"', 'reading = "9 mm"')
    )
    (folder / "pond.toml").write_text(text, "utf-8")
    back = unwritten.read(place)
    assert back is not None
    assert describing.changed_by_hand(folder, "pond.toml", back.pond.text)
    back.pond.rebase(*describing.read_file(folder, "pond.toml"))
    slab = next(row for row in back.pond.data["mark"] if row["name"] == "slab")
    assert slab["reading"] == "9 mm"  # renamed here, read anew there


def test_nothing_kept_is_nothing(tmp_path: Path) -> None:
    assert unwritten.read(tmp_path / "kept.json") is None
    unwritten.drop(tmp_path / "kept.json")


def test_each_pond_has_a_place_of_its_own_however_its_folder_is_named(tmp_path: Path) -> None:
    one, other = write_pond(tmp_path / "one"), write_pond(tmp_path / "other")
    (tmp_path / "link").symlink_to(one)
    assert unwritten_of(tmp_path, one) == unwritten_of(tmp_path, tmp_path / "link")
    assert unwritten_of(tmp_path, one) != unwritten_of(tmp_path, other)


GARBAGE = (
    b"", b"{", b"[]", b"null", b"7", b'"text"', b"\xff\xfe", b"[" * 100_000, b"{}" * 3,
    b'{"pond.toml": 1, "procedure.toml": 1}', b'{"pond.toml": {"read": "", "changed": "\\"\\ud800'
    b'\\" = 1", "origins": {}}, "procedure.toml": {"read": "", "changed": "", "origins": {}}}',
)  # fmt: skip


@pytest.mark.parametrize("data", GARBAGE)
def test_garbage_is_one_sentence(tmp_path: Path, data: bytes) -> None:
    place = tmp_path / "kept.json"
    place.write_bytes(data)
    with pytest.raises(FileError, match="what Setup kept cannot be read: it was cut or changed"):
        unwritten.read(place)
    assert unwritten.set_aside(place).read_bytes() == data
    assert not place.exists()


def test_a_file_cut_anywhere_is_refused_whole(tmp_path: Path) -> None:
    place = tmp_path / "kept.json"
    data = unwritten.as_text(changed(write_pond(tmp_path / "pond"))).encode()
    for length in range(0, len(data) - 1, 37):
        place.write_bytes(data[:length])
        with pytest.raises(FileError, match="cut or changed"):
            unwritten.read(place)


@pytest.mark.parametrize(
    "rows", [[0], [0, 0, 1, 2], [0, 1, 2, 9], [0, 1, 2, -1], [0, 1, 2, "3"], [0, 1, 2, True], 7]
)
def test_rows_that_fit_no_table_are_refused(tmp_path: Path, rows: Any) -> None:
    place = tmp_path / "kept.json"
    kept = json.loads(unwritten.as_text(changed(write_pond(tmp_path / "pond"))))
    kept["pond.toml"]["origins"]["mark"] = rows
    place.write_text(json.dumps(kept), "utf-8")
    with pytest.raises(FileError, match="cut or changed"):
        unwritten.read(place)


def test_a_folder_in_its_place_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "kept.json").mkdir()
    with pytest.raises(FileError, match="a folder stands in its place"):
        unwritten.read(tmp_path / "kept.json")
