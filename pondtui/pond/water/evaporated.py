"""Computed evaporation between any two instants: a day's sum is spread by daylight."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.evaporation import MEANS, TEMPERATURE, TIERS, DayEvaporation
from pondtui.science.sun import share_by_hour

NO_WEATHER = "no weather to compute evaporation from"
_BY_WEEKS = (TEMPERATURE, MEANS)


class Spread:
    """Evaporation from the first of some instants to each of them."""

    def __init__(
        self, setup: Setup, evaporation: Mapping[date, DayEvaporation], times: Sequence[int]
    ) -> None:
        zone = ZoneInfo(setup.pond.time_zone)
        local = [datetime.fromtimestamp(t, UTC).astimezone(zone) for t in times]
        self._days = [moment.date().toordinal() for moment in local]
        first, last = self._days[0], self._days[-1]
        self._known = [evaporation.get(date.fromordinal(d)) for d in range(first, last + 1)]
        daily = _by_weeks(self._known, first)
        before = 0.0
        sums = []
        for mm in daily:
            sums.append(before)
            before += mm
        self._first = first
        self._at = [
            sums[day - first] + daily[day - first] * _share(setup, moment)
            for day, moment in zip(self._days, local, strict=True)
        ]

    def mm(self, start: int, end: int) -> float:
        """From one instant to another, by their places in the list."""
        return self._at[end] - self._at[start]

    def tier(self, start: int, end: int) -> str:
        """The poorest weather between two instants."""
        return max((d.tier for d in self._between(start, end) if d), key=TIERS.index)

    def lacking(self, start: int, end: int) -> str:
        """Why nothing can be computed between two instants; "" where it can."""
        days = self._between(start, end)
        if any(day is None for day in days):
            return NO_WEATHER
        return "smoke or dust" if any(day.uncertain for day in days if day) else ""

    def _between(self, start: int, end: int) -> Sequence[DayEvaporation | None]:
        first = self._first
        return self._known[self._days[start] - first : self._days[end] - first + 1]


def _by_weeks(known: Sequence[DayEvaporation | None], first: int) -> list[float]:
    """A day's evaporation; where only temperatures are known its week's mean, which is all that
    they are good for."""
    weeks: dict[int, list[float]] = {}
    for ordinal, day in enumerate(known, first):
        if day is not None and day.tier in _BY_WEEKS:
            weeks.setdefault((ordinal - 1) // 7, []).append(day.mm)
    means = {week: sum(mm) / len(mm) for week, mm in weeks.items()}
    return [
        0.0 if d is None else means[(ordinal - 1) // 7] if d.tier in _BY_WEEKS else d.mm
        for ordinal, d in enumerate(known, first)
    ]


def _share(setup: Setup, moment: datetime) -> float:
    """Share of the day's evaporation that is over; the clock without summer time is the sun's."""
    standard = moment - (moment.dst() or timedelta())
    hour = standard.hour + standard.minute / 60 + standard.second / 3600
    if standard.date() != moment.date():  # the first hour of a summer day
        hour = 0.0
    if setup.pond.latitude is None:
        return hour / 24
    return share_by_hour(setup.pond.latitude, moment.timetuple().tm_yday, hour)
