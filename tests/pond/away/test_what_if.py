"""A stopped pump and a shut gate: what they do at once, and what the plan needs then."""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.pond.away.bowl import Bowl
from pondtui.pond.away.falling import Falling
from pondtui.pond.away.giving import givers
from pondtui.pond.away.kept import scene
from pondtui.pond.away.outlook import draw_paths
from pondtui.pond.away.planner import plan_absence
from pondtui.pond.away.replan import changed, replanned
from pondtui.pond.away.search import Task, search
from pondtui.pond.away.weather_ahead import HOT_DAYS, DayAhead, WeatherAhead
from pondtui.pond.away.what_if import Change, changes
from pondtui.pond.setup.model import Setup
from pondtui.views.away import change_line, lines
from tests.pond.away.ponds import JOURNAL, NOW
from tests.pond.away.test_bowl import BAY
from tests.pond.box import POND, setup_of, state_of

DAY = date(2026, 6, 10)
LAST = date(2026, 6, 30)
FALLING = Falling(1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 40)
HOT = WeatherAhead(HOT_DAYS, date(2026, 6, 9), (), (DayAhead(5.0, 0.0),) * 130)


def by_name(text: str, up: float = -60.0) -> dict[str, Change]:
    setup = setup_of(text)
    return {c.what: c for c in changes(setup, Bowl(setup, DAY), up, DAY)}


def test_a_pond_of_one_basin_has_nothing_to_shut() -> None:
    assert by_name(POND) == {}


def test_a_stopped_pump_lets_the_bay_run_back_and_takes_its_surface_away() -> None:
    change = by_name(POND + BAY)["pump stopped"]
    assert change.moved_l == pytest.approx(60)  # 30 mm of 2 m2
    assert change.at_once_mm == pytest.approx(10)
    assert change.spills_l == 0
    assert change.evaporates == pytest.approx(6 / 8)


def test_what_finds_no_room_goes_over_the_edge() -> None:
    change = by_name(POND + BAY, -15.0)["pump stopped"]
    assert change.at_once_mm == pytest.approx(5)  # up to the rim at 10 mm
    assert change.spills_l == pytest.approx(30)


def test_a_shut_gate_takes_what_stands_up_behind_it() -> None:
    bay = BAY.replace("gate = true", 'gate = true\ngate_level = "30 mm"')
    change = by_name(POND + bay)["gate of bay shut"]
    assert change.moved_l == pytest.approx(-60)
    assert change.at_once_mm == pytest.approx(-10)


def planned(text: str) -> tuple[Setup, list[Change]]:
    setup = setup_of(text)
    state = state_of(setup, JOURNAL, NOW)
    found = plan_absence(setup, state, FALLING, HOT, DAY, LAST)
    assert found.visits
    return setup, list(found.changes)


def test_with_less_surface_no_more_visits_and_no_more_water_are_needed() -> None:
    setup = setup_of(POND + BAY)
    found = plan_absence(setup, state_of(setup, JOURNAL, NOW), FALLING, HOT, DAY, LAST)
    stopped = next(c for c in found.changes if c.what == "pump stopped")
    assert stopped.keeps
    assert stopped.visits is not None
    assert stopped.visits <= len({v.date for v in found.visits})
    assert (stopped.water_l or 0) < found.water_l
    told = "\n".join(lines(found, setup))
    assert "left so it takes" in told
    assert f"in place of {len({v.date for v in found.visits})} and" in told


def test_water_that_is_lost_on_leaving_has_to_be_brought() -> None:
    setup = setup_of(POND)
    state = state_of(setup, JOURNAL, NOW)
    paths = draw_paths(setup, state, FALLING, HOT, 30)
    begin, end = paths.place(DAY), paths.place(LAST)
    stage = scene(paths, begin, end + 1, -110.0, paths.bowl.ceiling_up())
    barrels = givers(setup, state, state.now, DAY, 420.0)
    task = Task(setup, stage, barrels, tuple(range(begin, end + 1)), 0.9)
    usual = search(task)
    lost = Change("gate shut", -10.0, 0.0, 1.0, moved_l=-60.0)
    lower = changed(lost, stage, None)
    assert sum(lower.levels) == pytest.approx(sum(stage.levels) - 10 * len(stage.levels))
    change = replanned(lost, task, usual, None)
    usual_l = sum(p.litres for _, portions in usual.visits for p in portions)
    assert change.keeps
    assert (change.water_l or 0) > usual_l


def test_a_change_that_no_visit_makes_good_is_said() -> None:
    setup = setup_of(POND)
    found = plan_absence(setup, state_of(setup, JOURNAL, NOW), FALLING, HOT, DAY, LAST)
    hopeless = Change("gate of bay shut", -40.0, 0.0, 1.0, -240.0, 3, 500.0, False)
    assert 'no visits keep it above "shelf"' in change_line(setup, hopeless, found)
    same = Change("x", -1.0, 0.0, 1.0, -6.0, len({v.date for v in found.visits}), found.water_l,
                  True)  # fmt: skip
    assert "the visits stay as they are" in change_line(setup, same, found)
