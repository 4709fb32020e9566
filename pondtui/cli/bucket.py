"""`pondtui bucket-test`: begin it, look at it, see where it stands."""

from __future__ import annotations

import textwrap
from zoneinfo import ZoneInfo

from pondtui.books.lines import make
from pondtui.books.store import move_on
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.state.fold import fold
from pondtui.pond.state.model import PondState
from pondtui.pond.water.bucket_test import Phase, phases
from pondtui.views import bucket as view

_WHAT = ("start", "read", "stop", "status")


def run(call: Call, context: Context) -> int:
    """Write a look where one is given, then say how the test stands."""
    what, *pairs = call.words or ("status",)
    if what not in _WHAT:
        raise UsageError(f"bucket-test {what}: say {', '.join(_WHAT[:-1])} or {_WHAT[-1]}")
    if what != "status":
        _write(context, what, pairs, call.get("note") or "")
    elif pairs:
        raise UsageError("bucket-test status takes no values; bucket-test read does")
    state, found = _look(context)
    context.answer(view.as_json(context.setup, state, found), _lines(context, state, found, what))
    context.warn_unread()
    return 0


def _look(context: Context) -> tuple[PondState, list[Phase]]:
    entries = context.read_again().live
    state = fold(context.setup, entries, context.instant)
    return state, phases(context.setup, state, entries)


def _lines(context: Context, state: PondState, found: list[Phase], what: str) -> list[str]:
    told = [text for text, _ in view.told(context.setup, state, found)]
    if not found:
        told += view.STEPS
        told.append('Begin it: pondtui bucket-test start pond="62 mm" bucket="40 mm" pump=on')
    elif what == "start":
        told.append(f"Beforehand: {view.promise(context.setup, state, found[-1].lasts_h)}.")
    return [line for text in told for line in textwrap.wrap(text, 96)]


def _write(context: Context, what: str, pairs: list[str], note: str) -> None:
    fields = {"what": what}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals:
            raise UsageError(f"{pair}: write NAME=VALUE, such as pond='62 mm'")
        fields[name] = value
    _, before = _look(context)
    if what != "stop" and not {"pond", "bucket"} <= fields.keys():
        raise UsageError(f"bucket-test {what} needs both levels: pond='62 mm' bucket='40 mm'")
    if what != "start" and not (before and before[-1].open):
        raise UsageError("no bucket test is going on: `pondtui bucket-test start` begins one")
    if context.by:
        fields.setdefault("by", context.by)
    _append(context, "bucket", fields, note)
    _, after = _look(context)
    if after and after[-1].done and not (before and before[-1].done):
        by = {"by": fields["by"]} if "by" in fields else {}
        _append(context, "note", by, view.note(context.setup, after[-1]))


def _append(context: Context, kind: str, fields: dict[str, str], note: str) -> None:
    zone = ZoneInfo(context.setup.pond.time_zone)
    entry = make(kind, fields, note, context.instant, zone, context.setup.gallon)
    entry = move_on(entry, context.read_again().taken())
    context.append(entry)
