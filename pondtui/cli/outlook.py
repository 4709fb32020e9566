"""`pondtui outlook`: when the falling level reaches each mark."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.away.foretell import foretell
from pondtui.pond.state.fold import fold
from pondtui.pond.water.weather import WeatherDay
from pondtui.views import outlook as view

USUAL_DAYS = 14


def run(call: Call, context: Context) -> int:
    """Show the level of the next days and the day of each mark."""
    context.take_no_words(call)
    typed = call.get("days") or str(USUAL_DAYS)
    if not re.fullmatch(r"[0-9]{1,4}", typed, re.ASCII):
        raise UsageError(f"--days: a number of days such as 14, not {typed or 'nothing'}")
    setup, entries = context.setup, context.journal.live
    state = fold(setup, entries, context.instant)
    found = foretell(setup, state, entries, tables(context), int(typed))
    context.answer(view.as_json(found), view.lines(found, setup))
    context.warn_unread()
    return 0


def tables(context: Context) -> Mapping[date, WeatherDay]:
    """The weather tables; what is wrong with them is said on the side."""
    weather, report = read_weather(context.folder, context.setup)
    if report.problems:
        more = f", and {len(report.problems) - 1} more" if len(report.problems) > 1 else ""
        context.warn(f"weather: {report.problems[0]}{more}: `pondtui check` shows it")
    return weather
