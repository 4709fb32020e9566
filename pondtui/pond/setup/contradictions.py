"""What must agree between the tables of pond.toml: names, levels, who runs where.

Every rule takes the things that were read, each with its place, and yields findings; one that
says `leave_out` takes the thing away, since nothing safe could rest on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from itertools import combinations
from typing import Any

from pondtui.pond.setup import shapes
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import Basin, Chore, Gauge
from pondtui.pond.setup.scalars import near
from pondtui.records import NamedTuple

Say = Callable[[float, str], str]
# From the highest level to the lowest; a warning may stand on either side of the top-up.
ORDER = ("spill", "target", "top-up", "warn", "danger")
UNORDERED = {"top-up", "warn"}
WITHOUT_TABLE = "rain"  # needs no [source.rain]: it holds no chlorine


class Thing(NamedTuple):
    """One table that was read: its value and where it stands."""

    table: str
    nth: int
    label: str  # such as `barrel "yard"`
    value: Any

    def finding(
        self, key: str, sentence: str, severity: str = "problem", leave_out: bool = False
    ) -> Finding:
        """What is wrong with this thing's key."""
        message = f"{self.label}: {key}: {sentence}" if key else f"{self.label}: {sentence}"
        return Finding(self.table, self.nth, key, message, severity, leave_out)


Things = Mapping[str, list[Thing]]


def doubles(things: Things) -> Iterator[Finding]:
    """Two of one name, unless each holds from a day of its own."""
    for table in ("basin", "barrel", "mark", "chore", "supply", "person", "conditioner"):
        seen: set[tuple[str, date | None]] = set()
        for thing in things.get(table, ()):
            day = getattr(thing.value, "since", None)
            name = getattr(thing.value, "name", "")
            name = name.casefold() if table == "chore" else name  # the journal knows it by any case
            if (name, day) in seen and day is not None:
                yield thing.finding("from", "another one holds from the same day: give each its "
                                    "own `from`, or another name", leave_out=True)  # fmt: skip
            elif (name, day) in seen:
                yield thing.finding("name", "there is another one of this name", leave_out=True)
            seen.add((name, day))


def floating(things: Things) -> Iterator[Finding]:
    """On every day no more than one basin floats."""
    all_basins = things.get("basin", [])
    told: set[int] = set()
    for day in sorted({thing.value.since for thing in all_basins}):
        float_now = [thing for thing in _on(all_basins, day) if thing.value.floats]
        if len(float_now) < 2:
            continue
        names = " and ".join(thing.value.name for thing in float_now)
        for thing in float_now:
            if thing.nth not in told:
                yield thing.finding("floats", f"{names} both float, but one gauge reads one level: "
                                    "the others are held = true", leave_out=True)  # fmt: skip
                told.add(thing.nth)


def _on(things: list[Thing], day: date) -> list[Thing]:
    """Of each name the thing that holds on the day."""
    chosen = {t.value.name: t for t in sorted(things, key=lambda t: t.value.since)
              if t.value.since <= day}  # fmt: skip
    return list(chosen.values())


def marks_in_order(things: Things, gauge: Gauge, say: Say) -> Iterator[Finding]:
    """Spill, target, top-up or warn, danger from above down; no target above a seeping edge."""
    marks = sorted(
        (thing for thing in things.get("mark", ()) if thing.value.role in ORDER),
        key=lambda thing: ORDER.index(thing.value.role),
    )
    for upper, lower in combinations(marks, 2):
        roles = {upper.value.role, lower.value.role}
        if len(roles) == 1 or roles == UNORDERED:
            continue
        if gauge.is_higher(lower.value.reading_mm, upper.value.reading_mm):
            yield lower.finding("reading", _out_of_order(lower, upper, gauge, say))
    for seep in (t for t in things.get("mark", ()) if t.value.role == "seep"):
        for target in (t for t in marks if t.value.role == "target"):
            if gauge.is_higher(target.value.reading_mm, seep.value.reading_mm):
                yield target.finding("reading", (
                    f"the target at {say(target.value.reading_mm, 'length')} stands above the edge "
                    f"that seeps at {say(seep.value.reading_mm, 'length')}: each refill leaks away"
                ), "remark")  # fmt: skip


def _out_of_order(lower: Thing, upper: Thing, gauge: Gauge, say: Say) -> str:
    return (
        f"{lower.value.role} at {say(lower.value.reading_mm, 'length')} stands above the "
        f"{upper.value.role} mark {upper.value.name} at {say(upper.value.reading_mm, 'length')} "
        f"(the gauge reads {gauge.reads}: a {'smaller' if gauge.reads == 'down' else 'larger'} "
        "reading is a higher level)"
    )


