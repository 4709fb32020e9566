"""Parts 3 to 6 and 9 of the sheet: the look, feeding, what never to do, topping up, places."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pondtui.pond.away.amounts import dose_grid
from pondtui.pond.away.model import Block, Drawing, Grid, Items, Planned, Words
from pondtui.pond.away.people import BLANK
from pondtui.pond.away.say import Say
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import PondState
from pondtui.pond.water.recent import recent_loss
from pondtui.units import show

_WEEKS_S = 14 * 86_400
_SEASON_S = 60 * 86_400  # an older count of heads tells nothing any more


def look(setup: Setup, state: PondState, entries: Sequence[Entry]) -> tuple[Block, ...]:
    """What to look at, and what normal looks like here."""
    say = Say(setup)
    way = "down from the fixed edge to the water: a LARGER number is LOWER water"
    if not say.down:
        way = "on the rule at the water: a SMALLER number is LOWER water"
    steps = (
        "Fish: up and about, none gasping, none hiding that usually shows. Count heads.",
        "Pump, fall and air: running as usual? Weak: clean the intake, pump unplugged first.",
        f"Gauge: read {way}.",
        "Water temperature, where a thermometer hangs. Basket: empty it when half full.",
        "Anything odd: smell, foam, wet ground, an animal, a lid off.",
    )
    normal = [*_normal(setup, state, entries)]
    house = setup.house.normal or (BLANK if not normal else "")
    rows = (*([house] if house else []), *normal)
    level = state.level.reading_mm if state.level is not None else None
    return (Items("1", steps), Items("-", rows, "Normal here"), Drawing(level))


def _normal(setup: Setup, state: PondState, entries: Sequence[Entry]) -> list[str]:
    """What the journal says is normal: level, loss, temperature, heads."""
    say = Say(setup)
    found = []
    since = state.now - _WEEKS_S
    read = [r.reading_mm for r in state.levels if since <= r.instant <= state.now]
    if read:
        low, high = min(read), max(read)
        same = say.gauge(low) == say.gauge(high)
        span = f"at {say.gauge(low)}" if same else f"from {say.gauge(low)} to {say.gauge(high)}"
        found.append(f"gauge {span} in the last two weeks")
    loss = recent_loss(setup, state).loss_mm_per_day
    if loss is not None and loss > 0:
        rate = show(loss, "depth_rate", say.system, digits=0 if say.metric else 2)
        found.append(f"the water falls by about {rate} in dry weather")
    temps = [
        e.values["temp"]
        for e in entries
        if "temp" in e.values
        and since <= e.instant <= state.now
        and (e.kind == "level" or (e.kind == "test" and e.get("where") == "pond"))
    ]
    if temps:
        found.append(f"water {say.temp(min(temps))} to {say.temp(max(temps))}")
    heads = {
        str(e.get("kind")): e
        for e in entries
        if e.kind == "count" and state.now - _SEASON_S <= e.instant <= state.now
    }
    seen = [
        (kind, e) for kind, e in heads.items() if e.get("number")
    ]  # none left is nothing to see
    found += [f"{e.get('number')} {kind}, last counted {e.stamp[:10]}" for kind, e in seen]
    return found


def feeding(setup: Setup, *, cold: bool) -> tuple[Block, ...]:
    """Packets, and nothing when in doubt."""
    say = Say(setup)
    rows = [
        setup.house.food or f"Pre-measured packets, one a feed. They are: {BLANK}",
        "Only what is eaten in five minutes; take the rest out.",
        "In doubt feed NOTHING: a week or two without is fine.",
        "Nothing after chlorine, a power cut, or while fish gasp or lie still.",
    ]
    if cold:
        rows.insert(0, f"The water is cold: NO food while it is below {say.temp(10.0)}.")
    blocks: list[Block] = [Items("-", tuple(rows))]
    bands = [
        (f"{say.temp(low)} to {say.temp(high)}", _often(every))
        for chore in setup.chores
        for low, high, every in chore.water
    ]
    if bands:
        coldest = min(low for chore in setup.chores for low, _, _ in chore.water)
        rows_ = [(f"below {say.temp(coldest)}", "none"), *bands]
        blocks.append(Grid("By the water's temperature", ("water", "feed"), tuple(rows_)))
    return tuple(blocks)


def _often(every_min: float) -> str:
    """`once a day`, `every 3 days`, `twice a day`."""
    if abs(every_min - 1440) < 1:
        return "once a day"
    if every_min < 1440:
        return f"{1440 / every_min:.2g} times a day"
    return f"every {every_min / 1440:.2g} days"


def never() -> tuple[Block, ...]:
    """What must not be done."""
    return (
        Items("x", (
            "let tap water into the pond by hose, not even a little",
            "leave a running hose, not for a minute",
            "use any bottle that is not on this sheet",
            "wash the filter under the tap",
            "switch the pump off (but as part 8 says)",
            "bring new fish, snails or plants",
            "let children lean over the water or play at the barrels",
            "open an outlet before the label says TESTED, READY",
        )),
    )  # fmt: skip


def topping_up(
    setup: Setup, state: PondState, planned: Sequence[Planned], day: date
) -> tuple[Block, ...]:
    """The usual hand-over, and the dose table for the day on which it has to be done in full."""
    say = Say(setup)
    when = "Only on the visits that say so" if planned else "Only if the keeper asked for it"
    fills = [p for p in planned if p.visit.add_l > 0]
    blocks: list[Block] = [
        Words(
            f"{when}, and only {_low_enough(setup, planned)}. The barrel was left filled, treated "
            "and tested; you open its outlet and shut it, no more."
        ),
        Items("1", (
            "Read the label on the barrel: TESTED, READY, and its last day. If not: open nothing.",
            "Read the gauge. Not low enough: leave it for another day.",
            "Open the outlet slowly. Stay. Shut it at the amount of the visit's task.",
            "See that it is shut. Read the gauge again. Write both down.",
        )),
    ]  # fmt: skip
    if not fills:
        blocks.append(
            Words("Filling a barrel yourself: only if you rehearsed it together. Hose end above "
                  "the rim, stay beside it, tap shut at the wall, hose out, THEN the dose for all "
                  "the water that stands there:")
        )  # fmt: skip
    for barrel in setup.barrels_on(day):
        grid = dose_grid(setup, state, barrel, day)
        if grid is not None:
            blocks.append(grid)
    conditioner = setup.conditioner_on(day)
    wait = say.minutes(conditioner.wait_min) if conditioner is not None else BLANK
    blocks.append(
        Words(f"Between two rows take the LARGER dose. Stir, wait {wait}, test TOTAL chlorine: any "
              "colour, open nothing and ring.")
    )  # fmt: skip
    return tuple(blocks)


def _low_enough(setup: Setup, planned: Sequence[Planned]) -> str:
    """How low the water must stand: for a planned batch, so low that all of it has room."""
    say = Say(setup)
    marks = setup.marks_of("top-up") or setup.marks_of("target")
    named = f'below the mark "{marks[0].name}"' if marks else "when the water is low"
    levels = {p.visit.only_below_mm: p.visit.barrel for p in planned if p.visit.only_below_mm}
    if levels:
        told = ", ".join(f'{say.below(mm)} for "{barrel}"' for mm, barrel in levels.items())
        return f"{named}, when the gauge reads {told}"
    return f"{named}, gauge {say.below(marks[0].reading_mm)}" if marks else named


def places(setup: Setup) -> tuple[Block, ...]:
    """Where supplies stand, and lines for the rest."""
    rows = [f"{s.name}: {s.place or BLANK}" for s in setup.supplies]
    named = " ".join(s.name.casefold() for s in setup.supplies)
    for thing in ("conditioner", "syringe or cup", "chlorine test (TOTAL)", "net", "food", "torch"):
        if thing.split()[0] not in named:
            rows.append(f"{thing}: {BLANK}")
    return (Items("-", tuple(rows)),)
