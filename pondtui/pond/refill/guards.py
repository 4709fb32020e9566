"""Guards: pure predicates over a batch that keep a person from going on, never from writing a fact.

Each answers open, or closed with one sentence and the number behind it; `room` and `warmth` also
with the largest part that may go now.
"""

from __future__ import annotations

from collections.abc import Callable

from pondtui.pond.refill.case import Case, local_time
from pondtui.pond.refill.procedure import Step
from pondtui.pond.setup.windows import forbidden_until
from pondtui.pond.water.levels import (
    area_m2_at,
    draindown_l,
    is_higher,
    litres_between,
    pond_volume_l,
    reading_after,
)
from pondtui.records import NamedTuple
from pondtui.science.mixing import largest_addition_l, mixed

NO_CONDITIONER = "pond.toml describes no [[conditioner]] for today"
UNREAD = "older years are still being read"
POND_TEMP_KEEPS_S = 24 * 3600
ADVICE_C = 1.0  # a change of the pond worth a word: common practice, no source
ASCORBIC = ("ascorbic-acid", "sodium-ascorbate")  # reported not to remove chloramine


class Verdict(NamedTuple):
    """Open or closed; when closed the sentence that says why, with its number."""

    guard: str
    open: bool
    reason: str = ""
    largest_l: float | None = None  # the most that may go now, where a part may
    advice: str = ""  # worth a word although open
    way: str = ""  # the way out, where the reason does not say it

    @property
    def words(self) -> str:
        """Why it is closed and what opens it, for the step that it stands before."""
        return f"{self.reason}; {self.way}" if self.way else self.reason


def _open(guard: str, advice: str = "") -> Verdict:
    return Verdict(guard, True, advice=advice)


def _closed(guard: str, reason: str, way: str = "", largest_l: float | None = None) -> Verdict:
    return Verdict(guard, False, reason, largest_l, way=way)


def verdicts(case: Case, step: Step) -> tuple[Verdict, ...]:
    """The guards in front of a step; none once the step was passed over with a reason. Before
    all entries are in, every step is shut."""
    if case.state.partial:
        return (_closed("unread", UNREAD),)
    if overridden(case, step.id):
        return ()
    return tuple(GUARDS[name](case) for name in step.guards)


def overridden(case: Case, step_id: str) -> bool:
    """The keeper passed the step over, and nothing was done to the water since."""
    order = case.batch.order
    later = max((order.get(e, 0) for e in ("fill", "treat", "colour", "release")), default=0)
    return case.batch.bypassed.get(step_id, 0) > later


def _settled(case: Case, step_id: str) -> bool:
    """Ticked or passed over, where the step belongs to this batch at all."""
    if all(s.id != step_id for s in case.steps):
        return True
    return step_id in case.batch.ticks or step_id in case.batch.bypassed


def forbidden(case: Case) -> Verdict:
    """Watering hours of the tap."""
    source = case.source
    if source is None or not source.forbidden or not case.uses_hose:
        return _open("forbidden")
    until = forbidden_until(source.forbidden, case.local)
    if until is None:
        return _open("forbidden")
    return _closed("forbidden", f"drawing water is forbidden now, until {until}")


def bottle(case: Case) -> Verdict:
    """The conditioner is there and in date."""
    conditioner = case.conditioner
    if not case.needs_agent:
        return _open("bottle")
    if conditioner is None:
        return _closed("bottle", NO_CONDITIONER, "describe it in Setup")
    if conditioner.best_before is not None and conditioner.best_before < case.day:
        reason = f"the conditioner went out of date on {conditioner.best_before}"
        return _closed("bottle", reason, "get a new one and write its dates in Setup")
    return _open("bottle")


def fresh_reading(case: Case) -> Verdict:
    """A reading of today, none older than the last rain or the last water let in."""
    level = case.state.level
    if level is None:
        return _closed("fresh-reading", "the gauge was never read")
    read = local_time(case.setup, level.instant)
    if read.date() != case.day:
        return _closed(
            "fresh-reading", f"the last reading is of {read:%Y-%m-%d %H:%M}: read it now"
        )
    rain = case.state.last_rain
    if rain is not None and rain > level.instant:
        return _closed("fresh-reading", "it has rained since the last reading: read the gauge now")
    return _open("fresh-reading")


def outlet(case: Case) -> Verdict:
    """The outlet was seen shut."""
    if _settled(case, "outlet-shut"):
        return _open("outlet")
    reason = "the outlet was not seen shut: raw water would run to the fish"
    return _closed("outlet", reason, "shut it and look")


def airgap(case: Case) -> Verdict:
    """The hose end is fixed above the rim."""
    if _settled(case, "hose-above-rim"):
        return _open("airgap")
    reason = "the hose end is not above the rim: barrel water could be drawn back"
    return _closed("airgap", reason, "fix it above the rim")


