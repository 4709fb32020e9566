"""Rain between level readings: small rain counts, heavy rain spoils what it may have met."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.rainfall import rain_window
from pondtui.pond.water.weather import WeatherDay
from pondtui.records import NamedTuple

RAIN_MM = 2.0  # more in an interval: a gauge under-catches, edges run in
RAIN_LATE_S = 3600  # the gauge is read on the same round as the level
DAY_S = 86_400


class RainSpan(NamedTuple):
    """Rain of a weather table: a day from the hour at which its rain days start."""

    since: int
    until: int
    mm: float


class Rained(NamedTuple):
    """Rain of one interval between readings."""

    mm: float  # that fell in it
    met_mm: float  # of the largest heavy rain that it may have met


def rained(
    state: PondState, levels: Sequence[Level], table: Iterable[RainSpan] = ()
) -> list[Rained]:
    """Rain of each interval between the readings; a rain by hand wins over the table's for its
    hours."""
    times = [r.instant for r in levels]
    fell, met = [0.0] * (len(times) - 1), [0.0] * (len(times) - 1)
    by_hand = _by_hand(state, times)
    for span in by_hand:
        last = bisect_left(times, span.until) - 1
        if 0 <= last < len(fell):
            fell[last] += span.mm
        if span.mm > RAIN_MM:
            _meet(times, met, span._replace(since=span.since + RAIN_LATE_S))
    for span in _elsewhen(table, by_hand):
        if span.mm > RAIN_MM:
            _meet(times, met, span)
        for i in _touched(times, span):
            shared = min(times[i + 1], span.until) - max(times[i], span.since)
            fell[i] += span.mm * shared / (span.until - span.since)
    return list(map(Rained, fell, met))


def table_rain(setup: Setup, weather_days: Mapping[date, WeatherDay]) -> list[RainSpan]:
    """The rain of the weather tables, oldest first."""
    return [
        RainSpan(*rain_window(setup, day), weather.rain_mm)
        for day, weather in sorted(weather_days.items())
        if weather.rain_mm is not None
    ]


def _by_hand(state: PondState, times: Sequence[int]) -> list[RainSpan]:
    """When each rain may have fallen: since the entry before it, a day at most; what is written
    down within an hour of a reading fell before that reading."""
    found, before = [], 0
    for when, mm in state.rain:
        read = bisect_right(times, when) - 1
        late = read >= 0 and times[read] >= when - RAIN_LATE_S
        if when > times[0] - DAY_S:
            found.append(RainSpan(max(before, when - DAY_S), times[read] if late else when, mm))
        before = when
    return found


def _elsewhen(table: Iterable[RainSpan], by_hand: Sequence[RainSpan]) -> Iterator[RainSpan]:
    """The parts of the table's rain that no entry by hand speaks of."""
    ends = [span.until for span in by_hand]
    for span in table:
        since, rate = span.since, span.mm / (span.until - span.since)
        for hand in by_hand[bisect_right(ends, span.since) :]:
            if hand.since >= span.until:
                break
            if hand.since > since:
                yield RainSpan(since, hand.since, rate * (hand.since - since))
            since = max(since, hand.until)
        if span.until > since:
            yield RainSpan(since, span.until, rate * (span.until - since))


def _touched(times: Sequence[int], span: RainSpan) -> range:
    """The intervals that a span overlaps."""
    first = max(bisect_right(times, span.since) - 1, 0)
    return range(first, min(bisect_left(times, span.until), len(times) - 1))


def _meet(times: Sequence[int], met: list[float], span: RainSpan) -> None:
    for i in _touched(times, span):
        met[i] = max(met[i], span.mm)
