"""The plain plan where no better one was worked out: a look a day, and each tested batch once."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from pondtui.errors import InputError
from pondtui.pond.away.model import Visit
from pondtui.pond.refill.case import local_time
from pondtui.pond.refill.plan import NoPlan, make_plan, target_mark
from pondtui.pond.refill.planned import PlannedBatch
from pondtui.pond.refill.running import release_min
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Mark, Setup
from pondtui.pond.setup.shapes import bottom_mm
from pondtui.pond.state.model import BarrelNow, PondState
from pondtui.pond.water.levels import litres_between, reading_after, reading_mm, reading_up
from pondtui.pond.water.recent import believed_mm, recent_loss
from pondtui.records import NamedTuple

LEAST_L = 10.0  # less is not worth opening an outlet: common practice, no source
LONGEST_DAYS = 92  # nobody plans a season of daily looks ahead


class _Ready(NamedTuple):
    """A batch to be left ready, and the reading at which the whole of it has room."""

    barrel: Barrel
    batch: PlannedBatch
    below_mm: float


def check_span(first: date, last: date) -> int:
    """The days of an absence, both ends counted. Raises InputError for one that cannot be."""
    days = (last - first).days + 1
    if days < 1:
        raise InputError(f"the absence ends ({last}) before it begins ({first}): turn them round")
    if days > LONGEST_DAYS:
        raise InputError(f"{days} days: a sheet is for at most {LONGEST_DAYS}; make one for each "
                         "part")  # fmt: skip
    return days


def daily_looks(
    setup: Setup, state: PondState, first: date, last: date, now: int, *, hour: str = "18:00"
) -> tuple[Visit, ...]:
    """One look a day; on the day by which the level is expected to have room for a whole batch
    under the target mark, one that was left ready is let out, each barrel once.

    Treated water is not planned for longer than the pond says that it keeps: counted from its
    test where it stands ready now, else from `first`, when the keeper is to make it ready.
    Raises InputError for a wrong span.
    """
    days = [first + timedelta(n) for n in range(check_span(first, last))]
    ready = _batches(setup, state, now)
    expected = _forecast(setup, state, now)
    keeps = timedelta(minutes=setup.limits.treated_keeps_min)
    added, found = 0.0, []
    for day in days:
        reading = expected(day, added)
        usable = [
            r
            for r in ready
            if reading is not None
            and reading_up(setup, reading) <= reading_up(setup, r.below_mm)
            and (r.barrel.source == "rain" or day <= _made(setup, state, r, first) + keeps)
        ]
        if not usable:
            found.append(Visit(day, hour))
            continue
        ready.remove(usable[0])
        added += usable[0].batch.release_l
        made = _made(setup, state, usable[0], first)
        by = None if usable[0].barrel.source == "rain" else made + keeps
        found.append(_visit(state, day, hour, usable[0], by))
    return tuple(found)


def ready_since(barrel: Barrel, water: BarrelNow, release_l: float) -> int | None:
    """When the water that stands there for a release was tested clear; None where it does not."""
    stays = heel_l(barrel) + barrel.leave_at_least_l
    if water.water != "clear" or water.held_l < stays + release_l - 1.0:
        return None
    return water.clear_at


def _made(setup: Setup, state: PondState, ready: _Ready, first: date) -> date:
    """The day from which the batch's water counts: never after the keeper left."""
    since = ready_since(ready.barrel, state.barrels[ready.barrel.name], ready.batch.release_l)
    return first if since is None else min(local_time(setup, since).date(), first)


def _visit(state: PondState, day: date, hour: str, ready: _Ready, by: date | None) -> Visit:
    batch = ready.batch
    begun = state.barrels[batch.barrel].batch
    return Visit(
        day,
        hour,
        batch.barrel,
        batch=begun.label if begun is not None else "",
        unit=batch.unit,
        release_l=batch.release_l,
        release_min=batch.release_min,
        buckets=batch.buckets,
        only_below_mm=ready.below_mm,
        use_by=by,
    )


def _forecast(setup: Setup, state: PondState, now: int) -> Callable[[date, float], float | None]:
    """The gauge on a day with litres added, by the loss of the last days; None without readings.

    With too few readings for a loss the level is taken to stay as it is.
    """
    today = local_time(setup, now).date()
    start = believed_mm(setup, state, today)
    loss = max(recent_loss(setup, state).loss_mm_per_day or 0.0, 0.0) if start is not None else 0.0

    def expected(day: date, added_l: float) -> float | None:
        if start is None:
            return None
        fallen = reading_up(setup, reading_up(setup, start) - loss * (day - today).days)
        return reading_after(setup, fallen, added_l, today) if added_l else fallen

    return expected


def _batches(setup: Setup, state: PondState, now: int) -> list[_Ready]:
    """One whole batch of each barrel, rain first, as the refill plans them for an empty pond."""
    day = local_time(setup, now).date()
    basin, mark = setup.floating(day), target_mark(setup)
    if basin is None or mark is None:
        return []
    floor = reading_mm(setup, basin, bottom_mm(basin))
    plan = make_plan(setup, state, now, mark=mark.name, from_mm=floor)
    if isinstance(plan, NoPlan):
        return []
    found: dict[str, _Ready] = {}
    for batch in plan.batches:
        barrel = setup.barrel_on(batch.barrel, day)
        if barrel is not None and batch.barrel not in found:
            found[batch.barrel] = _with_room(setup, state, barrel, batch, mark, day)
    return [r for r in found.values() if r.batch.release_l >= _least_l(r)]


def _least_l(ready: _Ready) -> float:
    """What is worth a sitter's walk: two buckets, where it is carried."""
    return 2 * ready.barrel.bucket_l if ready.batch.buckets is not None else LEAST_L


def _with_room(
    setup: Setup, state: PondState, barrel: Barrel, batch: PlannedBatch, target: Mark, day: date
) -> _Ready:
    """The batch with the reading that has room for all of it; where a mark that warns comes
    first, the part that has room there."""
    below = reading_after(setup, target.reading_mm, -batch.release_l, day)
    marks = [m.reading_mm for m in setup.marks_of("top-up")]
    below = min([below, *marks], key=lambda mm: reading_up(setup, mm))
    warns = [m.reading_mm for m in setup.marks_of("warn", "danger")]
    highest = max(warns, key=lambda mm: reading_up(setup, mm), default=None)
    if highest is None or reading_up(setup, below) >= reading_up(setup, highest):
        return _Ready(barrel, batch, below)
    part = max(litres_between(setup, highest, target.reading_mm, day), 0.0)
    part = min(part, batch.release_l)
    held = max(full_line_l(barrel), batch.held_l)
    minutes, _ = release_min(barrel, state.barrels[barrel.name].timed, held, part)
    buckets = None if batch.buckets is None else int(part // barrel.bucket_l)
    return _Ready(
        barrel, batch._replace(release_l=part, release_min=minutes, buckets=buckets), highest
    )
