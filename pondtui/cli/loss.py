"""`pondtui loss`: what of the falling level follows the weather, and what does not."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.books.stamps import parse_stamp
from pondtui.books.weather import read_weather
from pondtui.cli.context import Context
from pondtui.cli.days import day_of, in_order
from pondtui.cli.words import Call
from pondtui.pond.refill.case import local_time
from pondtui.pond.state.fold import fold
from pondtui.pond.water.evaporation import daily
from pondtui.pond.water.loss import estimate
from pondtui.pond.water.rained import table_rain
from pondtui.views import loss as view

USUAL_DAYS = 120  # looked at where no first day is given
AROUND_DAYS = 60  # before and after an event


def run(call: Call, context: Context) -> int:
    """Show site factor, steady loss and verdict of some days, and what an event changed."""
    context.take_no_words(call)
    setup = context.setup
    event = _event(call, context)
    first, last = _days(call, context, event)
    weather, report = read_weather(context.folder, setup)
    entries = context.journal.live
    state = fold(setup, entries, context.instant)
    evaporation = daily(setup, weather, entries, first, last + timedelta(1))
    loss = estimate(
        setup,
        state,
        evaporation,
        first,
        last,
        context.instant,
        event=event,
        table_rain=table_rain(setup, weather),
    )
    context.answer(view.as_json(loss, setup), view.lines(loss, setup, first, last, event))
    context.warn_unread()
    if report.problems:
        more = f", and {len(report.problems) - 1} more" if len(report.problems) > 1 else ""
        context.warn(f"weather: {report.problems[0]}{more}: `pondtui check` shows it")
    return 0


def _event(call: Call, context: Context) -> int | None:
    text = call.get("around")
    if text is None:
        return None
    instant, remark = parse_stamp(text, context.zone)
    if remark:
        context.warn(f"--around: {remark}")
    return instant


def _days(call: Call, context: Context, event: int | None) -> tuple[date, date]:
    """First and last day to look at."""
    today = local_time(context.setup, context.instant).date()
    if event is None:
        last = day_of(call, "to") or today
        first = day_of(call, "from") or last - timedelta(USUAL_DAYS)
    else:
        middle = local_time(context.setup, event).date()
        last = day_of(call, "to") or min(middle + timedelta(AROUND_DAYS), today)
        first = day_of(call, "from") or middle - timedelta(AROUND_DAYS)
    in_order(first, last)
    return first, last
