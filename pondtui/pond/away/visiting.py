"""A sheet's visits as the sitter walks them: what is answered, and which visit is on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, tzinfo

from pondtui.errors import InputError
from pondtui.pond.away.model import Task
from pondtui.pond.away.report import Told, read_report
from pondtui.pond.state.entry import Entry
from pondtui.records import NamedTuple

EARLY_DAYS = 1  # a visit may be made a day before the absence begins
_MARK = re.compile(r"task ([0-9]+\.[0-9]+)(?![0-9.])")


class TaskNow(NamedTuple):
    """A task, and what was answered; "" while it is open."""

    task: Task
    said: str = ""
    done: bool = False  # False with an answer: not done, or not as it should be


class VisitNow(NamedTuple):
    """A visit with its tasks as they stand."""

    number: int
    at: datetime  # when it is due, by the pond's clock
    tasks: tuple[TaskNow, ...]

    @property
    def open(self) -> tuple[TaskNow, ...]:
        """The tasks without an answer."""
        return tuple(each for each in self.tasks if not each.said)


def visits_now(
    tasks: Iterable[Task], entries: Iterable[Entry], since: datetime, zone: tzinfo
) -> tuple[VisitNow, ...]:
    """The visits of a sheet with what the journal answers, from `since` on: an older sheet has
    the same numbers."""
    said: dict[str, Entry] = {}
    for entry in entries:
        found = _MARK.match(entry.note)
        if found and entry.instant >= since.timestamp():
            said[found[1]] = entry
    visits: dict[int, list[TaskNow]] = {}
    for task in tasks:
        number = int(task.number.partition(".")[0])
        visits.setdefault(number, []).append(_task_now(task, said.get(task.number)))
    return tuple(
        VisitNow(number, _local(rows[0].task.instant, zone), tuple(rows))
        for number, rows in visits.items()
    )


def _local(instant: int, zone: tzinfo) -> datetime:
    """The start of a visit: its first task is stamped a minute later."""
    return datetime.fromtimestamp(instant - 60, UTC).astimezone(zone)


def _task_now(task: Task, entry: Entry | None) -> TaskNow:
    if entry is None:
        return TaskNow(task)
    words = entry.note.partition(":")[2].strip()
    if entry.fields.get("skipped") or (entry.kind == "note" and words.startswith("no")):
        return TaskNow(task, words if words.startswith("no") else f"no: {words}", False)
    said = entry.fields.get(task.field, "") if task.field else ""
    return TaskNow(task, " ".join(w for w in (said or "ok", words.removeprefix("ok")) if w), True)


def visit_on(visits: Sequence[VisitNow], today: date) -> int:
    """The place of the visit that is on: today's with something open, else today's last one; with
    none today the latest that was not made; else the next one to come; else the last."""
    days = [visit.at.date() for visit in visits]
    now = [at for at, day in enumerate(days) if day == today]
    unfinished = [at for at in now if visits[at].open]
    if now:
        return (unfinished or now[-1:])[0]
    past = [at for at, day in enumerate(days) if day < today]
    if past and len(visits[past[-1]].open) == len(visits[past[-1]].tasks):
        return past[-1]
    ahead = [at for at, day in enumerate(days) if day > today]
    return ahead[0] if ahead else len(visits) - 1


def answered(
    task: Task, typed: str, *, sitter: str, zone: tzinfo, gallon: str | None, first_step: float
) -> Told:
    """The entry that an answer to one task means, read as a report is. Raises InputError."""
    report = read_report(
        f"{task.number} {' '.join(typed.split())}",
        (task,),
        sitter=sitter,
        zone=zone,
        gallon=gallon,
        first_step_mg_l=first_step,
    )
    if len(report.entries) != 1 or report.not_understood:
        why = "; ".join(report.not_understood) or f"{task.number}: answer with {task.asks}"
        raise InputError(why)
    return report.entries[0]
