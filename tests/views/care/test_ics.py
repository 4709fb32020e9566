"""The visits as calendar events, read by another program's reader (RFC 5545)."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from pondtui.pond.away.model import Visit
from pondtui.views.care import ics
from tests.pond.away.ponds import pond, sheet
from tests.views.care.nasty import BREAKOUT, CLOSER, nasty_sheet


def events(text: str) -> list[dict[str, object]]:
    calendar = Calendar.from_ical(text)
    assert calendar.get("version") == "2.0"
    assert calendar.get("prodid")
    return [dict(event) for event in calendar.walk("VEVENT")]


def test_every_visit_is_an_event_at_its_time() -> None:
    made = sheet()
    found = events(ics.text(made))
    assert len(found) == len(made.visits)
    first = found[0]
    assert first["DTSTART"].dt == datetime(2026, 6, 12, 16, 0, tzinfo=UTC)  # type: ignore[attr-defined]  # icalendar's own
    assert first["DTSTAMP"].dt == datetime(2026, 6, 10, 6, 0, tzinfo=UTC)  # type: ignore[attr-defined]  # icalendar's own
    assert str(first["SUMMARY"]) == "Pond visit 1: Box and yard"
    assert str(first["DESCRIPTION"]).startswith("1.1 Fish: all up and about")


def test_lines_end_with_crlf_and_have_at_most_75_octets() -> None:
    data = ics.text(nasty_sheet()).encode()
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75


def test_a_uid_stays_when_the_sheet_is_made_anew_and_is_never_shared() -> None:
    uids = [str(e["UID"]) for e in events(ics.text(sheet()))]
    assert len(set(uids)) == len(uids)
    again = sheet(units="us", journal="2026-06-09 18:00+02:00 | level | reading=41 mm\n")
    assert [str(e["UID"]) for e in events(ics.text(again))] == uids
    twice = sheet(planned=(Visit(date(2026, 6, 12)), Visit(date(2026, 6, 12))))
    assert len({str(e["UID"]) for e in events(ics.text(twice))}) == 2


def test_nothing_that_was_written_ends_a_line_or_an_event() -> None:
    (event,) = events(ics.text(nasty_sheet()))
    assert CLOSER in str(event["SUMMARY"])
    assert BREAKOUT in str(event["DESCRIPTION"])


@pytest.mark.parametrize(("day", "hour_utc"), [(24, 16), (25, 17)])
def test_the_clock_change_moves_the_hour_in_utc(day: int, hour_utc: int) -> None:
    # Brussels leaves summer time on 2026-10-25 at 03:00
    (event,) = events(ics.text(sheet(planned=(Visit(date(2026, 10, day)),))))
    assert event["DTSTART"].dt.hour == hour_utc  # type: ignore[attr-defined]  # icalendar's own


@given(st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=300))
def test_any_name_survives_escaping_and_folding(name: str) -> None:
    setup = pond()
    setup = setup._replace(pond=setup.pond._replace(name=f"x{name}x"))
    (event,) = events(ics.text(sheet(setup, "", planned=(Visit(date(2026, 6, 12)),))))
    assert str(event["SUMMARY"]) == f"Pond visit 1: x{name}x"


@given(st.text("aé漢🐟,;\\", max_size=400))
def test_folded_lines_join_to_what_they_were(line: str) -> None:
    pieces = ics.fold(line)
    assert all(len(piece.encode()) <= 75 for piece in pieces)
    assert pieces[0] + "".join(piece[1:] for piece in pieces[1:]) == line
    assert all(piece.startswith(" ") for piece in pieces[1:])
