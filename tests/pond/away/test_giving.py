"""What barrels can give while the keeper is away: rain first, ready next, filled last."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.pond.away.giving import (
    SHARE_OF_ROOM,
    Giver,
    filling_hour,
    given,
    givers,
    never_filled,
    to_fill_l,
)
from pondtui.pond.setup.model import Setup
from tests.pond.away.ponds import JOURNAL, NOW
from tests.pond.box import POND, SHED, at, setup_of, state_of

FIRST = date(2026, 6, 12)
SHED_FULL = "2026-06-09 19:00+02:00 | dip | barrel=shed; left=200 L\n"


def of(
    text: str, journal: str = JOURNAL, room_l: float = 1000.0
) -> tuple[Setup, tuple[Giver, ...]]:
    setup = setup_of(text)
    return setup, givers(setup, state_of(setup, journal, NOW), at(NOW), FIRST, room_l)


def test_rain_comes_before_the_tap() -> None:
    _, found = of(POND + SHED, JOURNAL + SHED_FULL)
    assert [g.barrel.source for g in found] == ["rain", "tap"]
    assert found[0].ready
    assert found[0].use_by is None
    assert not found[0].refills


def test_an_empty_rain_barrel_gives_nothing_and_rain_to_come_is_not_counted() -> None:
    _, found = of(POND + SHED)
    assert [g.barrel.source for g in found] == ["tap"]


def test_no_batch_is_larger_than_its_share_of_the_room() -> None:
    _, (yard,) = of(POND, room_l=200.0)
    assert yard.litres == SHARE_OF_ROOM * 200


def test_what_is_not_worth_a_walk_is_left_out() -> None:
    assert of(POND, room_l=10.0)[1] == ()


def test_the_first_visit_opens_what_is_ready_and_the_next_ones_fill() -> None:
    setup, barrels = of(POND)
    first, second = given(setup, barrels, [FIRST, FIRST + timedelta(4)])
    assert [p.fills for p in (*first, *second)] == [False, True]


def test_what_was_left_ready_too_long_ago_is_filled_anew() -> None:
    setup, barrels = of(POND)
    late = FIRST + timedelta(setup.limits.treated_keeps_min // 1440 + 1)
    ((portion,),) = given(setup, barrels, [late])
    assert portion.fills


def test_rain_is_given_once() -> None:
    setup, barrels = of(POND + SHED, JOURNAL + SHED_FULL)
    first, second = given(setup, barrels[:1], [FIRST, FIRST + timedelta(3)])
    assert len(first) == 1
    assert second == ()


def test_no_hose_runs_in_forbidden_hours_and_none_on_a_forbidden_day() -> None:
    evening = POND.replace("price = 4.0", 'price = 4.0\nforbidden = ["08:00-20:00"]')
    setup = setup_of(evening)
    assert filling_hour(setup, setup.barrels[0], FIRST) == "20:00"
    never = setup_of(POND.replace("price = 4.0", 'price = 4.0\nforbidden = ["00:00-24:00"]'))
    assert filling_hour(never, never.barrels[0], FIRST) == ""


def test_a_barrel_is_never_filled_where_every_hour_of_the_days_is_forbidden() -> None:
    setup, barrels = of(POND.replace("price = 4.0", 'price = 4.0\nforbidden = ["fri-sat"]'))
    assert (FIRST.weekday(), [g.barrel.name for g in barrels]) == (4, ["yard"])  # a Friday
    assert never_filled(setup, barrels, [FIRST, FIRST + timedelta(1)]) == ["yard"]
    assert never_filled(setup, barrels, [FIRST, FIRST + timedelta(2)]) == []
    assert never_filled(setup, barrels, []) == []


def test_no_filling_goes_over_the_line() -> None:
    setup = setup_of(POND)
    assert to_fill_l(setup.barrels[0], 500.0) == 180.0
