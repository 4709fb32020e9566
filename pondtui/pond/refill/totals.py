"""What the batches of a plan add up to: time, money, the pond's temperature and ammonia."""

from __future__ import annotations

from datetime import date

from pondtui.pond.refill.case import Case, current_case
from pondtui.pond.refill.guards import pond_temp_c
from pondtui.pond.refill.planned import PlannedBatch
from pondtui.pond.refill.rates import strength
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.science.chlorine import chloramine_ammonia_n_mg_l
from pondtui.science.mixing import mixed


class Dealt(NamedTuple):
    """The batches with what they are reckoned from."""

    setup: Setup
    state: PondState
    now: int
    day: date
    barrels: dict[str, Barrel]
    batches: tuple[PlannedBatch, ...]
    start_l: float  # water in the pond before

    def case(self, barrel: str) -> Case:
        """The batch of a barrel that is open or would begin."""
        return current_case(self.setup, self.state, self.barrels[barrel], self.now)

    @property
    def end_l(self) -> float:
        """Water in the pond after the plan."""
        return self.start_l + sum(b.release_l for b in self.batches)


def total_min(batches: tuple[PlannedBatch, ...]) -> float | None:
    """Minutes of filling, waiting and letting out; carrying buckets is not counted."""
    total = 0.0
    for b in batches:
        release = 0.0 if b.buckets is not None else b.release_min
        if b.fill_min is None or release is None:
            return None
        total += b.fill_min + b.wait_min + release
    return total


def cost(dealt: Dealt) -> float | None:
    """Price of the water drawn; None where a source has none."""
    total = 0.0
    for b in dealt.batches:
        if b.add_l > 0:
            source = dealt.setup.sources.get(dealt.barrels[b.barrel].source)
            if source is None or source.price is None:
                return None
            total += b.add_l * source.price / source.price_per_l
    return total


def temp_after(dealt: Dealt) -> float | None:
    """The pond's temperature by energy balance; None where one temperature is not known."""
    if not dealt.barrels:
        return None
    temp = pond_temp_c(dealt.case(next(iter(dealt.barrels))))
    litres = dealt.start_l
    for planned, added in zip(dealt.batches, batch_temps(dealt), strict=True):
        if temp is None or added is None:
            return None
        temp = mixed(litres, temp, planned.release_l, added)
        litres += planned.release_l
    return temp


def batch_temps(dealt: Dealt) -> list[float | None]:
    """Of each batch: what was measured in the barrel, mixed with what is added, else the source."""
    found: list[float | None] = []
    seen: set[str] = set()
    for planned in dealt.batches:
        source = dealt.setup.sources.get(dealt.barrels[planned.barrel].source)
        temp = source.temperature_c if source is not None else None
        batch = dealt.state.barrels[planned.barrel].batch
        if batch is not None and batch.temp is not None and planned.barrel not in seen:
            own = batch.temp.temp_c
            temp = own if temp is None else mixed(planned.held_l, own, planned.add_l, temp)
        seen.add(planned.barrel)
        found.append(temp)
    return found


def ammonia(dealt: Dealt) -> float | None:
    """Rise of total ammonia in the pond, mg/L as N, from the chloramine of the tap water.

    A source that does not say whether it holds chloramine counts as one that does.
    """
    grams = 0.0
    for b in dealt.batches:
        name = dealt.barrels[b.barrel].source
        source = dealt.setup.sources.get(name)
        if name == "rain" or (source is not None and source.chloramine is False):
            continue
        tap = strength(source, dealt.day, dealt.state.tap_chlorine)
        combined = tap.combined_mg_l if tap.free_mg_l is not None else tap.total_mg_l
        if combined is None:
            return None
        grams += chloramine_ammonia_n_mg_l(combined) * b.release_l
    return grams / dealt.end_l if dealt.end_l > 0 else None
