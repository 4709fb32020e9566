"""What Today tells, as text and as JSON: level, loss, marks, barrels, batch, alarms, chores due."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from pondtui.errors import Problem
from pondtui.pond.daily.alarm_look import Look
from pondtui.pond.daily.alarms import of_look
from pondtui.pond.daily.animals import Animals, animals, told
from pondtui.pond.daily.due import FEED, ChoreNow, Due, chores_now, due_of
from pondtui.pond.daily.feeding import Feeding, feeding
from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.supplies import Stock, stocks
from pondtui.pond.daily.water_tests import judged
from pondtui.pond.refill.case import case_of, current_case, local_time
from pondtui.pond.refill.plan import NoPlan, Plan, make_plan
from pondtui.pond.refill.progress import StepNow, progress
from pondtui.pond.refill.ready import NOTHING, not_ready
from pondtui.pond.refill.running import Flowing, flowing, live
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Alarm, BarrelNow, Batch, PondState
from pondtui.pond.water.rain_barrels import RainBarrel, rain_barrels, worth_a_look
from pondtui.pond.water.recent import Ahead, Recent, marks_ahead, recent_loss
from pondtui.records import NamedTuple
from pondtui.units import show

if TYPE_CHECKING:
    from pondtui.pond.daily.climate import Climate

WATER = {
    "untreated": "untreated",
    "treated": "treated, not tested",
    "clear": "treated and tested clear",
    "unknown": "of unknown state",
}


class BarrelRow(NamedTuple):
    """A barrel as it stands at this moment."""

    water: BarrelNow  # while water runs: as computed for now
    words: str  # what stands in it
    why_not: str  # why it may not be let out; "" when it may
    flow: Flowing | None


class Status(NamedTuple):
    """Everything that Today tells."""

    setup: Setup
    state: PondState
    now: int
    recent: Recent
    ahead: tuple[Ahead, ...]  # the marks below, the nearest first
    barrels: tuple[BarrelRow, ...]
    batch: Batch | None  # the open one that was touched last
    step: StepNow | None  # its step that is on; None when all are done
    alarms: tuple[Alarm, ...]
    due: tuple[Due, ...]
    plan: Plan | NoPlan
    chores: tuple[ChoreNow, ...] = ()  # all of them, in the order of pond.toml
    feeding: Feeding | None = None
    tests: tuple[Judged, ...] = ()  # the latest readings of the pond
    stocks: tuple[Stock, ...] = ()
    rain: tuple[RainBarrel, ...] = ()
    animals: tuple[Animals, ...] = ()

    @property
    def to_do(self) -> bool:
        """An alarm stands, or a guard is closed in front of the step that is on."""
        return bool(self.alarms) or (self.step is not None and bool(self.step.verdicts))


def look(
    setup: Setup,
    state: PondState,
    entries: Sequence[Entry],
    now: int,
    problems: Sequence[Problem] = (),
    climate: Climate | None = None,
) -> Status:
    """The status at `now`: `entries` are the live ones, `problems` those of the pond's files.

    Without a `climate` the alarms that need the weather are silent.
    """
    recent = recent_loss(setup, state)
    batch = next(iter(state.open_batches), None)
    case = case_of(setup, state, batch, now) if batch is not None else None
    tests = judged(setup, entries, now)
    advice = feeding(setup, state, entries, tests, now)
    withheld = "" if advice.feed else f"{advice.text}: {advice.why}"
    chores = chores_now(setup, entries, now, state.levels, withheld)
    held = stocks(setup, state, entries, now)
    at = Look(setup, state, now, problems, chores, tests, held, climate)
    return Status(
        setup=setup,
        state=state,
        now=now,
        recent=recent,
        ahead=marks_ahead(setup, state, recent),
        barrels=tuple(_barrels(setup, state, now)),
        batch=batch,
        step=progress(case).on if case is not None else None,
        alarms=of_look(at, entries),
        due=due_of(setup, chores),
        plan=make_plan(setup, state, now),
        chores=chores,
        feeding=advice,
        tests=tests,
        stocks=held,
        rain=rain_barrels(setup, state, now),
        animals=animals(entries, now),
    )


def _barrels(setup: Setup, state: PondState, now: int) -> Iterable[BarrelRow]:
    for barrel in setup.barrels_on(local_time(setup, now).date()):
        if barrel.name not in state.barrels:
            continue
        water = live(setup, barrel, state.barrels[barrel.name], now)
        running = state._replace(barrels={**state.barrels, barrel.name: water})
        case = current_case(setup, running, barrel, now)
        words = "rain water" if not case.needs_agent else WATER[water.water]
        flow = flowing(setup, barrel, state.barrels[barrel.name], now)
        yield BarrelRow(water, words, not_ready(case), flow)


def as_json(status: Status) -> dict[str, Any]:
    """The keys of the status and those of the plan."""
    from pondtui.views import plan as plan_view

    level, batch, step = status.state.level, status.batch, status.step
    age = None if level is None else (status.now - level.instant) / 3600
    return {
        "level_mm": None if level is None else level.reading_mm,
        "level_age_h": age,
        "loss_mm_per_day": status.recent.loss_mm_per_day,
        "barrels": [_barrel_json(row, status) for row in status.barrels],
        "batch": None if batch is None else _batch_json(batch, step),
        **alarms_json(status),
        "due": [_due_json(chore) for chore in status.due],
        "feeding": None if status.feeding is None else status.feeding._asdict(),
        "animals": [
            {"kind": each.kind, "counted": each.counted, "expected": each.expected}
            for each in status.animals
        ],
        **plan_view.as_json(status.plan, status.setup),
    }


def alarms_json(status: Status) -> dict[str, Any]:
    """Only what is wrong."""
    return {
        "alarms": [
            {
                "name": alarm.name,
                "severity": alarm.severity,
                "since": local_time(status.setup, alarm.since).isoformat(" "),
                "text": alarm.text,
                "remedy": alarm.remedy,
                "batch": alarm.batch or None,
            }
            for alarm in status.alarms
        ]
    }


def _barrel_json(row: BarrelRow, status: Status) -> dict[str, Any]:
    rain = {barrel.name: barrel.expected_l for barrel in status.rain}
    return {
        "name": row.water.name,
        "held_l": row.water.held_l,
        "untreated_l": row.water.untreated_l,
        "ready": not row.why_not,
        "expected_l": rain.get(row.water.name),  # a guess by the rain, until it is dipped
    }


def _batch_json(batch: Batch, step: StepNow | None) -> dict[str, Any]:
    return {
        "id": batch.label,
        "barrel": batch.barrel,
        "stage": "close" if step is None else step.step.stage,
        "step": None if step is None else step.step.id,
    }


def _due_json(chore: Due) -> dict[str, Any]:
    last = None if chore.last is None else chore.last.isoformat()
    return {"name": chore.name, "last": last, "days_late": chore.days_late}


def lines(status: Status, water: Sequence[tuple[str, str]] = ()) -> list[str]:
    """The status for people: alarms on top, then what one wants to know first; `water` is what
    the season's water adds, each with its label."""
    moment = local_time(status.setup, status.now)
    return [
        f"{status.setup.pond.name}, {moment:%Y-%m-%d %H:%M}",
        *alarm_lines(status),
        *_level_lines(status, moment),
        *_loss_lines(status),
        *(_row(label, text) for label, text in water),
        *_mark_lines(status),
        _row("refill", _refill(status)),
        *(_row(f"{row.water.name}", _barrel(row, status)) for row in status.barrels),
        *_batch_lines(status),
        *(_row("due", _late(chore)) for chore in status.due),
        *_care_lines(status),
    ]


