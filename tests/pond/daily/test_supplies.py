"""What is left of each supply, for how long, and what is kept back. All cases are constructed.

The box pond filled to its target of 40 mm holds 4560 L; its label asks 8 mL per 100 L.
"""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.pond.daily.amounts import Amount, amount_of
from pondtui.pond.daily.supplies import Stock, stocks
from pondtui.pond.refill.plan import Plan, make_plan
from tests.pond.box import POND, at, entries_of, setup_of, state_of

NOW = "2026-06-10 09:00"
FOOD = """
[[chore]]
name = "feed"
every = "1 d"
[[supply]]
name = "food"
used_by = "feed"
each = "5 g"
reorder_at = "100 g"
place = "tin in the shed"
[[supply]]
name = "hose coupling"
thread = "3/4 in, outer"
reorder_at = 1
"""


def stock(lines: str, name: str, pond: str = POND, now: str = NOW) -> Stock:
    setup = setup_of(pond)
    found = stocks(setup, state_of(setup, lines, now), entries_of(lines), at(now))
    return next(s for s in found if s.name == name)


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("500 mL", Amount(500, "mL")),
        ("1 L", Amount(1000, "mL")),
        ("0.2 kg", Amount(200, "g")),
        ("2", Amount(2, "")),
        ("2 bottles", Amount(2, "bottle")),
        ("1 Bottle", Amount(1, "bottle")),
        ("some", None),
        ("", None),
        ("1,5 L", None),
    ],
)
def test_an_amount_is_what_the_keeper_counts_in(text: str, amount: Amount | None) -> None:
    assert amount_of(text, None) == amount


def test_doses_are_taken_off_the_conditioner_and_one_for_the_whole_pond_is_kept() -> None:
    lines = """
    2026-06-01 08:00 | supply | item=conditioner; got=500 mL; left=900 mL
    2026-06-05 08:00 | treat | barrel=yard; dose=16 mL
    2026-06-08 08:00 | treat | barrel=yard; dose=14 mL
    """
    found = stock(lines, "conditioner")
    assert found.left == Amount(870, "mL")
    assert found.used == Amount(30, "mL")
    assert found.bought == Amount(500, "mL")
    assert found.kept is not None
    assert found.kept.value == pytest.approx(364.8)
    # 505.2 mL are free; 30 mL in five days are 6 mL a day
    assert found.days_left == pytest.approx(505.2 / (30 / 5.04167), rel=1e-3)
    assert not found.low


def test_the_plan_leaves_the_emergency_dose_alone() -> None:
    lines = """
    2026-06-10 07:00 | supply | item=conditioner; left=370 mL
    2026-06-10 08:00 | level | reading=100 mm
    """
    setup = setup_of(POND)
    plan = make_plan(setup, state_of(setup, lines, NOW), at(NOW))
    assert isinstance(plan, Plan)
    assert any("emergency" in verdict.reason for verdict in plan.closed)


def test_food_goes_with_every_feeding_that_was_not_skipped() -> None:
    lines = """
    2026-06-01 07:00 | supply | item=Food; got=200 g; best_before=2026-12-31
    2026-06-01 08:00 | chore | name=feed
    2026-06-02 08:00 | chore | name=feed; skipped=yes | cold
    2026-06-03 08:00 | chore | name=Feed
    2026-06-11 08:00 | chore | name=feed
    """
    found = stock(lines, "food", POND + FOOD)
    assert (found.left, found.used) == (Amount(190, "g"), Amount(10, "g"))
    assert (found.best_before, found.place) == (date(2026, 12, 31), "tin in the shed")
    assert found.days_left == pytest.approx(190 / (10 / 9.0417), rel=1e-3)


def test_a_count_goes_before_what_was_reckoned() -> None:
    lines = """
    2026-06-01 07:00 | supply | item=food; got=200 g
    2026-06-02 08:00 | chore | name=feed
    2026-06-03 08:00 | supply | item=food; left=80 g
    """
    found = stock(lines, "food", POND + FOOD)
    assert found.left == Amount(80, "g")
    assert found.low


@pytest.mark.parametrize(("left", "low"), [("2", False), ("1", True), ("0", True)])
def test_a_spare_part_is_counted_in_pieces_and_has_its_thread(left: str, low: bool) -> None:
    found = stock(f"2026-06-01 07:00 | supply | item=hose coupling; left={left}", "hose coupling",
                  POND + FOOD)  # fmt: skip
    assert (found.low, found.thread) == (low, "3/4 in, outer")


def test_what_was_never_counted_is_not_known_and_not_low() -> None:
    found = stock("", "food", POND + FOOD)
    assert (found.left, found.low, found.days_left) == (None, False, None)


def test_counted_in_bottles_and_used_in_grams_is_told_not_guessed() -> None:
    lines = """
    2026-06-01 07:00 | supply | item=food; left=2 bottles
    2026-06-02 08:00 | chore | name=feed
    """
    found = stock(lines, "food", POND + FOOD)
    assert found.left == Amount(2, "bottle")
    assert found.days_left is None
    assert "counted in bottle, used in g" in found.note


def test_out_of_date_begins_the_day_after() -> None:
    found = Stock("food", None, best_before=date(2026, 6, 10))
    assert not found.stale(date(2026, 6, 10))
    assert found.stale(date(2026, 6, 11))
