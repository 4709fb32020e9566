"""The numbered tasks of a visit: short enough for a message, and each one entry in the journal."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from pondtui.errors import InputError
from pondtui.pond.away.model import Planned, Task, Visit
from pondtui.pond.away.say import Say
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.units import convert

LONGEST = 1500  # characters of a visit, so that it fits a message
_HEAD = 160  # of them for its first lines
_SPACING = 7  # between number, text and what to answer, with the breaks of an 80-column line
_SHORTEST = 24  # of a text that is cut


def plan_tasks(setup: Setup, visits: Iterable[Visit], *, feed: bool = True) -> tuple[Planned, ...]:
    """The visits in their order, numbered, with their tasks. Raises InputError."""
    ordered = sorted(visits, key=lambda v: (v.date, v.hour))
    planned, before = [], None
    for number, visit in enumerate(ordered, 1):
        looks = visit.date != before
        before = visit.date
        found = [*(_look(setup, feed=feed) if looks else []), *_refill(setup, visit)]
        found += [Task("", t, t, "chore", {"name": _plain(t)}) for t in visit.tasks]
        planned.append(Planned(number, visit, _numbered(setup, number, visit, found)))
    return tuple(planned)


def start_of(setup: Setup, visit: Visit) -> datetime:
    """When a visit begins, by the pond's clock. Raises InputError for an hour that is none."""
    try:
        naive = datetime.fromisoformat(f"{visit.date.isoformat()}T{visit.hour}:00")
    except ValueError:
        raise InputError(f"an hour such as 18:00, not {visit.hour}") from None
    return naive.replace(tzinfo=ZoneInfo(setup.pond.time_zone))


def _numbered(setup: Setup, number: int, visit: Visit, found: list[Task]) -> tuple[Task, ...]:
    """The tasks with their numbers, texts cut where the message would grow too long, and stamps
    a minute apart, so that their entries keep their order."""
    start = start_of(setup, visit)
    frame = sum(len(f"{number}.{place}{task.asks}") + _SPACING for place, task in enumerate(found))
    room = LONGEST - _HEAD - frame
    limit = max((len(task.text) for task in found), default=0)
    while sum(min(len(task.text), limit) for task in found) > room and limit > _SHORTEST:
        limit -= 1
    return tuple(
        task._replace(
            number=f"{number}.{place}",
            text=_cut(task.text, limit),
            instant=int((start + timedelta(minutes=place)).timestamp()),
        )
        for place, task in enumerate(found, 1)
    )


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1].rstrip() + "…"


def _plain(text: str) -> str:
    """A text as a field of the journal may hold it."""
    return text.replace(";", ",").replace("|", "/")


def _look(setup: Setup, *, feed: bool) -> list[Task]:
    """The two-minute look."""
    say = Say(setup)
    way = "from the fixed edge down to the water" if say.down else "on the rule, at the water"
    found = [
        Task("", "look at fish", "Fish: all up and about, none gasping at the top, none lying "
             "still?", "chore", {"name": "look at fish"}),
        Task("", "pump, fall and air", "Pump, fall and air run as usual?", "chore",
             {"name": "pump, fall and air running"}),
        Task("", "gauge", f"Read the gauge {way}.", "level", {}, "reading", "length",
             say.length_unit),
        Task("", "water temperature", "Water temperature, where a thermometer hangs.", "test",
             {"where": "pond"}, "temp", "temperature", say.temp_unit),
    ]  # fmt: skip
    if feed:
        found.append(Task("", "feed", "Feed one packet. In doubt, nothing.", "chore",
                          {"name": "feed"}))  # fmt: skip
    return found


def _refill(setup: Setup, visit: Visit) -> list[Task]:
    """What is done to the visit's barrel. Raises InputError for one that is not described."""
    if not visit.barrel:
        return []
    barrel = setup.barrel_on(visit.barrel, visit.date)
    if barrel is None:
        raise InputError(f"visit of {visit.date}: no barrel is called {visit.barrel}")
    ready = _fill(setup, barrel, visit) if visit.add_l > 0 else _ready(barrel, visit)
    return [*ready, *_let_out(setup, barrel, visit)]


