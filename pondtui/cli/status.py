"""`pondtui status`: what Today shows, or only what is wrong."""

from __future__ import annotations

from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.pond.daily.climate import climate
from pondtui.pond.refill.case import local_time
from pondtui.pond.state.fold import fold
from pondtui.pond.water.season_budget import season_so_far
from pondtui.views import status as view
from pondtui.views.water_words import season_rows


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
    else:
        found = season_so_far(setup, state, journal.live, weather) if _floats(status) else None
        water = season_rows(found.now, status.recent, setup) if found is not None else []
        data, told = view.as_json(status), view.lines(status, water)
        if context.sitter is not None:
            from pondtui.cli import visits

            data, told = data | visits.as_json(context), [*visits.lines(context), "", *told]
        context.answer(data, told)
    to_do = bool(status.alarms) if call.has("alarms") else status.to_do
    return 1 if call.has("exit-code") and to_do else 0


def _floats(status: view.Status) -> bool:
    """Whether a basin's level can be turned into litres."""
    day = local_time(status.setup, status.now).date()
    return status.setup.floating(day) is not None
