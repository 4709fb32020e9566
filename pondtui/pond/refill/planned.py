"""A refill worked out: its batches and what they add up to, as values."""

from __future__ import annotations

from pondtui.pond.refill.guards import Verdict
from pondtui.records import NamedTuple


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
    guard: str = "description"  # what stands in the way: `description` or `fresh-reading`
