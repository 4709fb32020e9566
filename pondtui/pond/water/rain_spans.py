"""Rain as spans of time: what was caught by hand, and the weather tables' for all other hours."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.water.rained import RAIN_LATE_S
from pondtui.pond.water.rainfall import Caught, caught_by_hand, rain_window
from pondtui.pond.water.weather import WeatherDay
from pondtui.records import NamedTuple

DAY_S = 86_400


class Rain(NamedTuple):
    """Rain that fell between two instants."""

    since: int
    until: int
    mm: float
    by_hand: bool
    whole_mm: float  # of the rain that this is a part of

    def after_flush_mm(self, flush_mm: float) -> float:
        """What of it a roof gives once its first flush was led away."""
        if self.whole_mm <= 0:
            return 0.0
        return self.mm * max(self.whole_mm - flush_mm, 0.0) / self.whole_mm


def rain_spans(
    setup: Setup,
    weather_days: Mapping[date, WeatherDay],
    entries: Iterable[Entry],
    times: Sequence[int],
) -> list[Rain]:
    """All rain between the first and the last of some level readings, oldest first.

    A hand entry goes before the tables for its hours. One that speaks for longer than a day is
    laid on its days as the tables have the rain, where they do; else its rain fell in its last
    day, and since the level reading before it. What is written down within an hour of a reading
    fell before that reading.
    """
    if not times:
        return []
    by_hand = caught_by_hand(entries, times[0])
    caught = [c for c in by_hand if c.end > times[0] and c.start < times[-1]]
    found = [rain for each in caught for rain in _by_hand(setup, weather_days, each, times)]
    found += _by_table(setup, weather_days, caught, times)
    return sorted(found)


def _by_hand(
    setup: Setup, weather_days: Mapping[date, WeatherDay], caught: Caught, times: Sequence[int]
) -> Iterator[Rain]:
    read = bisect_right(times, caught.end) - 1
    late = read >= 0 and caught.end - times[read] <= RAIN_LATE_S and times[read] > caught.start
    end = times[read] if late else caught.end
    if end - caught.start > DAY_S + RAIN_LATE_S:
        parts = list(_table_parts(setup, weather_days, caught.start, end))
        whole = sum(mm for _, _, mm in parts)
        if whole > 0:
            for since, until, mm in parts:
                share = caught.mm * mm / whole
                yield Rain(since, until, share, True, share)
            return
    before = bisect_left(times, end) - 1
    since = max(caught.start, end - DAY_S)
    if before >= 0:
        since = max(since, times[before])
    yield Rain(since, end, caught.mm, True, caught.mm)


def _table_parts(
    setup: Setup, weather_days: Mapping[date, WeatherDay], start: int, end: int
) -> Iterator[tuple[int, int, float]]:
    """The tables' rain between two instants, each rain day's part of it on its own."""
    zone = ZoneInfo(setup.pond.time_zone)
    day = datetime.fromtimestamp(start, UTC).astimezone(zone).date() - timedelta(1)
    last = datetime.fromtimestamp(end, UTC).astimezone(zone).date()
    while day <= last:
        weather = weather_days.get(day)
        if weather is not None and weather.rain_mm:
            begins, ends = rain_window(setup, day)
            since, until = max(begins, start), min(ends, end)
            if until > since:
                yield since, until, weather.rain_mm * (until - since) / (ends - begins)
        day += timedelta(1)


def _by_table(
    setup: Setup,
    weather_days: Mapping[date, WeatherDay],
    caught: Sequence[Caught],
    times: Sequence[int],
) -> Iterator[Rain]:
    """The tables' rain in the hours of which no hand entry speaks."""
    edges = [times[0]]
    for each in sorted(caught):
        edges += [max(min(each.start, times[-1]), edges[-1]), max(each.end, edges[-1])]
    edges.append(max(times[-1], edges[-1]))
    for start, end in list(pairwise(edges))[::2]:
        for since, until, mm in _table_parts(setup, weather_days, start, end):
            yield Rain(since, until, mm, False, mm)
