"""The water's tables at every width: no line too wide, no number missing that is not named."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget_terms import Period, Terms
from pondtui.pond.water.spent import Spent
from pondtui.views import water, water_numbers
from pondtui.views.water_series import DayRow, WeekRow, day_cells, week_cells
from pondtui.views.water_units import heads
from tests.pond.box import POND, setup_of

MARGIN = 4  # columns of a screen beside its text
FIRST = date(2026, 4, 1)
PRICED = POND.replace('kind = "tap"', 'kind = "tap"\nprice = 4.0')
LITRES = st.floats(-99_999, 99_999)
SYSTEMS = st.sampled_from(["metric", "us", "imperial"])
WIDTHS = st.integers(40, 120)


def setup(units: str) -> Setup:
    """A pond whose water has a price, kept in these units."""
    found = setup_of(PRICED)
    return found._replace(pond=found.pond._replace(units=units, currency="EUR"))


def period(values: list[float], name: str = "2026-04") -> Period:
    """A month with these terms, and about a tenth of each as its error."""
    errors = Terms(*(abs(value) / 10 for value in values))
    return Period(name, FIRST, FIRST + timedelta(29), Terms(*values), errors,
                  Spent(0, 0, 0, "mL", None), 30.0, 7.46)  # fmt: skip


MONTHS = st.lists(
    st.lists(LITRES, min_size=len(Terms._fields), max_size=len(Terms._fields)),
    min_size=1,
    max_size=12,
)


@settings(deadline=None)
@given(SYSTEMS, WIDTHS, MONTHS)
def test_the_budget_keeps_term_volume_and_error_and_names_what_it_leaves_out(
    units: str, columns: int, values: list[list[float]]
) -> None:
    width = columns - MARGIN
    told = water.columns(period(values[0]), setup(units), width)
    lines = [line for row in (told.head, *told.rows) for line in row.splitlines()]
    assert max(map(len, lines)) <= width
    for line, row in zip(water.table(period(values[0]), setup(units)), told.rows, strict=True):
        words = row.split()
        shown = [line.volume, line.error, line.depth, line.money]
        named = ["", "", "mm" if units == "metric" else "in", "EUR"]
        kept = [text for text, name in zip(shown, named, strict=True)
                if text and not (name and name in told.missing.split())]  # fmt: skip
        assert row.startswith(f"{line.sign or ' '} {line.words} ")
        assert words[len(words) - len(kept) :] == kept


@pytest.mark.parametrize("units", ["metric", "us", "imperial"])
def test_at_80_columns_the_budget_has_the_form_of_the_command_line(units: str) -> None:
    month = period([5227.4, 1917.0, 0.0, 2885, 20, 4231, 252, 370, 40, -42, 5197])
    told = water.columns(month, setup(units), 80 - MARGIN)
    assert [told.head, *told.rows] == water.table_lines(month, setup(units))
    assert told.missing == ""
    # the widths of the columns as they always were
    assert told.head.endswith("       EUR")
    assert len(told.head) == 22 + 8 + 8 + 8 + 10


def test_cost_goes_before_depth_and_nothing_else_ever_goes() -> None:
    month = period([5227.4, 1917.0, 0.0, 2885, 20, 4231, 252, 370, 40, -42, 5197])
    missing = [water.columns(month, setup("metric"), width).missing.partition(" left")[0]
               for width in (56, 55, 46, 45, 36, 20)]  # fmt: skip
    assert missing == ["", "EUR", "EUR", "mm and EUR", "mm and EUR", "mm and EUR"]
    assert "+ from barrels\n  2885     288" in water.columns(month, setup("metric"), 20).rows


@settings(deadline=None)
@given(SYSTEMS, WIDTHS, MONTHS)
def test_every_number_of_every_month_stands_there_under_its_name(
    units: str, columns: int, values: list[list[float]]
) -> None:
    width = columns - MARGIN
    months = [period(each, f"2026-{n:02d}") for n, each in enumerate(values, 1)]
    lines = water_numbers.periods(months, setup(units), width)
    assert max(map(len, lines)) <= width
    found: dict[str, list[str]] = {}
    names: list[str] = []
    for line in lines:
        if not line:
            continue
        cells = line.replace("US gal", "gal").replace("imp gal", "gal")
        for head in water.PERIOD_HEADS[1:]:
            cells = cells.replace(head, head.replace(" ", "_"))
        first, *rest = cells.split()
        if rest[0][:5] == "2026-":  # a column a month
            names = rest
        elif first[:5] == "2026-":  # a line a month
            found[first] = rest
        elif first not in ("L", "gal"):
            for name, cell in zip(names, rest, strict=True):
                found.setdefault(name, []).append(cell)
    wanted = {month.name: list(water.period_row(month, setup(units))[1:]) for month in months}
    assert found == wanted


EVENTS = ("power-cut", "plants-moved: a note of the keeper's that goes on for a good while")


@settings(deadline=None)
@given(SYSTEMS, WIDTHS, st.lists(st.tuples(st.floats(0, 999), st.floats(0, 99), LITRES.map(abs))))
def test_every_day_and_week_stands_there_however_narrow(
    units: str, columns: int, values: list[tuple[float, float, float]]
) -> None:
    width, pond = columns - MARGIN, setup(units)
    rows = [DayRow(FIRST + timedelta(n), *each, EVENTS[: n % 3]) for n, each in enumerate(values)]
    lines = water_numbers.days(rows, pond, width)
    assert max(map(len, lines)) <= width
    cells = [cell for row in rows for cell in day_cells(pond, row)]
    words = [word for cell in cells for word in cell.split()]
    unit = "mm" if units == "metric" else "in"
    told_heads = f"day gauge rain refill {unit} {unit} {heads(pond).volume} events"
    assert " ".join(lines).split() == [*told_heads.split(), *words]
    weeks = [WeekRow(FIRST + timedelta(7 * n), *each[:2]) for n, each in enumerate(values)]
    told = water_numbers.weeks(weeks, pond)
    assert max(map(len, told)) <= width
    assert [line.split() for line in told[2:]] == [week_cells(pond, week) for week in weeks]
