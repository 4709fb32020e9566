"""Whether visits keep the level: the quick way held to the plain one, course by course."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

import pytest

from pondtui.pond.away.falling import Falling
from pondtui.pond.away.kept import Pour, Scene, breaks, first_break, scene, share_kept, spare
from pondtui.pond.away.outlook import NEVER, draw_paths
from tests.pond.away.ponds import JOURNAL, NOW
from tests.pond.away.test_what_if import DAY, HOT
from tests.pond.box import POND, setup_of, state_of

DAYS = 20
UNSURE = Falling(1.0, 0.1, 0.5, 0.2, 0.0, 4.0, 3.0, 40)


@cache
def stage(floor_up: float) -> Scene:
    setup = setup_of(POND)
    paths = draw_paths(setup, state_of(setup, JOURNAL, NOW), UNSURE, HOT, DAYS + 5)
    begin = paths.place(DAY)
    return scene(paths, begin, begin + DAYS, floor_up, paths.bowl.ceiling_up())


def drawn(one: Scene, chance: random.Random) -> list[Pour]:
    """Visits on some days, now and then two barrels on one, or one on a day out of the absence."""
    places = chance.choices(range(one.begin - 1, one.end + 2), k=chance.randrange(6))
    return [Pour(p, chance.choice((60.0, 180.0)), chance.choice((-70.0, -90.0))) for p in places]


def plainly(one: Scene, pours: Sequence[Pour], missed: int | None) -> list[int]:
    """Where each course is first at the mark or under it, a step at a time."""
    bowl = one.paths.bowl
    found = []
    for up, row in zip(one.levels, one.paths.moves, strict=True):
        broke = NEVER
        for place in range(one.begin, one.end + 1):
            if up <= one.floor_up:
                broke = place
                break
            if place < one.end:
                for pour in pours:
                    if pour.place == place != missed and up <= pour.below_up:
                        up = bowl.after(up, pour.litres)
                up = max(min(up + row[place], bowl.spill_up), bowl.bottom_up)
        found.append(broke)
    return sorted(found)


@pytest.mark.parametrize("seed", range(40))
def test_courses_break_where_they_do_step_by_step(seed: int) -> None:
    chance = random.Random(seed)
    one = stage(chance.choice((-80.0, -110.0, -150.0, -200.0)))
    pours = drawn(one, chance)
    places = sorted({pour.place for pour in pours if one.begin <= pour.place < one.end})
    missed = chance.choice([None, *places])
    expected = plainly(one, pours, missed)
    assert breaks(one, pours, missed) == expected
    assert share_kept(one, pours, missed) == expected.count(NEVER) / len(expected)
    promise = chance.choice((0.5, 0.9, 0.99))
    allowed = spare(len(one.levels), promise)
    worst = min(plainly(one, pours, each)[allowed] for each in [None, *places])
    assert first_break(one, pours, promise) == worst
    assert first_break(one, pours, promise, over=worst) <= worst
    assert first_break(one, pours, promise, over=worst - 1) == worst


def test_the_scenes_are_neither_all_kept_nor_all_lost() -> None:
    shares = [share_kept(stage(up), []) for up in (-80.0, -110.0, -150.0, -200.0)]
    assert shares == sorted(shares)
    assert shares[0] < 0.1
    assert shares[-1] > 0.3
