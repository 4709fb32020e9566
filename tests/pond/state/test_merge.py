"""One history out of many files: order, repeats and strikes."""

from __future__ import annotations

import random
from datetime import UTC

from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.lines import parse_line
from pondtui.pond.state.entry import Entry, Reference
from pondtui.pond.state.merge import merge


def moment(second: int) -> str:
    """A stamp some seconds after noon."""
    return f"2026-06-03 12:{second // 60:02}:{second % 60:02}Z"


def entry(text: str, path: str = "journal/a.txt", line: int = 1) -> Entry:
    """The entry of a line."""
    found, problems = parse_line(text, path, line, UTC, None)
    assert found is not None, problems
    return found


def level(second: int, note: str = "") -> Entry:
    """A reading at that second."""
    return entry(f"{moment(second)} | level | reading=62 mm | {note}")


def strike(second: int, of: int, kind: str = "level", note: str = "") -> Entry:
    """A strike at one second of what stands at another."""
    return entry(f"{moment(second)} | strike | of={moment(of)} {kind} | {note}")


def live_levels(*entries: Entry) -> int:
    """How many readings are left."""
    return sum(each.kind == "level" for each in merge(entries).live)


def messages(*entries: Entry, severity: str = "problem") -> list[str]:
    """What merging these says."""
    return [each.message for each in merge(entries).problems if each.severity == severity]


def test_entries_stand_by_instant_then_rank_then_text() -> None:
    late, early = level(9), entry("2026-06-03 13:59:58+02:00 | level | reading=1 mm")
    fill = entry(f"{moment(9)} | fill | barrel=yard; added=9 L")
    other = entry(f"{moment(9)} | sonar | x=1")
    beside = level(9, "zz")
    merged = merge([other, beside, late, fill, early])
    assert merged.entries == [early, fill, late, beside, other]
    assert merged.entries == sorted(merged.entries, key=lambda each: each.order)


def test_equal_entries_count_once_wherever_they_stand() -> None:
    first = entry(f"{moment(5)} | level | reading=62 mm; pump=on", "journal/a.txt", 3)
    copies = [
        entry(f"{moment(5)} | level | pump=on; reading=62 mm", "journal/b.txt", 4),
        entry("2026-06-03 14:00:05+02:00 | level | pump=on; reading=62 mm", "journal/b.txt", 2),
    ]
    merged = merge([first, *copies])
    assert merged.entries == [first]
    # the line that is kept is the first by its own text, whichever was read first
    assert merged.entries[0].line == 4
    assert [(each.path, each.line, each.severity) for each in merged.problems] == [
        ("journal/a.txt", 3, "remark"),
        ("journal/b.txt", 2, "remark"),
    ]
    assert all("elsewhere" in each.message for each in merged.problems)


def test_a_conflict_copy_is_one_remark() -> None:
    lines = [f"{moment(place)} | level | reading=62 mm" for place in range(300)]
    own = [entry(line, "journal/a.txt", place + 1) for place, line in enumerate(lines)]
    copy = [entry(line, "journal/a (copy).txt", place + 1) for place, line in enumerate(lines)]
    merged = merge([*copy, *own])
    assert len(merged.entries) == 300
    assert [each.message for each in merged.problems] == [
        "300 entries from here on stand elsewhere too; they count once"
    ]


def test_a_strike_takes_back_what_it_names_wherever_it_stands() -> None:
    assert live_levels(level(1), strike(2, 1)) == 0
    assert live_levels(strike(0, 1), level(1)) == 0
    assert live_levels(level(1), level(3), strike(2, 1)) == 1


def test_a_struck_entry_stays_in_the_history() -> None:
    merged = merge([level(1), strike(2, 1)])
    assert len(merged.entries) == 2
    assert merged.struck == {(level(1).instant, "level")}


def test_a_strike_of_a_strike_restores() -> None:
    assert live_levels(level(1), strike(2, 1), strike(3, 2, "strike")) == 1


def test_a_third_strike_takes_back_again() -> None:
    chain = [level(1), strike(2, 1), strike(3, 2, "strike"), strike(4, 3, "strike")]
    assert live_levels(*chain) == 0


def test_a_long_chain_of_strikes_is_settled() -> None:
    chain = [strike(place, place - 1, "strike") for place in range(2, 3001)]
    assert live_levels(level(0), strike(1, 0), *chain) == (len(chain) + 1) % 2 ^ 1


def test_of_two_strikes_of_one_entry_both_must_go() -> None:
    two = [level(1), strike(2, 1), strike(3, 1)]
    assert live_levels(*two, strike(4, 2, "strike")) == 0
    assert live_levels(*two, strike(4, 2, "strike"), strike(5, 3, "strike")) == 1


