"""The sheet that a sitter goes by now, with what the journal answers to its tasks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta, tzinfo
from pathlib import Path

from pondtui.books.sheets import Record, read_records, record_now
from pondtui.pond.away.visiting import EARLY_DAYS, VisitNow, visits_now
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.records import NamedTuple


class Sitting(NamedTuple):
    """The sheet and its visits as they stand."""

    record: Record
    visits: tuple[VisitNow, ...]


def sitting(
    folder: Path, setup: Setup, entries: Iterable[Entry], zone: tzinfo, sitter: str, today: date
) -> Sitting | None:
    """The absence that is on or comes next; None where no sheet tells one."""
    names = [sitter, *(p.initials for p in setup.persons if p.name == sitter)]
    record = record_now(read_records(folder), today, names)
    if record is None or record.first is None:
        return None
    begin = datetime.combine(record.first, datetime.min.time(), zone) - timedelta(EARLY_DAYS)
    since = max(begin, datetime.fromisoformat(record.made))
    return Sitting(record, visits_now(record.tasks, entries, since, zone))
