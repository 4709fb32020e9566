"""The plain plan: a look a day, a tested batch where there is room for it, and no more."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from pondtui.errors import InputError
from pondtui.pond.away.default_visits import LONGEST_DAYS, check_span, daily_looks
from pondtui.pond.water.levels import litres_between
from tests.pond.away.ponds import FIRST, JOURNAL, LAST, NOW, pond, sheet, visits
from tests.pond.box import at, setup_of, state_of


def test_every_day_has_a_look_both_ends_counted() -> None:
    found = visits(pond())
    assert [v.date for v in found] == [FIRST + timedelta(n) for n in range(7)]
    assert {v.hour for v in found} == {"18:00"}


def test_dates_the_wrong_way_round_are_refused_with_the_way_out() -> None:
    with pytest.raises(InputError, match="turn them round"):
        check_span(LAST, FIRST)
    with pytest.raises(InputError, match=f"at most {LONGEST_DAYS}"):
        check_span(FIRST, FIRST + timedelta(LONGEST_DAYS))
    assert check_span(FIRST, FIRST) == 1


def test_a_batch_is_let_out_once_the_level_has_room_for_all_of_it() -> None:
    # 180 L a batch over 6 m2 are 30 mm: target 40 mm, so at a gauge of 70 mm or more
    setup = pond()
    (release,) = [v for v in visits(setup) if v.barrel]
    assert (release.barrel, release.date) == ("yard", FIRST)  # 75 mm on the 9th already
    assert release.release_l == pytest.approx(180)
    assert release.only_below_mm == pytest.approx(70)
    assert release.add_l == 0  # the sitter only opens and shuts
    assert release.use_by == FIRST + timedelta(14)
    back = litres_between(setup, release.only_below_mm or 0.0, 40.0, FIRST)
    assert back == pytest.approx(release.release_l)


def test_a_level_that_is_not_down_yet_waits_for_its_day() -> None:
    slow = """
    2026-06-03 18:00+02:00 | level | reading=38 mm
    2026-06-05 18:00+02:00 | level | reading=42 mm
    2026-06-07 18:00+02:00 | level | reading=46 mm
    2026-06-09 18:00+02:00 | level | reading=50 mm
    """
    # 2 mm a day from 50 mm: the 70 mm that a whole batch needs after ten days, counted from now
    state = state_of(pond(), slow, NOW)
    found = daily_looks(pond(), state, FIRST, FIRST + timedelta(13), at(NOW))
    assert [v.date for v in found if v.barrel] == [date(2026, 6, 20)]


def test_treated_water_is_not_planned_for_longer_than_it_keeps() -> None:
    setup = pond('[limits]\ntreated_keeps = "2 d"\n')
    slow = "2026-06-09 18:00+02:00 | level | reading=60 mm\n"  # no loss known: it never gets there
    assert [v for v in visits(setup, slow) if v.barrel] == []
    low = "2026-06-09 18:00+02:00 | level | reading=71 mm\n"
    assert [v.date for v in visits(setup, low) if v.barrel] == [FIRST]


def test_without_a_reading_nothing_is_let_out() -> None:
    assert [v for v in visits(pond(), "") if v.barrel] == []


def test_a_mark_already_passed_has_its_batch_on_the_first_day() -> None:
    low = "2026-06-09 18:00+02:00 | level | reading=200 mm\n"
    assert [v.date for v in visits(pond(), low) if v.barrel] == [FIRST]


def test_a_pond_without_a_target_is_only_looked_at() -> None:
    from tests.pond.box import POND

    bare = POND.replace('role = "target"', 'role = "warn"')
    assert [v for v in visits(setup_of(bare)) if v.barrel] == []


def test_where_a_warning_comes_first_only_a_part_is_let_out() -> None:
    from tests.pond.box import POND

    setup = setup_of(POND.replace('reading = "110 mm"', 'reading = "55 mm"'))
    (release,) = [v for v in visits(setup) if v.barrel]
    assert release.only_below_mm == pytest.approx(55)
    assert release.release_l == pytest.approx(15 * 6)  # 15 mm over 6 m2


def test_a_barrel_that_stands_ready_counts_from_its_test() -> None:
    ready = (
        JOURNAL
        + """
    2026-06-08 09:00+02:00 | fill    | barrel=yard; batch=yard-260608; added=180 L
    2026-06-08 09:10+02:00 | treat   | barrel=yard; batch=yard-260608; dose=16 mL
    2026-06-08 09:40+02:00 | test    | where=yard; chlorine_total=<0.02 mg/L
    """
    )
    (release,) = [v for v in visits(pond(), ready) if v.barrel]
    assert release.batch == "yard-260608"
    assert release.use_by == date(2026, 6, 22)  # 14 days from the 8th
    remarks = "\n".join(sheet(journal=ready).remarks)
    assert "must stand full" not in remarks
    emptied = ready + "2026-06-08 11:00+02:00 | release | barrel=yard; out=100 L\n"
    assert "must stand full" in "\n".join(sheet(journal=emptied).remarks)
