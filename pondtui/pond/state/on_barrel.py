"""What entries about barrels and batches do to the ledger."""

from __future__ import annotations

from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.setup.barrels import brim_l, full_line_l, heel_l, volume_l
from pondtui.pond.setup.model import Barrel
from pondtui.pond.state.barrels import EMPTIED_L, Water
from pondtui.pond.state.batches import Round, barrel_of, label_for
from pondtui.pond.state.entry import Dose, Entry, Measured
from pondtui.pond.state.ledger import Ledger
from pondtui.pond.state.model import Addition, Filled, Temperature

ELSEWHERE = "elsewhere"
BRIM_ERROR_L = 0.5  # litres are written rounded


def start(ledger: Ledger, entry: Entry) -> None:
    """Hose on, or outlet open."""
    found = ledger.barrel(entry)
    if found is None:
        return
    config, water = found
    what = str(entry.get("what"))
    if what not in ("fill", "release"):
        ledger.remark(entry, f"what began is fill or release, not {what}")
        return
    if what == "fill":
        ledger.before(water, entry)
        current = ledger.round_for_water(entry, water)
    else:
        current = _round_to_release(ledger, entry, config.name)
        water.changed, water.revision = entry.instant, water.revision + 1
    current.mark(f"start-{what}", entry.instant)
    water.start(what, entry.instant)


def _round_to_release(ledger: Ledger, entry: Entry, barrel: str) -> Round:
    """The batch whose water is let out: open, or closed up with water left standing."""
    current = ledger.open.get(barrel)
    if current is None or current.given_up or (current.ended is not None and current.emptied):
        label = str(entry.get("batch") or "")
        label = label or label_for(barrel, ledger.day(entry.instant), ledger.by_label)
        current = ledger.adopt(label, barrel, entry.instant)
    current.ended = None
    ledger.alive(current)
    return current


def fill(ledger: Ledger, entry: Entry) -> None:
    """Water poured into a barrel."""
    found = ledger.barrel(entry)
    if found is None:
        return
    config, water = found
    ledger.before(water, entry)
    current = ledger.round_for_water(entry, water)
    source = str(entry.get("source") or config.source)
    to = entry.get("to")
    to_l = None if to is None else full_line_l(config)
    if isinstance(to, float):
        to_l = volume_l(config, min(to, config.height_mm or config.diameter_mm))
    added = water.fill(entry.get("added"), to_l, source == "rain")
    current.added += added
    ledger.fills.append(Filled(entry.instant, added, config.name, source))
    if entry.get("meter") is not None:
        ledger.meters[source] = entry.get("meter")
    current.temp = None
    current.filled, current.emptied = True, False
    current.mark("fill", entry.instant)
    if entry.get("temp") is not None:
        current.temp = Temperature(entry.instant, entry.get("temp"))
        current.mark("temp", entry.instant)
    over_the_brim(ledger, entry, config, water)


def treat(ledger: Ledger, entry: Entry) -> None:
    """Conditioner given, judged by what the entry says it had to reach."""
    found = ledger.barrel(entry)
    if found is None:
        return
    config, water = found
    ledger.before(water, entry)
    current = ledger.round_for_water(entry, water, agent=True)
    dose: Dose = entry.get("dose")
    per_l = judged_by(ledger, entry, config, water, dose)
    if per_l is None:
        ledger.remark(entry, "the dose cannot be judged: no rate is known in its unit")
    water.treat(dose, per_l, entry.instant)
    current.doses.append(dose)
    current.treated_at = entry.instant
    current.rate_per_l = per_l
    current.mark("treat", entry.instant)
    ledger.stock.append(entry)


def test(ledger: Ledger, entry: Entry) -> None:
    """A water test of pond, tap or barrel."""
    where = str(entry.get("where"))
    limit = ledger.setup.limits.kit_first_step_mg_l
    total, free = entry.get("chlorine_total"), entry.get("chlorine_free")
    clear = total is not None and total.value <= limit
    colour = any(m is not None and not m.below and m.value > limit for m in (total, free))
    temp = entry.get("temp")
    if where == "pond":
        if temp is not None:
            ledger.pond_temp = Temperature(entry.instant, temp)
        if clear and not colour:
            ledger.pond_clear_at = entry.instant
    elif where == "tap":
        if isinstance(total, Measured):
            ledger.tap = (entry.instant, total.value, None if free is None else free.value)
    elif where not in ledger.setup.sources or any(b.name == where for b in ledger.setup.barrels):
        barrel_test(ledger, entry, where, clear=clear, colour=colour)


def tick(ledger: Ledger, entry: Entry) -> None:
    """A step done, or passed over."""
    step = str(entry.get("step"))
    current = ledger.round_of(entry)
    label = str(entry.get("batch") or "")
    if current is None and label:
        names = [b.name for b in ledger.setup.barrels]
        barrel = barrel_of(label, names)
        config = ledger.config(barrel, entry.instant) if barrel else None
        if config is None:
            ledger.waiting.setdefault(label, []).append((entry.kind, step, entry.instant))
        else:
            water = ledger.water(config)
            water.forget(entry.instant, ledger.keeps_min)
            current = ledger.adopt(label, water.name, entry.instant)
    if current is not None:
        (current.tick if entry.kind == "tick" else current.bypass)(step, entry.instant)
        current.close_if_done(entry.instant)
        ledger.alive(current)
        if current.barrel in ledger.waters:
            ledger.waters[current.barrel].revision += 1
    if entry.kind == "bypass":
        ledger.bypasses.append((entry, current))


