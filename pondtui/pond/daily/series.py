"""Every value that was measured, on the basis in which it is judged, oldest first."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from pondtui.pond.daily.times import DAY_S, happened, like_hours
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry, Measured
from pondtui.pond.state.live import Live, Topic, live_of
from pondtui.records import NamedTuple
from pondtui.science.nitrogen import convert

BASIS = {"ammonia": "N", "nitrite": "NO2", "nitrate": "NO3"}  # in which a value is judged
COMPARED_S = 32 * DAY_S  # nothing measured longer before a value speaks for it: chloride, a month
BESIDE_S = DAY_S // 2  # pH and temperature of the same half day speak for a test


class Value(NamedTuple):
    """One measured value."""

    instant: int
    value: float  # canonical unit; nitrogen on its basis of judging
    below: bool  # under the kit's first step, which is then `value`
    text: str  # as written
    entry: Entry


Series = dict[str, list[Value]]


def series(entries: Iterable[Entry], now: int, where: str = "pond") -> Series:
    """Of each field of the tests of that place its values; the pond's own levels tell temp too."""
    return _values(live_of(entries), now, where, 0)


def latest_series(entries: Iterable[Entry], now: int, where: str = "pond") -> Series:
    """The end of each: its last two values at least, and all that were measured at a time that
    may be compared with the latest one of any field."""
    live = live_of(entries)
    begins = [_second_last(live, now, topic) for topic in _topics(live, where)]
    return _values(live, now, where, min(begins, default=0) - COMPARED_S)


def _values(live: Live, now: int, where: str, since: int) -> Series:
    found: Series = {}
    for topic in _topics(live, where):
        values = []
        for entry in live.backwards(topic):
            if entry.instant < since:
                break
            read = _value(topic[-1], entry) if happened(entry, now) else None
            if read is not None:
                values.append(read)
        if values:
            found[topic[-1]] = values[::-1]
    return found


def _topics(live: Live, where: str) -> list[Topic]:
    """Of every field that was measured there."""
    return [topic for topic in live.places if topic[:2] == ("measured", where.casefold())]


def _second_last(live: Live, now: int, topic: Topic) -> int:
    """When the last value but one was measured, or the only one; now where there is none."""
    back = (entry.instant for entry in live.backwards(topic) if happened(entry, now))
    return min(islice(back, 2), default=now)


def _value(name: str, entry: Entry) -> Value | None:
    read = entry.get(name)
    if isinstance(read, float):
        return Value(entry.instant, read, False, entry.fields[name], entry)
    if not isinstance(read, Measured):
        return None
    number = read.value
    if name in BASIS and read.basis:
        number = convert(number, read.basis, BASIS[name])
    return Value(entry.instant, number, read.below, entry.fields[name], entry)


def beside(found: Series, name: str, instant: int, within_s: int = BESIDE_S) -> Value | None:
    """The value measured nearest to an instant, within half a day of it."""
    near = [v for v in found.get(name, ()) if abs(v.instant - instant) <= within_s]
    return min(near, key=lambda v: (abs(v.instant - instant), -v.instant), default=None)


def day_before(setup: Setup, found: Series, name: str) -> Value | None:
    """The value of the day before the latest one, at about the same hour; None without one.

    pH and oxygen swing with the light: morning and afternoon are never compared.
    """
    values = found.get(name, [])
    if not values:
        return None
    last = values[-1]
    near = [
        value
        for value in values[:-1]
        if abs(last.instant - value.instant - DAY_S) <= 3 * 3600
        and like_hours(setup, last.instant, value.instant)
    ]
    return near[-1] if near else None
