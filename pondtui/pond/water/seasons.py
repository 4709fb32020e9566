"""The pond's seasons as days: the one that counts now, and how a span is cut into periods."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.weather import month_days
from pondtui.records import NamedTuple

DAY = timedelta(1)
CUTS = ("day", "month", "season")


class Span(NamedTuple):
    """Days from first to last, both included."""

    name: str
    first: date
    last: date


def season_of(setup: Setup, day: date) -> Span:
    """The season that the day lies in, else the last one before it; whole, also if it goes on."""
    first = _on(setup.season.start, day.year)
    if first > day:
        first = _on(setup.season.start, day.year - 1)
    last = _on(setup.season.end, first.year)
    if last < first:
        last = _on(setup.season.end, first.year + 1)
    year = f"{first.year}" if last.year == first.year else f"{first.year}-{last.year % 100:02d}"
    return Span(f"season {year}", first, last)


def midnight(setup: Setup, day: date) -> int:
    """The instant at which a local day begins."""
    zone = ZoneInfo(setup.pond.time_zone)
    return int(datetime(day.year, day.month, day.day, tzinfo=zone).timestamp())


def local_day(setup: Setup, instant: int) -> date:
    """The local day of an instant."""
    return datetime.fromtimestamp(instant, UTC).astimezone(ZoneInfo(setup.pond.time_zone)).date()


def year_before(day: date) -> date:
    """The same day of the year before."""
    return _on((day.month, day.day), day.year - 1)


def cut(setup: Setup, first: date, last: date, by: str) -> Iterator[Span]:
    """The days, months or seasons of a span, the first and the last one cut where it is."""
    start = first
    while start <= last:
        if by == "day":
            name, end = start.isoformat(), start
        elif by == "month":
            name = f"{start:%Y-%m}"
            end = start.replace(day=month_days(start.year, start.month))
        else:
            name, end = _season_or_between(setup, start)
        end = min(end, last)
        yield Span(name, start, end)
        start = end + DAY


def _season_or_between(setup: Setup, day: date) -> tuple[str, date]:
    """The name of the season or of the time between two, and its last day."""
    season = season_of(setup, day)
    if day <= season.last:
        return season.name, season.last
    following = _on(setup.season.start, season.first.year + 1)
    return f"after {season.name}", following - DAY


def _on(month_day: tuple[int, int], year: int) -> date:
    """That day of a year; 29 February is the 28th of common years."""
    month, day = month_day
    return date(year, month, min(day, month_days(year, month)))
