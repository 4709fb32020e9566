"""Days of the year and spans of time, as the daily rules need them."""

from __future__ import annotations

from datetime import date

from pondtui.units import show


def in_year(day: date, start: tuple[int, int], end: tuple[int, int]) -> bool:
    """Whether a day lies between two days (month, day) of the year, both included; a span may
    pass New Year."""
    today = (day.month, day.day)
    if start <= end:
        return start <= today <= end
    return today >= start or today <= end


def ran(minutes: float) -> str:
    """A span of time to the minute."""
    return show(float(round(minutes)), "time", "metric")
