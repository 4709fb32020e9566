"""No name leads out of where it belongs, and what is private is its owner's alone."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
import tomli_w

from pondtui.books.draft import read_draft, write_draft
from pondtui.books.faults import record
from pondtui.books.store import is_device, suggest_device
from pondtui.tui.app import PondApp
from tests.cli.calls import POND, call, write_pond
from tests.tui.ponds import app_on, settle

OUTWARD = (
    "../x", "..", ".", "/etc/x", "a/b", "a\\b", "~/x", "~root/x", "con", "a\0b", "-o", "x/../../y",
    "%2e%2e%2fx", "..%c0%afx", "\u2025/x", "\uff0e\uff0e/x", "x\n", "$HOME/x", "x.txt/../../y", "",
)  # fmt: skip
LEVEL = "2026-08-14 10:00:00+02:00 | level | reading=62 mm |\n"
PRIVATE = """
[[person]]
name = "Sam"
role = "sitter"
phone = "0470 555 123"
[house]
gate_code = "4711"
"""


@pytest.fixture
def pond(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("socket.gethostname", lambda: "../../desk")
    folder = write_pond(tmp_path / "here/pond", POND + PRIVATE, hand=LEVEL)
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    monkeypatch.chdir(tmp_path)
    return folder


def files(folder: Path) -> set[str]:
    return {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()}


def own(path: Path) -> dict[str, bytes]:
    return {str(p): p.read_bytes() for p in path.rglob("*") if p.is_file()}


@pytest.mark.parametrize("name", OUTWARD, ids=ascii)
def test_no_device_can_be_called_by_a_path(name: str) -> None:
    assert not is_device(name) or name in ("con", "-o")  # harmless behind 2026-
    assert is_device(suggest_device(name))


@pytest.mark.parametrize("name", OUTWARD, ids=ascii)
def test_a_device_that_the_settings_call_so_writes_into_the_journal(
    pond: Path, tmp_path: Path, name: str
) -> None:
    home = Path(os.environ["XDG_CONFIG_HOME"]) / "pondtui"
    home.mkdir(parents=True)
    (home / "settings.toml").write_text(tomli_w.dumps({"device": name}), "utf-8", newline="")
    before = files(tmp_path)
    assert call("add", "note", "-m", "heron").code == 0
    (new,) = files(tmp_path) - before
    assert Path(new).parent == Path("here/pond/journal")
    assert pond.exists()


@pytest.mark.parametrize("name", OUTWARD, ids=ascii)
def test_names_of_batches_barrels_and_sitters_make_no_path(
    pond: Path, tmp_path: Path, name: str
) -> None:
    before = files(tmp_path)
    for words in (
        ("add", "tick", "step=mix", f"batch={name}"),
        ("add", "fill", f"barrel={name}", "added=1 L"),
        ("add", "chore", f"name={name}"), ("add", "away", "from=2026-08-20", f"sitter={name}"),
        ("sheet", "2026-08-20", "2026-08-22", "--sitter", name),
        ("bucket-test", name), ("worksheet", name), ("help", name), ("sample", name),
    ):  # fmt: skip
        assert call(*words).code in (0, 1, 2, 3), words
    folders = {str(Path(each).parent) for each in files(tmp_path) - before}
    assert folders <= {"here/pond/journal", "here/pond/sheets"}
    assert (pond / "pond.toml").read_text() == POND + PRIVATE


@pytest.mark.parametrize(
    "words",
    [
        ("sheet",), ("sheet", "2026-08-20", "2026-08-22", "--as", "html"),
        ("export", "entries"), ("export", "water"), ("water", "--as", "html"),
        ("chores", "--as", "ics"),
    ],
    ids=lambda words: " ".join(words),
)  # fmt: skip
@pytest.mark.parametrize(
    "place",
    [
        "pond.toml", "procedure.toml", "journal/2026-hand.txt", "journal/2026-new.txt",
        "journal/deep/x.txt", "weather/x.csv", "sheets/../pond.toml", "journal", ".", "link",
        "pond.toml.before", "pond.toml.comments", ".gitattributes", "out/../journal/x.txt",
        "nul\0x",
    ],
    ids=ascii,
)  # fmt: skip
def test_nothing_is_written_over_the_ponds_own_files(
    pond: Path, words: tuple[str, ...], place: str
) -> None:
    (pond / "link").symlink_to(pond / "journal" / "2026-hand.txt")
    before = own(pond)
    done = call(*words, "-o", str(pond / place))
    assert done.code == 3, done
    assert done.err.count("\n") == 1
    new = own(pond).items() - before.items()
    assert {Path(path).parent.name for path, _ in new} <= {"sheets"}
    assert before.items() <= own(pond).items()


@pytest.mark.parametrize("name", ["../../x", "/x", "..\\x", "a/../../b", "\x1b[6666m", "con.", "~"])
def test_a_table_that_is_taken_in_stands_in_the_weather_folder(
    pond: Path, tmp_path: Path, name: str
) -> None:
    folder = tmp_path / "given"
    folder.mkdir()
    (folder / name.replace("/", "_")).write_text("Date,Tmin [degC]\n2026-06-01,3\n")
    before = files(tmp_path)
    assert call("import", "weather", str(folder / name.replace("/", "_")), "--yes").code == 0
    new = files(tmp_path) - before
    (table,) = (each for each in new if each.endswith(".csv"))
    assert Path(table).parent == Path("here/pond/weather")
    assert set(Path(table).stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert pond.exists()


@pytest.mark.parametrize("pattern", ["../*.csv", "/etc/*", "weather/../../*", "~/*.csv", "**/../*"])
def test_weather_is_not_read_from_outside_the_pond(
    pond: Path, tmp_path: Path, pattern: str
) -> None:
    (tmp_path / "here/out.csv").write_text("Date,Tmin [degC]\n2026-06-01,3\n")
    text = POND + tomli_w.dumps({"weather": {"files": [pattern]}})
    (pond / "pond.toml").write_text(text)
    assert "out.csv" not in call("check").out


@pytest.fixture
def open_umask() -> Iterator[None]:
    """New files would be anybody's."""
    before = os.umask(0)
    yield
    os.umask(before)


