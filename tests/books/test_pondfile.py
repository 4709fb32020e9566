"""pond.toml on disk: whatever stands there, problems instead of exceptions; written whole."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.pondfile import (
    PREVIOUS,
    line_of,
    load,
    parse,
    save,
)
from pondtui.books.pondtext import as_toml
from pondtui.books.tomltext import LARGEST
from pondtui.errors import FileError
from tests.pond.setup.examples import SMALL, WHOLE


def put(folder: Path, content: bytes) -> None:
    (folder / "pond.toml").write_bytes(content)


def test_a_good_file_is_loaded_with_its_text_and_data(tmp_path: Path) -> None:
    put(tmp_path, WHOLE.encode())
    loaded = load(tmp_path)
    assert loaded.problems == []
    assert loaded.setup is not None
    assert loaded.setup.pond.name == "Alder Yard"
    assert loaded.data == tomllib.loads(WHOLE)
    assert loaded.text == WHOLE


@pytest.mark.parametrize("content", [b"\xef\xbb\xbf" + SMALL.encode(),
                                     SMALL.replace("\n", "\r\n").encode()])  # fmt: skip
def test_marks_of_other_editors_are_taken(tmp_path: Path, content: bytes) -> None:
    put(tmp_path, content)
    assert load(tmp_path).problems == []


def test_a_problem_stands_at_its_line_and_value(tmp_path: Path) -> None:
    text = WHOLE.replace('outlet = "6 cm"', 'outlet = "6 L"')
    put(tmp_path, text.encode())
    (problem,) = load(tmp_path).problems
    assert problem.line == text.split("\n").index('outlet = "6 L"') + 1
    assert problem.text == 'outlet = "6 L"'
    assert problem.text[problem.column - 1 :] == '"6 L"'
    assert str(problem).startswith(f'pond.toml:{problem.line}: barrel "blue": outlet: a length')


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ('material = "slate"', 'material = "copper"', 'material = "copper"'),
        ("ph = 7.4", "ph = 74", "ph = 74"),
        ('tmin = "Low [degC]"', 'tmin = "Low [mm]"', 'tmin = "Low [mm]"'),
        ('date = "Day"\n', "", "[weather.columns]"),
        ('outlet = "45 mm"\n', "", "[[barrel]]"),
    ],
)
def test_problems_within_tables_are_found(old: str, new: str, line: str) -> None:
    loaded = parse(WHOLE.replace(old, new))
    assert loaded.problems[0].text == line
    assert not [problem for problem in loaded.problems[1:] if problem.line]


def test_a_file_that_is_missing_is_told_with_the_way_out(tmp_path: Path) -> None:
    loaded = load(tmp_path)
    assert loaded.setup is None
    assert "pondtui new" in loaded.problems[0].message


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    (tmp_path / "pond.toml").mkdir()
    assert "a folder stands in its place" in load(tmp_path).problems[0].message


def test_a_link_that_leads_to_itself_is_told(tmp_path: Path) -> None:
    (tmp_path / "pond.toml").symlink_to(tmp_path / "pond.toml")
    (problem,) = load(tmp_path).problems
    assert "cannot be read" in problem.message


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_the_right_to_read_is_told(tmp_path: Path) -> None:
    put(tmp_path, b"")
    (tmp_path / "pond.toml").chmod(0)
    assert "its rights do not allow it" in load(tmp_path).problems[0].message


def test_a_file_too_large_is_not_parsed(tmp_path: Path) -> None:
    put(tmp_path, b"#" * (LARGEST + 1))
    assert "larger than 256 KiB" in load(tmp_path).problems[0].message


def test_a_file_in_another_encoding_is_told_with_its_line(tmp_path: Path) -> None:
    put(tmp_path, b'[pond]\nname = "\xe9tang"\n')
    (problem,) = load(tmp_path).problems
    assert (problem.line, "UTF-8" in problem.message) == (2, True)


@pytest.mark.parametrize(
    ("text", "line", "part"),
    [
        ("[pond]\nname = \n", 2, "not TOML: invalid value"),
        ("[pond]\nname = 'x'\nname = 'y'\n", 3, "not TOML: cannot overwrite a value"),
        ('[pond]\nname = "x', 2, "not TOML: unterminated string"),
        ("x = " + "[" * 5000, 0, "too deep"),
        ("x = " + "9" * 5000, 0, "thousands of digits"),
        (".".join(["a"] * 100_000) + " = 1", 1, "longer than 8 KiB"),
    ],
)
def test_what_is_no_toml_is_told_at_its_place(text: str, line: int, part: str) -> None:
    loaded = parse(text)
    assert loaded.setup is None
    (problem,) = loaded.problems
    assert (problem.line, part in problem.message) == (line, True)


@given(st.text() | st.lists(st.sampled_from([*WHOLE.split("\n"), "[", '"', "\x00"])).map("\n".join))
def test_no_text_makes_the_parsing_fail(text: str) -> None:
    loaded = parse(text)
    assert all(0 <= p.line <= text.count("\n") + 1 for p in loaded.problems)


def test_lines_are_found_by_table_key_and_number() -> None:
    lines = WHOLE.split("\n")
    assert lines[line_of(WHOLE, "barrel", "outlet", 1) - 1] == 'outlet = "6 cm"'
    assert lines[line_of(WHOLE, "barrel.roof", "area", 1) - 1] == 'area = "9 m2"'
    assert lines[line_of(WHOLE, "source.mains", "flow") - 1] == 'flow = "9 L/min"'
    assert lines[line_of(WHOLE, "", "format") - 1] == "format = 1"
    assert line_of(WHOLE, "barrel", "colour", 2) == line_of(WHOLE, "barrel", "", 2)
    assert line_of(WHOLE, "nowhere", "x") == 0
    assert line_of("mark = [{name = 'x'}]", "mark", "name") == 1
    assert line_of("a = 1\npond.name = 'x'", "pond", "name") == 2
    assert line_of('[source."my tap"]\nph = 7', "source.my tap", "ph") == 2


def test_saving_keeps_what_stood_there_and_unknown_keys(tmp_path: Path) -> None:
    before = "# my own words\n" + SMALL
    put(tmp_path, before.encode())
    data = load(tmp_path).data
    data["pond"]["mood"] = "calm"
    data["heron"] = [{"seen": 3}]
    save(tmp_path, data)
    loaded = load(tmp_path)
    assert loaded.data == data
    assert (tmp_path / PREVIOUS).read_text() == before
    assert [problem.severity for problem in loaded.problems] == ["remark", "remark"]


def test_saving_the_same_again_leaves_the_older_copy_alone(tmp_path: Path) -> None:
    put(tmp_path, SMALL.encode())
    data = load(tmp_path).data
    save(tmp_path, data)
    save(tmp_path, data)
    assert (tmp_path / PREVIOUS).read_text() == SMALL


def test_a_new_pond_has_nothing_beside_it(tmp_path: Path) -> None:
    save(tmp_path / "fern", {"pond": {"name": "Fern"}})
    assert [path.name for path in (tmp_path / "fern").iterdir()] == ["pond.toml"]


def test_what_cannot_be_written_is_told_and_the_file_stays(tmp_path: Path) -> None:
    put(tmp_path, SMALL.encode())
    with pytest.raises(FileError, match="is not saved"):
        save(tmp_path, {"pond": {"name": None}})
    assert (tmp_path / "pond.toml").read_text() == SMALL
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "pond.toml").mkdir()
    with pytest.raises(FileError, match="is not saved"):
        save(tmp_path / "other", {"pond": {}})


def test_each_table_stands_under_its_own_header_and_short_lists_on_one_line() -> None:
    text = as_toml(tomllib.loads(WHOLE))
    assert text.count("[[mark]]") == 6
    assert '\n[barrel.roof]\narea = "9 m2"\n' in text
    assert '\nforbidden = ["06-15..09-15 mon,wed,fri 09:00-19:00", "sun"]\n' in text


plain = st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.text() | st.dates()
values = st.recursive(
    plain,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(st.text(), values, max_size=4))
def test_what_is_written_reads_back_the_same(data: dict[str, Any]) -> None:
    assert tomllib.loads(as_toml(data)) == data


def test_own_steps_come_with_the_pond_and_a_broken_procedure_leaves_the_fixed_ones(
    tmp_path: Path,
) -> None:
    (tmp_path / "pond.toml").write_text('[pond]\nname = "Nook"\n')
    own = tmp_path / "procedure.toml"
    own.write_text('[[step]]\nid = "own-lid"\nafter = "mix"\ntext = "Lid on"\n')
    loaded = load(tmp_path)
    assert loaded.setup is not None
    assert [step.id for step in loaded.setup.own_steps] == ["own-lid"]
    own.write_text("[[step]\n")
    loaded = load(tmp_path)
    assert loaded.setup is not None
    assert loaded.setup.own_steps == ()
    assert [p.path for p in loaded.problems if "TOML" in p.message] == ["procedure.toml"]
