"""What the keeper sees to before leaving, and whether the conditioner suffices."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from pondtui.pond.away.model import Visit
from pondtui.pond.away.say import Say
from pondtui.pond.refill.plan import reserve
from pondtui.pond.setup.days import in_year
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple


class Agent(NamedTuple):
    """Conditioner: what the plan takes, and what is there."""

    needed: float  # mL or g, for batches left ready and for such as the sitter treats
    unit: str
    left: float | None  # in the bottle now
    kept: float | None  # back, for one dose of the whole pond
    out_of_date: date | None  # before it is used last

    @property
    def lasts(self) -> bool | None:
        """Whether it suffices and is good; None where it was never counted."""
        if self.needed <= 0:
            return True
        if self.out_of_date is not None:
            return False
        return None if self.left is None else self.left - self.needed >= (self.kept or 0.0)


def agent(
    setup: Setup, state: PondState, visits: Sequence[Visit], left_ready: Iterable[float], day: date
) -> Agent:
    """For the visits, and for the doses of what is made ready on leaving."""
    conditioner = setup.conditioner_on(day)
    needed = sum(left_ready) + sum(v.measured or 0.0 for v in visits)
    last = max((v.date for v in visits if v.measured), default=day)
    best = conditioner.best_before if conditioner is not None else None
    stale = best if best is not None and needed > 0 and best < last else None
    unit = conditioner.unit if conditioner is not None else "mL"
    return Agent(needed, unit, state.conditioner_left, reserve(setup, state, day), stale)


def before_leaving(
    setup: Setup, stock: Agent, visits: Sequence[Visit], ready: Sequence[str], fill_l: float | None
) -> tuple[str, ...]:
    """In the order in which it is done. `ready` names the barrels to be made ready."""
    say, found = Say(setup), []
    targets = setup.marks_of("target")
    if targets and fill_l is not None and fill_l >= 1:
        found.append(f'fill the pond up to "{targets[0].name}": about {say.litres(fill_l)}')
    for name in ready:
        found.append(f'leave barrel "{name}" full, treated and tested clear, with a dated label: '
                     "TESTED, READY")  # fmt: skip
    if any(v.add_l > 0 for v in visits):
        found.append("leave conditioner, measure and TOTAL chlorine test where the sheet says")
    found += _stock(stock)
    if any(v.barrel for v in visits):
        found.append("rehearse one full barrel together")
    return tuple(found)


def _stock(stock: Agent) -> list[str]:
    unit = stock.unit
    if stock.needed <= 0:
        return []
    if stock.left is None:
        return [f"count the conditioner: the plan takes {stock.needed:.0f} {unit}, and one dose of "
                "the whole pond stays back"]  # fmt: skip
    if stock.out_of_date is not None:
        return [f"buy conditioner: the bottle is good until {stock.out_of_date} only"]
    lacking = stock.needed + (stock.kept or 0.0) - stock.left
    if lacking > 0:
        kept = f"{stock.kept or 0.0:.0f} {unit} kept back for one dose of the whole pond"
        return [f"buy conditioner: {lacking:.0f} {unit} are lacking, with {kept}"]
    return []


def winter(setup: Setup, first: date, last: date) -> str:
    """What is different where a day of the absence lies outside the season; "" where none does."""
    season = setup.season
    if all(in_year(day, season.start, season.end) for day in (first, last)):
        return ""
    return ("outside the season: little evaporates; frost bursts a full barrel and its pipe, so "
            "drain them where it may freeze; no food, never hammer ice")  # fmt: skip