def marks_in_pond(things: Things, gauge: Gauge, say: Say) -> Iterator[Finding]:
    """No mark below the bottom of the basin that floats now, none far above its waterline."""
    basins = [thing for thing in things.get("basin", ()) if thing.value.floats]
    if not basins:
        return
    newest = max(basins, key=lambda thing: thing.value.since)
    basin: Basin = newest.value
    depth = shapes.bottom_mm(basin)
    bottom = basin.top_at_mm + (depth if gauge.reads == "down" else -depth)
    for mark in things.get("mark", ()):
        if gauge.is_higher(bottom, mark.value.reading_mm):
            yield mark.finding("reading", (
                f"{say(mark.value.reading_mm, 'length')} lies below the bottom of {basin.name}, "
                f"which the gauge would read at {say(bottom, 'length')}"
            ))  # fmt: skip
    yield from _waterline(newest, things, gauge, say)


def _waterline(pool: Thing, things: Things, gauge: Gauge, say: Say) -> Iterator[Finding]:
    """Whether `top_at` can be the reading at which the sizes hold.

    A gauge whose zero is elsewhere, and no `top_at`, would give wrong areas and litres unseen.
    """
    sign = -1 if gauge.reads == "down" else 1
    top, far = pool.value.top_at_mm, shapes.bottom_mm(pool.value) / 4
    marks = [thing.value for thing in things.get("mark", ()) if thing.value.role in ORDER]
    highest = max(marks, key=lambda mark: sign * mark.reading_mm, default=None)
    rise = sign * (highest.reading_mm - top) if highest else 0.0
    if highest and abs(rise) > far:
        where = "above" if rise > 0 else "below"
        yield pool.finding("top_at", (
            f"the highest mark, {highest.name} at {say(highest.reading_mm, 'length')}, stands far "
            f"{where} the waterline, which the gauge would read at {say(top, 'length')}: write the "
            "reading at which the sizes hold"
        ), "problem" if rise > 0 else "remark")  # fmt: skip


def barrels_and_pond(things: Things, spoilt: set[tuple[str, str]]) -> Iterator[Finding]:
    """A barrel runs into a basin that is there and is filled from a source that is there.

    `spoilt` names what is there but wrong, which has been told already.
    """
    basins = tuple(dict.fromkeys(thing.value.name for thing in things.get("basin", ())))
    sources = tuple(thing.value.name for thing in things.get("source", ()))
    for barrel in things.get("barrel", ()):
        into, source = barrel.value.into, barrel.value.source
        if ("basin", into) in spoilt and into not in basins:
            yield barrel.finding("into", f"left out until the basin {into} is right", "remark",
                                 leave_out=True)  # fmt: skip
        elif into and into not in basins:
            known = ", ".join(basins) or "none"
            yield barrel.finding("into", f"there is no basin {into} (there is: {known})"
                                 f"{near(into, basins)}", leave_out=True)  # fmt: skip
        if source not in sources and source != WITHOUT_TABLE and ("source", source) not in spoilt:
            yield barrel.finding("source", f"there is no [source.{source}]: write one, or another "
                                 f"source{near(source, sources)}")  # fmt: skip


def chores_and_others(things: Things, occasions: tuple[str, ...]) -> Iterator[Finding]:
    """A chore's person is on the list, and what it comes after is a thing that can happen."""
    persons = {n for p in things.get("person", ()) for n in (p.value.name, p.value.initials) if n}
    chores = tuple(chore.value.name for chore in things.get("chore", ()))
    known = (*occasions, *chores)
    for mark in things.get("mark", ()):
        if mark.value.rising and mark.value.rising.casefold() in {c.casefold() for c in chores}:
            yield mark.finding("rising", f"there is a [[chore]] {mark.value.rising} too, and one "
                               "tick would count for both: give it another name")  # fmt: skip
    for supply in things.get("supply", ()):
        used_by = supply.value.used_by
        if used_by and used_by not in known:
            yield supply.finding("used_by", f"{used_by} is no chore and no kind of entry"
                                 f"{near(used_by, known)}", "remark")  # fmt: skip
    for chore in things.get("chore", ()):
        person = chore.value.person
        if person and person not in persons:
            yield chore.finding("person", f"there is no [[person]] {person}"
                                f"{near(person, tuple(sorted(persons)))}", "remark")  # fmt: skip
        for after in occasions_of(chore.value):
            if after == chore.value.name:
                yield chore.finding("after", "it would come after itself, and so never: name what "
                                    "it comes after", leave_out=True)  # fmt: skip
            elif after not in known:
                yield chore.finding("after", f"{after} is no event, kind of entry or chore"
                                    f"{near(after, known)}", "remark")  # fmt: skip


def occasions_of(chore: Chore) -> tuple[str, ...]:
    """What a chore comes after, one by one."""
    return tuple(word.strip() for word in chore.after.split(",") if word.strip())
