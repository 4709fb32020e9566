"""A journal amended in memory is the journal that a fresh reading gives."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.amend import one_line_more, with_entries
from pondtui.books.journal import Journal, read_folder
from pondtui.books.lines import make
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.merge import merge

ZONE = ZoneInfo("UTC")
BEGIN = 1_786_000_000


def note(second: int, text: str) -> Entry:
    """A note some seconds after the beginning."""
    return make("note", {}, text, BEGIN + second, ZONE, None)


def chore(second: int, name: str) -> Entry:
    """A chore done some seconds after the beginning."""
    return make("chore", {"name": name}, "", BEGIN + second, ZONE, None)


def strike(second: int, of: int) -> Entry:
    """A strike of the note at a second."""
    stamp = note(of, "x").stamp
    return make("strike", {"of": f"{stamp} note"}, "", BEGIN + second, ZONE, None)


ENTRIES = st.lists(
    st.one_of(
        st.builds(note, st.integers(0, 8), st.sampled_from(["one", "two"])),
        st.builds(chore, st.integers(0, 8), st.sampled_from(["Feed", " feed ", "sweep"])),
        st.builds(strike, st.integers(0, 8), st.integers(0, 8)),
    ),
    max_size=8,
)


def journal_of(entries: list[Entry]) -> Journal:
    merged = merge(entries)
    return Journal(merged.entries, merged.live, merged.struck, [], [], False, False)


@given(ENTRIES, ENTRIES)
def test_entries_added_one_by_one_or_at_once_make_the_same_history(
    before: list[Entry], after: list[Entry]
) -> None:
    one_by_one = journal_of(before)
    for entry in after:
        one_by_one = with_entries(one_by_one, [entry])
    whole = journal_of([*before, *after])
    for amended in (one_by_one, with_entries(journal_of(before), after)):
        assert amended.entries == whole.entries
        assert amended.live == whole.live
        assert amended.live.places == whole.live.places
        assert amended.struck == whole.struck


def test_a_file_that_grew_by_a_line_gives_the_lines_number(tmp_path: Path) -> None:
    (tmp_path / "journal").mkdir()
    path = tmp_path / "journal/2026-desk.txt"
    path.write_text("# a comment\n2026-08-14 07:43:10Z | note | | one\n", encoding="utf-8")
    journal, number = one_line_more(read_folder(tmp_path, ZONE, None), "journal/2026-desk.txt")
    assert number == 3
    assert one_line_more(journal, "journal/2026-desk.txt")[1] == 4
    assert one_line_more(journal, "journal/2026-phone.txt") == (journal, 0)
