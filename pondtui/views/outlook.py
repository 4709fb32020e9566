"""The outlook as text for people and as JSON; its keys are a promise."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from pondtui.pond.away.falling import TooLittle
from pondtui.pond.away.outlook import RISING, MarkAhead, Outlook
from pondtui.pond.away.say import Say
from pondtui.pond.away.weather_ahead import HOT_DAYS, PAST_YEARS
from pondtui.pond.setup.model import Setup
from pondtui.views.words import count

_ROOM = 52  # columns that dates and three values need


def as_json(found: Outlook | TooLittle) -> dict[str, Any]:
    """The answer by its keys. `chance_stated` is false where the weather known is too little for
    one: then the three are one hot course with the readings' own error."""
    if isinstance(found, TooLittle):
        return {
            "rests_on_days": 0,
            "levels": [],
            "marks": [],
            "without_rain": [],
            "chance_stated": False,
            "more_readings": found.more_readings,
            "reason": found.reason,
        }
    return {
        "rests_on_days": found.rests_on_days,
        "levels": [
            {"date": one.day.isoformat(), "p10_mm": one.p10_mm, "p50_mm": one.p50_mm,
             "p90_mm": one.p90_mm}
            for one in found.levels
        ],
        "marks": [_mark(mark) for mark in found.marks],
        "without_rain": [_mark(mark) for mark in found.without_rain],
        "chance_stated": found.stated,
        "more_readings": 0,
        "reason": "",
    }  # fmt: skip


def _mark(mark: MarkAhead) -> dict[str, str | None]:
    days = (("p10_day", mark.p10), ("p50_day", mark.p50), ("p90_day", mark.p90))
    told = {key: None if day is None else day.isoformat() for key, day in days}
    return {"name": mark.name, "role": mark.role, **told}


def next_mark(found: Outlook, today: date) -> MarkAhead | None:
    """The highest mark that the water has not come down to yet."""
    falling = (mark for mark in found.marks if mark.role not in RISING)
    return next((mark for mark in falling if mark.p50 is None or mark.p50 > today), None)


def glance(found: Outlook | TooLittle, today: date) -> str:
    """The mark that comes next, and when, in one line; "" where too little is known: what the
    level loses says then how many readings are wanted."""
    if isinstance(found, TooLittle):
        return ""
    days = f"on {count(round(found.rests_on_days), 'day')} of readings"
    mark = next_mark(found, today)
    if mark is None:
        return f"no mark lies below the water; {days}"
    last = found.levels[-1].day
    if found.stated and mark.p10 is None:
        return f"{mark.name} not by {_short(last)} with 90 %; {days}"
    if not found.stated:
        when = f"not by {_short(last)}" if mark.p50 is None else f"about {_short(mark.p50)}"
        return f"{mark.name} {when} if hot and dry, how likely is not known; {days}"
    told = ", ".join(
        f"{share} % {_short(day)}" if day is not None else f"{share} % after {_short(last)}"
        for share, day in ((10, mark.p10), (50, mark.p50), (90, mark.p90))
    )
    return f"{mark.name} by {told}; {days}"


def _short(day: date) -> str:
    return f"{day.day} {day:%b}"


def glance_json(found: Outlook | TooLittle, today: date) -> dict[str, Any]:
    """The same by keys."""
    if isinstance(found, TooLittle):
        return {"outlook": {"mark": None, "rests_on_days": 0, "chance_stated": False,
                            "more_readings": found.more_readings}}  # fmt: skip
    mark = next_mark(found, today)
    return {
        "outlook": {
            "mark": None if mark is None else _mark(mark),
            "rests_on_days": found.rests_on_days,
            "chance_stated": found.stated,
            "more_readings": 0,
        }
    }


def lines(found: Outlook | TooLittle, setup: Setup, width: int = 80) -> list[str]:
    """The answer for people, aligned; of three columns the middle one where there is no room."""
    narrow = width < _ROOM
    if isinstance(found, TooLittle):
        return [too_little(found)]
    last = found.levels[-1].day
    told = [f"The level with no help up to {last}, from the reading of {found.reading_day}"]
    told += mark_lines(found.marks, found.stated, narrow)
    if found.stated:
        told += ["without any rain", *mark_lines(found.without_rain, True, narrow)]
    told += ["", *level_lines(found, setup, narrow), "", *rests(found)]
    return told


def too_little(found: TooLittle) -> str:
    """One sentence with the way out."""
    more = f"; {count(found.more_readings, 'reading')} more" if found.more_readings else ""
    return f"too little is known: {found.reason}{more}"


def mark_lines(marks: Sequence[MarkAhead], stated: bool, narrow: bool = False) -> list[str]:
    """When each mark is reached."""
    wide = max((len(mark.name) for mark in marks), default=0)
    over = f"  {'reached by':<{wide}}  "
    if not stated or narrow:
        rows = [f"  {m.name:<{wide}}  {_day(m.p50)}" for m in marks]
        return [over + ("50 %" if stated else "hot weather"), *rows]
    rows = [f"  {m.name:<{wide}}  {_day(m.p10):<11} {_day(m.p50):<11} {_day(m.p90)}" for m in marks]
    return [over + f"{'10 %':<11} {'50 %':<11} 90 %", *rows]


def _day(day: date | None) -> str:
    return "not yet" if day is None else day.isoformat()


def level_lines(found: Outlook, setup: Setup, narrow: bool = False) -> list[str]:
    """The gauge day by day; of a long look every few days, the last one always."""
    step = max(len(found.levels) // 14, 1)
    chosen = [one for place, one in enumerate(found.levels) if (place + 1) % step == 0]
    if chosen[-1] is not found.levels[-1]:
        chosen.append(found.levels[-1])
    heads = ("10 %", "50 %", "90 %") if found.stated else ("at least", "about", "at most")
    say = Say(setup)
    start, end = (1, 2) if narrow else (0, 3)
    wide = 9 if say.metric else 12  # `13 13/16 in`
    over = f"  {'gauge on':<12}" + "".join(f"{head:>{wide}}" for head in heads[start:end])
    return [over, *(
        f"  {one.day.isoformat():<12}"
        + "".join(f"{say.gauge(mm):>{wide}}" for mm in one.readings[start:end])
        for one in chosen
    )]  # fmt: skip


def rests(found: Outlook) -> list[str]:
    """What all of it rests on."""
    what = "site factor and steady loss" if found.by_weather else "the loss of the last days"
    told = [f"rests on {found.rests_on_days:.0f} days of readings ({what})"]
    if found.kind == PAST_YEARS:
        told.append(f"weather as in {count(found.years, 'past year')} on these dates")
    else:
        kind = "hot days again and again, no rain" if found.kind == HOT_DAYS else "none known"
        told.append(f"weather assumed: {kind}. How likely that is could be told from the weather "
                    "of these dates in three past years")  # fmt: skip
    return told
