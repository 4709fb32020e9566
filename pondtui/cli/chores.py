"""`pondtui chores`: what is due, late and done; tick, skip, history, calendar."""

from __future__ import annotations

from pondtui.books.out import write_out
from pondtui.cli.care import status_of, write
from pondtui.cli.context import Context, as_path
from pondtui.cli.words import Call
from pondtui.errors import UsageError, nearest
from pondtui.pond.daily.happened import done
from pondtui.pond.daily.quick import chore_names
from pondtui.pond.state.live import key_of
from pondtui.views import chores as view
from pondtui.views import chores_ics

_WAYS = ("tick", "skip", "history")


def run(call: Call, context: Context) -> int:
    """List them, or do what the first word says with the chore that the others name."""
    if call.get("as") is not None or call.has("output"):
        return _calendar(call, context)
    if not call.words:
        for option in ("note", "at", "dry-run"):
            if call.has(option):
                raise UsageError(f"--{option} goes with tick or skip: pondtui chores tick NAME")
        status = status_of(context)
        context.answer(view.as_json(status), view.lines(status))
        return 0
    way, *words = call.words
    if way not in _WAYS:
        raise UsageError(f"pondtui chores {', '.join(_WAYS)} NAME, not {way}{nearest(way, _WAYS)}")
    name = _chore(" ".join(words), context)
    if way == "history":
        return _history(name, context)
    fields = {"name": name}
    if way == "skip":
        if not (call.get("note") or "").strip():
            raise UsageError(f"say why it is skipped: pondtui chores skip {name} -m REASON")
        fields["skipped"] = "yes"
    return write(call, context, "chore", fields)


def _chore(typed: str, context: Context) -> str:
    """The chore that is meant: its name, or the only one that begins so. Raises UsageError."""
    known = chore_names(context.setup)
    low = key_of(typed)
    whole = [name for name in known if key_of(name) == low]
    fitting = whole or [name for name in known if low and key_of(name).startswith(low)]
    if len(fitting) == 1:
        return fitting[0]
    there = ", ".join(fitting or known) or "none"
    what = f"{typed} may be several" if fitting else f"no chore is called {typed or 'nothing'}"
    raise UsageError(f"{what}: there is {there}")


def _history(name: str, context: Context) -> int:
    times = done(context.journal.live, context.instant, name)
    lines = view.history(context.setup, times) or [f"{name} was never done"]
    data = {"name": name, "history": view.history_json(context.setup, times)}
    context.answer(data, lines)
    return 0


def _calendar(call: Call, context: Context) -> int:
    if call.get("as") != "ics" or call.words:
        raise UsageError("--as ics writes all chores as a calendar: pondtui chores --as ics")
    status = status_of(context)
    text = chores_ics.text(status)
    place = call.get("output")
    if place is None:
        context.answer({"text": text}, [text.removesuffix("\r\n")])
    else:
        write_out(context.folder, as_path(place), text)
        context.answer({"file": place}, [f"written: {place}"])
    left = chores_ics.left_out(status)
    if left:
        context.warn(f"not in the calendar, since the water's warmth decides: {', '.join(left)}")
    return 0
