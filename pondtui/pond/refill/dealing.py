"""Deals the litres that the pond needs out to the barrels: rain first, then batch by batch."""

from __future__ import annotations

from math import ceil

from pondtui.pond.refill.case import current_case, local_time
from pondtui.pond.refill.doses import in_devices
from pondtui.pond.refill.planned import PlannedBatch
from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.refill.running import release_min, tap_flow_l_min
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.model import BarrelNow, PondState

SMALLEST_L = 1.0  # less than this is not worth a barrel
MOST_BATCHES = 60


class Dealer:
    """The barrels while the litres are dealt out."""

    def __init__(self, setup: Setup, state: PondState, now: int) -> None:
        self.setup = setup
        self.state = state
        self.now = now
        self.day = local_time(setup, now).date()
        self.conditioner = setup.conditioner_on(self.day)
        self.barrels = [b for b in setup.barrels_on(self.day) if b.name in state.barrels]
        self.waters = {b.name: state.barrels[b.name] for b in self.barrels}

    def deal(self, need_l: float) -> tuple[list[PlannedBatch], float]:
        """The batches in their order, and the litres that no barrel can bring."""
        found: list[PlannedBatch] = []
        rain = [b for b in self.barrels if b.source == "rain"]
        others = [b for b in self.barrels if b.source != "rain"]
        left = self._round(rain, need_l, found)
        while others and left >= SMALLEST_L:
            before, left = left, self._round(others, left, found)
            if left == before:
                break
        return found, left if left >= SMALLEST_L else 0.0

    def _round(self, barrels: list[Barrel], left: float, found: list[PlannedBatch]) -> float:
        """One batch of each barrel, as far as the litres go; what is left of them."""
        for barrel in barrels:
            if left < SMALLEST_L or len(found) >= MOST_BATCHES:
                break
            planned = self._one(barrel, left)
            if planned is not None:
                found.append(planned)
                left -= planned.release_l
        return left

    def _one(self, barrel: Barrel, wanted_l: float) -> PlannedBatch | None:
        """The next batch of a barrel; rain barrels give what stands in them."""
        water = self.waters[barrel.name]
        stays = heel_l(barrel) + barrel.leave_at_least_l
        filled = barrel.source != "rain"
        most = max(full_line_l(barrel), water.held_l) if filled else water.held_l
        release = min(wanted_l, max(most - stays, 0.0))
        if release < SMALLEST_L:
            return None
        add = max(stays + release - water.held_l, 0.0)
        if add > 0 and self._doses_first():
            add = max(full_line_l(barrel) - water.held_l, 0.0)  # dosed for the full line
        treat = self._to_treat(barrel, water, add)
        dose, measured, devices, unit = self._dose(barrel, treat)
        held = water.held_l + add
        minutes, estimate = release_min(barrel, water.timed, held, release)
        flow = tap_flow_l_min(self.setup, barrel)
        wait = self.conditioner.wait_min if self.conditioner is not None and treat > 0 else 0.0
        self.waters[barrel.name] = self._after(water, held - release, done=treat > 0 or add > 0)
        return PlannedBatch(
            barrel=barrel.name,
            held_l=water.held_l,
            heel_l=heel_l(barrel),
            add_l=add,
            treat_l=treat,
            dose=dose,
            measured=measured,
            devices=devices,
            unit=unit,
            fill_min=0.0 if add == 0 else (add / flow if flow else None),
            wait_min=wait,
            release_l=release,
            release_min=minutes,
            estimate=estimate,
            leaves_l=held - release,
            buckets=ceil(release / barrel.bucket_l) if barrel.delivery == "carried" else None,
        )

    def _doses_first(self) -> bool:
        return self.conditioner is not None and self.conditioner.dose_when == "before fill"

    def _to_treat(self, barrel: Barrel, water: BarrelNow, add: float) -> float:
        """All that will stand there, less what is treated already; rain alone needs nothing."""
        if add == 0 and not water.unknown and (water.untreated_l == 0 or barrel.source == "rain"):
            return water.untreated_l
        case = current_case(self.setup, self.state._replace(barrels=self.waters), barrel, self.now)
        begun = water.batch is not None and "treat" in water.batch.order
        spare = water.spare_l if begun else 0.0  # what a batch's agent covers ends with it
        return max(case.heel_to_treat_l + add - spare, 0.0)

    def _after(self, water: BarrelNow, left_l: float, *, done: bool) -> BarrelNow:
        """The barrel after a planned batch: its heel treated, and clear by the batch's test."""
        if not done:
            return water._replace(held_l=left_l)
        tested = self.setup.limits.need_clear_test == "always"
        return water._replace(
            held_l=left_l,
            untreated_l=0.0,
            spare_l=0.0,
            treated_at=self.now,
            clear_at=self.now if tested else None,
            unknown="",
            coloured=False,
            batch=None,
        )

    def _dose(self, barrel: Barrel, treat_l: float) -> tuple[float | None, float | None, str, str]:
        """The dose, what to measure, how, and the unit."""
        unit = self.conditioner.unit if self.conditioner is not None else "mL"
        if treat_l <= 0:
            return 0.0, 0.0, "none", unit
        if self.conditioner is None:
            return None, None, "describe the [[conditioner]] first", unit
        rate = rate_per_l(self.setup, barrel.source, self.day, self.state.tap_chlorine)
        if rate is None:
            return None, None, "measure the tap's total chlorine first", unit
        amount = rate.per_l * treat_l
        return amount, *in_devices(amount, self.conditioner.devices, unit), unit
