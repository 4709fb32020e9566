"""When water must not be drawn: `[dates] [weekdays | odd days | even days] [hours]`.

"mon-fri 08:00-20:00", "07-01..08-31 odd days", "11-01..02-28 sat,sun 20:00-06:00". Hours that pass
midnight belong to the day on which they begin; dates may pass New Year; the end is not forbidden.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from pondtui.errors import InputError
from pondtui.records import NamedTuple

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
EXAMPLE = "mon-fri 08:00-20:00, 07-01..08-31 odd days"
_DATES = re.compile(r"([0-9]{2})-([0-9]{2})(?:\.\.([0-9]{2})-([0-9]{2}))?")
_HOURS = re.compile(r"([0-9]{1,2}):([0-9]{2})-([0-9]{1,2}):([0-9]{2})")
_DAY = timedelta(days=1)
_LONGEST_CHAIN = 400  # days after which a ban is called one without an end


class Window(NamedTuple):
    """One forbidden window; `first`/`last` are (month, day), `begin`/`end` minutes of the day."""

    first: tuple[int, int] | None = None
    last: tuple[int, int] | None = None
    weekdays: frozenset[int] = frozenset()  # Monday is 0; empty: every day
    parity: int | None = None  # 1 on odd days of the month, 0 on even ones
    begin: int = 0
    end: int = 1440  # above 1440: past midnight


def parse(text: str) -> Window:
    """The window that a text describes. Raises InputError."""
    words = re.sub(r"\s*(-|,|\.\.)\s*", r"\1", text.casefold()).split()
    window, stage = Window(), 0
    while words:
        word = words.pop(0)
        if word in ("odd", "even") and words and words[0] in ("days", "day"):
            word = f"{word} {words.pop(0)}"
        window, reached = _take(window, word, text)
        if reached <= stage:
            raise InputError(f"dates, then days, then hours, each once, such as {EXAMPLE}: {text}")
        stage = reached
    if not stage:
        raise InputError(f"dates, days or hours such as {EXAMPLE}, not an empty text")
    return window


def _take(window: Window, word: str, text: str) -> tuple[Window, int]:
    """The window with one more part, and which part it was: 1 dates, 2 days, 3 hours."""
    if found := _DATES.fullmatch(word):
        first, last = _date(found[1], found[2], text), None
        last = _date(found[3], found[4], text) if found[3] else first
        return window._replace(first=first, last=last), 1
    if found := _HOURS.fullmatch(word):
        begin, end = _minutes(found[1], found[2], text), _minutes(found[3], found[4], text)
        if begin == end or begin == 1440:
            raise InputError(f"hours from one time to another such as 08:00-20:00: {text}")
        return window._replace(begin=begin, end=end if end > begin else end + 1440), 3
    if word.startswith(("odd ", "even ")):
        return window._replace(parity=int(word.startswith("odd"))), 2
    return window._replace(weekdays=_weekdays(word, text)), 2


def _date(month: str, day: str, text: str) -> tuple[int, int]:
    try:
        date(2024, int(month), int(day))  # a leap year, so that 02-29 is a day
    except ValueError:
        raise InputError(f"there is no day {month}-{day} in a year: {text}") from None
    return int(month), int(day)


def _minutes(hour: str, minute: str, text: str) -> int:
    minutes = int(hour) * 60 + int(minute)
    if int(minute) > 59 or minutes > 1440:
        raise InputError(f"there is no time {hour}:{minute}: {text}")
    return minutes


def _weekdays(word: str, text: str) -> frozenset[int]:
    days: set[int] = set()
    for part in word.split(","):
        first, mark, last = part.partition("-")
        if first not in WEEKDAYS or (mark and last not in WEEKDAYS):
            raise InputError(
                f"{word} in {text} is neither dates, days nor hours, such as {EXAMPLE}"
            )
        start = WEEKDAYS.index(first)
        length = (WEEKDAYS.index(last) - start) % 7 if mark else 0
        days |= {(start + i) % 7 for i in range(length + 1)}
    return frozenset(days)


def begins_on(window: Window, day: date) -> bool:
    """Whether the window's hours begin on that day."""
    if window.first and window.last:
        today = (day.month, day.day)
        if window.first <= window.last:
            inside = window.first <= today <= window.last
        else:
            inside = today >= window.first or today <= window.last
        if not inside:
            return False
    if window.weekdays and day.weekday() not in window.weekdays:
        return False
    return window.parity is None or day.day % 2 == window.parity


def forbidden(windows: tuple[str, ...], local: datetime) -> bool:
    """Whether water must not be drawn at a moment of the wall clock. Raises as `forbidden_end`."""
    now = local.replace(tzinfo=None)
    return any(_covers_until(parse(text), now) is not None for text in windows)


def forbidden_end(windows: tuple[str, ...], local: datetime) -> datetime | None:
    """When drawing water is next allowed, by the wall clock; None if it is allowed now.

    Windows that follow on each other count as one; a ban without an end gives `datetime.max`.
    Texts that cannot be parsed raise InputError: reading pond.toml has refused them before.
    """
    parsed = [parse(text) for text in windows]
    now = local.replace(tzinfo=None)
    latest = now
    while ends := [end for w in parsed if (end := _covers_until(w, latest))]:
        latest = max(ends)
        if latest - now > _LONGEST_CHAIN * _DAY:
            return datetime.max
    return latest if latest > now else None


def _covers_until(window: Window, moment: datetime) -> datetime | None:
    """The end of the window's run that holds the moment."""
    for day in (moment.date(), moment.date() - _DAY):
        start = datetime.combine(day, time()) + timedelta(minutes=window.begin)
        end = datetime.combine(day, time()) + timedelta(minutes=window.end)
        if begins_on(window, day) and start <= moment < end:
            return end
    return None


def forbidden_until(windows: tuple[str, ...], local: datetime) -> str | None:
    """`20:00`, `2026-09-01 00:00` or `further notice`; None if drawing water is allowed now."""
    end = forbidden_end(windows, local)
    if end is None:
        return None
    if end == datetime.max:
        return "further notice"
    same_day = end.date() == local.date()
    return end.strftime("%H:%M" if same_day else "%Y-%m-%d %H:%M")
