"""The water budget: where the pond's water came from and where it went, term by term.

start + rain + downpipe + released + direct = evaporation + steady + overflow + drained + residual
+ end, to rounding, for any whole days. Every term has the half of its 95 % interval; a term that
nothing is known of is None, and what it hides stands in the residual.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import hypot, sqrt

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.budget_terms import Losses, Period, Terms
from pondtui.pond.water.evaporation import daily
from pondtui.pond.water.held import switches
from pondtui.pond.water.loss import MORE_READINGS, Loss, estimate
from pondtui.pond.water.loss_model import FACTOR_PRIOR, SHELTERED_PRIOR, Allowance
from pondtui.pond.water.rain_spans import rain_spans
from pondtui.pond.water.rained import table_rain
from pondtui.pond.water.seasons import DAY, Span, cut, midnight, season_of
from pondtui.pond.water.spent import Spent, spent
from pondtui.pond.water.stretch import HAND_ERROR, TABLE_ERROR, Cell, Rates
from pondtui.pond.water.walk import walk
from pondtui.pond.water.weather import AROUND, WeatherDay, between
from pondtui.records import NamedTuple
from pondtui.science.trends import SURE

APART_MM = 1.0  # of level, for a day between a midnight and the nearest reading: no source
NEAR_S = 7 * 86_400  # a reading this far outside the days still tells where they begin or end
POURED_ERROR = 0.05  # of litres written down, all of them alike: common practice, no source


class Budget(NamedTuple):
    """The whole span and its periods, with what they rest on."""

    whole: Period
    periods: tuple[Period, ...]
    cells: tuple[Cell, ...]
    levels: tuple[Level, ...]  # that count
    losses: Losses
    loss: Loss | None
    without_weather: float = 0.0  # days of which no evaporation could be computed
    rain_known: bool = True
    since_l: float = 0.0  # put into the pond after the last reading


def budget(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    weather: Mapping[date, WeatherDay],
    first: date,
    last: date,
    *,
    by: str = "month",
) -> Budget:
    """The budget of some days, both included; `entries` are the live ones in their order.

    It runs from the first to the last reading of these days; where a reading stands beside them,
    a week away at most, it begins or ends at midnight, between the readings. Raises InputError
    where no basin floats.
    """
    begin, end = season_of(setup, first).first, max(season_of(setup, last).last, last)
    dry = not any(w.rain_mm is not None for w in weather.values())
    weather = between(weather, begin - AROUND, end + AROUND)
    live = live_of(entries)
    state = state.within(midnight(setup, begin - AROUND), midnight(setup, end + AROUND))
    evaporation = daily(setup, weather, live, begin - DAY, end + DAY)
    loss = estimate(
        setup, state, evaporation, begin, end, state.now, table_rain=table_rain(setup, weather)
    )
    losses = _losses(setup, loss)
    levels = _around(setup, state, loss, first, last)
    times = [level.instant for level in levels]
    rains = rain_spans(setup, weather, live, times)
    switched = switches(setup, live, times[0], times[-1]) if times else []
    found = walk(
        setup, state, levels, evaporation, rains, switched,
        Rates(losses.factor, losses.steady_mm or 0.0),
    )  # fmt: skip
    cells = tuple(c for c in found.cells if first <= c.day <= last) if found else ()
    rain_known = bool(rains) or not dry or bool(live.of(("rain",)))
    missing = sum(c.without_weather for c in cells)
    about = _About(setup, losses, rain_known, missing < sum(c.length for c in cells))
    by_day = {cell.day: cell for cell in cells}

    def period(span: Span) -> Period:
        days = (span.first + timedelta(n) for n in range((span.last - span.first).days + 1))
        within = [by_day[day] for day in days if day in by_day]
        used = spent(setup, state, live, span.first, span.last)
        return about.period(span, within, used)

    latest, until = levels[-1].instant if levels else 0, midnight(setup, last + DAY)
    return Budget(
        period(Span("all", first, last)),
        tuple(period(span) for span in cut(setup, first, last, by)),
        cells, tuple(levels), losses, loss, missing, rain_known,
        sum(a.litres for a in state.additions if latest < a.instant < until),
    )  # fmt: skip


def _around(setup: Setup, state: PondState, loss: Loss, first: date, last: date) -> list[Level]:
    """The readings of the days that count, with the nearest one on either side where it is near.

    What the estimate left out as impossible or misread counts for nothing here either.
    """
    since, until = midnight(setup, first), midnight(setup, last + DAY)
    misread = {out.since for out in loss.left_out if out.since == out.until}
    sound = [r for r in state.levels if r.instant not in misread and r.instant <= state.now]
    sound = [r for place, r in enumerate(sound)
             if place + 1 == len(sound) or sound[place + 1].instant > r.instant]  # fmt: skip
    before = [r for r in sound if since - NEAR_S <= r.instant < since][-1:]
    after = [r for r in sound if until <= r.instant < until + NEAR_S][:1]
    return [*before, *(r for r in sound if since <= r.instant < until), *after]


def _losses(setup: Setup, loss: Loss) -> Losses:
    if loss.site_factor is None or loss.steady is None:
        prior = SHELTERED_PRIOR if setup.pond.sheltered else FACTOR_PRIOR
        return Losses(prior.mean, SURE * prior.sd, None)
    half = loss.steady.high - loss.steady.value
    return Losses(
        loss.site_factor.value,
        loss.site_factor.high - loss.site_factor.value,
        loss.steady.value,
        sqrt(max(half**2 - loss.allowance_mm**2, 0.0)),
        loss.correlation,
        loss.allowance_mm,
        loss.daily_mm or 0.3,
    )


class _About(NamedTuple):
    """What all periods share."""

    setup: Setup
    losses: Losses
    rain_known: bool
    weather_known: bool

    def period(self, span: Span, cells: Sequence[Cell], used: Spent) -> Period:
        """Terms and errors of some days, one behind the other."""
        if not cells:
            return Period(span.name, span.first, span.last, Terms(), Terms(), used)
        days = sum(c.length for c in cells)
        return Period(
            span.name, cells[0].day, cells[-1].day, self._terms(cells), self._errors(cells),
            used, days, sum(c.area_days for c in cells) / days, self._loss_error(cells),
            sum(c.evaporation_mm for c in cells), sum(c.rain_mm for c in cells),
        )  # fmt: skip

    def _terms(self, cells: Sequence[Cell]) -> Terms:
        losses = self.losses
        rain = sum(c.hand_rain_l + c.table_rain_l for c in cells)
        steady = losses.steady_mm
        return Terms(
            cells[0].start_l,
            rain if self.rain_known else None,
            sum(c.downpipe_l for c in cells),
            sum(c.released_l for c in cells),
            sum(c.direct_l for c in cells),
            losses.factor * sum(c.open_l for c in cells) if self.weather_known else None,
            None if steady is None else steady * sum(c.area_days for c in cells),
            sum(c.overflow_l for c in cells),
            sum(c.drained_l for c in cells),
            sum(c.residual_l for c in cells),
            cells[-1].end_l,
        )

    def _errors(self, cells: Sequence[Cell]) -> Terms:
        read = SURE * self.setup.gauge.error_mm
        start = hypot(read, APART_MM * cells[0].start_apart) * cells[0].area_m2
        end = hypot(read, APART_MM * cells[-1].end_apart) * cells[-1].area_m2
        rain = hypot(
            HAND_ERROR * sum(c.hand_rain_l for c in cells),
            TABLE_ERROR * sum(c.table_rain_l for c in cells),
        )
        roof = HAND_ERROR * 2 * sum(c.downpipe_l for c in cells)
        released = POURED_ERROR * sum(c.released_l for c in cells)
        direct = POURED_ERROR * sum(c.direct_l for c in cells)
        drained = POURED_ERROR * sum(c.drained_l for c in cells)
        over = sqrt(sum(c.over_error2 for c in cells))
        itself = SURE * self.losses.daily_mm * sqrt(sum(c.area_m2**2 * c.length for c in cells))
        rest = hypot(start, end, rain, roof, released + direct, drained, over, itself,
                     self._loss_error(cells) or 0.0)  # fmt: skip
        return Terms(
            start, rain if self.rain_known else None, roof, released, direct,
            self._evaporation_error(cells), self._steady_error(cells), over, drained, rest, end,
        )  # fmt: skip

    def _evaporation_error(self, cells: Sequence[Cell]) -> float | None:
        if not self.weather_known:
            return None
        traded = self.losses.allowance_mm * sum(c.area_days for c in cells)
        noise = SURE * Allowance().noise_mm * self.losses.factor
        noise *= sqrt(sum((c.surface_days / c.length) ** 2 * c.length for c in cells if c.length))
        return hypot(self.losses.factor_half * sum(c.open_l for c in cells), traded, noise)

    def _steady_error(self, cells: Sequence[Cell]) -> float | None:
        if self.losses.steady_mm is None:
            return None
        half = hypot(self.losses.steady_half, self.losses.allowance_mm)
        return half * sum(c.area_days for c in cells)

    def _loss_error(self, cells: Sequence[Cell]) -> float | None:
        """Of evaporation and steady loss together: what one is too large the other is too small,
        so the sum is known far better than either."""
        if not self.weather_known:
            return None
        losses = self.losses
        one = losses.factor_half * sum(c.open_l for c in cells)
        other = losses.steady_half * sum(c.area_days for c in cells)
        both = one**2 + other**2 + 2 * losses.correlation * one * other
        noise = SURE * Allowance().noise_mm * losses.factor
        noise *= sqrt(sum((c.surface_days / c.length) ** 2 * c.length for c in cells if c.length))
        return hypot(sqrt(max(both, 0.0)), noise)


def covered(found: Budget) -> bool:
    """Whether there is anything to show: two readings of the gauge at least."""
    return found.whole.terms.end is not None


def more_readings(found: Budget) -> int:
    """Daily readings still needed before evaporation and steady loss can be told apart."""
    loss = found.loss
    return loss.more_readings if loss is not None and loss.verdict == MORE_READINGS else 0
