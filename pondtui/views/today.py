"""What Today says: one row a fact, what is wrong first. Pure; the drawings are in `pictures`."""

from __future__ import annotations

from pondtui.pond.daily.due import DUE, ChoreNow
from pondtui.pond.refill.case import Case, case_of
from pondtui.pond.refill.plan import NoPlan, Plan
from pondtui.pond.refill.pouring import dose_needed
from pondtui.pond.refill.procedure import STAGE_TITLES
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import Flowing
from pondtui.pond.setup.model import Setup
from pondtui.pond.water.recent import Ahead, Recent
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.status import BarrelRow, Status, expected_words
from pondtui.views.words import DAY_S, ago, count, litres, reading

_SAID = {"treated": "treated", "clear": "tested clear", "untreated": "UNTREATED"}
WATCH = "Watch"  # heads an alarm that can wait
_MOST_ALARMS = 3
MOST_NUMBERS = 9  # chores that a digit ticks off
_HEAD = 9  # columns of a row's first word


class Row(NamedTuple):
    """One fact. `id` is what `?` explains, `opens` the screen behind it."""

    id: str
    head: str  # a word at the left
    text: str
    role: str = "text"
    opens: str = ""


class SeasonWords(NamedTuple):
    """What the season's water adds, once it is worked out; "" where nothing can be said."""

    normal: str  # beside the loss of the last week
    season: str  # in one line
    beyond: bool = False  # more is not explained than the errors allow


def rows(
    status: Status, *, roomy: bool = False, water: SeasonWords | None = None, ahead: str = ""
) -> tuple[Row, ...]:
    """Everything that Today lists, from top to bottom; `roomy` gives each chore its line; `ahead`
    is the outlook, once it is worked out."""
    found = [*_alarms(status)]
    if status.state.level is None:
        found += _begin()
    else:
        found += [_level(status), _loss(status, water, named=not ahead)]
        if ahead:
            found.append(Row("outlook", "Ahead", ahead, "text", "away"))
        if water is not None and water.season:
            role = "warn" if water.beyond else "text"
            found.append(Row("season", "Season", water.season, role, "water"))
    found += _work(status)
    found += [_barrel(status, row) for row in status.barrels]
    return (*found, *_due(status, roomy=roomy))


def step_line(status: Status) -> tuple[str, str]:
    """The step that is on and the number that matters, where there is room for no more."""
    setup, state, batch = status.setup, status.state, status.batch
    case = case_of(setup, state, batch, status.now) if batch is not None else None
    if case is not None:
        return f"{case.barrel.name}: {_step(case)}", _amount(status, case)
    level = state.level
    if level is None:
        return "no reading yet", "press l to write one"
    age = ago(level.instant, status.now)
    return "no refill is open", f"level {reading(setup, level.reading_mm)}, {age}"


def _amount(status: Status, case: Case) -> str:
    """What is to be poured in, how the water runs, or what stands in the barrel."""
    flow = _flow_of(status, case.barrel.name)
    if flow is not None:
        return flow_words(status.setup, flow)
    on = progress(case).on
    needed = dose_needed(case) if on is not None and on.step.id == "dose" else None
    if needed is not None:
        return f"dose {needed[1]:g} {needed[2]}"
    return f"{litres(status.setup, case.water.held_l)} in {case.barrel.name}"


def _alarms(status: Status) -> list[Row]:
    found = []
    for place, alarm in enumerate(status.alarms):
        act = alarm.severity == "act"
        text = f"{alarm.text}: {alarm.remedy}" if act else alarm.text
        role = "danger" if act else "warn"
        opens = "refill" if alarm.batch else "alarms"
        found.append(Row(f"alarm:{place}", "ALARM" if act else WATCH, text, role, opens))
    more = len(found) - _MOST_ALARMS
    if more > 0:
        found = [
            *found[:_MOST_ALARMS],
            Row("alarms", "ALARM", f"and {more} more", "danger", "alarms"),
        ]
    return found


def _begin() -> list[Row]:
    return [
        Row("begin", "Begin", "read the pond's gauge and press l to write it down", "good"),
        Row("begin:refill", "Then", "r walks a barrel through fill, treat and release", "text",
            "refill"),
        Row("begin:help", "Help", "h shows every key; ? explains the chosen line", "quiet"),
    ]  # fmt: skip


