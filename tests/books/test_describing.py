"""A changed description on disk: comments stay, what is unknown stays, nothing is written over."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.describing import (
    as_written,
    changed_by_hand,
    comments,
    read_draft,
    read_file,
    write,
)
from pondtui.books.pondpatch import patched, same
from pondtui.errors import FileError
from pondtui.pond.setup.changes import Changes
from pondtui.pond.setup.edit import FORMS, Place, changed, places, row_of
from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.forms import as_typed
from tests.pond.setup.examples import WHOLE

KEPT = """\
# a pond of mine
format = 1   # the only one
[pond]
name = "rill"       # said "rill"
colour = "green"    # nobody knows this key
[[mark]]            # the edge
name = "rim"
reading = "20 mm"   # by the rule
role = "spill"
# the next one is new
[[mark]]
name = "stone"
reading = "45 mm"
role = "target"
[notes]
by = "hand"  # unknown table
"""
FIELDS = [(table.name, field) for table in FORMS.values() for field in table.fields]


def changes(text: str) -> Changes:
    return Changes(text, tomllib.loads(text))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("# one\n[pond] # two\nname = 'a # b'\n", 2),
        ('name = "no # comment"\n', 0),
        ('a = "it\'s" # one\nb = "x"\n', 1),
        ('# it\'s one\nb = "x" # two\n', 2),
        ('a = """\n# none\n"""\n', 0),
    ],
)
def test_comments_are_counted_and_texts_are_none(text: str, number: int) -> None:
    assert comments(text) == number


def test_one_changed_value_changes_one_line_and_keeps_its_comment() -> None:
    made = changes(KEPT)
    made.put(Place("mark", 0), {"reading": "25 mm"})
    written = as_written(made)
    assert written.comments_lost == 0
    assert written.text == KEPT.replace('"20 mm"   # by', '"25 mm"   # by')


def test_tables_are_added_moved_and_taken_out_in_the_text_as_it_stands() -> None:
    made = changes(KEPT)
    place = made.add("mark")
    made.put(place, {"name": "pump", "reading": "90 mm", "role": "danger"})
    made.move(Place("mark", 1), -1)
    made.put(Place("limits"), {"pond_change": "1 degC"})
    written = as_written(made)
    assert written.comments_lost == 0
    assert tomllib.loads(written.text) == made.data
    assert [row["name"] for row in made.data["mark"]] == ["stone", "rim", "pump"]
    made.remove(Place("mark", 1))
    fewer = as_written(made)
    assert tomllib.loads(fewer.text)["notes"] == {"by": "hand"}
    assert '"rim"' not in fewer.text
    assert "# nobody knows this key" in fewer.text


def test_a_layout_that_is_not_understood_is_written_anew_and_the_lost_comments_are_counted() -> (
    None
):
    made = changes('# mine\npond = { name = "rill" } # inline\n')
    made.put(Place("pond"), {"name": "brook"})
    assert patched(made) is None
    written = as_written(made)
    assert written.comments_lost == 2
    assert tomllib.loads(written.text) == {"pond": {"name": "brook"}}


def test_a_list_over_several_lines_becomes_one_line() -> None:
    made = changes('[barrel]\n[source.tap]\nforbidden = [ # when\n  "mon",\n]  # end\nph = 7 # x\n')
    made.put(Place("source", "tap"), {"forbidden": "tue; wed"})
    assert as_written(made).text.endswith('forbidden = ["tue", "wed"]  # end\nph = 7 # x\n')


def test_what_is_written_keeps_the_file_as_it_was_beside_it(tmp_path: Path) -> None:
    (tmp_path / "pond.toml").write_text(KEPT, encoding="utf-8")
    draft = read_draft(tmp_path)
    draft.pond.put(Place("pond"), {"name": "brook"})
    write(tmp_path, "pond.toml", as_written(draft.pond), draft.pond.text)
    assert (tmp_path / "pond.toml.before").read_text("utf-8") == KEPT
    assert read_file(tmp_path, "pond.toml")[1]["pond"]["name"] == "brook"
    assert not list(tmp_path.glob(".pond*"))


def test_comments_that_go_stay_for_good_beside_the_file(tmp_path: Path) -> None:
    text = '# mine\npond = { name = "rill" }\n'
    (tmp_path / "pond.toml").write_text(text, encoding="utf-8")
    for name in ("brook", "beck"):
        draft = read_draft(tmp_path)
        draft.pond.put(Place("pond"), {"name": name})
        write(tmp_path, "pond.toml", as_written(draft.pond), draft.pond.text)
    assert (tmp_path / "pond.toml.comments").read_text("utf-8") == text
    assert read_file(tmp_path, "pond.toml")[1]["pond"]["name"] == "beck"


def test_a_change_by_hand_is_noticed(tmp_path: Path) -> None:
    (tmp_path / "pond.toml").write_text(KEPT, encoding="utf-8")
    assert not changed_by_hand(tmp_path, "pond.toml", KEPT)
    (tmp_path / "pond.toml").unlink()
    assert changed_by_hand(tmp_path, "pond.toml", KEPT)
    assert not changed_by_hand(tmp_path, "procedure.toml", "")


def test_a_file_that_is_not_toml_is_not_opened(tmp_path: Path) -> None:
    (tmp_path / "pond.toml").write_text("[pond\n", encoding="utf-8")
    with pytest.raises(FileError, match="not TOML"):
        read_draft(tmp_path)


def test_a_disk_that_takes_nothing_is_told(tmp_path: Path) -> None:
    made = changes(KEPT)
    made.put(Place("pond"), {"name": "brook"})
    (tmp_path / "pond.toml").mkdir()
    with pytest.raises(FileError, match="a folder stands in its place"):
        write(tmp_path, "pond.toml", as_written(made), "")


@given(st.sampled_from(FIELDS), st.data())
def test_any_edit_of_one_field_leaves_every_other_part_equal(
    chosen: tuple[str, Field], data: st.DataObject
) -> None:
    table, field = chosen
    text = WHOLE.replace("[[barrel]]", '[[barrel]]\ncolour = "blue"', 1)
    text += '\n[notes]\nby = "hand"\n'
    made = Changes(text, tomllib.loads(text))
    here = places(made.data, FORMS[table])
    if not here:
        here = [made.add(table, "spring")]
    place = data.draw(st.sampled_from(here))
    example = as_typed(tomllib.loads(f"x = {field.example}")["x"])
    words = st.sampled_from(field.words) if field.words else st.just(example)
    typed = data.draw(st.one_of(words, st.text("ab 1.;#\"'[=\\", max_size=12), st.just("")))
    before = made.typed(place)
    made.put(place, {field.key: typed})
    again = tomllib.loads(as_written(made).text)
    assert same(again, made.data)
    if made.typed(place).get(field.key, "") == before.get(field.key, ""):
        return
    row = row_of(again, place)
    assert row is not None
    back = changed(again, place, {field.key: before.get(field.key, "")})
    old = row_of(tomllib.loads(text), place)
    new = row_of(back, place) or {}
    assert {k: v for k, v in new.items() if k != field.key} == {
        k: v for k, v in (old or {}).items() if k != field.key
    }
    emptied = changed(again, place, {f.key: "" for f in FORMS[table].fields})
    plain = changed(made.base, place, {f.key: "" for f in FORMS[table].fields})
    if old is not None:
        assert emptied == plain  # all that is not in this table is equal, unknown parts too
