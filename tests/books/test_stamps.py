"""Stamps are read as instants and written so that anybody can read them back."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.stamps import parse_stamp, render_stamp
from pondtui.errors import InputError

BRUSSELS = ZoneInfo("Europe/Brussels")
ZONES = [
    UTC,
    BRUSSELS,
    ZoneInfo("America/St_Johns"),
    ZoneInfo("Pacific/Kiritimati"),
    ZoneInfo("Australia/Lord_Howe"),
    timezone(timedelta(hours=-12)),
]


def seconds(*moment: int) -> int:
    """The instant of a moment in UTC."""
    return int(datetime(*moment, tzinfo=UTC).timestamp())  # type: ignore[misc,arg-type]


@pytest.mark.parametrize(
    ("text", "instant"),
    [
        ("2026-06-03 07:42:10+02:00", seconds(2026, 6, 3, 5, 42, 10)),
        ("2026-06-03T07:42:10+02:00", seconds(2026, 6, 3, 5, 42, 10)),
        ("2026-06-03 07:42+02:00", seconds(2026, 6, 3, 5, 42)),
        ("2026-06-03 07:42:10.999Z", seconds(2026, 6, 3, 7, 42, 10)),
        ("2024-02-29 00:00Z", seconds(2024, 2, 29)),
        ("1999-12-31 23:59:59-12:00", seconds(2000, 1, 1, 11, 59, 59)),
        ("2099-01-01 00:00:00+14:00", seconds(2098, 12, 31, 10)),
        ("2026-06-03 07:42:10-03:30", seconds(2026, 6, 3, 11, 12, 10)),
    ],
)
def test_a_stamp_with_an_offset_is_an_instant(text: str, instant: int) -> None:
    assert parse_stamp(text, BRUSSELS) == (instant, "")


@pytest.mark.parametrize(
    ("text", "way_out"),
    [
        ("2026-06-03 24:00+02:00", "00:00:00 to 23:59:59"),
        ("2026-06-03 07:60+02:00", "00:00:00 to 23:59:59"),
        ("2026-06-03 07:42:60+02:00", "00:00:00 to 23:59:59"),
        ("2026-02-29 07:42+02:00", "no 2026-02-29 in the calendar"),
        ("2026-13-01 07:42+02:00", "no 2026-13-01 in the calendar"),
        ("2026-06-03 07:42+0200", "write 2026-06-03 07:42+02:00"),
        ("2026-6-3 7:42+02:00", "write 2026-06-03 07:42+02:00"),
        ("2026/06/03 07:42Z", "write 2026-06-03 07:42Z"),
        ("2026-06-03", "write 2026-06-03 12:00"),
        ("2026-W23-3 07:42Z", "write one such as"),
        ("20260603T074210Z", "write one such as"),
        ("yesterday", "write one such as"),
        ("", "begin with one such as"),
        ("2026-06-03 07:42+20:00", "from -12:00 to +14:00"),
        ("2026-06-03 07:42+01:75", "+01:75 is no offset"),
        ("0026-06-03 07:42Z", "between 1980 and 2199"),
        ("2026-06-03  07:42Z", "write 2026-06-03 07:42Z"),
        ("2026-06-03 07:42Z\n", "is no stamp"),
        ("٢٠٢٦-06-03 07:42Z", "write one such as"),
    ],
)
def test_other_forms_are_refused_with_the_way_out(text: str, way_out: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_stamp(text, BRUSSELS)
    assert way_out in str(caught.value)


def test_without_an_offset_the_pond_s_time_zone_counts() -> None:
    instant, remark = parse_stamp("2026-06-03 07:42", BRUSSELS)
    assert instant == seconds(2026, 6, 3, 5, 42)
    assert remark == "2026-06-03 07:42: no offset; read as 2026-06-03 07:42:00+02:00"


def test_of_an_hour_that_comes_twice_the_first_is_meant() -> None:
    # Central Europe leaves summer time on 2026-10-25 at 01:00 UTC (EU directive 2000/84/EC).
    assert parse_stamp("2026-10-25 02:30", BRUSSELS)[0] == seconds(2026, 10, 25, 0, 30)


def test_an_hour_that_summer_time_skips_is_remarked_on() -> None:
    instant, remark = parse_stamp("2026-03-29 02:30", BRUSSELS)
    assert instant == seconds(2026, 3, 29, 1, 30)
    assert "clocks skip that hour" in remark
    assert "2026-03-29 03:30:00+02:00" in remark


def test_the_program_writes_seconds_and_offset() -> None:
    assert render_stamp(seconds(2026, 6, 3, 5, 42, 10), BRUSSELS) == "2026-06-03 07:42:10+02:00"
    assert render_stamp(seconds(2026, 1, 3, 5, 42), BRUSSELS) == "2026-01-03 06:42:00+01:00"


@given(
    st.integers(seconds(1999, 1, 2), seconds(2099, 12, 30)),
    st.sampled_from(ZONES),
    st.sampled_from(ZONES),
)
def test_what_is_written_is_read_back_in_every_zone(
    instant: int, zone: tzinfo, elsewhere: tzinfo
) -> None:
    assert parse_stamp(render_stamp(instant, zone), elsewhere) == (instant, "")


@given(st.text(max_size=30) | st.from_regex(r"[0-9]{4}-[0-9]{2}-[0-9]{2}.[0-9:.+Z-]{0,20}"))
def test_any_text_is_read_as_a_moment_or_refused(text: str) -> None:
    try:
        instant, _ = parse_stamp(text, BRUSSELS)
    except InputError:
        return
    # what was taken is a moment of the calendar
    assert parse_stamp(render_stamp(instant, UTC), UTC) == (instant, "")
