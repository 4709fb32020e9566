"""The water's temperature over several days: one warm noon is no summer."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from pondtui.pond.daily.times import happened, local_day
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.state.model import Temperature
from pondtui.records import NamedTuple

MEAN_DAYS = 5  # days whose means are taken together: common practice, no source


class Warmth(NamedTuple):
    """Mean of the daily means of the last days."""

    mean_c: float
    days: int  # on which it was measured
    latest: Temperature


def temperatures(entries: Iterable[Entry], now: int) -> list[Temperature]:
    """Every measured temperature of the pond's water, in the order of the entries."""
    found = []
    for entry in entries:
        of_pond = entry.kind == "level" or (
            entry.kind == "test" and str(entry.get("where")).casefold() == "pond"
        )
        temp = entry.values.get("temp") if of_pond else None
        if isinstance(temp, float) and happened(entry, now):
            found.append(Temperature(entry.instant, temp))
    return found


def warmth(setup: Setup, entries: Iterable[Entry], now: int) -> Warmth | None:
    """How warm the water was in the last days, today included; None where nobody measured."""
    first = local_day(setup, now) - timedelta(days=MEAN_DAYS - 1)
    days: dict[date, list[float]] = {}
    latest: Temperature | None = None
    since = now - (MEAN_DAYS + 1) * 86_400  # a day has at most 25 hours
    for temp in temperatures(live_of(entries).since(since), now):
        day = local_day(setup, temp.instant)
        if day >= first:
            days.setdefault(day, []).append(temp.temp_c)
            if latest is None or temp.instant >= latest.instant:
                latest = temp
    if latest is None:
        return None
    means = [sum(values) / len(values) for values in days.values()]
    return Warmth(sum(means) / len(means), len(means), latest)