def release(ledger: Ledger, entry: Entry) -> None:
    """Water let out, into the pond or elsewhere."""
    found = ledger.barrel(entry)
    if found is None:
        return
    config, water = found
    current = ledger.open.get(config.name)
    water.settle_looks()
    stale = water.stale(entry.instant, ledger.keeps_min)
    agreed = current is not None and current.agreed()
    unsafe = water.untreated > 0 or (stale and not agreed)
    what = "untreated" if water.untreated > 0 else "of unknown state"
    untested = not unsafe and not water.rain_only and water.clear_at is None
    out, missing = water.release(entry.get("out"), entry.get("left"), entry.instant)
    water.changed, water.revision = entry.instant, water.revision + 1
    over_the_brim(ledger, entry, config, water)
    if missing > 0:
        ledger.remark(
            entry, f"{ledger.litres(missing)} more than {config.name} was believed to hold"
        )
    to = str(entry.get("to") or "")
    if to.lower() != ELSEWHERE:
        known = {b.name for b in ledger.setup.basins} | {"", "pond"}
        if to not in known:
            ledger.remark(entry, f"no basin is called {to}: counted as let into the pond")
        temp = entry.get("temp")
        if temp is None and current is not None and current.temp is not None:
            temp = current.temp.temp_c
        ledger.additions.append(
            Addition(
                entry.instant, out, config.name, temp, untreated=unsafe and out > 0,
                untested=untested and out > 0,
                batch=current.label if current is not None else "",
            )
        )  # fmt: skip
        if unsafe and out > 0:
            ledger.harm.append(
                (entry, f"{ledger.litres(out)} of {what} water went from {config.name}")
            )
    if current is not None:
        current.released += out
        current.emptied = water.held <= heel_l(config) + EMPTIED_L
        current.mark("release", entry.instant)
        current.close_if_done(entry.instant)


def giveup(ledger: Ledger, entry: Entry) -> None:
    """A batch given up; its water stays as it is."""
    current = ledger.round_of(entry)
    if current is None:
        ledger.remark(entry, f"no batch is called {entry.get('batch')}")
    elif current.ended is None:
        current.ended = entry.instant
        current.given_up = True
        if current.barrel in ledger.waters:
            ledger.waters[current.barrel].give_up()


def dip(ledger: Ledger, entry: Entry) -> None:
    """A look into a barrel."""
    found = ledger.barrel(entry)
    if found is None:
        return
    config, water = found
    left = entry.get("left")
    if left is None:
        left = volume_l(config, min(entry.get("depth"), config.height_mm or config.diameter_mm))
    water.changed, water.revision = entry.instant, water.revision + 1
    surplus = water.dip(left, entry.instant)
    current = ledger.open.get(config.name)
    if current is not None and current.ended is None and water.running is None:
        current.mark("dip", entry.instant)
        current.emptied = current.filled and water.held <= heel_l(config) + EMPTIED_L
        if current.emptied and "release" not in current.order:
            current.ended = entry.instant  # it went another way: there is nothing to close up
    over_the_brim(ledger, entry, config, water)
    if surplus < -EMPTIED_L and water.running is None:
        missing = ledger.litres(-surplus)
        ledger.remark(entry, f"{missing} less than {config.name} should hold: where to?")


def judged_by(
    ledger: Ledger, entry: Entry, config: Barrel, water: Water, dose: Dose
) -> float | None:
    """Agent per litre that this dose had to reach: by the entry, else by the description."""
    needed, litres, rate = entry.get("needed"), entry.get("for"), entry.get("rate")
    if needed is not None and needed.unit == dose.unit and needed.amount > 0:
        litres = litres or water.untreated
        if litres:
            return float(needed.amount) / float(litres)
    if rate is not None and rate.unit == dose.unit:
        return float(rate.per_l) or None
    day = ledger.day(entry.instant)
    found = rate_per_l(ledger.setup, config.source, day, ledger.tap)
    return found.per_l if found is not None and found.unit == dose.unit else None


def over_the_brim(ledger: Ledger, entry: Entry, config: Barrel, water: Water) -> None:
    """A remark where more is said to stand in the barrel than fits."""
    if water.seen_l > brim_l(config) + BRIM_ERROR_L:
        ledger.remark(entry, f"{ledger.litres(water.seen_l)} is more than {config.name} holds")


def barrel_test(ledger: Ledger, entry: Entry, where: str, *, clear: bool, colour: bool) -> None:
    """A test of a barrel: chlorine decides about its water, temperature about the release."""
    config = ledger.config(where, entry.instant)
    if config is None:
        ledger.remark(entry, f"where is pond, tap or a barrel, not {where}")
        return
    water = ledger.water(config)
    water.changed, water.revision = entry.instant, water.revision + 1
    current = ledger.open.get(where)
    live = current if current is not None and current.ended is None else None
    if colour or clear:
        water.test(clear=not colour, instant=entry.instant)
        if live is not None:
            live.mark("colour" if colour else "clear", entry.instant)
    if entry.get("temp") is not None and live is not None:
        live.temp = Temperature(entry.instant, entry.get("temp"))
        live.mark("temp", entry.instant)
