"""The stamp of an entry: RFC 3339 in and out."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo
from functools import lru_cache

from pondtui.errors import InputError

FIRST_YEAR, LAST_YEAR = 1980, 2199
_EXAMPLE = "2026-06-03 07:42:10+02:00"
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_STAMP = re.compile(
    r"(\d{4}-\d\d-\d\d)[ T](\d\d):(\d\d)(?::(\d\d)(?:\.\d{1,12})?)?(Z|[+-]\d\d:\d\d)?", re.ASCII
)


def parse_stamp(text: str, tz: tzinfo) -> tuple[int, str]:
    """A stamp's instant in seconds since 1970, and a remark ("" where there is none).

    Fractions of a second are cut. Without an offset it is read in `tz`, the earlier of two where
    clocks go back. Raises InputError with the nearest valid form.
    """
    found = _STAMP.fullmatch(text)
    if not found:
        raise InputError(_nearest(text))
    day, hour, minute, second, offset = found.groups()
    if hour > "23" or minute > "59" or (second and second > "59"):
        raise InputError(f"{text}: a day runs from 00:00:00 to 23:59:59")
    seconds = int(hour) * 3600 + int(minute) * 60 + (int(second) if second else 0)
    if offset:
        return _midnight(day, offset) + seconds, ""
    _midnight(day, "Z")  # refuses days that are none
    return _local(datetime.fromisoformat(day) + timedelta(seconds=seconds), text, tz)


def render_stamp(instant: int, tz: tzinfo) -> str:
    """The stamp as the program writes it: `2026-06-03 07:42:10+02:00`."""
    return datetime.fromtimestamp(instant, tz).isoformat(" ", "seconds")


@lru_cache(maxsize=4096)
def _midnight(day: str, offset: str) -> int:
    """The instant at which that day begins there. Raises InputError."""
    if offset != "Z" and offset[-2:] > "59":
        raise InputError(f"{offset} is no offset: write one such as +02:00")
    try:
        start = datetime.fromisoformat(f"{day}T00:00:00{offset}")
    except ValueError:
        raise InputError(f"there is no {day} in the calendar") from None
    if not FIRST_YEAR <= start.year <= LAST_YEAR:
        raise InputError(f"{day}: the year is not between {FIRST_YEAR} and {LAST_YEAR}")
    ahead = start.utcoffset() or timedelta()
    if not timedelta(hours=-12) <= ahead <= timedelta(hours=14):
        raise InputError(f"no place keeps the offset {offset}: it goes from -12:00 to +14:00")
    return int((start - _EPOCH).total_seconds())


def _local(naive: datetime, text: str, tz: tzinfo) -> tuple[int, str]:
    instant = int((naive.replace(tzinfo=tz) - _EPOCH).total_seconds())
    read = render_stamp(instant, tz)
    if datetime.fromtimestamp(instant, tz).replace(tzinfo=None) != naive:
        return instant, f"{text}: clocks skip that hour; read as {read}"
    return instant, f"{text}: no offset; read as {read}"


def _nearest(text: str) -> str:
    """The refusal of a text that is no stamp, with what it comes closest to."""
    if not text:
        return f"no stamp: begin with one such as {_EXAMPLE}"
    loose = re.fullmatch(
        r"(\d{4})[-/.](\d\d?)[-/.](\d\d?)(?:[ Tt]+(\d\d?)[:.h](\d\d)(?::(\d\d))?)?[.\d]*"
        r"\s*(?:(Z|z|UTC)|([+-]\d\d):?(\d\d)?)?",
        text,
        re.ASCII,
    )
    if not loose:
        return f"{text} is no stamp: write one such as {_EXAMPLE}"
    year, month, day, hour, minute, second, zulu, ahead, rest = loose.groups()
    near = f"{year}-{month:0>2}-{day:0>2} {hour or '12':0>2}:{minute or '00'}"
    near += f":{second}" if second else ""
    near += "Z" if zulu else f"{ahead}:{rest or '00'}" if ahead else ""
    return f"{text} is no stamp: write {near}"
