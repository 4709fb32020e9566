"""The days that a chore may fall on: its window of the year, weekdays, day of the month."""

from __future__ import annotations

from datetime import date, timedelta

from pondtui.pond.setup.model import Chore
from pondtui.pond.setup.windows import WEEKDAYS

LONGEST_SEARCH = 366 * 41  # days: 29 February on a given weekday comes once in 40 years at worst
_LEAP_CYCLE_BEGINS = date(2024, 1, 1)
_DAY = timedelta(days=1)


def in_year(day: date, start: tuple[int, int], end: tuple[int, int]) -> bool:
    """Whether a day lies between two days (month, day) of the year, both included; a span may
    pass New Year."""
    today = (day.month, day.day)
    if start <= end:
        return start <= today <= end
    return today >= start or today <= end


def fits(chore: Chore, day: date) -> bool:
    """Whether the chore may fall on the day. The 31st is the last day of a shorter month."""
    if chore.window and not in_year(day, *chore.window):
        return False
    if chore.weekdays and WEEKDAYS[day.weekday()] not in chore.weekdays:
        return False
    if chore.monthly is None or day.day == chore.monthly:
        return True
    return day.day < chore.monthly and (day + timedelta(1)).day == 1


def first_day(chore: Chore, from_: date) -> date | None:
    """The first day not before `from_` on which the chore may fall; None if there is none."""
    day = from_
    while (day - from_).days < LONGEST_SEARCH:
        if chore.window and not in_year(day, *chore.window):
            begin = _on(day.year, chore.window[0])
            day = begin if begin > day else _on(day.year + 1, chore.window[0])
        if fits(chore, day):
            return day
        day += _DAY
    return None


def latest_day(chore: Chore, to: date, within: int = 62) -> date | None:
    """The latest day not after `to` on which the chore may fall, a few weeks back at most."""
    return next((d for d in (to - n * _DAY for n in range(within)) if fits(chore, d)), None)


def opened(chore: Chore, day: date) -> date:
    """The day on which the window that holds `day` began: the next one where it is shut that day,
    the first day of all without a window."""
    if not chore.window:
        return date.min
    begin = _on(day.year, chore.window[0])
    if not in_year(day, *chore.window):
        return begin if begin > day else _on(day.year + 1, chore.window[0])
    return begin if begin <= day else _on(day.year - 1, chore.window[0])


def _on(year: int, month_day: tuple[int, int]) -> date:
    """That day of a year; 29 February is 1 March in a year without one."""
    try:
        return date(year, *month_day)
    except ValueError:
        return date(year, 3, 1)


def never_comes(chore: Chore) -> bool:
    """Whether no day of the calendar fits."""
    return first_day(chore, _LEAP_CYCLE_BEGINS) is None
