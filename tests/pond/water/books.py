"""A constructed pond for the water budget: every litre can be worked out by head.

The box pond of tests/pond/box.py is 3 m x 2 m: 6 L a mm. Its evaporation is what pond.toml says of
a month, 3 mm a day in June, and the first guess of the site factor, 0.85, takes 2.55 mm of it.
"""

from __future__ import annotations

from datetime import date

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.fold import fold
from pondtui.pond.water.budget import Budget, budget
from pondtui.pond.water.budget_terms import INS, OUTS, Terms
from pondtui.pond.water.weather import WeatherDay
from tests.pond.box import POND, at, entries_of, setup_of

MEANS = """
[weather]
monthly_evaporation_mm = [31, 28, 31, 30, 62, 90, 93, 93, 60, 31, 30, 31]
"""
GUESS = 0.85  # site factor of a pond of which nothing is said
WET = setup_of(POND + MEANS)


def budget_of(
    lines: str,
    first: str = "2026-06-01",
    last: str = "2026-06-30",
    *,
    setup: Setup = WET,
    now: str = "2026-07-01 12:00",
    weather: dict[date, WeatherDay] | None = None,
    by: str = "month",
) -> Budget:
    """The budget that journal lines give."""
    entries = entries_of(lines)
    state = fold(setup, entries, at(now))
    span = (date.fromisoformat(first), date.fromisoformat(last))
    return budget(setup, state, entries, weather or {}, *span, by=by)


def open_end(terms: Terms) -> float:
    """What a budget lacks to close: nothing, to rounding."""
    ins = sum(getattr(terms, name) or 0.0 for name in INS)
    outs = sum(getattr(terms, name) or 0.0 for name in OUTS)
    return (terms.start or 0.0) + ins - outs - (terms.end or 0.0)
