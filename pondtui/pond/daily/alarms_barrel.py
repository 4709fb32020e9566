"""Alarms about barrels: a batch left open, water nobody knows, water that runs too long."""

from __future__ import annotations

from pondtui.pond.daily.alarm_look import DAY_S, Look
from pondtui.pond.daily.times import ran
from pondtui.pond.refill.case import case_of
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import flowing
from pondtui.pond.setup.barrels import heel_l
from pondtui.pond.state.barrels import EMPTIED_L
from pondtui.pond.state.model import Alarm
from pondtui.units import show

BATCH_KEEPS_S = DAY_S
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
