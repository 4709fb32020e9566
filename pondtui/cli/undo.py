"""`pondtui undo`: strike the entry that this device wrote last; the line itself stays."""

from __future__ import annotations

from collections.abc import Sequence

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
    last = _last(journal.live, context)
    if last is None:
        raise UsageError(f"this device ({context.device}) has no entry that could be taken back")
    zone = context.zone
    fields = {"of": strike_of(last, zone)}
    if context.by:
        fields["by"] = context.by
    strike = make("strike", fields, "", context.instant, zone, context.gallon)
    saved = context.append(move_on(strike, journal.taken()))
    data = {"struck": render(last), "line": saved.line, "file": str(saved.path)}
    context.answer(data, [f"struck: {render(last)}", saved.line])
    return 0


def _last(live: Sequence[Entry], context: Context) -> Entry | None:
    """The entry that stands last in the newest of this device's files: late entries too. A sitter
    takes back only what bears the sitter's name."""
    ending, sitter = f"-{context.device}.txt", context.sitter_name
    ours = [e for e in live if e.kind != "strike" and e.path.endswith(ending)]
    if sitter:
        ours = [e for e in ours if e.fields.get("by") == sitter]
    return max(ours, key=lambda entry: (entry.path, entry.line), default=None)
