"""What a refill needs now: litres to the mark, barrels, doses, times, cost, and what forbids it."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from pondtui.pond.refill.case import Case, current_case, local_time
from pondtui.pond.refill.doses import in_devices
from pondtui.pond.refill.guards import Verdict, bottle, forbidden, fresh_reading, pond_temp_c
from pondtui.pond.refill.rates import rate_per_l, strength
from pondtui.pond.refill.running import release_min, tap_flow_l_min
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Mark, Setup
from pondtui.pond.state.model import BarrelNow, PondState
from pondtui.pond.water.levels import litres_between, pond_volume_l
from pondtui.science.chlorine import chloramine_ammonia_n_mg_l
from pondtui.science.mixing import mixed

SMALLEST_L = 1.0  # less than this is not worth a barrel
MOST_BATCHES = 60


class PlannedBatch(NamedTuple):
    """One barrel's round in the plan."""

    barrel: str
    held_l: float  # before
    heel_l: float
    add_l: float
    treat_l: float
    dose: float | None  # mL or g as `unit` says; None when it cannot be worked out
    measured: float | None  # rounded up to the device's mark
    devices: str  # the same in the keeper's devices
    unit: str
    fill_min: float | None
    wait_min: float
    release_l: float
    release_min: float | None
    estimate: str  # how sure the release time is
    leaves_l: float
    buckets: int | None  # carried water


class Plan(NamedTuple):
    """A refill from a reading to a mark."""

    from_mm: float
    to_mark: str
    to_mm: float
    need_l: float
    batches: tuple[PlannedBatch, ...]
    short_l: float  # what no barrel of the description can bring
    conditioner: float  # to be measured out, mL or g
    unit: str
    conditioner_left: float | None  # after the plan, the reserve still in it
    reserve: float | None  # for one emergency dose of the whole pond, never planned away
    cost: float | None
    pond_temp_after_c: float | None
    ammonia_rise_n_mg_per_l: float | None
    total_min: float | None
    closed: tuple[Verdict, ...]
    notes: tuple[str, ...]


class NoPlan(NamedTuple):
    """Why there is no plan, in one sentence with the way out."""

    reason: str


def target_mark(setup: Setup, name: str | None = None) -> Mark | None:
    """The mark to fill to: the one named, else the target, else the top-up mark."""
    if name is not None:
        return setup.mark(name)
    marks = setup.marks_of("target") or setup.marks_of("top-up")
    return marks[0] if marks else None


def make_plan(
    setup: Setup,
    state: PondState,
    now: int,
    *,
    mark: str | None = None,
    from_mm: float | None = None,
) -> Plan | NoPlan:
    """The plan from the last reading (or one typed now) to the mark."""
    day = local_time(setup, now).date()
    target = target_mark(setup, mark)
    if setup.floating(day) is None:
        return NoPlan(
            "pond.toml describes no basin that floats: add a [[basin]] with floats = true"
        )
    if target is None:
        known = ", ".join(m.name for m in setup.marks) or "none"
        what = f'no mark is called "{mark}"' if mark else "no mark has the role target"
        return NoPlan(f"{what}; the marks are: {known}")
    if from_mm is None:
        if state.level is None:
            return NoPlan("the gauge was never read: write a level first, such as `add level`")
        from_mm = state.level.reading_mm
    need = max(litres_between(setup, from_mm, target.reading_mm, day), 0.0)
    planner = _Planner(setup, state, now)
    batches, short = planner.batches(need)
    return planner.finish(from_mm, target, need, batches, short)


