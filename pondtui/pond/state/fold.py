"""`fold(setup, entries, now)`: everything that the entries say, as one value.

Pure and total: no entry makes it fail, the same for every order of reading. Entries more than
two minutes ahead of `now` are listed, not applied. Appending an entry dated after T never changes
the state at T, save a strike.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence

from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.setup.barrels import full_line_l
from pondtui.pond.setup.model import Setup
from pondtui.pond.state import on_barrel, on_pond
from pondtui.pond.state.alarms import water_alarms
from pondtui.pond.state.barrels import Water
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.ledger import Ledger
from pondtui.pond.state.model import BarrelNow, PondState
from pondtui.pond.state.stock import conditioner_left

AHEAD_S = 120  # clocks of two devices differ by this much


def fold(setup: Setup, entries: Iterable[Entry], now: int) -> PondState:
    """The state at `now` (UTC seconds) from live entries in their order (struck ones left out)."""
    return Folding(setup).state(list(entries), now)


class Folding:
    """The fold, kept open: what comes behind all that was applied is applied upon it, so that an
    entry is answered as fast after twenty years as on the first day. The state is the same as
    that of `fold`, whatever was asked before."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self._ledger = Ledger(setup)
        self._applied: tuple[Entry, ...] = ()

    def state(self, entries: Sequence[Entry], now: int) -> PondState:
        """The state at `now` from live entries in their order."""
        counts = tuple(entries[: bisect_right(entries, now + AHEAD_S, key=lambda e: e.instant)])
        done = len(self._applied)
        if counts[:done] != self._applied:  # something was struck or came in between
            self._ledger, done = Ledger(self.setup), 0
        for entry in counts[done:]:
            handler = _HANDLERS.get(entry.kind)
            if handler is not None:
                handler(self._ledger, entry)
        self._applied = counts
        return _state(self._ledger, now, len(counts), tuple(entries[len(counts) :]))


def _state(ledger: Ledger, now: int, count: int, later: tuple[Entry, ...]) -> PondState:
    today = ledger.day(now)
    waters = {b.name: ledger.begun(b) for b in ledger.setup.barrels_on(today)} | ledger.waters
    barrels = {name: _freeze(ledger, water, now) for name, water in waters.items()}
    base = PondState(
        now=now,
        entries=count,
        level=ledger.levels[-1] if ledger.levels else None,
        levels=tuple(ledger.levels),
        pond_temp=ledger.pond_temp,
        last_rain=max((instant for instant, mm in ledger.rain if mm > 0), default=None),
        rain=tuple(ledger.rain),
        additions=tuple(ledger.additions),
        fills=tuple(ledger.fills),
        drained=tuple(ledger.drained),
        disturbances=tuple(ledger.disturbances),
        events=tuple(ledger.events),
        pump=ledger.pump,
        gate_shut=ledger.gate_shut,
        barrels=barrels,
        batches=tuple(r.frozen() for r in ledger.rounds),
        meters=dict(ledger.meters),
        tap_chlorine=ledger.tap,
        conditioner_left=conditioner_left(ledger.setup, ledger.stock, today),
        remarks=tuple(ledger.remarks),
        later=later,
        pond_clear_at=ledger.pond_clear_at,
    )
    return base._replace(
        alarms=water_alarms(
            base, ledger.harm, [(e, None if r is None else r.frozen()) for e, r in ledger.bypasses]
        )
    )


def _freeze(ledger: Ledger, water: Water, now: int) -> BarrelNow:
    today = ledger.day(now)
    config = ledger.setup.barrel_on(water.name, today)
    conditioner = ledger.setup.conditioner_on(today)
    ceiling: dict[str, float] = {}
    rate = rate_per_l(ledger.setup, config.source if config else "tap", today, ledger.tap)
    if conditioner is not None and rate is not None:
        ceiling[rate.unit] = rate.label_per_l * conditioner.largest_multiple
    current = ledger.open.get(water.name)
    live = current.frozen() if current is not None and current.ended is None else None
    dose_first = conditioner is not None and conditioner.dose_when == "before fill"
    full = full_line_l(config) if config and dose_first else 0.0
    return water.frozen(now, ledger.keeps_min, ceiling, full, live)


_HANDLERS: dict[str, Callable[[Ledger, Entry], None]] = {
    "level": on_pond.level,
    "event": on_pond.event,
    "rain": on_pond.rain,
    "supply": on_pond.supply,
    "direct": on_pond.direct,
    "drain": on_pond.drain,
    "start": on_barrel.start,
    "fill": on_barrel.fill,
    "treat": on_barrel.treat,
    "test": on_barrel.test,
    "tick": on_barrel.tick,
    "release": on_barrel.release,
    "giveup": on_barrel.giveup,
    "dip": on_barrel.dip,
    "bypass": on_barrel.tick,
}
