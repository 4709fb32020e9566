"""`pondtui plan`: what a refill needs now, from the last reading or one that is typed."""

from __future__ import annotations

from pondtui import units
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError, nearest
from pondtui.pond.refill.plan import make_plan
from pondtui.pond.state.fold import fold
from pondtui.views import plan as view


def run(call: Call, context: Context) -> int:
    """Show the plan; with --exit-code 1 when a guard is closed."""
    context.take_no_words(call)
    setup, mark, typed = context.setup, call.get("to"), call.get("from")
    if mark is not None and setup.mark(mark) is None:
        names = [m.name for m in setup.marks]
        known = ", ".join(names) or "none"
        raise UsageError(f"--to: no mark is called '{mark}'{nearest(mark, names)}; marks: {known}")
    from_mm = None
    if typed is not None:
        from_mm = units.read(typed, "length", gallon=setup.gallon, what="--from").value
    state = fold(setup, context.journal.live, context.instant)
    plan = make_plan(setup, state, context.instant, mark=mark, from_mm=from_mm)
    context.answer(view.as_json(plan, setup), view.lines(plan, setup))
    context.warn_unread()
    closed = view.as_json(plan, setup)["closed"]
    return 1 if call.has("exit-code") and closed else 0
