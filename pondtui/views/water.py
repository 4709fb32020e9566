"""The water budget as rows and sentences, for the screen, the command line and paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget import (
    INS,
    OUTS,
    Budget,
    Period,
    Terms,
    covered,
    more_readings,
)
from pondtui.pond.water.loss import INCONCLUSIVE, MORE_READINGS, NONE_FOUND, STEADY_LOSS
from pondtui.pond.water.normal import Normal, surely_more
from pondtui.pond.water.recent import Recent
from pondtui.pond.water.spent import Spent, price_per_l
from pondtui.units import convert, show
from pondtui.views.words import count, litres

WORDS = {
    "start": "water at the start",
    "rain": "rain",
    "downpipe": "from the roof",
    "released": "from barrels",
    "direct": "put in straight",
    "evaporation": "evaporation",
    "steady": "steady loss",
    "overflow": "ran over",
    "drained": "taken out",
    "residual": "not explained",
    "end": "water at the end",
}
UNKNOWN = "?"
NEEDS = "two readings of the gauge are needed, a day apart at least: l on Today writes one down"
VERDICTS = {
    STEADY_LOSS: "more is lost than the weather takes: animals, splash, falls or a leak",
    NONE_FOUND: "what is lost follows the weather",
    INCONCLUSIVE: "these readings do not decide whether all of it follows the weather",
    MORE_READINGS: "too few readings to part what follows the weather from what does not",
}


class Line(NamedTuple):
    """A term of the budget in the pond's units, as texts."""

    name: str
    sign: str  # "+", "-", "=" or nothing
    words: str
    volume: str
    error: str
    depth: str
    money: str
    role: str = "text"


class Heads(NamedTuple):
    """What stands over the columns."""

    volume: str
    depth: str
    money: str  # "" where the water has no price


def heads(setup: Setup) -> Heads:
    """Units of the columns."""
    system = setup.pond.units
    volume = {"us": "US gal", "imperial": "imp gal"}.get(system, "L")
    money = setup.pond.currency or "money"
    return Heads(volume, "mm" if system == "metric" else "in", money if _priced(setup) else "")


def table(period: Period, setup: Setup) -> list[Line]:
    """Every term of a period, from the water at the start to that at the end."""
    return [_line(period, setup, name) for name in Terms._fields]


def _line(period: Period, setup: Setup, name: str) -> Line:
    value, error = getattr(period.terms, name), getattr(period.errors, name)
    stands = name in ("start", "end")
    sign = "+" if name in INS else "-" if name in OUTS else "=" if name == "end" else ""
    role = "danger" if name == "residual" and period.unexplained else "text"
    if value is None:
        return Line(name, sign, WORDS[name], UNKNOWN, "", "", "", "quiet")
    if value == 0 and not stands and name not in ("steady", "residual"):
        role = "quiet"
    return Line(
        name, sign, WORDS[name], volume(setup, value),
        volume(setup, error) if error and round(error) else "",
        "" if stands else _depth(setup, value, period.area_m2),
        "" if stands else _money(setup, value), role,
    )  # fmt: skip


def volume(setup: Setup, value_l: float) -> str:
    """Litres or gallons without their unit, for a column."""
    unit = heads(setup).volume
    amount = value_l if unit == "L" else convert(value_l, "L", unit)
    return f"{round(amount) + 0:d}" if abs(amount) >= 9.5 or not amount else f"{amount:.1f}"


def _depth(setup: Setup, value_l: float, area_m2: float) -> str:
    if area_m2 <= 0:
        return ""
    mm = value_l / area_m2
    return f"{round(mm) + 0:d}" if setup.pond.units == "metric" else f"{mm / 25.4:.1f}"


def _money(setup: Setup, value_l: float) -> str:
    price = price_per_l(setup)
    return "" if price is None else f"{value_l * price:.2f}"


def _priced(setup: Setup) -> bool:
    return price_per_l(setup) is not None


