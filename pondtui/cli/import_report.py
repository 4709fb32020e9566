"""`pondtui import report FILE`: the sitter's answers as entries, shown before they are taken."""

from __future__ import annotations

from typing import Any

from pondtui.books.lines import render
from pondtui.books.reports import Sorted, shown, sort_out, understood
from pondtui.books.sheets import Record, find_record, read_records
from pondtui.books.texts import read_text
from pondtui.cli.context import Context
from pondtui.cli.imports import confirmed
from pondtui.cli.words import Call
from pondtui.errors import UsageError
from pondtui.pond.away.report import Report, code_in


def take_report(name: str, mapping: dict[str, str], call: Call, context: Context) -> int:
    """Show what a report means, and after a yes write what the journal does not hold yet."""
    if mapping:
        raise UsageError("a report has no columns: leave out --map")
    text = read_text(name)
    record = find_record(read_records(context.folder), code_in(text))
    report = understood(text, record, context.zone, context.setup.limits.kit_first_step_mg_l)
    found = sort_out(report, context.journal.entries, context.zone, context.gallon)
    if not context.as_json:
        for line in shown(record, report, found):
            context.say(line)
    new = found.new
    if new and not confirmed(f"write {_count(len(new))} into the journal?", call, context):
        context.say("nothing was taken in")
        return 0
    for entry in new:
        context.append(entry)
    done = f"written: {_count(len(new))}" if new else "nothing new: none was written"
    context.answer(_data(record, report, found), [done])
    return 0


def _data(record: Record, report: Report, found: Sorted) -> dict[str, Any]:
    return {
        "sheet": record.code,
        "written": len(found.new),
        "lines": [render(entry) for entry in found.new],
        "there_already": found.there,
        "not_understood": found.unclear,
        "not_answered": list(report.missing),
    }


def _count(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"