def _level(status: Status) -> Row:
    setup, level, now = status.setup, status.state.level, status.now
    assert level is not None  # the caller asks only then
    value, where = level.reading_mm, "on the rule"
    if setup.gauge.reads == "down":
        value, where = abs(value), "ABOVE the edge" if value < 0 else "below the edge"
    pump = f", pump {level.pump}" if level.pump else ""
    text = f"{reading(setup, value)} {where}, read {ago(level.instant, now)}{pump}"
    temp = status.state.pond_temp
    if temp is not None and now - temp.instant <= DAY_S:
        text += f", {show(temp.temp_c, 'temperature', setup.pond.units)}"
    stale = now - level.instant > DAY_S
    role = "warn" if stale else "text"
    return Row("level", "Level", text + (": read it again" if stale else ""), role, "journal")


def _loss(status: Status, water: SeasonWords | None, *, named: bool) -> Row:
    """What the pond loses; the mark that comes next where no other row names it."""
    ahead = next(iter(status.ahead), None)
    text = loss_words(status.setup, status.recent)
    if water is not None and water.normal:
        text += f", {water.normal}"
    if ahead is not None and named:
        text += f"; {mark_words(status.setup, ahead)}"
    soon = ahead is not None and ahead.days_low is not None and ahead.days_low < 2
    near = ahead is not None and ahead.role in ("warn", "danger") and soon
    return Row("loss", "Loses", text, "warn" if near else "text", "water")


def loss_words(setup: Setup, recent: Recent) -> str:
    """`6 ± 1 mm a day`, or how many readings are still needed."""
    if recent.loss_mm_per_day is None or recent.error_mm_per_day is None:
        more = count(max(recent.more_readings, 1), "reading")
        return f"not known yet: {more} more, one a day"
    system = setup.pond.units
    if system == "metric":
        return f"{recent.loss_mm_per_day:.1f} ± {recent.error_mm_per_day:.1f} mm a day"
    loss = show(recent.loss_mm_per_day, "depth_rate", system, digits=2).split()[0]
    error = show(recent.error_mm_per_day, "depth_rate", system, digits=2)
    return f"{loss} ± {error.replace('/day', '')} a day"


def mark_words(setup: Setup, ahead: Ahead) -> str:
    """`iris shelf (110 mm) in 5 to 9 days`."""
    name = f"{ahead.name} ({reading(setup, ahead.reading_mm)})"
    if ahead.days_mid is None or ahead.days_low is None:
        return f"next below: {name}"
    low = round(ahead.days_low)
    if ahead.days_high is None:
        return f"{name} in {count(low, 'day')} at the earliest"
    high = round(ahead.days_high)
    if high == 0:
        return f"{name} is reached today"
    span = count(high, "day") if low == high else f"{low} to {high} days"
    return f"{name} in {span}"


def _work(status: Status) -> list[Row]:
    """The open batches, or what a refill would need now."""
    setup, state = status.setup, status.state
    found = []
    for batch in state.open_batches:
        case = case_of(setup, state, batch, status.now)
        if case is not None:
            text = f"{batch.barrel}: {_step(case)}"
            found.append(Row(f"batch:{batch.label}", "Refill", text, "warn", "refill"))
    if not found and state.level is not None:
        found.append(Row("plan", "Refill", plan_words(setup, status.plan), "text", "refill"))
    return found


def plan_words(setup: Setup, plan: Plan | NoPlan) -> str:
    """`230 L up to full: 2 batches from yard`."""
    if isinstance(plan, NoPlan):
        return plan.reason
    if not plan.batches:
        return f"none needed: the water stands at {plan.to_mark}"
    barrels = " and ".join(dict.fromkeys(batch.barrel for batch in plan.batches))
    number = count(len(plan.batches), "batch", "batches")
    text = f"{litres(setup, plan.need_l)} up to {plan.to_mark}: {number} from {barrels}"
    closed = f"; NOT NOW: {plan.closed[0].reason}" if plan.closed else ""
    return text + closed


def _step(case: Case) -> str:
    """`Treat, step 9 of 17: Wait, 6 min to go`."""
    now = progress(case)
    if now.on is None:
        return "all steps done"
    step = now.on.step
    place = f"step {now.steps.index(now.on) + 1} of {len(now.steps)}"
    left = case.wait_left_s
    wait = f", {show(left / 60, 'time', 'metric')} to go" if step.kind == "wait" and left else ""
    closed = f"; NOT YET: {now.on.closed.reason}" if now.on.closed else ""
    return f"{STAGE_TITLES[step.stage]}, {place}: {step.title}{wait}{closed}"


