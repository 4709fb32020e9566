"""Tasks of a visit: numbered, in order, short enough for a message."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.errors import InputError
from pondtui.pond.away.model import Visit
from pondtui.pond.away.tasks import plan_tasks, start_of
from pondtui.views.care.text import message
from tests.pond.away.ponds import pond, sheet
from tests.pond.box import at

DAY = date(2026, 6, 12)
READY = Visit(DAY, barrel="yard", release_l=180, release_min=12, only_below_mm=70)
FILLED = READY._replace(
    add_l=180, treat_l=200, dose=16.0, measured=16.0, devices="16 mL in the 20 mL syringe",
    fill_min=18, wait_min=10, only_below_mm=None, batch="yard-260612",
)  # fmt: skip


def test_tasks_are_numbered_by_visit_and_follow_each_other_in_time() -> None:
    planned = plan_tasks(pond(), [READY._replace(date=date(2026, 6, 13)), READY])
    assert [p.visit.date.day for p in planned] == [12, 13]
    for number, one in enumerate(planned, 1):
        places = range(1, len(one.tasks) + 1)
        assert [t.number for t in one.tasks] == [f"{number}.{place}" for place in places]
        instants = [t.instant for t in one.tasks]
        assert instants == sorted(set(instants))
    assert planned[0].tasks[0].instant == at("2026-06-12 18:01")


def test_the_usual_hand_over_only_opens_and_shuts_the_outlet() -> None:
    (one,) = plan_tasks(pond(), [READY])
    kinds = {t.kind for t in one.tasks}
    assert kinds.isdisjoint({"fill", "treat"})
    release = next(t for t in one.tasks if t.kind == "release")
    assert release.text.startswith("Only if the gauge reads 70 mm or more: open the outlet")
    assert "180 L, about 12 min" in release.text
    assert "TESTED, READY" in next(t.text for t in one.tasks if t.title == "label read")


def test_a_barrel_to_be_filled_is_treated_and_tested_before_it_is_opened() -> None:
    (one,) = plan_tasks(pond(), [FILLED])
    titles = [t.title for t in one.tasks]
    order = ["outlet shut", "fill", "tap shut", "dose", "mixed", "chlorine test", "release"]
    assert [t for t in titles if t in order] == order
    assert "16 mL in the 20 mL syringe" in next(t.text for t in one.tasks if t.title == "dose")


def test_a_second_barrel_on_a_day_is_not_looked_at_twice() -> None:
    planned = plan_tasks(pond(), [READY, READY])
    assert planned[0].tasks[0].title == "look at fish"
    assert planned[1].tasks[0].title == "label read"


def test_no_food_is_asked_for_where_none_is_due() -> None:
    (one,) = plan_tasks(pond(), [READY], feed=False)
    assert all("eed" not in t.text for t in one.tasks)


@pytest.mark.parametrize("visit", [READY._replace(barrel="nobody's"), READY._replace(hour="25:00")])
def test_a_visit_that_cannot_be_is_refused(visit: Visit) -> None:
    with pytest.raises(InputError):
        plan_tasks(pond(), [visit])


def test_the_hour_is_that_of_the_pond() -> None:
    assert start_of(pond(), READY).isoformat() == "2026-06-12T18:00:00+02:00"


@given(
    st.lists(st.text("abcdefgh ,.", min_size=1, max_size=400), max_size=6),
    st.sampled_from([READY, FILLED, Visit(DAY)]),
    st.text("Long nameå", min_size=1, max_size=300),
    st.sampled_from(["metric", "us", "imperial"]),
)
def test_every_visit_fits_a_message(own: list[str], visit: Visit, name: str, units: str) -> None:
    setup = pond()
    setup = setup._replace(pond=setup.pond._replace(name=name))
    told = sheet(setup, planned=(visit._replace(tasks=tuple(own)),), units=units)
    (one,) = told.visits
    text = "\n".join(message(told, one))
    assert len(text) <= 1500
    for task in one.tasks:
        assert f"{task.number} " in text


@pytest.mark.parametrize("length", [200, 210, 400])
def test_a_visit_full_of_work_still_fits(length: int) -> None:
    long = tuple(f"{n} water " + "the reeds " * (length // 10) for n in range(8))
    made = sheet(planned=(FILLED._replace(tasks=long),))
    text = "\n".join(message(made, made.visits[0]))
    assert 1300 < len(text) <= 1500
    assert "TOTAL chlorine test" in text
