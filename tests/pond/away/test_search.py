"""The search of visits on a pond that loses the same every day: what is best is known by head."""

from __future__ import annotations

from itertools import combinations

import pytest

from pondtui.pond.away.giving import given, givers
from pondtui.pond.away.kept import first_break, scene
from pondtui.pond.away.outlook import NEVER, draw_paths
from pondtui.pond.away.search import Task, at_places, pours, search
from tests.pond.away.ponds import JOURNAL, NOW
from tests.pond.away.test_what_if import DAY, FALLING, HOT
from tests.pond.box import POND, setup_of, state_of


def task_for(days: int, allowed: range | None = None, units: str = "metric") -> Task:
    setup = setup_of(POND.replace('currency = "EUR"', f'currency = "EUR"\nunits = "{units}"'))
    state = state_of(setup, JOURNAL, NOW)
    paths = draw_paths(setup, state, FALLING, HOT, days + 5)
    begin = paths.place(DAY)
    stage = scene(paths, begin, begin + days, -110.0, paths.bowl.ceiling_up())
    barrels = givers(setup, state, state.now, DAY, 420.0)
    places = allowed or range(begin, begin + days)
    return Task(setup, stage, barrels, tuple(places), 0.9)


def keeps(task: Task, places: tuple[int, ...]) -> bool:
    days = [task.scene.paths.day(place) for place in places]
    visits = tuple(zip(places, given(task.setup, task.barrels, days), strict=True))
    return first_break(task.scene, pours(task, visits), task.chance) == NEVER


@pytest.mark.parametrize("days", [4, 12, 18])
def test_of_all_plans_there_are_none_with_fewer_visits_keeps_the_promise(days: int) -> None:
    task = task_for(days)
    found = search(task)
    assert found.keeps
    if found.places:
        fewer = combinations(task.allowed, len(found.places) - 1)
        assert not any(keeps(task, places) for places in fewer)


def test_where_nothing_is_lost_nobody_has_to_come() -> None:
    assert search(task_for(4)).visits == ()


def test_visits_lie_on_allowed_days_only() -> None:
    task = task_for(20)
    allowed = task.allowed[::3]
    found = search(task._replace(allowed=allowed))
    assert set(found.places) <= set(allowed)


def test_what_cannot_be_kept_is_said_with_the_best_there_is() -> None:
    found = search(task_for(40, range(1, 2)))
    assert not found.keeps


def test_less_water_than_planned_does_not_do() -> None:
    task = task_for(20)
    found = search(task)
    less = tuple(
        (place, tuple(p._replace(litres=p.litres - 30) for p in portions))
        for place, portions in found.visits
    )
    assert first_break(task.scene, pours(task, less), task.chance) != NEVER


def test_litres_are_round_and_so_are_gallons() -> None:
    for units, step in (("metric", 5.0), ("us", 2 * 3.785411784)):
        for _, portions in search(task_for(20, units=units)).visits:
            for portion in portions:
                parts = portion.litres / step
                assert (
                    parts == pytest.approx(round(parts)) or portion.litres == portion.giver.litres
                )


def test_the_days_of_a_plan_give_the_plan_again() -> None:
    task = task_for(20)
    found = search(task)
    assert at_places(task, found.places) == found
    assert not at_places(task, found.places[:-1]).keeps
