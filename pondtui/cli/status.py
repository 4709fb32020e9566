"""`pondtui status`: what Today shows, or only what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.pond.daily.climate import climate
from pondtui.pond.refill.case import local_time
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.water.runs import Runs
from pondtui.pond.water.weather import WeatherDay
from pondtui.views import status as view

DAYS = 14  # that the outlook looks ahead


def run(call: Call, context: Context) -> int:
    """Show how the pond stands; with --exit-code 1 when something is to be done."""
    context.take_no_words(call)
    setup, journal = context.setup, context.journal
    problems = [*context.loaded.problems, *journal.problems]
    state = fold(setup, journal.live, context.instant)
    weather, report = read_weather(context.folder, setup)
    problems += [p for p in report.problems if p.severity == "problem"]
    weathered = climate(setup, state, weather, journal.live, context.instant)
    status = view.look(setup, state, journal.live, context.instant, problems, weathered)
    if call.has("alarms"):
        context.answer(view.alarms_json(status), view.alarm_lines(status) or ["nothing is wrong"])
    elif context.as_json:
        ahead = _outlook(status, journal.live, weather, weathered.runs)[0]
        context.answer(view.as_json(status) | ahead | _visits_json(context), ())
    else:
        ahead_row = _outlook(status, journal.live, weather, weathered.runs)[1]
        told = view.lines(status, [*_season(status, journal.live, weather), *ahead_row])
        context.answer({}, [*_visits(context), *told])
    to_do = bool(status.alarms) if call.has("alarms") else status.to_do
    return 1 if call.has("exit-code") and to_do else 0


def _season(
    status: view.Status, entries: Sequence[Entry], weather: Mapping[date, WeatherDay]
) -> list[tuple[str, str]]:
    """What the season's water adds for people; nothing where no level can be turned into litres."""
    from pondtui.pond.water.season_budget import season_so_far
    from pondtui.views.water_words import season_rows

    setup = status.setup
    if setup.floating(local_time(setup, status.now).date()) is None:
        return []
    found = season_so_far(setup, status.state, entries, weather)
    return season_rows(found.now, status.recent, setup)


def _outlook(
    status: view.Status,
    entries: Sequence[Entry],
    weather: Mapping[date, WeatherDay],
    runs: Runs | None,
) -> tuple[dict[str, Any], list[tuple[str, str]]]:
    """Which mark comes next and when: by keys, and as a row; nothing where no basin floats."""
    from pondtui.pond.away.foretell import foretell
    from pondtui.views import outlook

    setup = status.setup
    today = local_time(setup, status.now).date()
    if setup.floating(today) is None:
        return {}, []
    found = foretell(setup, status.state, entries, weather, DAYS, in_short=True, runs=runs)
    text = outlook.glance(found, today)
    return outlook.glance_json(found, today), [("ahead", text)] if text else []


def _visits(context: Context) -> list[str]:
    """A sitter's visits stand first."""
    if context.sitter is None:
        return []
    from pondtui.cli import visits

    return [*visits.lines(context), ""]


def _visits_json(context: Context) -> dict[str, Any]:
    if context.sitter is None:
        return {}
    from pondtui.cli import visits

    return visits.as_json(context)
