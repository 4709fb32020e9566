"""Rain of every day: by hand where the keeper's gauge stood, else by the weather tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.water.weather import WeatherDay
from pondtui.records import NamedTuple

DAY_S = 86_400
# A gauge that nobody looked at for longer has lost rain to the sun: common practice, no source.
LONGEST_S = 31 * DAY_S
NOTHING = 1e-9  # of a day: what is left of rounding


class RainDay(NamedTuple):
    """Rain of the day that begins at [weather] rain_day_starts on its date."""

    mm: float
    by: str  # hand, table, or "hand and table"


class Caught(NamedTuple):
    """Rain that a hand entry tells, and when it may have fallen."""

    start: int  # instants, seconds since 1970
    end: int
    mm: float


def caught_by_hand(entries: Iterable[Entry], since: int | None = None) -> list[Caught]:
    """The `rain` entries with their hours: those named, else since the entry before.

    The first one, and one after a long silence, speak for the day before them alone. With `since`
    what ended before it may be left out.
    """
    found: list[Caught] = []
    before: int | None = None
    earlier = None if since is None else since - LONGEST_S
    for entry in live_of(entries).of(("rain",), since=earlier):
        hours = entry.get("hours")
        start = entry.instant - DAY_S
        if hours:
            start = entry.instant - round(hours * 60)
        elif before is not None and entry.instant - before <= LONGEST_S:
            start = before
        start = min(start, entry.instant - 1)  # two entries of one second both count
        found.append(Caught(start, entry.instant, entry.values["depth"]))
        before = entry.instant
    return found


def rain_window(setup: Setup, day: date) -> tuple[int, int]:
    """When the rain day of that date begins and ends, as instants."""
    zone = ZoneInfo(setup.pond.time_zone)
    hour, _, minute = setup.weather.rain_day_starts.partition(":")
    clock = time(int(hour), int(minute), tzinfo=zone)
    start, end = (datetime.combine(d, clock) for d in (day, day + timedelta(1)))
    return int(start.timestamp()), int(end.timestamp())


def rain_by_day(
    setup: Setup,
    weather_days: Mapping[date, WeatherDay],
    by_hand: Iterable[Caught],
    first: date,
    last: date,
) -> dict[date, RainDay]:
    """Rain of each rain day from first to last, both included; absent where nothing is known.

    A hand entry goes before the tables for its hours. What it caught is laid on those hours as the
    tables have the rain, where they do; else evenly on the last day of them. The rain of a table's
    day that a hand entry covers in part counts for the rest of its hours.
    """
    begins, ends = rain_window(setup, first)[0], rain_window(setup, last)[1]
    caught = [c for c in by_hand if c.end > begins and c.start < ends]
    hand, covered = _laid_out(setup, caught, weather_days), _covered(setup, caught)
    found: dict[date, RainDay] = {}
    for number in range((last - first).days + 1):
        day = first + timedelta(number)
        by_table, free = _by_table(weather_days, day), 1 - covered.get(day, 0.0)
        both = by_table is not None and free > NOTHING
        mm = hand.get(day, 0.0) + (by_table or 0.0) * max(free, 0.0)
        if free < 1 - NOTHING or day in hand:
            found[day] = RainDay(mm, "hand and table" if both else "hand")
        elif both:
            found[day] = RainDay(mm, "table")
    return found


def _parts(setup: Setup, start: int, end: int) -> list[tuple[date, float]]:
    """The rain days between two instants, each with the share of it that lies between them."""
    zone = ZoneInfo(setup.pond.time_zone)
    day = datetime.fromtimestamp(start, zone).date() - timedelta(1)
    last = datetime.fromtimestamp(end, zone).date()
    parts = []
    while day <= last:
        begins, ends = rain_window(setup, day)
        within = min(ends, end) - max(begins, start)
        if within > 0:
            parts.append((day, within / (ends - begins)))
        day += timedelta(1)
    return parts


def _laid_out(
    setup: Setup, caught: Sequence[Caught], weather_days: Mapping[date, WeatherDay]
) -> dict[date, float]:
    """What was caught by hand, by rain day."""
    hand: dict[date, float] = {}
    for each in caught:
        parts = _parts(setup, each.start, each.end)
        weights = {day: (_by_table(weather_days, day) or 0.0) * share for day, share in parts}
        if sum(weights.values()) <= 0:
            weights = dict(_parts(setup, max(each.start, each.end - DAY_S), each.end))
        whole = sum(weights.values())
        for day, weight in weights.items():
            if weight > 0:
                hand[day] = hand.get(day, 0.0) + each.mm * weight / whole
    return hand


def _by_table(weather_days: Mapping[date, WeatherDay], day: date) -> float | None:
    weather = weather_days.get(day)
    return None if weather is None else weather.rain_mm


def _covered(setup: Setup, caught: Sequence[Caught]) -> dict[date, float]:
    """Share of each day for which hand entries speak, each second counted once."""
    shares: dict[date, float] = {}
    until = 0
    for each in sorted(caught, key=lambda c: c.start):
        start = max(each.start, until)
        if each.end > start:
            for day, share in _parts(setup, start, each.end):
                shares[day] = shares.get(day, 0.0) + share
            until = each.end
    return shares
