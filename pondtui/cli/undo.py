"""`pondtui undo`: strike the entry that this device wrote last; the line itself stays."""

from __future__ import annotations

from pondtui.books.lines import make, render, strike_of
from pondtui.books.store import move_on
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.state.entry import Entry


def run(call: Call, context: Context) -> int:
    """Strike it, and show which line that was."""
    context.take_no_words(call)
    journal = context.journal
    last = _last(journal.live, context.device)
    if last is None:
        raise UsageError(f"this device ({context.device}) has no entry that could be taken back")
    zone = context.zone
    fields = {"of": strike_of(last, zone)}
    if context.settings.by:
        fields["by"] = context.settings.by
    strike = make("strike", fields, "", context.instant, zone, context.gallon)
    saved = context.append(move_on(strike, journal.taken()))
    data = {"struck": render(last), "line": saved.line, "file": str(saved.path)}
    context.answer(data, [f"struck: {render(last)}", saved.line])
    return 0


def _last(live: list[Entry], device: str) -> Entry | None:
    """The entry that stands last in the newest of this device's files: late entries too."""
    ending = f"-{device}.txt"
    ours = [e for e in live if e.kind != "strike" and e.path.endswith(ending)]
    return max(ours, key=lambda entry: (entry.path, entry.line), default=None)
