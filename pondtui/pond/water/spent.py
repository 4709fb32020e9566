"""What a span of days cost: tap water, barrels, conditioner, money."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import live_of
from pondtui.pond.state.model import PondState
from pondtui.pond.water.seasons import midnight
from pondtui.records import NamedTuple

NO_TAP = ("rain", "well", "pond", "downpipe")  # water that nobody bills
DIRECT_TAP = "tap"


class Spent(NamedTuple):
    """What was used; by the journal alone, no reading of the gauge is asked."""

    tap_l: float = 0.0  # drawn into barrels and straight into the pond
    barrels: int = 0  # batches that were let into the pond
    conditioner: float = 0.0  # in `unit`
    unit: str = "mL"
    cost: float | None = None  # of the tap water; None where a source has no price


def spent(
    setup: Setup, state: PondState, entries: Iterable[Entry], first: date, last: date
) -> Spent:
    """What was used from first to last, both included; `entries` are the live ones."""
    since, until = midnight(setup, first), midnight(setup, last + timedelta(1))

    def within(instant: int) -> bool:
        return since <= instant < until

    drawn = [(f.source, f.litres) for f in state.fills if within(f.instant)]
    drawn += [
        (a.source or DIRECT_TAP, a.litres)
        for a in state.additions
        if not a.barrel and within(a.instant)
    ]
    drawn = [(source, litres) for source, litres in drawn if source not in NO_TAP]
    rounds = {
        (a.barrel, a.batch or str(a.instant))
        for a in state.additions
        if a.barrel and a.litres > 0 and within(a.instant)
    }
    conditioner = setup.conditioner_on(last)
    unit = conditioner.unit if conditioner is not None else "mL"
    dosed = live_of(entries).of(("treat",), ("direct",), since=since, until=until - 1)
    doses = [entry.get("dose") for entry in dosed]
    return Spent(
        sum(litres for _, litres in drawn),
        len(rounds),
        sum(dose.amount for dose in doses if dose is not None and dose.unit == unit),
        unit,
        _cost(setup, drawn),
    )


def price_per_l(setup: Setup) -> float | None:
    """What a litre of tap water costs; None where no source has a price."""
    tap = setup.sources.get(DIRECT_TAP)
    sources = ([tap] if tap is not None else []) + list(setup.sources.values())
    prices = (s.price / s.price_per_l for s in sources if s.price is not None)
    return next(prices, None)


def _cost(setup: Setup, drawn: Iterable[tuple[str, float]]) -> float | None:
    total = 0.0
    for name, litres in drawn:
        source = setup.sources.get(name)
        if source is None or source.price is None:
            return None
        total += litres * source.price / source.price_per_l
    return total if price_per_l(setup) is not None else None