def alarm_lines(status: Status) -> list[str]:
    """Each alarm with what to do."""
    found = []
    for alarm in status.alarms:
        found.append(_row("ACT" if alarm.severity == "act" else "WATCH", alarm.text))
        found.append(_row("", f"-> {alarm.remedy}"))
    return found


def _row(label: str, text: str) -> str:
    return f"{label:<11}{text}" if len(label) < 11 else f"{label} {text}"


def _level_lines(status: Status, moment: datetime) -> list[str]:
    level, setup = status.state.level, status.setup
    if level is None:
        return [_row("level", "never read: `pondtui add level reading=...`")]
    read = local_time(setup, level.instant)
    day = "today" if read.date() == moment.date() else f"{read:%Y-%m-%d}"
    pump = f", pump {level.pump}" if level.pump else ""
    value = show(level.reading_mm, "length", setup.pond.units, rule=True)
    way = "down to the water" if setup.gauge.reads == "down" else "up to the water"
    return [_row("level", f"{value} {way}, read {day} {read:%H:%M}{pump}")]


def _loss_lines(status: Status) -> list[str]:
    recent, system = status.recent, status.setup.pond.units
    if recent.loss_mm_per_day is None:
        more = recent.more_readings
        many = "1 more daily reading" if more == 1 else f"{more} more daily readings"
        said = f"not known yet: {many} needed"
        if recent.error_mm_per_day is not None:
            error = _rate(recent.error_mm_per_day, system)
            said += f" (so far uncertain by {error})"
    else:
        loss = _rate(recent.loss_mm_per_day, system)
        error = _rate(recent.error_mm_per_day or 0.0, system)
        said = f"{loss}, +- {error}, by {recent.readings} readings over {recent.days:.1f} days"
    return [_row("loss", said), *(_row("", f"left out: {why}") for why in recent.left_out)]


