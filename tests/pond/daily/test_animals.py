"""Counts by kind, with what came and what was lost since. All cases are constructed."""

from __future__ import annotations

from pondtui.pond.daily.animals import animals, told
from tests.pond.box import at, entries_of

LINES = """
2026-05-01 08:00 | count | kind=goldfish; number=9
2026-05-02 08:00 | event | what=loss; kind=goldfish; count=2 | heron
2026-05-03 08:00 | event | what=new-fish; kind=Goldfish; count=3
2026-05-04 08:00 | event | what=loss; kind=goldfish
2026-05-05 08:00 | count | kind=pond snail; number=20
2026-05-06 08:00 | event | what=animal; kind=heron
"""


def test_each_kind_is_kept_apart_and_told_with_what_happened_since() -> None:
    fish, snails = animals(entries_of(LINES), at("2026-05-10 08:00"))
    assert (fish.counted, fish.came, fish.lost, fish.expected) == (9, 3, 3, 9)
    assert told(fish) == "9 goldfish (9 counted, 3 came since, 3 lost since)"
    assert told(snails) == "20 pond snail"


def test_a_new_count_goes_before_what_was_reckoned() -> None:
    again = LINES + "2026-05-07 08:00 | count | kind=goldfish; number=8"
    fish = animals(entries_of(again), at("2026-05-10 08:00"))[0]
    assert (fish.expected, fish.lost) == (8, 0)


def test_a_loss_of_what_nobody_counted_is_told_as_such() -> None:
    (fish,) = animals(
        entries_of("2026-05-02 08:00 | event | what=loss; count=2"), at("2026-05-10 08:00")
    )
    assert fish.expected is None
    assert told(fish) == "fish: never counted (2 lost)"


def test_what_lies_ahead_has_not_happened() -> None:
    fish = animals(entries_of(LINES), at("2026-05-02 07:00"))[0]
    assert fish.expected == 9