def flow_words(setup: Setup, flow: Flowing) -> str:
    """What runs now, for how long, and how long still."""
    what = "HOSE ON" if flow.what == "fill" else "OUTLET OPEN"
    if flow.ring == "end":
        return f"{what} for {flow.run_min:.0f} min: GO AND LOOK, shut it"
    left = "" if flow.left_min is None else f", {flow.left_min:.0f} min to go"
    held = "" if flow.held_l is None else f", {litres(setup, flow.held_l)} in it"
    return f"{what} for {flow.run_min:.0f} min{left}{held}"


def _flow_of(status: Status, barrel: str) -> Flowing | None:
    return next((row.flow for row in status.barrels if row.water.name == barrel), None)


def _barrel(status: Status, row: BarrelRow) -> Row:
    """What stands in a barrel, and whether it is safe to release."""
    setup = status.setup
    text, role = verdict(row)
    name = row.water.name
    amount = litres(setup, row.water.held_l)
    said = f"{amount} {water_words(row)}: {text}"
    if role == "quiet":
        said = f"{text}; {amount} {water_words(row).lower()} stay below it"
    more = expected_words(status, name)
    said += f"; {more}" if more else ""
    if row.flow is not None:
        said = f"{flow_words(setup, row.flow)}; {text}"
        role = "warn" if role in ("good", "quiet") else role
    head = f"{name[:1].upper()}{name[1:]}"
    if len(head) > _HEAD:
        head, said = "Barrel", f"{name}: {said}"
    return Row(f"barrel:{name}", head, said, role, "refill")


def water_words(row: BarrelRow) -> str:
    """What the water in a barrel is, in two words."""
    return "rain water" if row.words == "rain water" else _SAID.get(row.water.water, "UNKNOWN")


def verdict(row: BarrelRow) -> tuple[str, str]:
    """Whether what stands there may go to the fish, as words and their role."""
    water = row.water
    if not row.why_not:
        return "safe to release", "good"
    if row.why_not.startswith("nothing"):
        return "empty down to the outlet", "quiet"
    harmful = water.untreated_l > 0 or bool(water.unknown) or water.coloured
    if not harmful:
        return row.why_not, "warn"
    # The amount says already that it is untreated; anything else is worth its words.
    plain = water.untreated_l > 0 and not (water.unknown or water.coloured)
    return "DO NOT RELEASE" if plain else f"DO NOT RELEASE: {row.why_not}", "danger"


def round_of(status: Status) -> tuple[ChoreNow, ...]:
    """The chores of today, due or done, in the order of pond.toml: the first nine have a number,
    which stays theirs while they are ticked off one after the other."""
    return tuple(chore for chore in status.chores if chore.state in ("late", "due", "done"))


def _due(status: Status, *, roomy: bool) -> list[Row]:
    """The chores of today with their numbers: a line each, or all in one."""
    chores = round_of(status)
    told = [f"{_number(place)}{_late(chore)}" for place, chore in enumerate(chores, 1)]
    if not any(chore.state in DUE for chore in chores):
        if not chores:
            return []
        return [Row("due", "Due", f"all done for today: {len(chores)}", "good", "chores")]
    if not roomy:
        role = "warn" if any(chore.days_late > 2 for chore in chores) else "text"
        return [Row("due", "Due", "  ".join(told), role, "chores")]
    return [
        Row(f"due:{chore.name}", "Due", text, _role(chore), "chores")
        for chore, text in zip(chores, told, strict=True)
    ]


def _number(place: int) -> str:
    return f"{place} " if place <= MOST_NUMBERS else ""


def _role(chore: ChoreNow) -> str:
    return "quiet" if chore.state == "done" else "warn" if chore.days_late > 2 else "text"


def _late(chore: ChoreNow) -> str:
    if chore.state == "done":
        skipped = chore.last is not None and chore.last.skipped
        return f"{chore.name} ({'skipped' if skipped else 'done'})"
    return f"{chore.name} ({count(chore.days_late, 'day')} late)" if chore.days_late else chore.name
