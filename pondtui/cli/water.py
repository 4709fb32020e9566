"""`pondtui water`: where the pond's water came from and where it went."""

from __future__ import annotations

from datetime import date

from pondtui.books.out import write_out
from pondtui.books.weather import read_weather
from pondtui.cli.context import Context, as_path
from pondtui.cli.days import day_of, in_order
from pondtui.cli.words import Call
from pondtui.errors import UsageError, nearest
from pondtui.pond.state.fold import fold
from pondtui.pond.state.model import PondState
from pondtui.pond.water.budget import Budget
from pondtui.pond.water.season_budget import with_year_before
from pondtui.pond.water.seasons import CUTS, local_day, season_of
from pondtui.records import NamedTuple
from pondtui.views import water as view


class Found(NamedTuple):
    """The budget of the days asked for, and of the same days a year before."""

    now: Budget
    before: Budget | None
    state: PondState


def run(call: Call, context: Context) -> int:
    """Show the budget, or write it as a page."""
    context.take_no_words(call)
    as_html = call.get("as") is not None
    if call.get("as") not in (None, "html"):
        raise UsageError(f"--as: html, not {call.get('as') or 'nothing'}")
    name = call.get("output")
    if as_html and not name:
        raise UsageError("--as html writes a page: name its file with -o FILE")
    if name and not as_html:
        raise UsageError("-o writes a page: say --as html too")
    found = look(call, context)
    if name:
        _write_page(name, found, context)
    else:
        context.answer(view.as_json(found.now), view.lines(found.now, context.setup, found.before))
    context.warn_unread()
    return 0


def look(call: Call, context: Context) -> Found:
    """The budget that a call asks for. Raises UsageError."""
    setup, entries = context.setup, context.journal.live
    by = call.get("by") or "month"
    if by not in CUTS:
        raise UsageError(f"--by: {', '.join(CUTS)}, not {by}{nearest(by, CUTS)}")
    weather, report = read_weather(context.folder, setup)
    state = fold(setup, entries, context.instant)
    today = local_day(setup, context.instant)
    last = min(day_of(call, "to") or _last(context, today), today)
    first = day_of(call, "from")
    if first is None and by == "season" and state.levels:
        first = local_day(setup, state.levels[0].instant)
    if first is None:
        first = season_of(setup, last).first
    in_order(first, last)
    if report.problems:
        more = f", and {len(report.problems) - 1} more" if len(report.problems) > 1 else ""
        context.warn(f"weather: {report.problems[0]}{more}: `pondtui check` shows it")
    found = with_year_before(setup, state, entries, weather, first, last, by=by)
    return Found(*found, state)


def _last(context: Context, today: date) -> date:
    """Where no last day is given: today, or the season's last one."""
    return min(season_of(context.setup, today).last, today)


def _write_page(name: str, found: Found, context: Context) -> None:
    from pondtui.views.water_page import page

    path = as_path(name)
    write_out(context.folder, path, page(*found, context.setup, context.instant))
    context.answer({"file": str(path)}, [f"written: {path}"])
