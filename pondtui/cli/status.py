"""`pondtui status`: what Today shows, or only what is wrong."""

from __future__ import annotations

from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.pond.daily.climate import climate
from pondtui.pond.state.fold import fold
from pondtui.views import status as view


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
        context.answer(view.as_json(status), view.lines(status))
    to_do = bool(status.alarms) if call.has("alarms") else status.to_do
    return 1 if call.has("exit-code") and to_do else 0
