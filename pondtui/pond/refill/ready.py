"""Whether what stands in a barrel may go to the fish, as far as the water itself goes.

The pond's room and warmth are asked when the outlet is opened. A step passed over opens a guard,
it makes no water safe.
"""

from __future__ import annotations

from pondtui.pond.refill.case import Case
from pondtui.pond.refill.guards import UNREAD, clear, contact, overridden

NOTHING = "nothing above the outlet"
FEWEST_L = 1.0  # above the outlet: less is not worth opening it


def not_ready(case: Case) -> str:
    """Why the water may not be let out yet, in one sentence; "" when it may."""
    if case.state.partial:
        return UNREAD
    if case.can_leave_l < FEWEST_L:
        return NOTHING
    running = case.water.running
    if running is not None and running.what == "fill":
        return "the hose still runs into the barrel"
    water = case.water
    harmful = water.coloured or bool(water.unknown) or water.untreated_l > 0
    # no waiting makes water safe that a test showed chlorine in: that is said first
    for guard in (clear, contact) if harmful else (contact, clear):
        verdict = guard(case)
        if not verdict.open:
            return verdict.reason
    passed = [s for s in ("dose", "wait", "chlorine-test") if overridden(case, s)]
    if passed:
        return f"{passed[0]} was passed over: nobody knows that it is clear"
    if water.overdosed > 1.005:
        return "overdosed: hold it and aerate"
    return ""