def sums(terms: Terms) -> tuple[float, float]:
    """What came in, and what left by ways that are known."""
    came = sum(getattr(terms, name) or 0.0 for name in INS)
    return came, sum(getattr(terms, name) or 0.0 for name in OUTS if name != "residual")


def notes(found: Budget, setup: Setup) -> list[str]:
    """What has to be known to read the numbers rightly, the gravest first."""
    if not covered(found):
        return [NEEDS]
    told = [_residual_note(found, setup), *_loss_notes(found, setup)]
    missing = round(found.without_weather)
    if missing:
        told.append(f"no weather for {count(missing, 'day')}: what they evaporated is not counted "
                    "and stands in the part not explained")  # fmt: skip
    if not found.rain_known:
        told.append("no rain is written down and no table tells it: rain stands, as a minus, in "
                    "the part not explained")  # fmt: skip
    if found.since_l > 0.5:
        told.append(f"{litres(setup, found.since_l)} went in after the last reading: it counts "
                    "once the gauge is read again")  # fmt: skip
    return told


def _residual_note(found: Budget, setup: Setup) -> str:
    rest, error = found.whole.terms.residual, found.whole.errors.residual
    if rest is None or error is None:
        return NEEDS
    side = "lost" if rest > 0 else "gained"
    amount = f"{litres(setup, abs(rest))} {side} that nothing explains"
    if not found.whole.unexplained:
        return f"{amount}: within the ± {litres(setup, error)} that the errors allow"
    look = "not every leak, overflow or drain" if rest > 0 else "not all rain or water put in"
    return (f"{amount}: MORE than the ± {litres(setup, error)} that the errors allow; {look} is "
            "written down")  # fmt: skip


def _loss_notes(found: Budget, setup: Setup) -> Iterator[str]:
    """The split of the loss, and how far it can be trusted."""
    whole, losses = found.whole, found.losses
    if found.loss is None or losses.steady_mm is None:
        more = max(more_readings(found), 1)
        yield (
            f"too few readings to tell a steady loss: {count(more, 'more daily reading')}; till "
            "then it stands in the part not explained, and evaporation is a first guess"
        )
        return
    both = (whole.terms.evaporation or 0.0) + (whole.terms.steady or 0.0)
    if whole.loss_error_l is not None:
        yield (f"evaporation and steady loss together: {litres(setup, both)} ± "
               f"{litres(setup, whole.loss_error_l)}; which is which is less sure")  # fmt: skip
    more = more_readings(found)
    need = f": {count(more, 'more daily reading')}" if more else ""
    yield f"{VERDICTS.get(found.loss.verdict, found.loss.verdict)}{need}"
    if found.loss.changed_on is not None:
        yield (f"the steady loss changed about {found.loss.changed_on:%d %b}: one number for all "
               "days is wrong, look at the months")  # fmt: skip


def used_words(used: Spent, setup: Setup) -> str:
    """Tap water, barrels, conditioner, money."""
    parts = [
        f"{volume(setup, used.tap_l)} {heads(setup).volume} of tap water",
        count(used.barrels, "barrel"),
        f"{used.conditioner:.4g} {used.unit} of conditioner",
    ]
    if used.cost is not None:
        parts.append(f"{used.cost:.2f} {setup.pond.currency}".strip())
    return ", ".join(parts)


def against(now: Budget, before: Budget | None, setup: Setup) -> str:
    """This season beside the last one, to the same day; "" where that one was not kept."""
    if before is None or not (covered(before) and covered(now)):
        return ""
    came, lost = sums(before.whole.terms)
    return (f"last season to the same day: {litres(setup, came)} in, {litres(setup, lost)} out, "
            f"{used_words(before.whole.spent, setup)}")  # fmt: skip


