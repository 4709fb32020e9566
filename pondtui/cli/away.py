"""`pondtui away FROM TO`: what happens meanwhile, and what must be released when."""

from __future__ import annotations

import re

from pondtui.cli.context import Context
from pondtui.cli.outlook import tables
from pondtui.cli.sheet import date_of
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.away.known import plan
from pondtui.pond.away.planner import PROMISE
from pondtui.pond.state.fold import fold
from pondtui.views import away as view


def run(call: Call, context: Context) -> int:
    """Show the plan of an absence."""
    if len(call.words) != 2:
        raise UsageError("two dates: pondtui away FROM TO, such as 2026-08-16 2026-08-30")
    first, last = (date_of(word) for word in call.words)
    setup, entries = context.setup, context.journal.live
    state = fold(setup, entries, context.instant)
    found = plan(
        setup, state, entries, tables(context), first, last,
        sitter=call.get("sitter") or "", mark=call.get("mark"), promise=_share(call.get("chance")),
    )  # fmt: skip
    context.answer(view.as_json(found), view.lines(found, setup))
    context.warn_unread()
    return 0


def _share(typed: str | None) -> float:
    if typed is None:
        return PROMISE
    if not re.fullmatch(r"[0-9]{1,3} ?%", typed, re.ASCII):
        raise UsageError(f"--chance: a percentage such as 90 %, not {typed or 'nothing'}")
    return int(typed.rstrip("% ")) / 100
