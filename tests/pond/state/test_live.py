"""The index of the live entries tells what a walk over all of them tells."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.daily.happened import done, last_done, latest
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, key_of, live_of, topics
from tests.pond.world import entries

FACTS = st.sampled_from(
    [
        "note | | heron",
        "chore | name=feed",
        "chore | name=Feed ; skipped=yes | rain",
        "chore | name=sweep",
        "event | what=smoke",
        "event | what=pump-off",
        "supply | item=Food; got=1 kg",
        "level | reading=60 mm; temp=12 degC",
        "level | reading=61 mm",
        "test | where=pond; ph=7.8; ammonia=0.1 mg/L as N; kh=6 dKH",
        "test | where=tap; ph=7.2",
        "fill | barrel=yard; added=5 L",
        "sonar | name=feed",
    ]
)
HISTORIES = st.lists(FACTS, max_size=25).map(
    lambda facts: entries(
        [f"2026-06-{n // 3 + 1:02} {8 + n % 3:02}:00:00Z | {fact}" for n, fact in enumerate(facts)]
    )
)
DAY_S = 86_400


@given(HISTORIES)
def test_the_entries_of_a_topic_are_those_that_a_filter_finds(history: list[Entry]) -> None:
    live = Live(history)
    for topic in {("chore", "feed"), ("note",), *(t for entry in history for t in topics(entry))}:
        wanted = [entry for entry in history if topic in topics(entry)]
        assert live.of(topic) == wanted
        assert list(live.backwards(topic)) == wanted[::-1]


@given(HISTORIES)
def test_the_entries_of_several_topics_come_once_each_and_in_order(history: list[Entry]) -> None:
    wanted = [entry for entry in history if entry.kind in ("chore", "event")]
    assert Live(history).of(("event",), ("chore", "feed"), ("chore",)) == wanted


@given(HISTORIES, st.integers(0, 25))
def test_one_entry_more_is_found_as_if_all_were_read_again(history: list[Entry], cut: int) -> None:
    live = Live(history[:cut])
    for entry in history[cut:]:
        live = live.plus(entry)
    assert live == Live(history)
    assert live.places == Live(history).places


@given(HISTORIES, st.integers(-1, 10))
def test_what_came_since_an_instant_is_all_from_it_on(history: list[Entry], days: int) -> None:
    instant = (history[0].instant if history else 0) + days * DAY_S
    wanted = [entry for entry in history if entry.instant >= instant]
    assert list(Live(history).since(instant)) == wanted


@given(HISTORIES, st.integers(-1, 10), st.integers(-1, 10))
def test_the_entries_of_a_topic_between_two_instants_are_those_that_a_filter_finds(
    history: list[Entry], first: int, last: int
) -> None:
    begin = history[0].instant if history else 0
    since, until = begin + first * DAY_S, begin + last * DAY_S
    live = Live(history)
    of_topic = [entry for entry in history if entry.kind in ("chore", "event")]
    wanted = [entry for entry in of_topic if since <= entry.instant <= until]
    assert live.of(("chore",), ("event",), since=since, until=until) == wanted
    earlier = [entry for entry in history if entry.kind == "level" and entry.instant <= until]
    assert list(live.backwards(("level",), until)) == earlier[::-1]


@given(HISTORIES, st.integers(0, 10))
def test_the_last_of_all_times_is_told_without_a_walk_over_them(
    history: list[Entry], days: int
) -> None:
    now = (history[0].instant if history else 0) + days * DAY_S
    live = Live(history)
    for name in ("feed", "FEED", "sweep", "never"):
        times = done(live, now, name)
        assert [each.instant for each in times] == [
            entry.instant
            for entry in history
            if entry.kind == "chore"
            and key_of(entry.fields["name"]) == key_of(name)
            and entry.instant <= now + 120
        ]
        assert last_done(live, now, name) == (times[-1] if times else None)
    for word in ("feed", "smoke", "level", "chore"):
        instants = [
            entry.instant
            for entry in history
            if {(word,), ("event", word), ("chore", word)} & set(topics(entry))
            and not entry.get("skipped")
            and entry.instant <= now + 120
        ]
        assert latest(live, now, word) == max(instants, default=None)


def test_entries_that_have_an_index_keep_it() -> None:
    live = Live(entries("2026-06-01 08:00:00Z | note | | one"))
    assert live_of(live) is live
    assert live_of(list(live)) == live
