"""The visit days as calendar events (RFC 5545): telephones drop to-dos, so each is a VEVENT."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from pondtui.pond.away.model import Planned, Sheet
from pondtui.pond.away.tasks import start_of

_OCTETS = 75  # RFC 5545 section 3.1: a line's length without its break
_LOOK_MIN = 15.0
_UNSEEN = re.compile("[\x00-\x09\x0b-\x1f\x7f]")


def text(sheet: Sheet) -> str:
    """The whole calendar, lines ended by CRLF."""
    rows = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//pondtui//care sheet//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
    ]
    for planned in sheet.visits:
        rows += _event(sheet, planned)
    rows.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for row in rows for folded in fold(row))


def _event(sheet: Sheet, planned: Planned) -> Iterable[str]:
    visit = planned.visit
    start = start_of(sheet.setup, visit)
    minutes = _LOOK_MIN + (visit.fill_min or 0.0) + visit.wait_min + (visit.release_min or 0.0)
    what = f" and {visit.barrel}" if visit.barrel else ""
    summary = f"Pond visit {planned.number}: {sheet.setup.pond.name}{what}"
    told = "\n".join(f"{task.number} {task.text} ({task.asks})" for task in planned.tasks)
    return (
        "BEGIN:VEVENT",
        f"UID:{uid(sheet, planned)}",
        f"DTSTAMP:{_utc(sheet.made)}",
        f"DTSTART:{_utc(start)}",
        f"DTEND:{_utc(start + timedelta(minutes=minutes))}",
        f"SUMMARY:{escape(summary)}",
        f"DESCRIPTION:{escape(told)}",
        "END:VEVENT",
    )


def uid(sheet: Sheet, planned: Planned) -> str:
    """The same for the same visit of the same pond, whenever the sheet is made: a newer sheet
    takes the older one's place in the calendar."""
    visit = planned.visit
    same = [p for p in sheet.visits if (p.visit.date, p.visit.hour) == (visit.date, visit.hour)]
    key = f"{sheet.setup.pond.name}\n{visit.date}\n{visit.hour}\n{same.index(planned)}"
    return f"{hashlib.sha256(key.encode()).hexdigest()[:32]}@pondtui"


def escape(value: str) -> str:
    """TEXT of section 3.3.11: backslash, semicolon, comma and newline escaped."""
    plain = _UNSEEN.sub(" ", value.replace("\r\n", "\n"))
    for sign in ("\\", ";", ","):
        plain = plain.replace(sign, f"\\{sign}")
    return plain.replace("\n", "\\n")


def fold(line: str) -> list[str]:
    """A content line in pieces of at most 75 octets, never cut within a sign."""
    pieces, piece = [], ""
    for sign in line:
        if len(f"{piece}{sign}".encode()) > _OCTETS:
            pieces.append(piece)
            piece = " "
        piece += sign
    return [*pieces, piece]


def _utc(moment: datetime) -> str:
    return f"{moment.astimezone(UTC):%Y%m%dT%H%M%SZ}"
