"""The plan of an absence as text for people and as JSON; its keys are a promise."""

from __future__ import annotations

from typing import Any

from pondtui.pond.away.model import Visit
from pondtui.pond.away.outlook import LONGEST_DAYS
from pondtui.pond.away.planner import Alone, Away
from pondtui.pond.away.say import Say
from pondtui.pond.away.what_if import Change
from pondtui.pond.setup.model import Setup
from pondtui.units import show
from pondtui.views.words import count


def as_json(found: Away) -> dict[str, Any]:
    """The plan by its keys. A product that is weighed has `dose_g` and `conditioner_g`."""
    unit = found.agent.unit.lower() if found.agent is not None else "ml"
    return {
        "from": found.first.isoformat(),
        "to": found.last.isoformat(),
        "mark": found.mark,
        "alone": [{"name": one.name, "chance": one.chance} for one in found.alone],
        "alone_days": found.alone_days,
        "visits": [_visit(visit, unit) for visit in found.visits],
        "chance_kept": found.chance_kept,
        "chance_kept_one_missed": found.chance_one_missed,
        "keeps_promise": found.keeps,
        "filled_first": found.filled_first,
        "water_l": found.water_l,
        f"conditioner_{unit}": found.agent.needed if found.agent is not None else None,
        "stock_lasts": found.agent.lasts if found.agent is not None else None,
        "before_leaving": list(found.before),
        "changes": [change._asdict() for change in found.changes],
        "rests_on_days": found.rests_on_days,
        "remarks": list(found.remarks),
        "more_readings": found.more_readings,
        "reason": found.reason,
    }


def _visit(visit: Visit, unit: str) -> dict[str, Any]:
    return {
        "date": visit.date.isoformat(),
        "hour": visit.hour,
        "barrel": visit.barrel,
        "add_l": visit.add_l,
        f"dose_{unit}": (visit.measured or 0.0) if visit.add_l > 0 else 0.0,
        "release_l": visit.release_l,
        "only_below_mm": visit.only_below_mm,
    }


def lines(found: Away, setup: Setup) -> list[str]:
    """The plan for people."""
    days = (found.last - found.first).days + 1
    told = [f"Away from {found.first} to {found.last}, {count(days, 'day')}"]
    if found.alone:
        told += ["with no help", *(f"  {text}" for text in alone_lines(found))]
    if found.reason:
        more = f"; {count(found.more_readings, 'reading')} more" if found.more_readings else ""
        return [*told, f"no plan: {found.reason}{more}"]
    told += ["visits", *(f"  {text}" for text in visit_lines(found, setup))]
    told += [f"  {text}" for text in promise_lines(found, setup)]
    for head, rows in (
        ("before leaving", found.before),
        ("if something happens", [change_line(setup, c, found) for c in found.changes]),
        ("remarks", found.remarks),
    ):
        if rows:
            told += [head, *(f"  {row}" for row in rows)]
    return told


def alone_lines(found: Away) -> list[str]:
    """Each mark with the chance that it is passed, and how long nobody is needed."""
    wide = max(len(one.name) for one in found.alone)
    told = [f"{one.name:<{wide}}  {_passed(one, found.stated)}" for one in found.alone]
    if found.alone_days is not None:
        days = f"{LONGEST_DAYS} days or more" if found.alone_days >= LONGEST_DAYS else count(
            found.alone_days, "day")  # fmt: skip
        told.append(
            f'nobody is needed for {days} from {found.first}: above "{found.mark}" with '
            + (f"{found.promise:.0%}" if found.stated else "hot weather; how likely is not known")
        )
    return told


def _passed(one: Alone, stated: bool) -> str:
    day = f", about {one.day}" if one.day is not None else ""
    if stated and one.chance is not None:
        return f"passed in {one.chance:.0%}{day if one.chance >= 0.5 else ''}"
    return f"passed{day} in hot weather" if day else "not passed, even in hot weather"


def visit_lines(found: Away, setup: Setup) -> list[str]:
    """Day, hour, barrel, litres."""
    if not found.visits:
        return ["none is needed" if found.keeps else "none helps"]
    return [visit_line(visit, setup) for visit in found.visits]


def visit_line(visit: Visit, setup: Setup) -> str:
    """`Tue 18 Aug 18:00  let 150 L out of "yard", left ready, if the gauge reads 75 mm or more`."""
    say = Say(setup)
    out = f'let {say.litres(visit.release_l)} out of "{visit.barrel}"'
    if visit.buckets is not None:
        out = f'carry {count(visit.buckets, "bucket")} from "{visit.barrel}"'
    if visit.add_l > 0:
        dose = f", dose {visit.measured:.6g} {visit.unit}" if visit.measured else ""
        out = f"fill in {say.litres(visit.add_l)}{dose}, test, {out}"
    elif visit.use_by is not None:
        out += f", left ready, good until {visit.use_by:%d %b}"
    below = ""
    if visit.only_below_mm is not None:
        below = f", if the gauge reads {say.below(visit.only_below_mm)}"
    return f"{visit.date:%a %d %b} {visit.hour}  {out}{below}"


def promise_lines(found: Away, setup: Setup) -> list[str]:
    """What the visits are good for, and what they take."""
    say, told = Say(setup), []
    if found.chance_kept is not None:
        missed = ""
        if found.chance_one_missed is not None:
            missed = f", {found.chance_one_missed:.0%} with any one visit missed"
        told.append(f'above "{found.mark}" in {found.chance_kept:.0%}{missed}')
    stock = found.agent
    if stock is not None and found.visits:
        lasts = {True: "it lasts", False: "it does NOT last", None: "never counted"}[stock.lasts]
        told.append(f"{say.litres(found.water_l)} of water, {stock.needed:.6g} {stock.unit} of "
                    f"conditioner: {lasts}, the emergency dose kept back")  # fmt: skip
    return told


def change_line(setup: Setup, change: Change, found: Away) -> str:
    """What a shut gate or a stopped fall does, and what that changes in the plan."""
    metric = setup.pond.units == "metric"
    at = show(abs(change.at_once_mm), "length", setup.pond.units, digits=0 if metric else 1)
    way = "rises" if change.at_once_mm >= 0 else "falls"
    text = f"{change.what}: the level {way} by {at} at once"
    if change.spills_l >= 1:
        text += f" and {Say(setup).litres(change.spills_l)} go over the edge"
    if change.evaporates < 0.995:
        text += f"; then it shows {change.evaporates:.0%} of the usual evaporation"
    return text + _replanned(setup, change, found)


def _replanned(setup: Setup, change: Change, found: Away) -> str:
    """`; left so it takes 3 visits and 320 L in place of 2 and 210 L`."""
    if change.visits is None or change.water_l is None:
        return ""
    if not change.keeps:
        return f'; left so, no visits keep it above "{found.mark}"'
    say, planned = Say(setup), len({visit.date for visit in found.visits})
    if change.visits == planned and abs(change.water_l - found.water_l) < 1:
        return "; the visits stay as they are"
    now = f"{count(change.visits, 'visit')} and {say.litres(change.water_l)}"
    return f"; left so it takes {now} in place of {planned} and {say.litres(found.water_l)}"