@pytest.mark.usefixtures("open_umask")
async def test_all_that_is_written_can_be_read_by_its_owner_alone(
    pond: Path, tmp_path: Path
) -> None:
    theirs = own(tmp_path)
    days = ("2026-08-20", "2026-08-22")
    for words in (
        ("add", "note", "-m", "heron"), ("sheet", *days, "--private", "-o", "a.txt"),
        ("sheet", *days, "--as", "html", "--private", "-o", "a.html"),
        ("sheet", *days, "-o", "b.txt"), ("export", "entries", "-o", "c.csv"),
        ("water", "--as", "html", "-o", "d.html"), ("chores", "--as", "ics", "-o", "e.ics"),
        ("new", "made", "--from", str(pond / "pond.toml")),
    ):  # fmt: skip
        assert call(*words).code == 0, words
    write_draft(tmp_path / "kept", {"phone": "0470 555 123"})
    assert read_draft(tmp_path / "kept") == {"phone": "0470 555 123"}
    assert record(tmp_path / "data", "0470 555 123")
    app: PondApp = app_on(pond)
    async with app.run_test(size=(80, 24)) as pilot:
        app.session.write("note", {}, "from the screen")
        await settle(pilot)
    home = Path(os.environ["XDG_CONFIG_HOME"]).parent
    new = [p for top in (tmp_path, home) for p in top.rglob("*") if p.is_file()]
    modes = {str(p): stat.S_IMODE(p.stat().st_mode) for p in new if str(p) not in theirs}
    assert len(modes) > 12
    assert {path: oct(mode) for path, mode in modes.items() if mode & 0o077} == {}
