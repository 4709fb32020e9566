"""`new`: a pond folder from answers or a file, and never over a pond that is there."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.cli.calls import POND, Terminal, call, refused

# the answers in the order of the questions; "" takes the default
ANSWERS = [
    *("Rill", "UTC", "", "", ""),
    *("box", "3 m", "2 m", "80 cm", "20 mm", "45 mm", "240 mm"),
    *("yard", "straight", "50 cm", "50 cm", "90 cm", "80 cm", "80 mm"),
    "11 L/min",
    *("8 mL", "100 L"),
    "",  # the chores
]


def answer(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    monkeypatch.setattr("sys.stdin", Terminal("".join(f"{line}\n" for line in lines)))


def test_a_folder_is_made_from_a_file_byte_for_byte(tmp_path: Path) -> None:
    source = tmp_path / "mine.toml"
    source.write_text("# my own words\n" + POND)
    folder = tmp_path / "ponds" / "rill"
    assert call("new", str(folder), "--from", str(source)).code == 0
    assert (folder / "pond.toml").read_text() == source.read_text()
    assert (folder / ".gitattributes").read_text() == "journal/*.txt merge=union text eol=lf\n"
    assert list((folder / "journal").iterdir()) == []


def test_the_new_pond_is_the_one_used_from_now_on(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(POND)
    call("new", str(tmp_path / "rill"), "--from", str(tmp_path / "mine.toml"))
    assert call("add", "level", "reading=62 mm").code == 0
    assert call("journal", "--json").json["entries"][0]["values"] == {"reading_mm": 62.0}


def test_the_answers_make_a_pond_that_checks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer(monkeypatch, *ANSWERS)
    result = call("new", str(tmp_path / "rill"), terminal=True)
    assert (result.code, result.err) == (0, "")
    description = tomllib.loads((tmp_path / "rill" / "pond.toml").read_text())
    assert description["pond"]["name"] == "Rill"
    assert description["barrel"][0]["outlet"] == "80 mm"
    assert call("check").code == 0


def test_a_wrong_answer_is_explained_and_asked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = ["Rill", "Mars/North", "UTC", "", "furlongs", "metric", "", "blob", "box", "3 kg"]
    answer(monkeypatch, *lines, "nan m", "-3 m", "3,2 m", *ANSWERS[6:])
    result = call("new", str(tmp_path / "rill"), terminal=True)
    assert result.code == 0
    assert result.out.count("How long is it?") == 5
    assert "not 3 kg" in result.out
    assert "use a point: 3.2 m" in result.out


def test_answers_that_stop_make_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    answer(monkeypatch, *ANSWERS[:5])
    result = call("new", str(tmp_path / "rill"), terminal=True)
    assert result.code == 2
    assert "nothing was made" in result.err
    assert not (tmp_path / "rill").exists()


def test_nothing_is_asked_without_a_terminal(tmp_path: Path) -> None:
    refused(call("new", str(tmp_path / "rill")), 2, "--from FILE.toml")
    assert not (tmp_path / "rill").exists()


@pytest.mark.parametrize("words", [[], [""], ["a", "b"]])
def test_one_folder_has_to_be_named(words: list[str]) -> None:
    refused(call("new", *words), 2, "pondtui new DIR")


def test_a_pond_that_is_there_is_never_overwritten(pond: Path, tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(POND + "# other\n")
    refused(call("new", str(pond), "--from", str(tmp_path / "mine.toml")), 3, "already")
    assert (pond / "pond.toml").read_text() == POND
    (pond / "pond.toml").unlink()
    refused(call("new", str(pond), "--from", str(tmp_path / "mine.toml")), 3, "already")


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(POND)
    source = str(tmp_path / "mine.toml")
    refused(call("new", source, "--from", source), 3, "is a file")
    refused(call("new", f"{source}/rill", "--from", source), 3, "cannot be made")


@pytest.mark.parametrize(
    ("text", "fragment"),
    [
        ("[pond\n", "mine.toml:1"),
        ("", "mine.toml"),
        (POND.replace('"0.8 m"', '"0.8 kg"', 1), "depth"),
        (POND.replace('"0.8 m"', '"nan m"', 1), "depth"),
    ],
)
def test_a_description_with_problems_makes_no_pond(
    tmp_path: Path, text: str, fragment: str
) -> None:
    (tmp_path / "mine.toml").write_text(text)
    result = call("new", str(tmp_path / "rill"), "--from", str(tmp_path / "mine.toml"))
    refused(result, 3, fragment, "nothing was made")
    assert not (tmp_path / "rill").exists()


def test_a_description_that_is_not_there_is_named(tmp_path: Path) -> None:
    source = str(tmp_path / "gone.toml")
    refused(call("new", str(tmp_path / "rill"), "--from", source), 3, "gone.toml", "cannot be read")
    refused(call("new", str(tmp_path / "rill"), "--from", str(tmp_path)), 3, "cannot be read")