def hose_out(case: Case) -> Verdict:
    """No water runs in."""
    running = case.water.running
    if running is not None and running.what == "fill":
        reason = "the hose still runs into the barrel"
        return _closed("hose-out", reason, "shut the tap and write how much went in")
    order = case.batch.order
    shut = max(case.batch.ticks.get("tap-shut", 0), case.batch.bypassed.get("tap-shut", 0))
    if order.get("fill", 0) > shut and any(s.id == "tap-shut" for s in case.steps):
        reason = "the tap was not shut and the hose taken out"
        return _closed("hose-out", reason, "shut it and take it out")
    return _open("hose-out")


def volume(case: Case) -> Verdict:
    """It is known how much there is to treat."""
    if case.rate is None:
        reason = "no dose can be worked out: measure the tap's total chlorine and write it down"
        if case.conditioner is None:
            reason = f"no dose can be worked out: {NO_CONDITIONER}"
            return _closed("volume", reason, "describe it in Setup")
        return _closed("volume", reason)
    if case.dose_first or not case.uses_hose or "fill" in case.batch.order:
        return _open("volume")
    return _closed("volume", "how much went in is not written down yet")


def ceiling(case: Case) -> Verdict:
    """Agent per litre stays within what the label allows."""
    rate, conditioner = case.rate, case.conditioner
    if rate is None or conditioner is None or conditioner.kind == "dry":
        return _open("ceiling")
    if rate.factor > conditioner.largest_multiple:
        reason = (
            f"this water needs {rate.factor:.1f} x the label dose and the label stops at "
            f"{conditioner.largest_multiple:g} x: this product cannot do it"
        )
        return _closed("ceiling", reason, "water beds with it, and get one that can")
    return _open("ceiling")


def dose(case: Case) -> Verdict:
    """What was given covers the water that is there."""
    water = case.water
    raw = water.untreated_l + water.lacking_l
    if overridden(case, "dose") or raw == 0:
        return _open("dose")
    order = case.batch.order
    if water.coloured and order.get("treat", 0) <= order.get("colour", 0):
        return _closed("dose", "the test showed chlorine: dose again, then wait and test")
    if not case.batch.doses:
        return _closed("dose", f"no conditioner was given for {case.litres(raw)}", "give it")
    lacks = case.litres(case.to_treat_l)
    return _closed(
        "dose", f"the dose covers all but {lacks} of {case.litres(raw)}", "give the rest"
    )


def contact(case: Case) -> Verdict:
    """The time on the label has passed."""
    left = case.wait_left_s
    if left <= 0 or overridden(case, "wait"):
        return _open("contact")
    return _closed("contact", f"{left / 60:.0f} min of the waiting time are still to go")


def needs_test(case: Case) -> bool:
    """Whether this batch needs a clear total-chlorine test, as [limits] need_clear_test says."""
    if not case.needs_agent:
        return False
    conditioner, source = case.conditioner, case.source
    if case.setup.limits.need_clear_test != "unless known" or conditioner is None:
        return True
    new_bottle = case.water.clear_at is None and not _tested_with(case)
    return (
        not case.tap.fresh
        or source is None
        or source.chloramine is not False
        or (conditioner.kind == "liquid" and conditioner.rated_for_mg_l is None)
        or (conditioner.kind == "dry" and conditioner.agent in ASCORBIC)
        or new_bottle
    )


def _tested_with(case: Case) -> bool:
    """A batch of this bottle has tested clear before."""
    conditioner = case.conditioner
    opened = conditioner.opened if conditioner is not None else None
    return opened is not None and any(
        local_time(case.setup, b.times["clear"]).date() >= opened
        for b in case.state.batches
        if "clear" in b.times
    )


def clear(case: Case) -> Verdict:
    """Nothing in the barrel harms fish, as far as is known."""
    water = case.water
    tested = overridden(case, "chlorine-test")
    if water.coloured and not tested:
        reason = "the barrel showed chlorine in its last test"
        again = "dose again, mix, wait and test" if water.untreated_l > 0 else "wait and test again"
        return _closed("clear", reason, again)
    if water.unknown and not tested:
        return _closed("clear", f"nobody knows what stands in {water.name}: {water.unknown}")
    if water.untreated_l > 0 and not (overridden(case, "dose") or tested):
        reason = f"{case.litres(water.untreated_l)} in {water.name} are untreated"
        return _closed("clear", reason, "dose, mix, wait and test")
    if water.clear_at is None and needs_test(case) and not tested:
        reason = "not tested clear of TOTAL chlorine since the last dose"
        return _closed("clear", reason, "test the barrel for TOTAL chlorine")
    return _open("clear")