def _rate(mm_per_day: float, system: str) -> str:
    return show(mm_per_day, "depth_rate", system, digits=1 if system == "metric" else 2)


def _mark_lines(status: Status) -> list[str]:
    if not status.ahead:
        return []
    mark = status.ahead[0]
    below = show(mark.below_mm, "length", status.setup.pond.units, rule=True)
    return [_row("next mark", f"{mark.name} ({mark.role}), {below} lower{_days(mark)}")]


def _days(mark: Ahead) -> str:
    if mark.days_low is None:
        return ""
    if mark.days_mid is None or mark.days_high is None:
        return f", in {mark.days_low:.0f} days at the soonest"
    low, high = round(mark.days_low), round(mark.days_high)
    return f", in {low} days" if low == high else f", in {low} to {high} days"


def _refill(status: Status) -> str:
    plan, system = status.plan, status.setup.pond.units
    if isinstance(plan, NoPlan):
        return f"no plan: {plan.reason}"
    if not plan.batches and not plan.short_l:
        return f"nothing to put in for {plan.to_mark}"
    batches = "1 batch" if len(plan.batches) == 1 else f"{len(plan.batches)} batches"
    closed = f"; closed: {plan.closed[0].reason}" if plan.closed else ""
    return f"{show(plan.need_l, 'volume', system)} to {plan.to_mark}, {batches}{closed}"


def _barrel(row: BarrelRow, status: Status) -> str:
    held = show(row.water.held_l, "volume", status.setup.pond.units)
    safe = "may be let out" if not row.why_not else f"do not let out: {row.why_not}"
    if row.why_not == NOTHING:
        safe = NOTHING
    runs = ""
    if row.flow is not None:
        what = "HOSE ON" if row.flow.what == "fill" else "OUTLET OPEN"
        left = "" if row.flow.left_min is None else f", {row.flow.left_min:.0f} min to go"
        runs = f"{what} for {row.flow.run_min:.0f} min{left} ({row.flow.estimate}); "
    more = expected_words(status, row.water.name)
    return f"{runs}{held}, {row.words}; {safe}{f'; {more}' if more else ''}"


def _care_lines(status: Status) -> list[str]:
    """Food and animals."""
    found = []
    feeds = any(chore.name.casefold().startswith(FEED) for chore in status.chores)
    if feeds and status.feeding is not None:
        found.append(_row("food", f"{status.feeding.text} ({status.feeding.why})"))
    return [*found, *(_row("animals", told(each)) for each in status.animals)]


def expected_words(status: Status, name: str) -> str:
    """What a rain barrel may hold beyond what is known; "" where nothing is worth a look."""
    rain = next((each for each in status.rain if each.name == name), None)
    if rain is None or not worth_a_look(rain):
        return ""
    system = status.setup.pond.units
    fell = show(rain.rain_mm, "rain", system)
    return f"perhaps {show(rain.expected_l, 'volume', system, digits=0)} by {fell} of rain: dip it"


def _batch_lines(status: Status) -> list[str]:
    batch, step = status.batch, status.step
    if batch is None:
        return []
    if step is None:
        return [_row("batch", f"{batch.label}: all steps are done")]
    found = [_row("batch", f"{batch.label}: {step.step.title} ({step.step.stage})")]
    return [*found, *(_row("", f"closed: {v.words}") for v in step.verdicts)]


def _late(chore: Due) -> str:
    if chore.last is None:
        return f"{chore.name}, never done yet"
    when = {0: "", 1: ", 1 day late"}.get(chore.days_late, f", {chore.days_late} days late")
    return f"{chore.name}{when}"
