"""`?` on a row of Today: how its figure came about."""

from __future__ import annotations

from pondtui.pond.refill.case import current_case, local_time
from pondtui.pond.refill.guards import pond_l
from pondtui.pond.refill.plan import NoPlan, Plan
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Alarm, PondState
from pondtui.pond.water.levels import pond_volume_l
from pondtui.pond.water.recent import Recent
from pondtui.units import show
from pondtui.views.explain import JOURNAL, Explanation
from pondtui.views.status import Status
from pondtui.views.today import loss_words, plan_words, verdict, water_words
from pondtui.views.words import litres, reading, when


def explain(status: Status, row: str) -> Explanation | None:
    """How the figure of a row came about; None for rows that hold none."""
    setup, state, now = status.setup, status.state, status.now
    what, _, name = row.partition(":")
    if what == "level":
        return _level(setup, state, now)
    if what == "loss":
        return _loss(setup, status.recent)
    if what == "plan":
        return _plan(setup, status.plan)
    if what in ("barrel", "batch"):
        barrels = {batch.label: batch.barrel for batch in state.batches}
        return _barrel(status, barrels.get(name, name))
    if what == "alarm" and name.isdigit() and int(name) < len(status.alarms):
        return _alarm(setup, status.alarms[int(name)], now)
    return None


def _level(setup: Setup, state: PondState, now: int) -> Explanation | None:
    level = state.level
    if level is None:
        return None
    day = local_time(setup, now).date()
    inputs = [
        ("read", when(setup, level.instant, now)),
        ("gauge", "read down from an edge" if setup.gauge.reads == "down" else "read up a rule"),
        ("error", f"± {show(setup.gauge.error_mm, 'length', setup.pond.units)}"),
        ("pump", level.pump or "not said"),
    ]
    if level.entry is not None and level.entry.path:
        inputs.append(("line", f"{level.entry.path}:{level.entry.line}"))
    formula = ""
    if setup.floating(day) is not None:
        volume = pond_volume_l(setup, level.reading_mm, day, pump_on=level.pump != "off")
        inputs.append(("whole pond", litres(setup, volume)))
        formula = "whole pond = floating basin up to the reading + held basins at their spill edge"
    value = reading(setup, level.reading_mm)
    return Explanation("Level", value, tuple(inputs), formula, f"{JOURNAL}; pond.toml: shapes")


def _loss(setup: Setup, recent: Recent) -> Explanation:
    inputs = [
        ("readings", str(recent.readings)),
        ("days", f"{recent.days:.1f}"),
        *(("left out", text) for text in recent.left_out),
    ]
    return Explanation(
        "Loss a day",
        loss_words(setup, recent),
        tuple(inputs),
        "slope of a line through the readings less what was put in; ± holds 95 of 100 times",
        "least squares, Snedecor & Cochran, from memory; the journal",
        ("no single number proves a leak: wind, plants and splash lose water too",),
    )


def _plan(setup: Setup, plan: Plan | NoPlan) -> Explanation:
    if isinstance(plan, NoPlan):
        return Explanation("Refill", plan.reason)
    inputs = [
        ("from", reading(setup, plan.from_mm)),
        ("to", f"{reading(setup, plan.to_mm)}, {plan.to_mark}"),
        ("water", litres(setup, plan.need_l)),
    ]
    for place, batch in enumerate(plan.batches, 1):
        text = f"{batch.barrel}, fill {litres(setup, batch.add_l)}"
        text += f", {batch.devices}" if batch.dose is not None and batch.dose > 0 else ""
        inputs.append((f"batch {place}", text))
    inputs += [("not now", verdict.words) for verdict in plan.closed]
    return Explanation(
        "What a refill needs",
        plan_words(setup, plan),
        tuple(inputs),
        "water = volume of the floating basin between the two readings",
        "pond.toml: shapes, barrels, conditioner",
        plan.notes,
    )


def _barrel(status: Status, name: str) -> Explanation | None:
    setup, now = status.setup, status.now
    row = next((each for each in status.barrels if each.water.name == name), None)
    barrel = setup.barrel_on(name, local_time(setup, now).date())
    if barrel is None or row is None:
        return None
    case = current_case(setup, status.state, barrel, now)
    water = row.water
    inputs = [
        ("stood there first", litres(setup, water.begun_l)),
        ("filled", litres(setup, water.filled_l)),
        ("corrected by looks", litres(setup, water.corrected_l)),
        ("released", litres(setup, water.released_l)),
        ("of it untreated", litres(setup, water.untreated_l)),
        ("stays below the outlet", litres(setup, case.heel_l)),
    ]
    if water.treated_at is not None:
        inputs.append(("conditioner", when(setup, water.treated_at, now)))
    if water.clear_at is not None:
        inputs.append(("tested clear", when(setup, water.clear_at, now)))
    pond = pond_l(case)
    if pond is not None:
        inputs.append(("whole pond", litres(setup, pond)))
    return Explanation(
        f"Barrel {name}",
        f"{litres(setup, water.held_l)}, {water_words(row)}: {verdict(row)[0]}",
        tuple(inputs),
        "held = stood there first + filled + corrected - released",
        JOURNAL,
        ("barrel water is not for drinking",),
    )


def _alarm(setup: Setup, alarm: Alarm, now: int) -> Explanation:
    inputs: tuple[tuple[str, str], ...] = (
        ("since", when(setup, alarm.since, now)),
        ("what to do", alarm.remedy),
    )
    if alarm.batch:
        inputs = (*inputs, ("batch", alarm.batch))
    return Explanation(f"Alarm: {alarm.name}", alarm.text, inputs, "", JOURNAL)
