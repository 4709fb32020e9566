"""The chores as calendar events (RFC 5545): all-day VEVENTs that repeat by the chore's own rule.

A season with an end is one event for each of the next two; what hangs on the water's warmth stands
in no calendar.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta

from pondtui.pond.daily.due import DUE, ChoreNow
from pondtui.pond.setup.days import first_day, in_year, opened
from pondtui.pond.setup.model import Chore
from pondtui.views.care.ics import escape, fold
from pondtui.views.status import Status

_SEASONS = 2
_DAYS = {"mon": "MO", "tue": "TU", "wed": "WE", "thu": "TH", "fri": "FR", "sat": "SA", "sun": "SU"}


def text(status: Status) -> str:
    """The whole calendar, lines ended by CRLF."""
    rows = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//pondtui//chores//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
    ]
    known = {chore.name: chore for chore in status.setup.chores}
    for now in status.chores:
        rows += _events(status, known.get(now.name, Chore(now.name)), now)
    rows.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for row in rows for folded in fold(row))


def left_out(status: Status) -> list[str]:
    """The chores that no calendar can hold, since nobody knows yet when they come."""
    return [chore.name for chore in status.setup.chores if chore.water]


def _events(status: Status, chore: Chore, now: ChoreNow) -> Iterable[str]:
    today = datetime.fromtimestamp(status.now, UTC).date()
    start = today if now.state in DUE else now.next
    if chore.water or start is None:
        return
    rule = _rule(chore)
    if not rule:
        yield from _event(status, now, start, "")
        return
    for first, last in _spans(chore, start):
        until = "" if last is None else f";UNTIL={last:%Y%m%d}"
        yield from _event(status, now, first, f"{rule}{until}")


def _rule(chore: Chore) -> str:
    """RRULE of a chore of the calendar; "" for one that comes once."""
    if chore.after:
        return ""
    if chore.weekdays:
        return f"FREQ=WEEKLY;BYDAY={','.join(_DAYS[day] for day in chore.weekdays)}"
    if chore.monthly is not None:
        if chore.monthly <= 28:
            return f"FREQ=MONTHLY;BYMONTHDAY={chore.monthly}"
        days = ",".join(str(day) for day in range(28, chore.monthly + 1))
        return f"FREQ=MONTHLY;BYMONTHDAY={days};BYSETPOS=-1"  # the last one that the month has
    if chore.every_days is None:
        return ""
    return f"FREQ=DAILY;INTERVAL={max(round(chore.every_days), 1)}"


def _spans(chore: Chore, start: date) -> Iterator[tuple[date, date | None]]:
    """First and last day of the coming seasons; one without an end where the year is open."""
    if not chore.window:
        yield start, None
        return
    for _ in range(_SEASONS):
        last = start
        while in_year(last + timedelta(1), *chore.window) and (last - start).days < 366:
            last += timedelta(1)
        yield start, last
        following = first_day(chore, max(opened(chore, last + timedelta(1)), last + timedelta(1)))
        if following is None:
            return
        start = following


def _event(status: Status, now: ChoreNow, start: date, rule: str) -> Iterator[str]:
    pond = status.setup.pond.name
    key = f"{pond}\n{now.name}\n{start if rule == '' else start.year}\n{rule[:12]}"
    yield "BEGIN:VEVENT"
    yield f"UID:{hashlib.sha256(key.encode()).hexdigest()[:32]}@pondtui"
    yield f"DTSTAMP:{datetime.fromtimestamp(status.now, UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{start:%Y%m%d}"
    if rule:
        yield f"RRULE:{rule}"
    yield f"SUMMARY:{escape(f'{now.name} ({pond})')}"
    if now.person or now.why:
        yield f"DESCRIPTION:{escape('; '.join(w for w in (now.person, now.why) if w))}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"
