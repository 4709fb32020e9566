"""One batch looked at: its barrel, its water, its steps and what decides about them."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from pondtui.pond.refill.procedure import NO_FILL, Step, steps_for
from pondtui.pond.refill.rates import AgentRate, Strength, rate_per_l, strength
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Conditioner, Setup, Source
from pondtui.pond.state.batches import label_for
from pondtui.pond.state.model import BarrelNow, Batch, PondState
from pondtui.records import NamedTuple
from pondtui.units import show

TEMP_KEEPS_S = 6 * 3600  # a barrel in the sun warms: a temperature of the morning is none


class Case(NamedTuple):
    """A batch, open or about to begin (`opened` is then now and nothing is done)."""

    setup: Setup
    state: PondState
    barrel: Barrel
    water: BarrelNow
    batch: Batch
    now: int

    @property
    def local(self) -> datetime:
        """Now in the pond's time zone."""
        return local_time(self.setup, self.now)

    @property
    def day(self) -> date:
        """Today in the pond's time zone."""
        return self.local.date()

    @property
    def conditioner(self) -> Conditioner | None:
        """The conditioner that counts today."""
        return self.setup.conditioner_on(self.day)

    @property
    def source(self) -> Source | None:
        """The water that fills this barrel."""
        return self.setup.sources.get(self.barrel.source)

    @property
    def rate(self) -> AgentRate | None:
        """Agent per litre, None when it cannot be worked out."""
        return rate_per_l(self.setup, self.barrel.source, self.day, self.state.tap_chlorine)

    @property
    def tap(self) -> Strength:
        """The strength of the water that fills this barrel."""
        return strength(self.source, self.day, self.state.tap_chlorine)

    @property
    def heel_l(self) -> float:
        """What stays below the outlet."""
        return heel_l(self.barrel)

    @property
    def can_leave_l(self) -> float:
        """What may run out: all above the outlet, less what is left on purpose."""
        stays = self.heel_l + self.barrel.leave_at_least_l
        return max(self.water.held_l - stays, 0.0)

    @property
    def dose_first(self) -> bool:
        """Conditioner goes in before the water."""
        conditioner = self.conditioner
        return conditioner is not None and conditioner.dose_when == "before fill"

    @property
    def uses_hose(self) -> bool:
        """This batch is filled; rain barrels fill themselves unless a hose was put in."""
        if NO_FILL in self.batch.ticks:
            return "fill" in self.batch.order or "start-fill" in self.batch.order
        began = "fill" in self.batch.order or "start-fill" in self.batch.order
        return began or self.barrel.source != "rain"

    @property
    def needs_agent(self) -> bool:
        """Anything but rain water alone."""
        rain = self.barrel.source == "rain"
        water = self.water
        raw = water.untreated_l + water.lacking_l > 0 or water.coloured or bool(water.unknown)
        return not rain or raw or bool(self.batch.doses)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The procedure of this batch."""
        return steps_for(
            self.setup,
            self.barrel,
            dose_first=self.dose_first,
            hose=self.uses_hose,
            agent=self.needs_agent,
        )

    @property
    def to_treat_l(self) -> float:
        """Litres that the next dose is for: before filling those of the full line."""
        if self.dose_first and "fill" not in self.batch.order and self.uses_hose:
            rest = max(full_line_l(self.barrel) - self.water.held_l, 0.0)
            given = self.water.spare_l if "treat" in self.batch.order else 0.0
            return max(self.heel_to_treat_l + rest - given, 0.0)
        if self.water.unknown:
            return self.water.held_l
        water = self.water
        return max(water.untreated_l + water.lacking_l - water.spare_l, 0.0)

    @property
    def heel_to_treat_l(self) -> float:
        """What stands there and counts as untreated when the batch begins."""
        water = self.water
        if water.unknown:
            return water.held_l
        begun = "treat" in self.batch.order or "fill" in self.batch.order
        clear = water.treated_at is not None and (water.clear_at or 0) >= water.treated_at
        if begun or (clear and water.untreated_l == 0):
            return water.untreated_l
        return water.held_l

    @property
    def wait_from(self) -> int | None:
        """When the contact time began: the latest dose, mixed in, or water added onto it."""
        treated = self.batch.treated_at
        if treated is None:
            return None
        return max(treated, *(self.batch.times.get(what, 0) for what in ("mix", "fill")))

    @property
    def wait_left_s(self) -> float:
        """Seconds of contact still to go."""
        since = self.wait_from
        conditioner = self.conditioner
        if since is None or conditioner is None:
            return 0.0
        return max(since + conditioner.wait_min * 60 - self.now, 0.0)

    def litres(self, volume_l: float) -> str:
        """A volume in the pond's own units."""
        return show(volume_l, "volume", self.setup.pond.units)

    def degrees(self, temp_c: float) -> str:
        """A temperature in the pond's own units."""
        return show(temp_c, "temperature", self.setup.pond.units)

    def change(self, change_c: float) -> str:
        """A change of temperature in the pond's own units."""
        return show(change_c, "temperature_change", self.setup.pond.units)


def local_time(setup: Setup, instant: int) -> datetime:
    """An instant in the pond's time zone."""
    return datetime.fromtimestamp(instant, UTC).astimezone(ZoneInfo(setup.pond.time_zone))


def case_of(setup: Setup, state: PondState, batch: Batch, now: int) -> Case | None:
    """The case of an open batch; None when its barrel is described no more."""
    barrel = setup.barrel_on(batch.barrel, local_time(setup, now).date())
    water = state.barrels.get(batch.barrel)
    if barrel is None or water is None:
        return None
    return Case(setup, state, barrel, water, batch, now)


def new_case(setup: Setup, state: PondState, barrel: Barrel, now: int) -> Case:
    """A batch about to begin on this barrel: nothing is written yet."""
    day = local_time(setup, now).date()
    label = label_for(barrel.name, day, (b.label for b in state.batches))
    return Case(
        setup, state, barrel, state.barrels[barrel.name], Batch(label, barrel.name, now, now), now
    )


def current_case(setup: Setup, state: PondState, barrel: Barrel, now: int) -> Case:
    """The open batch of a barrel, or a new one."""
    batch = state.barrels[barrel.name].batch
    found = case_of(setup, state, batch, now) if batch is not None else None
    return found or new_case(setup, state, barrel, now)
