"""Alarms about care: supplies, readings, chores, the clock and the files."""

from __future__ import annotations

from pondtui.pond.daily.alarm_look import DAY_S, Look
from pondtui.pond.daily.supplies import Stock
from pondtui.pond.state.model import Alarm
from pondtui.pond.state.stock import ITEM

READING_COUNTS_S = 30 * DAY_S  # an older test says nothing of today: common practice, no source
CHANGE_COUNTS_S = 2 * DAY_S  # a temperature, or a change in a day
SHORT_LIVED = ("temp", "temp_change", "ph_change", "oxygen", "chlorine_free")
GRACE_DAYS = 3  # a chore is overdue when it is late by more, and by more than its own interval


def stock(look: Look) -> list[Alarm]:
    """A supply at or under the keeper's level; conditioner under one emergency dose."""
    found = []
    for each in look.stocks:
        if not each.low or each.left is None:
            continue
        name = "stock" if each.name.casefold() == ITEM else f"stock {each.name}"
        remedy = f"buy more, and write it down: `pondtui add supply item={each.name} got=...`"
        found.append(Alarm(name, look.now, _how_low(each), remedy, "watch"))
    return found


def _how_low(each: Stock) -> str:
    has = f"{each.left} of {each.name} left"
    kept = each.kept
    if kept is not None and each.left is not None and each.left.value < kept.value:
        return f"{has}, one emergency dose of the whole pond takes {kept.value:.0f} {kept.unit}"
    return f"{has}, you wanted more at {each.reorder_at}"


def out_of_date(look: Look) -> list[Alarm]:
    """A supply past its date: conditioner must be replaced before the next batch."""
    found = []
    for each in look.stocks:
        if not each.stale(look.day):
            continue
        text = f"the {each.name} went out of date on {each.best_before}"
        if each.name.casefold() == ITEM:
            remedy = "get a new bottle and write its dates into pond.toml"
            found.append(Alarm("out-of-date", look.now, text, remedy))
        elif each.left is None or each.left.value > 0:
            remedy = "throw it away, and write down what is there now"
            name = f"out-of-date {each.name}"
            found.append(Alarm(name, look.now, text, remedy, "watch"))
    return found


def reading(look: Look) -> list[Alarm]:
    """A water test in watch or act, until a newer one is better or it is too old to count."""
    found = []
    for test in look.tests:
        keeps = CHANGE_COUNTS_S if test.name in SHORT_LIVED else READING_COUNTS_S
        if test.verdict not in ("watch", "act") or look.now - test.instant > keeps:
            continue
        text = f"{test.label} stands in {test.verdict}: {look.value(test)}"
        name = f"reading-{test.name.replace('_', '-')}"
        found.append(Alarm(name, test.instant, text, test.remedy, test.verdict))
    return found


def chores(look: Look) -> list[Alarm]:
    """Chores left undone for longer than their own interval; all of them are one alarm."""
    every = {c.name: c.every_days or (7 if c.weekdays else 31 if c.monthly else 0)
             for c in look.setup.chores}  # fmt: skip
    late = [
        c
        for c in look.chores
        if c.state == "late" and c.last and c.days_late > max(GRACE_DAYS, every.get(c.name, 0))
    ]
    if not late:
        return []
    told = ", ".join(f"{c.name} ({c.days_late} days)" for c in late)
    many = "1 chore is overdue" if len(late) == 1 else f"{len(late)} chores are overdue"
    remedy = "do it, or skip it with the reason: `pondtui chores skip NAME -m ...`"
    since = look.now - min(c.days_late for c in late) * DAY_S
    return [Alarm("chore-overdue", since, f"{many}: {told}", remedy, "watch")]


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
