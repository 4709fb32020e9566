"""What runs out: bought, used, left, for how long, and what is kept back for an emergency."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from pondtui.pond.daily.amounts import Amount, amount_of
from pondtui.pond.daily.times import DAY_S, happened, local_day
from pondtui.pond.refill.plan import reserve
from pondtui.pond.setup.model import Setup, Supply
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, Topic, key_of, live_of
from pondtui.pond.state.model import PondState
from pondtui.pond.state.stock import ITEM
from pondtui.records import NamedTuple

RATE_S = 30 * DAY_S  # what was used in the last month is the present rate
LEAST_S = 3 * DAY_S  # fewer days of use are no rate


class Stock(NamedTuple):
    """One supply as it stands."""

    name: str
    left: Amount | None  # None: never counted
    bought: Amount | None = None  # in all
    used: Amount | None = None  # in all, by doses, chores or tests
    days_left: float | None = None  # at the present rate, what is kept back left out
    kept: Amount | None = None  # back for one emergency dose of the whole pond
    reorder_at: Amount | None = None
    best_before: date | None = None
    place: str = ""
    thread: str = ""
    note: str = ""

    @property
    def free(self) -> float:
        """What may be used: all but what is kept back."""
        if self.left is None:
            return 0.0
        kept = self.kept.value if self.kept is not None else 0.0
        return max(self.left.value - kept, 0.0)

    @property
    def low(self) -> bool:
        """No more than the keeper wanted, or less than an emergency takes."""
        if self.left is None:
            return False
        at = self.reorder_at
        if at is not None and at.unit == self.left.unit and self.left.value <= at.value:
            return True
        return self.kept is not None and self.left.value < self.kept.value

    def stale(self, day: date) -> bool:
        """Out of date."""
        return self.best_before is not None and day > self.best_before


def stocks(setup: Setup, state: PondState, entries: Iterable[Entry], now: int) -> tuple[Stock, ...]:
    """Every supply of pond.toml and of the journal; the conditioner first."""
    live = live_of(entries)
    described = {key_of(supply.name): supply for supply in setup.supplies}
    for entry in live.of(("supply",)):
        if happened(entry, now):
            name = str(entry.get("item"))
            described.setdefault(key_of(name), Supply(name))
    own = described.pop(ITEM, None)
    found = [_counted(setup, supply, live, now) for supply in described.values()]
    if setup.conditioner_on(local_day(setup, now)) is not None:
        return (_conditioner(setup, own or Supply(ITEM), state, live, now), *found)
    return tuple(found if own is None else [_counted(setup, own, live, now), *found])


def _conditioner(setup: Setup, supply: Supply, state: PondState, live: Live, now: int) -> Stock:
    """Its doses are counted, and one dose of the whole pond is kept out of every plan."""
    day = local_day(setup, now)
    conditioner = setup.conditioner_on(day)
    assert conditioner is not None  # the caller asks only then
    unit = conditioner.unit
    dosed = (e for e in live.of(("treat",), ("direct",)) if happened(e, now))
    given = [(e.instant, e.values["dose"]) for e in dosed if "dose" in e.values]
    doses = [(instant, dose.amount) for instant, dose in given if dose.unit == unit]
    kept = reserve(setup, state, day)
    left = state.conditioner_left
    stock = Stock(
        supply.name,
        None if left is None else Amount(left, unit),
        _bought(supply, live, unit, setup.gallon, now),
        Amount(sum(ml for _, ml in doses), unit),
        kept=None if kept is None else Amount(kept, unit),
        reorder_at=amount_of(supply.reorder_at, setup.gallon),
        best_before=conditioner.best_before or supply.best_before,
        place=supply.place,
    )
    return stock._replace(days_left=_days(stock, doses, now))


def _counted(setup: Setup, supply: Supply, live: Live, now: int) -> Stock:
    """A count, what was bought since, less what each use takes."""
    each = amount_of(supply.each, setup.gallon)
    left: Amount | None = None
    uses: list[tuple[int, float]] = []
    good, note = supply.best_before, ""
    for entry in live.of(*_topics(supply)):
        if not happened(entry, now):
            continue
        if entry.kind == "supply" and key_of(str(entry.get("item"))) == key_of(supply.name):
            left = _after(left, entry, setup.gallon)
            good = entry.get("best_before") or good
        elif each is not None and _uses(supply, entry):
            uses.append((entry.instant, each.value))
            if left is not None and left.unit == each.unit:
                left = Amount(max(left.value - each.value, 0.0), left.unit)
            elif left is not None:
                note = f"counted in {left.unit or 'pieces'}, used in {each.unit or 'pieces'}"
    unit = left.unit if left is not None else (each.unit if each is not None else "")
    stock = Stock(
        supply.name,
        left,
        _bought(supply, live, unit, setup.gallon, now),
        Amount(sum(amount for _, amount in uses), each.unit) if each is not None else None,
        reorder_at=amount_of(supply.reorder_at, setup.gallon),
        best_before=good,
        place=supply.place,
        thread=supply.thread,
        note=note,
    )
    return stock if note else stock._replace(days_left=_days(stock, uses, now))


def _after(left: Amount | None, entry: Entry, gallon: str | None) -> Amount | None:
    """What is left after an entry: its count, or what was there and what was got."""
    counted = amount_of(entry.fields.get("left"), gallon)
    if counted is not None:
        return counted
    got = amount_of(entry.fields.get("got"), gallon)
    if got is None:
        return left
    if left is None or left.unit != got.unit:
        return got
    return Amount(left.value + got.value, got.unit)


def _uses(supply: Supply, entry: Entry) -> bool:
    if not supply.used_by or entry.get("skipped"):
        return False
    if entry.kind == "chore":
        return key_of(str(entry.get("name"))) == key_of(supply.used_by)
    return entry.kind == supply.used_by


def _topics(supply: Supply) -> list[Topic]:
    """What tells of a supply: what was got and counted, and all that may use it."""
    used = key_of(supply.used_by)
    return [("supply", key_of(supply.name)), ("chore", used), (supply.used_by,)]


def _bought(supply: Supply, live: Live, unit: str, gallon: str | None, now: int) -> Amount | None:
    """All that was got, in the unit in which it is counted."""
    got = [
        amount_of(entry.fields.get("got"), gallon)
        for entry in live.of(("supply", key_of(supply.name)))
        if happened(entry, now)
    ]
    fitting = [amount.value for amount in got if amount is not None and amount.unit == unit]
    return Amount(sum(fitting), unit) if fitting else None


def _days(stock: Stock, uses: Sequence[tuple[int, float]], now: int) -> float | None:
    """Days that what may be used lasts at the rate of the last month; None without a rate."""
    recent = [(instant, amount) for instant, amount in uses if now - instant < RATE_S]
    if stock.left is None or not recent:
        return None
    began = uses[0][0]
    span = min(max(now - began, LEAST_S), RATE_S)
    rate = sum(amount for _, amount in recent) / span * DAY_S
    return stock.free / rate if rate > 0 else None