def season_words(found: Budget, setup: Setup) -> str:
    """`in 6080 L, out 6250 L, not explained -126 ± 363 L`."""
    rest, error = found.whole.terms.residual, found.whole.errors.residual
    if rest is None or error is None:
        return "not known yet: the gauge has to be read twice"
    came, lost = sums(found.whole.terms)
    beyond = ", MORE than the errors allow" if found.whole.unexplained else ""
    unit = heads(setup).volume
    return (f"in {volume(setup, came)} {unit}, out {volume(setup, lost)} {unit}, not explained "
            f"{volume(setup, rest)} ± {volume(setup, error)} {unit}{beyond}")  # fmt: skip


def normal_words(usual: Normal, recent: Recent, setup: Setup) -> str:
    """`4.6 ± 0.8 mm is normal for this weather`."""
    system = setup.pond.units
    if system == "metric":
        told = f"{usual.mm_per_day:.1f} ± {usual.error_mm_per_day:.1f}"
    else:
        shown = (show(v, "depth_rate", system, digits=2).replace("/day", "") for v in usual)
        told = " ± ".join(shown)
    if surely_more(recent, usual):
        return f"MORE than the {told} normal for this weather"
    return f"{told} is normal for this weather"


def lines(found: Budget, setup: Setup, before: Budget | None) -> list[str]:
    """The budget for people, as plain lines."""
    whole = found.whole
    told = [f"{setup.pond.name}, water from {whole.first} to {whole.last}"]
    if covered(found):
        told += ["", *table_lines(whole, setup)]
    told += ["", *(f"note  {note}" for note in notes(found, setup))]
    told.append(f"used  {used_words(whole.spent, setup)}")
    last = against(found, before, setup)
    told += [f"used  {last}"] if last else []
    shown = [p for p in found.periods if p.terms.end is not None]
    return told + (["", *period_lines(shown, setup)] if len(shown) > 1 else [])


def table_lines(period: Period, setup: Setup) -> list[str]:
    """The terms in columns."""
    over = heads(setup)
    head = f"{'':<22}{over.volume:>8}{'±':>8}{over.depth:>8}"
    told = [head + (f"{over.money:>10}" if over.money else "")]
    for line in table(period, setup):
        text = f"{line.sign or ' '} {line.words:<20}{line.volume:>8}{line.error:>8}{line.depth:>8}"
        told.append((text + (f"{line.money:>10}" if over.money else "")).rstrip())
    return told


PERIOD_HEADS = ("", "rain", "barrels", "other in", "evap.", "steady", "other out", "not expl.", "±")


def period_lines(periods: Sequence[Period], setup: Setup) -> list[str]:
    """One line a period, in the unit of the table."""
    rows = [PERIOD_HEADS, *(period_row(period, setup) for period in periods)]
    wide = max(len(row[0]) for row in rows)
    return [f"{row[0]:<{wide}}" + "".join(f"{cell:>10}" for cell in row[1:]) for row in rows]


def period_row(period: Period, setup: Setup) -> tuple[str, ...]:
    """A period's columns as texts."""
    t = period.terms

    def told(*values: float | None) -> str:
        known = [value for value in values if value is not None]
        return volume(setup, sum(known)) if known else UNKNOWN

    mark = "!" if period.unexplained else ""
    return (
        period.name, told(t.rain), told(t.released), told(t.downpipe, t.direct),
        told(t.evaporation), told(t.steady), told(t.overflow, t.drained),
        told(t.residual) + mark, told(period.errors.residual),
    )  # fmt: skip


def as_json(found: Budget) -> dict[str, Any]:
    """The budget by its keys: litres, losses positive, null for what is not known."""
    return {**_period_json(found.whole), "periods": [_period_json(p) for p in found.periods]}


def _period_json(period: Period) -> dict[str, Any]:
    used = period.spent
    return {
        "from": period.first.isoformat(),
        "to": period.last.isoformat(),
        "terms_l": period.terms._asdict(),
        "uncertainty_l": period.errors._asdict(),
        "tap_l": used.tap_l,
        "barrels": used.barrels,
        f"conditioner_{used.unit.lower()}": used.conditioner,
        "cost": used.cost,
    }
