"""Doses by amount filled and for the whole pond. Constructed: 8 mL per 100 L, marks of 0.5 mL."""

from __future__ import annotations

from datetime import date

import pytest

from pondtui.pond.away.amounts import dose_grid, litres_of_fall, whole_pond
from pondtui.pond.away.model import Grid
from pondtui.pond.setup.model import Setup
from tests.pond.away.ponds import JOURNAL, NOW, pond
from tests.pond.box import SHED, state_of

DAY = date(2026, 6, 12)


def grid(setup: Setup) -> Grid:
    found = dose_grid(setup, state_of(setup, JOURNAL, NOW), setup.barrels[0], DAY)
    assert found is not None
    return found


def test_the_table_goes_up_to_the_full_line_and_doses_all_the_water() -> None:
    rows = grid(pond()).rows
    assert rows[-1] == ("200 L", "800 mm", "16 mL", "16 mL in the 20 mL syringe")
    assert rows[0][0] == "40 L"  # the heel of 20 L is below it
    assert rows[0][2] == "3.5 mL"  # 3.2 mL, up to the mark


def test_no_row_doses_less_than_the_rate() -> None:
    table = grid(pond())
    for litres, row in zip(table.amounts_l, table.rows, strict=True):
        assert float(row[2].split()[0]) >= litres * 0.08 - 1e-9


def test_strong_tap_water_raises_every_row() -> None:
    setup = pond()
    tap = setup.sources["tap"]._replace(total_chlorine_mg_l=2.0)  # label: for 1 mg/L
    strong = grid(setup._replace(sources={"tap": tap}))
    assert strong.rows[-1][2] == "32 mL"


def test_rain_and_an_unknown_rate_have_no_table() -> None:
    setup = pond(SHED)
    state = state_of(setup, JOURNAL, NOW)
    assert dose_grid(setup, state, setup.barrels[1], DAY) is None
    assert dose_grid(setup._replace(conditioners=()), state, setup.barrels[0], DAY) is None


def test_the_whole_pond_is_dosed_as_full_as_its_target() -> None:
    setup = pond()
    whole = whole_pond(setup, state_of(setup, JOURNAL, NOW), DAY)
    assert whole is not None
    assert whole.pond_l == pytest.approx(6.0 * 760)  # 6 m2, 800 mm deep, target 40 mm down
    assert whole.dose.amount == pytest.approx(364.8)
    assert whole.dose.measured == 365.0
    assert whole.dose.devices == "18 full 20 mL syringes + 5 mL"


def test_a_fall_is_told_as_litres() -> None:
    setup = pond()
    assert litres_of_fall(setup, state_of(setup, JOURNAL, NOW), DAY, 10.0) == pytest.approx(60)


def test_us_rows_are_round_gallons() -> None:
    setup = pond()
    us = setup._replace(pond=setup.pond._replace(units="us"))
    amounts = [row[0] for row in grid(us).rows]
    assert amounts[:2] == ["10 US gal", "15 US gal"]
    assert amounts[-2:] == ["50 US gal", "53 US gal"]  # the full line: 200 L
