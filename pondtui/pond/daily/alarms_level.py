"""Alarms about the level: at or past a mark, near one, too long not read."""

from __future__ import annotations

from pondtui.pond.daily.alarm_look import DAY_S, Look
from pondtui.pond.setup.days import in_year
from pondtui.pond.setup.model import Mark
from pondtui.pond.state.model import Alarm
from pondtui.pond.water.levels import reading_up
from pondtui.pond.water.recent import marks_ahead, recent_loss

READING_KEEPS_S = 2 * DAY_S  # in season: common practice, no source
WITHIN_DAYS = 2.0  # the next mark is within reach: time for one more look and a barrel


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
