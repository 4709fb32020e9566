"""The sitter's visits in words: which one is on, its tasks, and where each of them stands."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from pondtui.pond.away.visiting import TaskNow, VisitNow
from pondtui.views.explain import Explanation

NONE = (
    "No absence is planned.",
    "If the water is low: ring the keeper, or walk a refill.",
)


def heading(visits: Sequence[VisitNow], place: int, today: date) -> tuple[str, str]:
    """Which visit, and when it is due, with the role of it."""
    visit = visits[place]
    which = f"visit {visit.number} of {len(visits)}"
    day = visit.at.date()
    when = f"{visit.at:%a %d %b}, about {visit.at:%H:%M}"
    if not visit.open:
        return f"DONE: {which}, {when}", "good"
    if day == today:
        return f"TODAY, about {visit.at:%H:%M}: {which}", "mark"
    if day < today:
        return f"NOT MADE: {which}, {when}", "danger"
    return f"NEXT: {which}, {when}", "mark"


def after(visits: Sequence[VisitNow], place: int) -> str:
    """What comes behind a visit that is done."""
    if visits[place].open:
        return ""
    ahead = [v for v in visits[place + 1 :] if v.open]
    if not ahead:
        return "All is done. That was the last visit. Thank you."
    return f"All is done here. Next: visit {ahead[0].number}, {ahead[0].at:%a %d %b, about %H:%M}."


def large(one: TaskNow) -> str:
    """What stands in large signs: the planned amount, else the task's number."""
    return one.task.planned or one.task.number


def example(one: TaskNow) -> str:
    """What may be typed."""
    task = one.task
    if task.dimension == "chlorine":
        return "none for no colour, or such as 0.1 mg/L"
    return f"a number, in {task.shown_unit}; or no: and why"


def row(one: TaskNow, *, brief: bool = False, ascii: bool = False) -> tuple[str, str, str]:
    """A task as a line of the list: its head, its text, its role."""
    task = one.task
    if not one.said:
        return f"  {task.number}", f"{task.title if brief else task.text} ({task.asks})", "text"
    sign = ("x" if ascii else "✓") if one.done else "!"
    return f"{sign} {task.number}", f"{task.title}: {one.said}", "good" if one.done else "warn"


def explain(one: TaskNow) -> Explanation:
    """A task in full: what to do, what to answer, and what that becomes."""
    task = one.task
    known = [("answer with", task.asks), ("answered", one.said or "not yet")]
    if task.planned:
        known.insert(0, ("planned", task.planned))
    return Explanation(
        f"Task {task.number}: {task.title}",
        task.text,
        (*known, ("becomes", f"an entry of the kind {task.kind}")),
        source="the care sheet that was made for this absence",
    )


def as_json(visits: Sequence[VisitNow], place: int, today: date) -> dict[str, Any]:
    """The visit that is on by its keys."""
    visit = visits[place]
    return {
        "number": visit.number,
        "of": len(visits),
        "date": visit.at.date().isoformat(),
        "hour": f"{visit.at:%H:%M}",
        "today": visit.at.date() == today,
        "tasks": [
            {"number": one.task.number, "text": one.task.text, "planned": one.task.planned or None,
             "answered": one.said or None, "done": one.done}
            for one in visit.tasks
        ],
    }  # fmt: skip


def lines(visits: Sequence[VisitNow], place: int, today: date) -> list[str]:
    """The visit that is on, for a plain terminal."""
    found = [heading(visits, place, today)[0]]
    for one in visits[place].tasks:
        head, text, _ = row(one, ascii=True)
        found.append(f"{head:<7}{text}")
    end = after(visits, place)
    return [*found, end] if end else found
