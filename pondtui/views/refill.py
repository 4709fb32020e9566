"""The Refill screen as rows and sentences: one batch, the step that is on, and the numbers."""

from __future__ import annotations

from math import ceil

from pondtui.pond.refill.actions import Prompt, prompt
from pondtui.pond.refill.case import Case, local_time
from pondtui.pond.refill.guards import fresh_reading, largest_part_l, verdicts
from pondtui.pond.refill.plan import NoPlan, Plan, PlannedBatch, make_plan
from pondtui.pond.refill.pouring import dose_needed
from pondtui.pond.refill.procedure import STAGE_TITLES
from pondtui.pond.refill.progress import Progress, StepNow, progress
from pondtui.pond.refill.running import Flowing, flowing, release_min
from pondtui.pond.setup.barrels import depth_mm, full_line_l
from pondtui.records import NamedTuple
from pondtui.units import in_unit, show
from pondtui.views.words import count

SIGNS = {"done": "x", "passed": "!", "on": ">", "waiting": ">", "to do": " "}
LABEL = "the label stands above this figure"
WORDS = {"done": "", "passed": "PASSED OVER", "on": "NOW", "waiting": "WAIT", "to do": ""}


class Row(NamedTuple):
    """A line of the checklist; a stage's title has no status."""

    text: str
    status: str = ""
    word: str = ""


class RefillView(NamedTuple):
    """Everything the screen shows of one batch."""

    title: str
    head: str  # the plan in one line
    rows: tuple[Row, ...]
    place: str  # 6/17
    step: str  # id of the step that is on; "" when all is done
    heading: str
    text: str
    amount: str  # for large digits: "13.5 mL", "12:40"
    amount_note: str
    why: str
    closed: tuple[str, ...]  # sentences of the guards that stand in the way
    part_l: float | None  # the most that may go now, where a part may
    advice: tuple[str, ...]
    prompt: Prompt | None  # what to type; None where Enter is enough
    flow: str  # what runs, in one line
    held: str  # what stands in the barrel now
    held_l: float
    ring: str  # "", early, end


def build(case: Case) -> RefillView:
    """The view of a batch at `case.now`."""
    now = progress(case)
    running = flowing(case.setup, case.barrel, case.water, case.now)
    plan = make_plan(case.setup, case.state, case.now)
    on = now.on
    held = case.water.held_l
    if running is not None and running.held_l is not None:
        held = running.held_l
    heading, text, why = ("All done", "The batch is closed up.", "")
    amount, note = "", ""
    asks: Prompt | None = None
    if on is not None:
        heading, text, why = on.step.title, on.step.text, on.step.why
        amount, note = _amount(case, on, plan, running)
        if on.step.id == "agree":
            text = " ".join(belief(case))
        if on.step.kind == "number":
            asks = prompt(case, on.step)
    closed = on.verdicts if on is not None else ()
    return RefillView(
        title=f"{case.barrel.name} · batch {case.batch.label}",
        head=head_line(case, plan),
        rows=_rows(now),
        place=_place(now),
        step=on.step.id if on is not None else "",
        heading=heading,
        text=text,
        amount=amount,
        amount_note=note,
        why=why,
        closed=tuple(v.words for v in closed),
        part_l=largest_part_l(closed),
        advice=_advice(case, on),
        prompt=asks,
        flow=_flow(running),
        held=case.litres(held),
        held_l=held,
        ring=running.ring if running is not None else "",
    )


def head_line(case: Case, plan: Plan | NoPlan) -> str:
    """The plan in one line: from where to where, how much, in how many barrels, how long."""
    if isinstance(plan, NoPlan):
        return plan.reason
    system = case.setup.pond.units
    start = show(plan.from_mm, "length", system, rule=True)
    goal = show(plan.to_mm, "length", system, rule=True)
    if not plan.batches:
        return f"read {start}, {plan.to_mark} {goal}: nothing to put in"
    count = len(plan.batches)
    barrels = "1 batch" if count == 1 else f"{count} batches"
    long = (
        "" if plan.total_min is None else f", about {show(round(plan.total_min), 'time', system)}"
    )
    return f"from {start} to {plan.to_mark} {goal}: {case.litres(plan.need_l)}, {barrels}{long}"