class _Planner:
    """Deals the litres out to the barrels, rain first."""

    def __init__(self, setup: Setup, state: PondState, now: int) -> None:
        self.setup = setup
        self.state = state
        self.now = now
        self.day = local_time(setup, now).date()
        self.barrels = [b for b in setup.barrels_on(self.day) if b.name in state.barrels]
        self.waters = {b.name: state.barrels[b.name] for b in self.barrels}

    def batches(self, need_l: float) -> tuple[list[PlannedBatch], float]:
        found: list[PlannedBatch] = []
        left = need_l
        for barrel in self.barrels:
            if barrel.source == "rain" and left >= SMALLEST_L:
                planned = self.one(barrel, left, fill=False)
                if planned is not None:
                    found.append(planned)
                    left -= planned.release_l
        taps = [b for b in self.barrels if b.source != "rain"]
        while left >= SMALLEST_L and taps and len(found) < MOST_BATCHES:
            before = left
            for barrel in taps:
                if left >= SMALLEST_L and len(found) < MOST_BATCHES:
                    planned = self.one(barrel, left, fill=True)
                    if planned is not None:
                        found.append(planned)
                        left -= planned.release_l
            if left == before:
                break
        return found, left if left >= SMALLEST_L else 0.0

    def one(self, barrel: Barrel, wanted_l: float, *, fill: bool) -> PlannedBatch | None:
        water = self.waters[barrel.name]
        heel = heel_l(barrel)
        stays = heel + barrel.leave_at_least_l
        most = full_line_l(barrel) if fill else water.held_l
        release = min(wanted_l, max(most - stays, 0.0))
        if release < SMALLEST_L:
            return None
        add = max(stays + release - water.held_l, 0.0)
        treat = self.to_treat(barrel, water, add)
        dose, measured, devices, unit = self.dose(barrel, treat)
        held = water.held_l + add
        minutes, estimate = release_min(barrel, water.timed, held, release)
        flow = tap_flow_l_min(self.setup, barrel)
        conditioner = self.setup.conditioner_on(self.day)
        carried = barrel.delivery == "carried"
        self.waters[barrel.name] = self.after(water, held - release, treated=treat > 0 or add > 0)
        return PlannedBatch(
            barrel=barrel.name,
            held_l=water.held_l,
            heel_l=heel,
            add_l=add,
            treat_l=treat,
            dose=dose,
            measured=measured,
            devices=devices,
            unit=unit,
            fill_min=0.0 if add == 0 else (add / flow if flow else None),
            wait_min=conditioner.wait_min if conditioner is not None and treat > 0 else 0.0,
            release_l=release,
            release_min=minutes,
            estimate=estimate,
            leaves_l=held - release,
            buckets=ceil(release / barrel.bucket_l) if carried else None,
        )

    def to_treat(self, barrel: Barrel, water: BarrelNow, add: float) -> float:
        """All that will stand there, less what is treated already; rain alone needs nothing."""
        if add == 0 and water.untreated_l == 0 and not water.unknown:
            return 0.0
        if barrel.source == "rain" and add == 0:
            return water.untreated_l
        case = current_case(self.setup, self.state._replace(barrels=self.waters), barrel, self.now)
        return max(case.heel_to_treat_l + add - water.spare_l, 0.0)

    def after(self, water: BarrelNow, left_l: float, *, treated: bool) -> BarrelNow:
        """The barrel after a planned batch: its heel treated, and clear by the batch's test."""
        if not treated:
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

    def dose(self, barrel: Barrel, treat_l: float) -> tuple[float | None, float | None, str, str]:
        conditioner = self.setup.conditioner_on(self.day)
        unit = conditioner.unit if conditioner is not None else "mL"
        if treat_l <= 0:
            return 0.0, 0.0, "none", unit
        rate = rate_per_l(self.setup, barrel.source, self.day, self.state.tap_chlorine)
        if rate is None or conditioner is None:
            return None, None, "measure the tap's total chlorine first", unit
        amount = rate.per_l * treat_l
        measured, words = in_devices(amount, conditioner.devices, unit)
        return amount, measured, words, unit

    def finish(
        self,
        from_mm: float,
        target: Mark,
        need: float,
        batches: list[PlannedBatch],
        short: float,
    ) -> Plan:
        setup, state = self.setup, self.state
        conditioner = setup.conditioner_on(self.day)
        unit = conditioner.unit if conditioner is not None else "mL"
        used = sum(b.measured or 0.0 for b in batches)
        left = None if state.conditioner_left is None else state.conditioner_left - used
        pond_l = pond_volume_l(setup, target.reading_mm, self.day)
        reserve = self.reserve(pond_l)
        closed = self.closed(batches, left, reserve)
        return Plan(
            from_mm=from_mm,
            to_mark=target.name,
            to_mm=target.reading_mm,
            need_l=need,
            batches=tuple(batches),
            short_l=short,
            conditioner=used,
            unit=unit,
            conditioner_left=left,
            reserve=reserve,
            cost=self.cost(batches),
            pond_temp_after_c=self.temp_after(pond_l, batches),
            ammonia_rise_n_mg_per_l=self.ammonia(pond_l, batches),
            total_min=_sum([b.fill_min for b in batches])
            if not batches
            else _sum(
                [
                    *(b.fill_min for b in batches),
                    *(b.wait_min for b in batches),
                    *(b.release_min or (0.0 if b.buckets else None) for b in batches),
                ]
            ),
            closed=closed,
            notes=self.notes(batches, short),
        )

    def reserve(self, pond_l: float) -> float | None:
        """One emergency dose of the whole pond."""
        tap = next((b.source for b in self.barrels if b.source != "rain"), "tap")
        rate = rate_per_l(self.setup, tap, self.day, self.state.tap_chlorine)
        return None if rate is None else rate.per_l * pond_l

    def cost(self, batches: list[PlannedBatch]) -> float | None:
        by_name = {b.name: b for b in self.barrels}
        total = 0.0
        for planned in batches:
            if planned.add_l > 0:
                source = self.setup.sources.get(by_name[planned.barrel].source)
                if source is None or source.price is None:
                    return None
                total += planned.add_l * source.price / source.price_per_l
        return total

    def temp_after(self, pond_l: float, batches: list[PlannedBatch]) -> float | None:
        by_name = {b.name: b for b in self.barrels}
        any_barrel = self.barrels[0] if self.barrels else None
        if any_barrel is None:
            return None
        temp = pond_temp_c(current_case(self.setup, self.state, any_barrel, self.now))
        litres = pond_l - sum(b.release_l for b in batches)
        for planned in batches:
            added = self.barrel_temp(by_name[planned.barrel])
            if temp is None or added is None or litres <= 0:
                return None
            temp = mixed(litres, temp, planned.release_l, added)
            litres += planned.release_l
        return temp

    def barrel_temp(self, barrel: Barrel) -> float | None:
        """The barrel's own measured temperature, else its source's."""
        batch = self.state.barrels[barrel.name].batch
        if batch is not None and batch.temp is not None:
            return batch.temp.temp_c
        source = self.setup.sources.get(barrel.source)
        return source.temperature_c if source is not None else None

    def ammonia(self, pond_l: float, batches: list[PlannedBatch]) -> float | None:
        """Rise of total ammonia in the pond, mg/L as N, from the chloramine of the tap water."""
        by_name = {b.name: b for b in self.barrels}
        grams = 0.0
        for planned in batches:
            if planned.add_l <= 0:
                continue
            name = by_name[planned.barrel].source
            source = self.setup.sources.get(name)
            if source is None or source.chloramine is not True:
                continue
            tap = strength(source, self.day, self.state.tap_chlorine)
            combined = tap.combined_mg_l if tap.free_mg_l is not None else tap.total_mg_l
            if combined is None:
                return None
            grams += chloramine_ammonia_n_mg_l(combined) * min(planned.add_l, planned.release_l)
        return grams / pond_l if pond_l > 0 else None

    def closed(
        self, batches: list[PlannedBatch], left: float | None, reserve: float | None
    ) -> tuple[Verdict, ...]:
        """What forbids starting now."""
        found: list[Verdict] = []
        names = dict.fromkeys(b.barrel for b in batches)
        for barrel in self.barrels:
            if barrel.name in names:
                case: Case = current_case(self.setup, self.state, barrel, self.now)
                needs = any(b.barrel == barrel.name and b.add_l > 0 for b in batches)
                checks = (forbidden, bottle) if needs else ()
                found += [check(case) for check in (*checks, fresh_reading)]
        if left is not None and reserve is not None and left < reserve:
            unit = self.setup.conditioner_on(self.day)
            word = unit.unit if unit is not None else "mL"
            found.append(
                Verdict(
                    "stock",
                    False,
                    f"the bottle would hold {max(left, 0):.0f} {word} after this; "
                    f"{reserve:.0f} {word} stay back for an emergency dose of the whole pond",
                )
            )
        shut = {v.guard: v for v in found if not v.open}
        return tuple(shut.values())

    def notes(self, batches: list[PlannedBatch], short: float) -> tuple[str, ...]:
        said = []
        rain = sum(b.release_l for b in batches if b.add_l == 0 and self.is_rain(b.barrel))
        if rain > 0:
            said.append(
                f"{rain:.0f} L of rain first: rain water has almost no alkalinity, "
                "test the pond's after much of it"
            )
        if short > 0:
            said.append(f"{short:.0f} L more than the barrels described can bring")
        return tuple(said)

    def is_rain(self, name: str) -> bool:
        return any(b.name == name and b.source == "rain" for b in self.barrels)


def _sum(parts: list[float | None]) -> float | None:
    """The total; None when a part is not known."""
    if any(p is None for p in parts):
        return None
    return sum(p for p in parts if p is not None)
