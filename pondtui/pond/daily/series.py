"""Every value that was measured, on the basis in which it is judged, oldest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from pondtui.pond.daily.times import DAY_S, happened, like_hours
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry, Measured
from pondtui.science.nitrogen import convert

BASIS = {"ammonia": "N", "nitrite": "NO2", "nitrate": "NO3"}  # in which a value is judged
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
    found: Series = {}
    for entry in entries:
        if entry.kind not in ("test", "level") or not happened(entry, now):
            continue
        if entry.kind == "test" and str(entry.get("where")).casefold() == where.casefold():
            names: Sequence[str] = [name for name in entry.fields if name not in ("where", "by")]
        elif entry.kind == "level" and where == "pond":
            names = ["temp"]
        else:
            continue
        for name in names:
            read = _value(name, entry)
            if read is not None:
                found.setdefault(name, []).append(read)
    for values in found.values():
        values.sort(key=lambda value: value.instant)
    return found


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
