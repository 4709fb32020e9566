"""What entries about the pond itself do to the ledger."""

from __future__ import annotations

from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.state.barrels import COVERED
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.ledger import Ledger
from pondtui.pond.state.model import Addition, Level, Temperature

DISTURBING = frozenset(
    ("overflow", "pump-off", "pump-on", "gate-open", "gate-shut", "gauge-moved", "power-cut")
)


def level(ledger: Ledger, entry: Entry) -> None:
    """A reading of the gauge; it may close a batch up."""
    pump = str(entry.get("pump") or "")
    ledger.levels.append(Level(entry.instant, entry.get("reading"), pump, entry))
    ledger.pump = pump or ledger.pump
    if entry.get("temp") is not None:
        ledger.pond_temp = Temperature(entry.instant, entry.get("temp"))
    ledger.live = [current for current in ledger.live if current.ended is None]
    for current in ledger.live:
        if "release" in current.order:
            current.mark("level", entry.instant)
            current.close_if_done(entry.instant)


def event(ledger: Ledger, entry: Entry) -> None:
    """Something that happened."""
    what = str(entry.get("what"))
    ledger.events.append((entry.instant, what))
    if what in ("pump-on", "pump-off"):
        ledger.pump = what.removeprefix("pump-")
    if what in ("gate-open", "gate-shut"):
        ledger.gate_shut = what == "gate-shut"
    was, now = entry.get("was"), entry.get("now")
    if what == "gauge-moved" and was is not None and now is not None:
        ledger.levels = [r._replace(reading_mm=r.reading_mm + now - was) for r in ledger.levels]
    if what in DISTURBING:
        ledger.disturbances.append((entry.instant, what))


def rain(ledger: Ledger, entry: Entry) -> None:
    """Rain in the gauge."""
    ledger.rain.append((entry.instant, entry.get("depth")))


def supply(ledger: Ledger, entry: Entry) -> None:
    """Stock bought or counted."""
    ledger.stock.append(entry)


def direct(ledger: Ledger, entry: Entry) -> None:
    """Water put straight into the pond."""
    litres = entry.get("volume")
    if litres is None:
        litres = entry.get("buckets") * (entry.get("bucket") or 10.0)
    source = str(entry.get("source") or "tap")
    unsafe = source not in ("rain", "pond") and not _dosed(ledger, entry, source, litres)
    ledger.additions.append(Addition(entry.instant, litres, "", untreated=unsafe, source=source))
    if entry.get("dose") is not None:
        ledger.stock.append(entry)
    if unsafe:
        ledger.harm.append((entry, f"{ledger.litres(litres)} of untreated water went straight"))


def _dosed(ledger: Ledger, entry: Entry, source: str, litres: float) -> bool:
    """Whether the conditioner given to the pond covers at least the water that went in."""
    dose = entry.get("dose")
    if dose is None:
        return False
    rate = rate_per_l(ledger.setup, source, ledger.day(entry.instant), ledger.tap)
    if rate is None or rate.unit != dose.unit:
        ledger.remark(entry, "the dose cannot be judged: no rate is known in its unit")
        return True
    return bool(dose.amount >= rate.per_l * litres * COVERED)


def drain(ledger: Ledger, entry: Entry) -> None:
    """Water taken out on purpose."""
    ledger.drained.append((entry.instant, entry.get("volume")))
