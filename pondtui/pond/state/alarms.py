"""Alarms about the water itself: what reached the pond untested, and what stands overdosed."""

from __future__ import annotations

from collections.abc import Iterable

from pondtui.pond.refill.procedure import NO_CHLORINE
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Alarm, Batch, PondState

BARREL_TEST = (
    "nothing of it is in the pond yet: test the barrel for TOTAL chlorine before it is let out"
)
LETTING_OUT = ("outlet-open", "released")  # room and warmth stand before these too
WATCH = "watch the pond's edge and the fish for a day"
DAY_S = 86_400
POND_TEST = (
    "test the pond for TOTAL chlorine and write it down; until then watch the fish and aerate"
)


def water_alarms(
    state: PondState,
    harm: Iterable[tuple[Entry, str]],
    bypasses: Iterable[tuple[Entry, Batch | None]],
) -> tuple[Alarm, ...]:
    """The alarms that stand at `state.now`, oldest first.

    `harm`: releases of untreated water with their words; `bypasses`: each with its batch. Both
    stand until a clear total-chlorine test of the pond after the water went in. A step that has
    nothing to do with chlorine, such as reading the level, asks for no such test, nor does letting
    out what had tested clear: that is to be watched for a day.
    """
    clear = state.pond_clear_at or 0
    found = [
        Alarm(
            "untreated",
            entry.instant,
            f"{words} into the pond",
            POND_TEST,
            batch=str(entry.get("batch") or ""),
        )
        for entry, words in harm
        if clear <= entry.instant
    ]
    for entry, batch in bypasses:
        if entry.get("step") in NO_CHLORINE:
            continue
        released = _let_in(state, batch)
        if batch is not None and batch.ended is not None and released is None:
            continue  # given up, or sent elsewhere: nothing of it reached the pond
        to_come = batch is not None and batch.ended is None and released is None
        if to_come or clear <= max(entry.instant, released or 0):
            step = entry.get("step")
            text = f"{step} was passed over: {entry.note or 'no reason given'}"
            label = batch.label if batch is not None else ""
            if step in LETTING_OUT and _was_clear(state, batch):
                if released is None or state.now - released < DAY_S:
                    found.append(Alarm("bypass", entry.instant, text, WATCH, "watch", label))
                continue
            remedy = BARREL_TEST if to_come else POND_TEST
            found.append(Alarm("bypass", entry.instant, text, remedy, batch=label))
    for barrel in state.barrels.values():
        if barrel.overdosed > 1.005 and barrel.held_l > 0:
            text = f"{barrel.name} holds {barrel.overdosed:.1f} x the most agent its label allows"
            remedy = "hold it and aerate; far over, throw it away"
            found.append(Alarm("overdosed", barrel.changed, text, remedy))
    return tuple(sorted(found, key=lambda a: (a.since, a.name, a.text)))


def _was_clear(state: PondState, batch: Batch | None) -> bool:
    """Whether what went in of the batch, or is to go in, needed no agent or was tested clear."""
    if batch is None:
        return False
    let_in = [a for a in state.additions if a.batch == batch.label and a.barrel == batch.barrel]
    if let_in:
        return not any(a.untreated or a.untested for a in let_in)
    water = state.barrels.get(batch.barrel)
    return water is not None and water.water == "clear"


def _let_in(state: PondState, batch: Batch | None) -> int | None:
    """When water of the batch last went into the pond."""
    if batch is None:
        return None
    end = batch.ended if batch.ended is not None else state.now
    times = [
        a.instant
        for a in state.additions
        if a.barrel == batch.barrel and batch.opened <= a.instant <= max(end, batch.last)
    ]
    return max(times, default=None)
