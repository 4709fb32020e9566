"""A sitter's report against the journal: what is new, what was taken before, what is not clear."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import tzinfo

from pondtui.books.lines import make, render
from pondtui.books.sheets import Record
from pondtui.errors import InputError
from pondtui.pond.away.report import Report, read_report, standing
from pondtui.pond.state.entry import Entry
from pondtui.records import NamedTuple

NOBODY = "sitter"  # who wrote it, where the sheet named nobody


class Sorted(NamedTuple):
    """A report's answers."""

    new: list[Entry]
    there: list[str]  # numbers that an earlier import took
    unclear: list[str]


def understood(text: str, record: Record, zone: tzinfo, first_step_mg_l: float) -> Report:
    """What a message says on the sheet that it answers, in the sheet's own units."""
    gallon = {"us": "us", "imperial": "imperial"}.get(record.units)
    return read_report(
        text,
        record.tasks,
        sitter=record.sitter or NOBODY,
        zone=zone,
        gallon=gallon,
        first_step_mg_l=first_step_mg_l,
    )


def sort_out(report: Report, known: Iterable[Entry], zone: tzinfo, gallon: str | None) -> Sorted:
    """Part a report's answers by what the journal holds, struck entries too."""
    known = list(known)
    found = Sorted([], [], list(report.not_understood))
    for told in report.entries:
        try:
            entry = make(told.kind, told.fields, told.note, told.instant, zone, gallon)
        except InputError as error:
            found.unclear.append(f"{told.number}: {error}")
            continue
        before = standing(told, known, zone)
        if before is None:
            found.new.append(entry)
        elif before == entry:
            found.there.append(told.number)
        else:
            found.unclear.append(
                f"{told.number}: the journal holds another answer ({render(before)}); strike that "
                "and add this by hand if it is right"
            )
    return found


def shown(record: Record, report: Report, found: Sorted) -> list[str]:
    """What would be taken in, before it is."""
    lines = [f"sheet {record.code}, {record.first} to {record.last}, {record.sitter or NOBODY}"]
    lines += [f"  {render(entry)}" for entry in found.new]
    if found.there:
        lines.append(f"in the journal already: {' '.join(found.there)}")
    lines += [f"not understood: {why}" for why in found.unclear]
    if report.missing:
        lines.append(f"not answered: {' '.join(report.missing)}")
    return lines
