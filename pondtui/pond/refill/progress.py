"""Where a batch stands: which steps are done, passed over or on.

Nothing is remembered: all of it follows from the entries. A step that has to come after something
(a test after the dose) counts only if its order number is the larger one, so a second fill, a
second dose or colour in a test takes the later steps back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from pondtui.pond.refill.case import TEMP_KEEPS_S, Case
from pondtui.pond.refill.guards import Verdict, fresh_reading, needs_test, verdicts
from pondtui.pond.refill.procedure import NO_FILL, Step
from pondtui.records import NamedTuple

# What takes a step back: it is done only if it came after the latest of these.
TAKEN_BACK_BY: dict[str, tuple[str, ...]] = {
    "filled": ("start-fill",),
    "tap-shut": ("start-fill", "fill"),
    "dose": ("fill", "colour"),
    "mix": ("treat",),
    "wait": ("treat", "fill"),
    "chlorine-test": ("treat", "fill", "colour"),
    "barrel-temp": ("fill", "release"),
    "agree": ("fill", "treat", "colour", "dip", "release"),
    "outlet-open": ("fill", "treat", "colour", "release"),
    "released": ("start-release",),
    "outlet-shut-again": ("release", "start-release"),
    "level-after": ("release", "start-release"),
}
_UNTIL_RELEASED = ("before", "fill", "treat", "release")


class StepNow(NamedTuple):
    """A step with its state: done, passed, on, waiting (on, nothing to do but wait) or to do."""

    step: Step
    status: str
    verdicts: tuple[Verdict, ...] = ()  # of the step that is on: the closed ones

    @property
    def closed(self) -> Verdict | None:
        """The first guard that stands in the way."""
        return self.verdicts[0] if self.verdicts else None


class Progress(NamedTuple):
    """All steps of a batch; `on` is the first that is not done, None when all are."""

    steps: tuple[StepNow, ...]
    on: StepNow | None


def progress(case: Case) -> Progress:
    """The steps of the case as they stand now."""
    rows: list[StepNow] = []
    on: StepNow | None = None
    for step in case.steps:
        status = "to do" if on is not None else _status(case, step)
        row = StepNow(step, status)
        if status in ("on", "waiting"):
            closed = tuple(v for v in verdicts(case, step) if not v.open)
            row = on = StepNow(step, status, closed)
        rows.append(row)
    return Progress(tuple(rows), on)


def _status(case: Case, step: Step) -> str:
    if step.stage in _UNTIL_RELEASED and let_out(case):
        return "done"
    if done(case, step):
        return "done"
    if passed(case, step):
        return "passed"
    waiting = step.kind == "wait" and (not step.own or _own_ticked(case, step))
    return "waiting" if waiting else "on"


def let_out(case: Case) -> bool:
    """Water was let out, and nothing was put in, agreed to or opened again since."""
    order, ticks = case.batch.order, case.batch.ticks
    released = order.get("release", 0)
    newer = ("fill", "start-fill", "treat", "colour", "start-release")
    again = max((order.get(e, 0) for e in newer), default=0)
    return released > max(again, ticks.get("agree", 0))


def passed(case: Case, step: Step) -> bool:
    """Passed over with a reason since it was last taken back. A deed, such as opening an outlet,
    and a fact, such as how much was let out, are only freed of what stood before them."""
    at = case.batch.bypassed.get(step.id, 0)
    return step.passable and step.kind != "start" and at > _taken_back(case, step.id)


def _taken_back(case: Case, step_id: str) -> int:
    return _latest(case, TAKEN_BACK_BY.get(step_id, ()))


def _latest(case: Case, events: Iterable[str]) -> int:
    return max((case.batch.order.get(event, 0) for event in events), default=0)


def done(case: Case, step: Step) -> bool:
    """The step was done and still counts."""
    if step.own:
        return _own_done(case, step)
    rule = _RULES.get(step.id, _ticked)
    return rule(case, step.id)


def _ticked(case: Case, step_id: str) -> bool:
    return case.batch.ticks.get(step_id, 0) > _taken_back(case, step_id)


def _own_done(case: Case, step: Step) -> bool:
    if not _own_ticked(case, step):
        return False
    since = case.batch.times.get(step.id, case.now)
    return step.kind != "wait" or case.now >= since + step.minutes * 60


def _own_ticked(case: Case, step: Step) -> bool:
    """An own step is ticked once a batch, and again when its stage begins anew."""
    anchors = {"treat": ("fill",), "release": ("fill", "treat"), "close": ("release",)}
    after = _latest(case, anchors.get(step.stage, ()))
    ids = [s.id for s in case.steps]
    if "filled" in ids and ids.index(step.id) < ids.index("filled"):
        after = 0  # dosed first: what stands before the filling is not taken back by it
    return case.batch.ticks.get(step.id, 0) > after


def _level_now(case: Case, _: str) -> bool:
    return fresh_reading(case).open or "start-fill" in case.batch.order


def _hose_on(case: Case, _: str) -> bool:
    return bool({"start-fill", "fill"} & set(case.batch.order)) or NO_FILL in case.batch.ticks


def _filled(case: Case, step_id: str) -> bool:
    order = case.batch.order
    if "fill" not in order and "start-fill" not in order:
        return NO_FILL in case.batch.ticks
    return order.get("fill", 0) > _taken_back(case, step_id)


def _tap_shut(case: Case, step_id: str) -> bool:
    return "fill" not in case.batch.order or _ticked(case, step_id)


def _dose(case: Case, _: str) -> bool:
    water = case.water  # a test that shows colour makes all of it untreated
    if case.dose_first and case.uses_hose and "fill" not in case.batch.order:
        return case.to_treat_l < 1.0
    return water.untreated_l == 0 and water.lacking_l == 0


def _mix(case: Case, step_id: str) -> bool:
    return "treat" not in case.batch.order or _ticked(case, step_id)


def _wait(case: Case, _: str) -> bool:
    return case.wait_left_s <= 0


def _chlorine_test(case: Case, _: str) -> bool:
    water = case.water
    if water.unknown or water.coloured:
        return False
    return water.clear_at is not None or not needs_test(case)


def _barrel_temp(case: Case, step_id: str) -> bool:
    temp = case.batch.temp
    fresh = temp is not None and case.now - temp.instant <= TEMP_KEEPS_S
    return fresh and case.batch.order.get("temp", 0) > _taken_back(case, step_id)


def _outlet_open(case: Case, step_id: str) -> bool:
    opened = case.batch.order.get("start-release", 0)
    return opened > _taken_back(case, step_id)


def _released(case: Case, _: str) -> bool:
    return let_out(case)


def _level_after(case: Case, step_id: str) -> bool:
    return case.batch.order.get("level", 0) > _taken_back(case, step_id)


_RULES: dict[str, Callable[[Case, str], bool]] = {
    "level-now": _level_now,
    "hose-on": _hose_on,
    "filled": _filled,
    "tap-shut": _tap_shut,
    "dose": _dose,
    "mix": _mix,
    "wait": _wait,
    "chlorine-test": _chlorine_test,
    "barrel-temp": _barrel_temp,
    "outlet-open": _outlet_open,
    "released": _released,
    "level-after": _level_after,
}
