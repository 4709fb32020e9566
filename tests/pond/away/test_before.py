"""What is done before leaving, whether the conditioner lasts, and what winter changes."""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.pond.away.before import Agent, agent, before_leaving, winter
from pondtui.pond.away.model import Visit
from tests.pond.away.ponds import JOURNAL, NOW
from tests.pond.box import POND, setup_of, state_of

DAY = date(2026, 6, 12)
SETUP = setup_of(POND)
FILLED = Visit(date(2026, 6, 20), barrel="yard", add_l=160, measured=10.0, release_l=160)
READY = Visit(date(2026, 6, 15), barrel="yard", release_l=180)


def stock(left: float | None, needed: float = 30.0, kept: float | None = 300.0) -> Agent:
    return Agent(needed, "mL", left, kept, None)


@pytest.mark.parametrize(("left", "lasts"), [(None, None), (329.0, False), (330.0, True)])
def test_the_emergency_dose_is_never_planned_away(left: float | None, lasts: bool | None) -> None:
    assert stock(left).lasts is lasts


def test_a_plan_without_conditioner_needs_none() -> None:
    assert stock(None, needed=0.0).lasts is True
    assert before_leaving(SETUP, stock(None, needed=0.0), [], [], None) == ()


def test_batches_left_ready_and_fillings_add_up() -> None:
    found = agent(SETUP, state_of(SETUP, JOURNAL, NOW), [READY, FILLED], [12.5], DAY)
    assert found.needed == pytest.approx(22.5)
    assert found.unit == "mL"


def test_a_bottle_that_goes_off_before_the_last_dose_does_not_last() -> None:
    setup = setup_of(
        POND.replace('bottle = "1000 mL"', 'bottle = "1000 mL"\nbest_before = 2026-06-18')
    )
    found = agent(setup, state_of(setup, JOURNAL, NOW), [FILLED], [], DAY)
    assert found.out_of_date == date(2026, 6, 18)
    assert found.lasts is False
    assert any("until 2026-06-18 only" in t for t in before_leaving(setup, found, [FILLED], [], 0))


def test_the_list_is_in_the_order_of_doing() -> None:
    told = before_leaving(SETUP, stock(310.0), [READY, FILLED], ["yard"], 120.0)
    heads = ["fill the pond up", 'leave barrel "yard" full', "leave conditioner, measure",
             "buy conditioner: 20 mL", "rehearse"]  # fmt: skip
    assert len(told) == len(heads)
    assert all(text.startswith(head) for text, head in zip(told, heads, strict=True))


def test_a_bottle_that_was_never_counted_is_to_be_counted() -> None:
    assert any(t.startswith("count the conditioner") for t in
               before_leaving(SETUP, stock(None), [READY], [], None))  # fmt: skip


def test_winter_is_told_at_either_end_and_not_in_season() -> None:
    assert winter(SETUP, date(2026, 6, 1), date(2026, 6, 20)) == ""
    assert "frost" in winter(SETUP, date(2026, 12, 1), date(2026, 12, 20))
    assert "frost" in winter(SETUP, date(2026, 10, 20), date(2026, 11, 20))