def pond_temp_c(case: Case) -> float | None:
    """The pond's temperature of the last 24 hours, degC."""
    temp = case.state.pond_temp
    if temp is None or case.now - temp.instant > POND_TEMP_KEEPS_S:
        return None
    return temp.temp_c


def pond_l(case: Case) -> float | None:
    """Water in the whole pond by its last reading, L; None while it was never read."""
    level = case.state.level
    if level is None or case.setup.floating(case.day) is None:
        return None
    return pond_volume_l(case.setup, level.reading_mm, case.day)


def change_c(case: Case, litres: float) -> float | None:
    """What that much of this barrel does to the pond's temperature, degC; None if unknown."""
    pond, temp, water = pond_temp_c(case), case.batch.temp, pond_l(case)
    if pond is None or temp is None or not water:
        return None
    return mixed(water, pond, litres, temp.temp_c) - pond


def changed_today_c(case: Case) -> float:
    """What today's releases did to the pond, degC, signs kept."""
    pond, water = pond_temp_c(case), pond_l(case)
    if pond is None or not water:
        return 0.0
    return sum(
        mixed(water, pond, a.litres, a.temp_c) - pond
        for a in case.state.additions
        if a.temp_c is not None and local_time(case.setup, a.instant).date() == case.day
    )


def warmth(case: Case) -> Verdict:
    """The release changes the pond's temperature by no more than the limits."""
    pond, temp, water = pond_temp_c(case), case.batch.temp, pond_l(case)
    change = change_c(case, case.can_leave_l)
    if pond is None or temp is None or not water or change is None:
        whose = "barrel" if temp is None else "pond"
        return _open(
            "warmth", f"the {whose}'s temperature is not known: measure it, let it out slowly"
        )
    limits = case.setup.limits
    today = changed_today_c(case)
    left_today = limits.pond_change_per_day_c - (today if change > 0 else -today)
    limit = min(limits.pond_change_c, max(left_today, 0.0))
    if abs(change) <= limit:
        far = abs(change) >= ADVICE_C
        return _open("warmth", f"changes the pond by {case.change(change)}: slowly" if far else "")
    most = largest_addition_l(water, pond, temp.temp_c, limit) if limit > 0 else 0.0
    reason = (
        f"{case.litres(case.can_leave_l)} of {case.degrees(temp.temp_c)} change the pond by "
        f"{case.change(change)}; {case.change(limit)} is the limit now"
    )
    part = min(most, case.can_leave_l)
    return _closed("warmth", reason, "let out a part, or wait until tomorrow", part)


def room_l(case: Case) -> float | None:
    """Room under the lowest spilling or seeping mark, L: less the gauge's error and what runs
    back when the pump stops. None while there is no reading of today or no such mark."""
    level = case.state.level
    basin = case.setup.floating(case.day)
    edges = case.setup.marks_of("spill", "seep")
    if level is None or basin is None or not edges:
        return None
    lowest = edges[0]
    for edge in edges[1:]:
        if is_higher(case.setup, lowest.reading_mm, edge.reading_mm):
            lowest = edge
    since = sum(a.litres for a in case.state.additions if a.instant > level.instant)
    now_mm = reading_after(case.setup, level.reading_mm, since, case.day)
    room = litres_between(case.setup, now_mm, lowest.reading_mm, case.day)
    error = area_m2_at(case.setup, now_mm, case.day) * case.setup.gauge.error_mm
    back = 0.0 if case.state.pump == "off" else draindown_l(case.setup, case.day)
    return room - error - back


def room(case: Case) -> Verdict:
    """The pond has room for what is let out, on a reading of today."""
    reading = fresh_reading(case)
    if not reading.open:
        return _closed("room", f"whether there is room is not known: {reading.reason}")
    space = room_l(case)
    if space is None:
        return _open("room", "no spill mark is described: watch the rim")
    if case.can_leave_l <= space:
        return _open("room")
    most = max(space, 0.0)
    reason = (
        f"{case.litres(case.can_leave_l)} would go over the edge: "
        f"there is room for {case.litres(most)}"
    )
    way = "let out a part, or wait until the level has fallen and read it again"
    return _closed("room", reason, way, most)


GUARDS: dict[str, Callable[[Case], Verdict]] = {
    "forbidden": forbidden,
    "bottle": bottle,
    "fresh-reading": fresh_reading,
    "outlet": outlet,
    "airgap": airgap,
    "hose-out": hose_out,
    "volume": volume,
    "ceiling": ceiling,
    "dose": dose,
    "contact": contact,
    "clear": clear,
    "warmth": warmth,
    "room": room,
}


def largest_part_l(found: tuple[Verdict, ...]) -> float | None:
    """The most that may go now where every closed guard allows a part; None where one does not."""
    if not found or any(v.largest_l is None for v in found):
        return None
    return min(v.largest_l for v in found if v.largest_l is not None)
