"""From the journal and the weather tables to the plan of an absence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from pondtui.pond.away.default_visits import check_span, daily_looks
from pondtui.pond.away.foretell import known
from pondtui.pond.away.model import Visit
from pondtui.pond.away.planner import PROMISE, Away, days_to_look, plan_absence
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState
from pondtui.pond.water.weather import WeatherDay


def plan(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    tables: Mapping[date, WeatherDay],
    first: date,
    last: date,
    *,
    sitter: str = "",
    mark: str | None = None,
    promise: float = PROMISE,
) -> Away:
    """An absence. Raises InputError where no basin floats, for a wrong span, mark or promise."""
    days = days_to_look(setup, state.now, first, last)
    rests = known(setup, state, entries, tables, days)
    return plan_absence(setup, state, *rests, first, last,
                        sitter=sitter, mark=mark, promise=promise)  # fmt: skip


def sheet_visits(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    tables: Mapping[date, WeatherDay],
    first: date,
    last: date,
    *,
    sitter: str = "",
) -> tuple[Visit, ...]:
    """The planned visits of an absence; where nothing can be planned, or none is needed, the plain
    looks of every day. Raises InputError for a wrong span."""
    check_span(first, last)
    today = local_time(setup, state.now).date()
    if setup.floating(today) is not None and last >= today:
        found = plan(setup, state, entries, tables, first, last, sitter=sitter)
        if found.visits and found.keeps:
            return found.visits
    return daily_looks(setup, state, first, last, state.now)
