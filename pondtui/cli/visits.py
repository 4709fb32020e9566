"""The sitter's visit in words, for `pondtui --sitter NAME status`."""

from __future__ import annotations

from datetime import date
from typing import Any

from pondtui.books.visits import Sitting, sitting
from pondtui.cli.context import Context
from pondtui.pond.away.visiting import visit_on
from pondtui.pond.refill.case import local_time
from pondtui.views import visits as view


def lines(context: Context) -> list[str]:
    """The visit that is on, its tasks as on the sheet."""
    found, today = _found(context)
    if found is None:
        return [view.NONE[0]]
    return view.lines(found.visits, visit_on(found.visits, today), today)


def as_json(context: Context) -> dict[str, Any]:
    """The same by keys; null without an absence."""
    found, today = _found(context)
    if found is None:
        return {"visit": None}
    return {"visit": view.as_json(found.visits, visit_on(found.visits, today), today)}


def _found(context: Context) -> tuple[Sitting | None, date]:
    today = local_time(context.setup, context.instant).date()
    live, zone = context.journal.live, context.zone
    sitter = context.sitter_name
    return sitting(context.folder, context.setup, live, zone, sitter, today), today