def belief(case: Case) -> tuple[str, ...]:
    """What is believed to stand in the barrel, in sentences the keeper can agree to."""
    water, name = case.water, case.barrel.name
    said = [f"{name} holds {case.litres(water.held_l)}."]
    if case.barrel.source == "rain" and not case.needs_agent:
        said.append("It is rain water alone: no conditioner, almost no alkalinity.")
    elif water.untreated_l > 0:
        said.append(f"{case.litres(water.untreated_l)} of it are UNTREATED.")
    elif case.batch.doses and case.batch.treated_at is not None:
        doses = " + ".join(f"{d.amount:g} {d.unit}" for d in case.batch.doses)
        said.append(
            f"{doses} of conditioner went in, last at {_clock(case, case.batch.treated_at)}."
        )
    elif water.treated_at is not None:
        said.append(f"It was treated on {local_time(case.setup, water.treated_at):%Y-%m-%d %H:%M}.")
    if water.clear_at is not None:
        said.append(f"Total chlorine read nothing at {_clock(case, water.clear_at)}.")
    elif case.needs_agent:
        said.append("It was NOT tested clear.")
    if water.unknown:
        said.append(f"Nobody knows for sure: {water.unknown}.")
    where = case.barrel.into or "the pond"
    said.append(f"{case.litres(case.can_leave_l)} would go to {where}. Is all this true?")
    return tuple(said)


def _clock(case: Case, instant: int) -> str:
    when = local_time(case.setup, instant)
    same_day = when.date() == case.day
    return f"{when:%H:%M}" if same_day else f"{when:%Y-%m-%d %H:%M}"


def _rows(now: Progress) -> tuple[Row, ...]:
    rows: list[Row] = []
    stage = ""
    for item in now.steps:
        if item.step.stage != stage:
            stage = item.step.stage
            rows.append(Row(STAGE_TITLES[stage]))
        rows.append(Row(item.step.title, item.status, WORDS[item.status]))
    return tuple(rows)


def _place(now: Progress) -> str:
    if now.on is None:
        return "done"
    return f"{now.steps.index(now.on) + 1}/{len(now.steps)}"


def _amount(
    case: Case, on: StepNow, plan: Plan | NoPlan, running: Flowing | None
) -> tuple[str, str]:
    """The number of the step for the large digits, and the line under it."""
    step = on.step
    if step.id in ("hose-on", "filled"):
        return _fill_amount(case, plan, running)
    if step.id == "dose":
        return _dose_amount(case)
    if step.kind == "wait":
        left = case.wait_left_s
        if step.own:
            since = case.batch.times.get(step.id, case.now)
            left = max(since + step.minutes * 60 - case.now, 0.0)
        if step.own or case.conditioner is None:
            return _countdown(left), "to go"
        wait = f"to go of {case.conditioner.wait_min:g} min; {LABEL}"
        return _countdown(left), wait
    if step.id == "level-now":
        return "", fresh_reading(case).reason
    if step.id in ("outlet-open", "released", "agree"):
        return _release_amount(case, running)
    return "", ""


