"""The cells of a table as numbers, days and times."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, timedelta, tzinfo
from functools import lru_cache

from pondtui.records import NamedTuple

_NUMBER = re.compile(r"[+-]?(?:\d{1,15}(?:\.\d{0,20})?|\.\d{1,20})(?:[eE][+-]?\d{1,2})?", re.ASCII)
_COMMA = r"(?a)([+-]?\d{1,15}),(\d{1,20})"  # compiled where it is first used
NO_VALUE = frozenset(("", "-", "--", "---", "na", "n/a", "nan", "null", "none", "?"))
TRACES = frozenset(("t", "tr", "tr.", "trace"))

_TIME = (
    r"(?:(?:[ Tt]+|(?<=\d)[ ,]+)(?P<hour>\d{1,2})[:.h](?P<minute>\d\d)(?::(?P<second>\d\d)"
    r"(?:[.,]\d{1,9})?)?(?: ?(?P<offset>Z|UTC|[+-]\d\d(?::?\d\d)?))?)?"
)
_ISO = re.compile(r"(?P<year>\d{4})(?P<sep>[-/.]?)(?P<month>\d\d?)(?P=sep)(?P<day>\d\d?)" + _TIME)
_OTHER = r"(?P<one>\d\d?)(?P<sep>[-/.])(?P<two>\d\d?)(?P=sep)(?P<year>\d{4})" + _TIME
FIRST_YEAR, LAST_YEAR = 1850, 2199


class When(NamedTuple):
    """A cell's day, with the time where it tells one."""

    day: date  # by the clock of the place
    minute: int | None = None  # of the day, by the clock of the place; None: the day alone
    second: int = 0
    fold: int | None = None  # 0 or 1 where an offset says which of two equal times it is


def number_in(cell: str, comma_is_decimal: bool | None) -> float:
    """The number of a cell. Raises ValueError with the reason, to be put behind a name."""
    text = cell.strip(" \u00a0\t").replace("\u2212", "-")
    if _NUMBER.fullmatch(text):
        return float(text)
    found = re.fullmatch(_COMMA, text)
    if not found:
        raise ValueError(f"{text[:40]} is no number")
    if comma_is_decimal is None:
        raise ValueError(f"{text[:40]}: is that a decimal comma? write every number with a point")
    return float(f"{found[1]}.{found[2]}")


def day_first(cells: Iterable[str]) -> bool | None:
    """Whether days such as 03/06/2026 put the day first; None where the cells leave it open.

    With points between (03.06.2026) it does everywhere. Raises ValueError where cells disagree.
    """
    first = second = False
    for cell in cells:
        text = cell.strip()
        found = None if text[:4].isdigit() else re.match(_OTHER, text)
        if found and found["sep"] != ".":
            first = first or int(found["one"]) > 12
            second = second or int(found["two"]) > 12
    if first and second:
        raise ValueError("some days are written day first, some month first")
    return None if first == second else first


@lru_cache(maxsize=8192)
def when_in(cell: str, order: bool | None, tz: tzinfo) -> When:
    """The day, or day and time, of a cell; `order` as `day_first` tells it.

    A time with an offset is turned to the clock of `tz`. Raises ValueError with the reason.
    """
    text = cell.strip(" \u00a0\t")
    found = _ISO.fullmatch(text)
    if found:
        year, month, day = int(found["year"]), int(found["month"]), int(found["day"])
    else:
        found = re.fullmatch(_OTHER, text)
        if not found:
            raise ValueError(f"{text[:40] or 'nothing'} is no day: write 2026-06-03")
        one, two, year = int(found["one"]), int(found["two"]), int(found["year"])
        if found["sep"] != "." and order is None and one != two:
            raise ValueError(f"{text[:40]}: day or month first? write {year}-06-03")
        month, day = (two, one) if found["sep"] == "." or order is not False else (one, two)
    try:
        noon = date(year, month, day)
    except ValueError:
        raise ValueError(f"there is no {text[:40]} in the calendar") from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"{text[:40]}: the year is not between {FIRST_YEAR} and {LAST_YEAR}")
    return When(noon) if found["hour"] is None else _timed(noon, found, tz)


def _timed(day: date, found: re.Match[str], tz: tzinfo) -> When:
    hour, minute, second = int(found["hour"]), int(found["minute"]), int(found["second"] or 0)
    if hour > 24 or minute > 59 or second > 59 or (hour == 24 and minute + second):
        raise ValueError(f"{found[0]}: a day runs from 00:00 to 24:00")
    if hour == 24:  # the end of a day is the beginning of the next
        day, hour = day + timedelta(1), 0
    if found["offset"] is None:
        return When(day, hour * 60 + minute, second)
    offset = "+00:00" if found["offset"] in ("Z", "UTC") else found["offset"]
    digits = offset[1:].replace(":", "").ljust(4, "0")
    ahead = timedelta(hours=int(digits[:2]), minutes=int(digits[2:]))
    if ahead > timedelta(hours=14) or digits[2:] > "59":
        raise ValueError(f"no place keeps the offset {offset}")
    ahead = -ahead if offset[0] == "-" else ahead
    utc = datetime(day.year, day.month, day.day, hour, minute, second) - ahead
    local = tz.fromutc(utc.replace(tzinfo=tz))
    return When(local.date(), local.hour * 60 + local.minute, local.second, local.fold)
