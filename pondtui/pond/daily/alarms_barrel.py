"""Alarms about barrels: a batch left open, water nobody knows, let in untested, or running on."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.pond.daily.alarm_look import DAY_S, Look
from pondtui.pond.daily.times import ran
from pondtui.pond.refill.case import Case, case_of, local_time
from pondtui.pond.refill.guards import needs_test
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import flowing
from pondtui.pond.setup.barrels import heel_l
from pondtui.pond.state.alarms import POND_TEST
from pondtui.pond.state.barrels import EMPTIED_L
from pondtui.pond.state.model import Addition, Alarm, Batch
from pondtui.units import show

BATCH_KEEPS_S = DAY_S
UNTESTED_S = 2 * DAY_S  # chlorine that harms fish shows by then: common practice, no source
LATE = 1.1  # of the predicted time


def open_batch(look: Look) -> list[Alarm]:
    """A batch in which nothing was done for a day, with water in the barrel."""
    found = []
    for batch in look.state.open_batches:
        case = case_of(look.setup, look.state, batch, look.now)
        idle = look.now - batch.last
        if case is None or idle <= BATCH_KEEPS_S or case.water.held_l <= case.heel_l + EMPTIED_L:
            continue
        if not {"fill", "start-fill", "treat"} & set(batch.order):
            continue  # only ticked: what stands there is older water, judged by its own age
        on = progress(case).on
        step = f' at "{on.step.title}"' if on is not None else ""
        held = show(case.water.held_l, "volume", look.setup.pond.units)
        text = f"{batch.label} stands open{step} for {idle / 3600:.0f} h with {held} in the barrel"
        remedy = "look at the barrel, then go on with the batch or give it up"
        since = batch.last + BATCH_KEEPS_S
        found.append(Alarm("batch-open", since, text, remedy, "watch", batch.label))
    return found


def old_water(look: Look) -> list[Alarm]:
    found = []
    for barrel in look.setup.barrels_on(look.day):
        water = look.state.barrels.get(barrel.name)
        if water is None or not water.unknown or water.held_l <= heel_l(barrel) + EMPTIED_L:
            continue
        keeps_s = int(look.setup.limits.treated_keeps_min * 60)
        since = max(water.treated_at or 0, water.clear_at or 0) + keeps_s
        held = show(water.held_l, "volume", look.setup.pond.units)
        text = f"nobody knows what the {held} in {barrel.name} are: {water.unknown}"
        remedy = "test it for TOTAL chlorine before any of it goes to the fish"
        found.append(Alarm("water-old", since, text, remedy, "watch"))
    return found


def untested(look: Look) -> list[Alarm]:
    """Treated water let in lately without the test that its batch needed, until the pond is tested.
    Silent where another alarm asks for that test on account of the same batch."""
    state, asked = look.state, {a.batch for a in look.state.alarms if a.batch}
    since = max(look.now - UNTESTED_S, state.pond_clear_at or 0)
    found: dict[str, list[Addition]] = {}
    for each in state.additions:
        lately = each.untested and each.instant > since
        if lately and each.batch not in asked and _needed_test(look, each):
            found.setdefault(each.barrel, []).append(each)
    return [_untested(look, name, let_in) for name, let_in in found.items()]


def _untested(look: Look, barrel: str, let_in: Sequence[Addition]) -> Alarm:
    litres = show(sum(a.litres for a in let_in), "volume", look.setup.pond.units)
    text = f"{litres} of treated water went from {barrel} into the pond without a chlorine test"
    return Alarm("untested", let_in[-1].instant, text, POND_TEST, batch=let_in[-1].batch)


def _needed_test(look: Look, let_in: Addition) -> bool:
    """Whether [limits] need_clear_test asked for the test before this water was let in."""
    barrel = look.setup.barrel_on(let_in.barrel, local_time(look.setup, let_in.instant).date())
    water = look.state.barrels.get(let_in.barrel)
    if barrel is None or water is None:
        return True
    none = Batch(let_in.batch, let_in.barrel, let_in.instant, let_in.instant)
    batch = next((b for b in look.state.batches if b.label == let_in.batch), none)
    then = water._replace(clear_at=None)
    return needs_test(Case(look.setup, look.state, barrel, then, batch, let_in.instant))


def running_on(look: Look) -> list[Alarm]:
    """A hose or an outlet open a tenth longer than predicted."""
    found = []
    for barrel in look.setup.barrels_on(look.day):
        water = look.state.barrels.get(barrel.name)
        flow = flowing(look.setup, barrel, water, look.now) if water is not None else None
        if water is None or water.running is None or flow is None:
            continue
        if flow.ring != "end" or flow.share is None or flow.share < LATE:
            continue
        predicted = flow.run_min / flow.share
        since = water.running.instant + int(predicted * 60)
        times = f"for {ran(flow.run_min)}, {ran(predicted)} were predicted"
        if flow.what == "fill":
            text = f"the hose runs into {barrel.name} {times}"
            remedy = "go and shut the tap at the wall; then write down how much went in"
            found.append(Alarm("hose-running", since, text, remedy))
        else:
            text = f"the outlet of {barrel.name} is open {times}"
            remedy = "go and shut the outlet; then write down how much went out"
            found.append(Alarm("outlet-running", since, text, remedy))
    return found
