"""What a refill needs now: litres to the mark, batches, doses, times, cost, and what forbids it."""

from __future__ import annotations

from datetime import date

from pondtui.pond.refill.case import local_time
from pondtui.pond.refill.dealing import Dealer
from pondtui.pond.refill.forbidding import forbidding, stock
from pondtui.pond.refill.planned import NoPlan, Plan, PlannedBatch
from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.refill.totals import Dealt, ammonia, cost, temp_after, total_min
from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.levels import litres_between, pond_volume_l, reading_up
from pondtui.pond.water.rain_barrels import rain_barrels, worth_a_look
from pondtui.pond.water.recent import believed_mm
from pondtui.units import show

__all__ = ["NoPlan", "Plan", "PlannedBatch", "make_plan", "reserve", "target_mark"]


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
    """The plan from the last reading (with the water let in since), or one typed now, to the mark.

    `conditioner_left` is what the bottle holds after the plan, the reserve still in it.
    """
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
    if from_mm is not None:
        state = state._replace(level=Level(now, from_mm))
    start = believed_mm(setup, state, day)
    if start is None or state.level is None:
        return NoPlan(
            "the gauge was never read: write a level first, such as `add level`", "fresh-reading"
        )
    need = max(litres_between(setup, start, target.reading_mm, day), 0.0)
    dealer = Dealer(setup, state, now)
    batches, short = dealer.deal(need)
    barrels = {b.name: b for b in dealer.barrels}
    dealt = Dealt(setup, state, now, day, barrels, tuple(batches), pond_volume_l(setup, start, day))
    return _whole(dealt, start, target, need, short)


def _whole(dealt: Dealt, start: float, target: Mark, need: float, short: float) -> Plan:
    """The batches with what they add up to."""
    conditioner = dealt.setup.conditioner_on(dealt.day)
    used = sum(b.measured or 0.0 for b in dealt.batches)
    left = dealt.state.conditioner_left
    left = None if left is None else max(left - used, 0.0)
    kept = reserve(dealt.setup, dealt.state, dealt.day)
    return Plan(
        from_mm=start,
        to_mark=target.name,
        to_mm=target.reading_mm,
        need_l=need,
        batches=dealt.batches,
        short_l=short,
        conditioner=used,
        unit=conditioner.unit if conditioner is not None else "mL",
        conditioner_left=left,
        reserve=kept,
        cost=cost(dealt),
        pond_temp_after_c=temp_after(dealt),
        ammonia_rise_n_mg_per_l=ammonia(dealt),
        total_min=total_min(dealt.batches),
        closed=(*forbidding(dealt), *stock(dealt, left, kept, used)),
        notes=_notes(dealt, start, short),
    )


def reserve(setup: Setup, state: PondState, day: date) -> float | None:
    """Agent for one emergency dose of the whole pond, mL or g, which no plan may use up.

    For the pond filled to its target, else as it was last read; None where no dose can be worked
    out.
    """
    mark = target_mark(setup)
    reading = mark.reading_mm if mark is not None else believed_mm(setup, state, day)
    if setup.floating(day) is None or reading is None:
        return None
    sources = [b.source for b in setup.barrels_on(day) if b.source != "rain"]
    rate = rate_per_l(setup, sources[0] if sources else "tap", day, state.tap_chlorine)
    return None if rate is None else rate.per_l * pond_volume_l(setup, reading, day)


def _notes(dealt: Dealt, start: float, short: float) -> tuple[str, ...]:
    """Worth a word, but nothing that forbids."""
    system = dealt.setup.pond.units
    said = []
    level = dealt.state.level
    if level is not None and reading_up(dealt.setup, level.reading_mm - start):
        said.append("water let in or drained since the last reading is counted in")
    rain = sum(b.release_l for b in dealt.batches if dealt.barrels[b.barrel].source == "rain")
    if rain > 0:
        said.append(
            f"{show(rain, 'volume', system)} of rain: rain water has almost no alkalinity, "
            "test the pond's after much of it"
        )
    for barrel in rain_barrels(dealt.setup, dealt.state, dealt.now):
        if worth_a_look(barrel):
            more = show(barrel.more_l, "volume", system, digits=0)
            said.append(f"{barrel.name} may hold {more} more by the rain since: dip it first")
    if short > 0:
        said.append(f"{show(short, 'volume', system)} more than the barrels described can bring")
    return tuple(said)