def test_a_strike_that_names_itself_has_no_effect_and_is_a_problem() -> None:
    merged = merge([level(1), strike(2, 2, "strike")])
    assert list(merged.live) == merged.entries
    assert "names itself and has no effect" in merged.problems[0].message


def test_a_circle_of_strikes_has_no_effect_and_is_a_problem() -> None:
    ring = [strike(2, 3, "strike"), strike(3, 4, "strike"), strike(4, 2, "strike")]
    assert merge([level(1), *ring]).struck == frozenset()
    assert len(messages(level(1), *ring)) == 3


def test_a_strike_beside_a_circle_still_works() -> None:
    # two strikes at one second: one of them in a circle, the other of a reading
    entries = [level(1), strike(2, 3, "strike"), strike(3, 2, "strike"), strike(2, 1)]
    assert live_levels(*entries) == 0


def test_a_circle_that_is_struck_from_outside_is_no_problem_any_more() -> None:
    self_struck = strike(2, 2, "strike")
    assert messages(self_struck, strike(5, 2, "strike")) == []


def test_a_circle_below_a_circle_is_settled_on_its_own() -> None:
    # both at second 2 and second 3 strike each other; 3 also names 4; 4 and 5 strike each other
    entries = [
        strike(2, 3, "strike"),
        strike(3, 2, "strike"),
        strike(3, 4, "strike"),
        strike(4, 5, "strike"),
        strike(5, 4, "strike"),
        strike(5, 1),
        level(1),
    ]
    merged = merge(entries)
    assert (level(4).instant, "strike") in merged.struck
    assert live_levels(*entries) == 0


def test_a_strike_of_several_entries_takes_all_and_is_remarked() -> None:
    entries = [level(1, "a"), level(1, "b"), strike(2, 1)]
    assert live_levels(*entries) == 0
    assert "takes back 2 entries" in messages(*entries, severity="remark")[0]


def test_a_strike_of_nothing_is_remarked() -> None:
    assert "names no entry" in messages(strike(2, 1), severity="remark")[0]


# --- laws -----------------------------------------------------------------------------------------

SECOND = st.integers(0, 6)
ENTRIES = st.lists(
    st.builds(level, SECOND, st.sampled_from(["", "a"]))
    | st.builds(strike, SECOND, SECOND, st.sampled_from(["level", "strike", "sonar"]), st.just(""))
    | st.builds(lambda at: entry(f"{moment(at)} | sonar | x=1"), SECOND),
    max_size=14,
)


@given(ENTRIES, st.randoms(use_true_random=False))
def test_order_and_repeats_of_reading_change_nothing(
    entries: list[Entry], rng: random.Random
) -> None:
    shuffled = entries + rng.choices(entries, k=3) if entries else []
    rng.shuffle(shuffled)
    one, other = merge(entries), merge(shuffled)
    assert one.entries == other.entries
    assert [each.stamp for each in one.entries] == [each.stamp for each in other.entries]
    assert one.live == other.live
    assert one.struck == other.struck


@given(ENTRIES)
def test_merging_what_was_merged_changes_nothing(entries: list[Entry]) -> None:
    once = merge(entries)
    assert merge(once.entries).entries == once.entries
    assert once.entries == sorted(set(entries), key=lambda each: each.order)


def by_the_words(entries: list[Entry]) -> set[Entry]:
    """The live entries by the plain words of the rule, slowly.

    A strike in a circle has no effect; an entry is struck if a live strike names it.
    """
    everything = set(entries)
    strikes = [each for each in everything if each.kind == "strike"]
    names = {
        one: [
            other for other in everything if Reference(other.instant, other.kind) == one.get("of")
        ]
        for one in strikes
    }

    def reaches(start: Entry) -> set[Entry]:
        found: set[Entry] = set()
        todo = list(names.get(start, []))
        while todo:
            each = todo.pop()
            if each not in found:
                found.add(each)
                todo += names.get(each, [])
        return found

    working = [each for each in strikes if each not in reaches(each)]

    def is_live(each: Entry) -> bool:
        return not any(each in names[one] and is_live(one) for one in working)

    return {each for each in everything if is_live(each)}


@given(ENTRIES)
def test_strikes_do_what_the_rule_says(entries: list[Entry]) -> None:
    assert set(merge(entries).live) == by_the_words(entries)


@given(ENTRIES, st.integers(0, 6))
def test_a_strike_added_and_struck_again_changes_nothing(entries: list[Entry], of: int) -> None:
    before = merge(entries)
    extra = [strike(100, of), strike(101, 100, "strike")]
    after = merge([*entries, *extra])
    assert [each for each in after.live if each not in extra] == list(before.live)
