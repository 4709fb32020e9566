"""`pondtui tests`: the latest water tests, what they mean and what to do."""

from __future__ import annotations

from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError, nearest
from pondtui.pond.daily.series import series
from pondtui.pond.daily.water_tests import judged
from pondtui.views import water_tests as view


def run(call: Call, context: Context) -> int:
    """Show the tests of the pond, or of the place that is named: tap or a barrel."""
    where = " ".join(call.words) or "pond"
    setup, live = context.setup, context.journal.live
    places = ["pond", "tap", *setup.sources, *(b.name for b in setup.barrels)]
    if where not in places:
        there = ", ".join(dict.fromkeys(places))
        raise UsageError(f"nothing is called {where}{nearest(where, places)}: there is {there}")
    tests = judged(setup, live, context.instant, where)
    found = series(live, context.instant, where)
    said = view.lines(setup, tests, found, context.instant, where)
    context.answer(view.as_json(setup, tests, found, where), said)
    context.warn_unread()
    return 0