def _step(visit: Visit, step: str, title: str, text: str) -> Task:
    """A step of the refill: ticked where the batch has a label, else a note."""
    if not visit.batch:
        return Task("", title, text)
    return Task("", title, text, "tick", {"step": step, "batch": visit.batch})


def _ready(barrel: Barrel, visit: Visit) -> list[Task]:
    if barrel.source == "rain":
        return []
    by = f", and today is not after {visit.use_by:%a %d %b}" if visit.use_by else ""
    text = f'Label on barrel "{barrel.name}" says TESTED, READY{by}? If not: open nothing, ring.'
    return [_step(visit, "agree", "label read", text)]


def _fill(setup: Setup, barrel: Barrel, visit: Visit) -> list[Task]:
    """The sitter fills and treats: only where the keeper has rehearsed it."""
    say, name = Say(setup), f'"{barrel.name}"'
    early = f" Ring yourself after {say.minutes(visit.fill_min * 0.8)}." if visit.fill_min else ""
    amount, batch = say.litres(visit.add_l), {"batch": visit.batch} if visit.batch else {}
    found = [
        _step(visit, "outlet-shut", "outlet shut", f"Barrel {name}: outlet shut?"),
        _step(visit, "hose-above-rim", "hose above the rim", "Hose end fixed above the rim?"),
        Task("", "fill", f"Fill in {amount}, stay beside it.{early}", "fill",
             {"barrel": barrel.name, **batch, "source": barrel.source}, "added", "volume",
             say.volume_unit, amount),
        _step(visit, "tap-shut", "tap shut", "Tap shut at the wall, hose out?"),
    ]  # fmt: skip
    if visit.measured:
        dose = f"{visit.measured:g} {visit.unit}"
        treated = f"{convert(visit.treat_l, 'L', say.volume_unit):.6g} {say.volume_unit}"
        found += [
            Task("", "dose", f"Conditioner: {visit.devices or dose}.", "treat",
                 {"barrel": barrel.name, **batch, "for": treated}, "dose",
                 "dose", visit.unit, dose),
            _step(visit, "mix", "mixed", "Stir down to the bottom, then wait "
                  f"{say.minutes(visit.wait_min or 10)}."),
            Task("", "chlorine test", "TOTAL chlorine test of the barrel. Any colour: open "
                 "nothing, ring.", "test", {"where": barrel.name}, "chlorine_total", "chlorine",
                 "mg/L"),
        ]  # fmt: skip
    return found


def _let_out(setup: Setup, barrel: Barrel, visit: Visit) -> list[Task]:
    say = Say(setup)
    only = ""
    if visit.only_below_mm is not None:
        only = f"Only if the gauge reads {say.below(visit.only_below_mm)}: "
    batch = {"batch": visit.batch} if visit.batch else {}
    amount = say.litres(visit.release_l)
    fields = {"barrel": barrel.name, **batch} | ({"to": barrel.into} if barrel.into else {})
    if visit.buckets is not None:
        how = f"carry {visit.buckets} buckets of {say.litres(barrel.bucket_l)} over"
        text = f'{only}{how} from "{barrel.name}" ({amount}), pour onto a plate or the bay.'
        return [Task("", "release", _first(text), "release", fields, "out", "volume",
                     say.volume_unit, amount)]  # fmt: skip
    minutes = "" if visit.release_min is None else f", about {say.minutes(visit.release_min)}"
    text = f'{only}open the outlet of "{barrel.name}" for {amount}{minutes}. Stay. Then shut it.'
    return [
        Task("", "release", _first(text), "release", fields, "out", "volume", say.volume_unit,
             amount),
        _step(visit, "outlet-shut-again", "outlet shut again", "Outlet shut, and seen shut?"),
        Task("", "gauge after", "Read the gauge again.", "level", {}, "reading", "length",
             say.length_unit),
    ]  # fmt: skip


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