def _countdown(seconds: float) -> str:
    whole = int(-(-seconds // 1))
    hours, rest = divmod(whole, 3600)
    clock = f"{rest // 60:02d}:{rest % 60:02d}"
    return f"{hours}:{clock}" if hours else clock


def _planned(case: Case, plan: Plan | NoPlan) -> PlannedBatch | None:
    if isinstance(plan, NoPlan):
        return None
    return next((b for b in plan.batches if b.barrel == case.barrel.name and b.add_l > 0), None)


def _fill_amount(case: Case, plan: Plan | NoPlan, running: Flowing | None) -> tuple[str, str]:
    if running is not None and running.what == "fill":
        stop = f"stop at {_wanted(case, plan)[1]}"
        if running.held_l is None:
            return "", f"{stop}; {running.estimate}"
        to_go = "" if running.left_min is None else f", full in {running.left_min:.0f} min"
        now = f"in the barrel now{to_go} ({running.estimate}); {stop}"
        return case.litres(running.held_l), now
    wanted, mark = _wanted(case, plan)
    if isinstance(plan, Plan) and not plan.batches:
        return case.litres(wanted), f"have room; the pond needs none now. Full: {mark}"
    return case.litres(wanted), f"to put in: up to {mark}"


def _wanted(case: Case, plan: Plan | NoPlan) -> tuple[float, str]:
    """Litres still to be put in, and what the barrel then holds, as a dipstick shows it."""
    planned = _planned(case, plan)
    room = max(full_line_l(case.barrel) - case.water.held_l, 0.0)
    wanted = planned.add_l if planned is not None else room
    held = case.water.held_l + wanted
    mark = show(depth_mm(case.barrel, held), "length", case.setup.pond.units, rule=True)
    return wanted, f"{case.litres(held)}, {mark} on the dipstick"


def _dose_amount(case: Case) -> tuple[str, str]:
    needed = dose_needed(case)
    if needed is None:
        return "", "no dose can be worked out"
    _, measured, unit, devices = needed
    rate = case.rate
    why = f", {rate.why}" if rate is not None and rate.factor > 1 else ""
    known = case.conditioner is not None and case.conditioner.devices
    if unit == "mL" and not known and case.setup.pond.units != "metric":
        devices += f" ({in_unit(measured / 1000, 'volume', 'tsp'):.2g} tsp)"
    return f"{measured:g} {unit}", f"{devices}: for {case.litres(case.to_treat_l)}{why}"


def _release_amount(case: Case, running: Flowing | None) -> tuple[str, str]:
    if running is not None and running.what == "release":
        if running.held_l is None:
            return "", running.estimate
        to_go = "" if running.left_min is None else f", {running.left_min:.0f} min to go"
        return case.litres(running.held_l), f"left in the barrel{to_go} ({running.estimate})"
    if case.barrel.delivery == "carried":
        bucket = case.barrel.bucket_l
        many = count(ceil(case.can_leave_l / bucket), "bucket")
        return case.litres(case.can_leave_l), f"to carry: {many} of {case.litres(bucket)}"
    minutes, how = release_min(case.barrel, case.water.timed, case.water.held_l, case.can_leave_l)
    if minutes is None:
        return case.litres(case.can_leave_l), "to let out"
    return case.litres(case.can_leave_l), f"to let out, about {minutes:.0f} min ({how})"


def _advice(case: Case, on: StepNow | None) -> tuple[str, ...]:
    """Words worth saying although nothing stands in the way."""
    if on is None:
        return ()
    said = tuple(v.advice for v in verdicts(case, on.step) if v.open and v.advice)
    return (*said, *_doubt(case)) if on.step.id == "dose" else said


def _doubt(case: Case) -> tuple[str, ...]:
    """What to know of the dose: it is one more, or rests on no measurement, or an old one."""
    if case.water.coloured:
        return ("the test showed chlorine: this comes on top of what was given",)
    tap, source = case.tap, case.barrel.source
    if tap.total_mg_l is None:
        return (f"chlorine of {source} never measured: the label's plain dose, the test decides",)
    if not tap.fresh:
        when = "on an unknown day" if tap.measured is None else f"on {tap.measured}"
        return (f"chlorine of {source} was measured {when}: the test decides",)
    return ()


def _flow(running: Flowing | None) -> str:
    if running is None:
        return ""
    since = f"{running.run_min:.0f} min"
    if running.what == "fill":
        ring = {"early": " · ALMOST FULL: go and look", "end": " · FULL: shut the tap"}
        return f"HOSE ON for {since}{ring.get(running.ring, '')}"
    ring = {"end": " · it should have run out: shut the outlet"}
    return f"OUTLET OPEN for {since}{ring.get(running.ring, '')}"
