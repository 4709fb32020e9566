"""The rules behind the alarms: each looks at one thing and says what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from pondtui.errors import Problem
from pondtui.pond.daily.times import ran
from pondtui.pond.refill.case import case_of, local_time
from pondtui.pond.refill.plan import reserve
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import flowing
from pondtui.pond.setup.barrels import heel_l
from pondtui.pond.setup.days import in_year
from pondtui.pond.setup.model import Mark, Setup
from pondtui.pond.state.barrels import EMPTIED_L
from pondtui.pond.state.model import Alarm, PondState
from pondtui.pond.state.stock import ITEM, amount
from pondtui.pond.water.levels import reading_up
from pondtui.pond.water.recent import marks_ahead, recent_loss
from pondtui.units import show

DAY_S = 86_400
READING_KEEPS_S = 2 * DAY_S  # in season: common practice, no source
BATCH_KEEPS_S = DAY_S
WITHIN_DAYS = 2.0  # the next mark is within reach: time for one more look and a barrel
LATE = 1.1  # of the predicted time


class Look(NamedTuple):
    """What the rules look at."""

    setup: Setup
    state: PondState
    now: int
    problems: Sequence[Problem]

    @property
    def day(self) -> date:
        """Today at the pond."""
        return local_time(self.setup, self.now).date()

    def length(self, mm: float) -> str:
        """A length in the pond's own units, as on a rule."""
        return show(mm, "length", self.setup.pond.units, rule=True)

    def when(self, instant: int) -> str:
        """An instant by the pond's clock."""
        return f"{local_time(self.setup, instant):%Y-%m-%d %H:%M}"


def past_mark(look: Look) -> list[Alarm]:
    """The level at or past a mark: of the falling ones the lowest, and a spill edge."""
    level = look.state.level
    if level is None:
        return []
    up = reading_up(look.setup, level.reading_mm)

    def height(mark: Mark) -> float:
        return reading_up(look.setup, mark.reading_mm)

    under = [m for m in look.setup.marks_of("warn", "danger") if up <= height(m)]
    over = [m for m in look.setup.marks_of("spill") if up >= height(m)]
    read = f"the level read {look.length(level.reading_mm)}"
    found = []
    if under:
        mark = min(under, key=height)
        danger = mark.role == "danger"
        text = f"{read}: it has come to {mark.name} ({look.length(mark.reading_mm)})"
        remedy = "read it again, then refill: `pondtui plan` works it out"
        if danger:
            remedy = "look at the pump and the fish, then refill: `pondtui plan` works it out"
        severity = "act" if danger else "watch"
        found.append(Alarm(f"level-{mark.role}", level.instant, text, remedy, severity))
    if over:
        mark = max(over, key=height)
        text = f"{read}: it stands at {mark.name} ({look.length(mark.reading_mm)})"
        remedy = "let nothing in, see where it runs to, and write down an overflow"
        found.append(Alarm("level-spill", level.instant, text, remedy, "watch"))
    return found


def near_mark(look: Look) -> list[Alarm]:
    """The next warn or danger mark is within two days, by the last readings."""
    ahead = marks_ahead(look.setup, look.state, recent_loss(look.setup, look.state))
    coming = next((mark for mark in ahead if mark.role in ("warn", "danger")), None)
    level = look.state.level
    if coming is None or level is None:
        return []
    if coming.days_mid is None or coming.days_mid > WITHIN_DAYS:
        return []
    days = "today" if coming.days_mid < 1 else "tomorrow or the day after"
    text = f"{coming.name} is {look.length(coming.below_mm)} under the water: reached {days}"
    remedy = "read the level, and refill: `pondtui plan` works it out"
    return [Alarm("level-near", level.instant, text, remedy, "watch")]


def old_reading(look: Look) -> list[Alarm]:
    season = look.setup.season
    if not in_year(look.day, season.start, season.end):
        return []
    level = look.state.level
    remedy = "read the gauge and write it down: `pondtui add level reading=...`"
    if level is None:
        return [Alarm("reading-old", look.now, "the gauge was never read", remedy, "watch")]
    age = look.now - level.instant
    if age <= READING_KEEPS_S:
        return []
    text = f"the level was last read {age / DAY_S:.0f} days ago"
    return [Alarm("reading-old", level.instant + READING_KEEPS_S, text, remedy, "watch")]


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


def stock(look: Look) -> list[Alarm]:
    """Conditioner under the reserve of one emergency dose, or under the keeper's own level."""
    left = look.state.conditioner_left
    conditioner = look.setup.conditioner_on(look.day)
    if left is None or conditioner is None:
        return []
    kept = reserve(look.setup, look.state, look.day)
    unit = conditioner.unit
    has = f"{left:.0f} {unit} of conditioner are left"
    remedy = "buy more, and write it down: `pondtui add supply item=conditioner got=...`"
    if kept is not None and left < kept:
        text = f"{has}, one emergency dose of the whole pond takes {kept:.0f} {unit}"
        return [Alarm("stock", look.now, text, remedy, "watch")]
    for supply in look.setup.supplies:
        level = amount(supply.reorder_at, unit, look.setup.gallon)
        if supply.name.strip().lower() == ITEM and level is not None and left <= level:
            text = f"{has}, you wanted more at {supply.reorder_at}"
            return [Alarm("stock", look.now, text, remedy, "watch")]
    return []


def out_of_date(look: Look) -> list[Alarm]:
    conditioner = look.setup.conditioner_on(look.day)
    if conditioner is None or conditioner.best_before is None:
        return []
    if look.day <= conditioner.best_before:
        return []
    text = f"the conditioner went out of date on {conditioner.best_before}"
    remedy = "get a new bottle and write its dates into pond.toml"
    return [Alarm("out-of-date", look.now, text, remedy)]


def clock(look: Look) -> list[Alarm]:
    later = look.state.later
    if not later:
        return []
    first = min(later, key=lambda entry: entry.instant)
    many = "1 entry lies" if len(later) == 1 else f"{len(later)} entries lie"
    text = f"{many} in the future and do not count yet, the first at {look.when(first.instant)}"
    remedy = "set the clock of this device and of the one that wrote them, strike what is wrong"
    return [Alarm("clock", look.now, text, remedy)]


def files(look: Look) -> list[Alarm]:
    wrong = [p for p in look.problems if p.severity == "problem"]
    if not wrong:
        return []
    more = f", and {len(wrong) - 1} more" if len(wrong) > 1 else ""
    text = f"not all could be read: {wrong[0]}{more}"
    return [Alarm("files", look.now, text, "`pondtui check` shows each with the way out", "watch")]


RULES: tuple[Callable[[Look], list[Alarm]], ...] = (
    past_mark,
    near_mark,
    old_reading,
    open_batch,
    old_water,
    running_on,
    stock,
    out_of_date,
    clock,
    files,
)
