"""`pondtui import report FILE`: the sitter's answers as entries, shown before they are taken."""

from __future__ import annotations

from typing import Any

from pondtui.books.lines import make, render
from pondtui.books.sheets import Record, find_record, read_records
from pondtui.books.texts import read_text
from pondtui.cli.context import Context
from pondtui.cli.imports import confirmed
from pondtui.cli.words import Call
from pondtui.errors import InputError, UsageError
from pondtui.pond.away.report import Report, code_in, read_report, standing
from pondtui.pond.state.entry import Entry

NOBODY = "sitter"  # who wrote it, where the sheet named nobody


def take_report(name: str, mapping: dict[str, str], call: Call, context: Context) -> int:
    """Show what a report means, and after a yes write what the journal does not hold yet."""
    if mapping:
        raise UsageError("a report has no columns: leave out --map")
    text = read_text(name)
    record = find_record(read_records(context.folder), code_in(text))
    report = _read(text, record, context)
    new, there, unclear = _sorted(report, context)
    if not context.as_json:
        for line in _shown(record, report, new, there, unclear):
            context.say(line)
    if new and not confirmed(f"write {_count(len(new))} into the journal?", call, context):
        context.say("nothing was taken in")
        return 0
    for entry in new:
        context.append(entry)
    done = f"written: {_count(len(new))}" if new else "nothing new: none was written"
    context.answer(_data(record, report, new, there, unclear), [done])
    return 0


def _read(text: str, record: Record, context: Context) -> Report:
    gallon = {"us": "us", "imperial": "imperial"}.get(record.units)
    return read_report(
        text,
        record.tasks,
        sitter=record.sitter or NOBODY,
        zone=context.zone,
        gallon=gallon,
        first_step_mg_l=context.setup.limits.kit_first_step_mg_l,
    )


def _sorted(report: Report, context: Context) -> tuple[list[Entry], list[str], list[str]]:
    """New entries; numbers that an earlier import took; what is not clear."""
    known = list(context.journal.entries)
    new, there, unclear = [], [], list(report.not_understood)
    for told in report.entries:
        try:
            entry = make(
                told.kind, told.fields, told.note, told.instant, context.zone, context.gallon
            )
        except InputError as error:
            unclear.append(f"{told.number}: {error}")
            continue
        before = standing(told, known, context.zone)
        if before is None:
            new.append(entry)
        elif before == entry:
            there.append(told.number)
        else:
            unclear.append(
                f"{told.number}: the journal holds another answer ({render(before)}); strike that "
                "and add this by hand if it is right"
            )
    return new, there, unclear


def _shown(
    record: Record, report: Report, new: list[Entry], there: list[str], unclear: list[str]
) -> list[str]:
    lines = [f"sheet {record.code}, {record.first} to {record.last}, {record.sitter or NOBODY}"]
    lines += [f"  {render(entry)}" for entry in new]
    if there:
        lines.append(f"in the journal already: {' '.join(there)}")
    lines += [f"not understood: {why}" for why in unclear]
    if report.missing:
        lines.append(f"not answered: {' '.join(report.missing)}")
    return lines


def _data(
    record: Record, report: Report, new: list[Entry], there: list[str], unclear: list[str]
) -> dict[str, Any]:
    return {
        "sheet": record.code,
        "written": len(new),
        "lines": [render(entry) for entry in new],
        "there_already": there,
        "not_understood": unclear,
        "not_answered": list(report.missing),
    }


def _count(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"
