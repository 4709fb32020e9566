"""The water in sentences: what the budget leaves open, what was used, what is normal."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget import Budget, covered, more_readings
from pondtui.pond.water.loss import INCONCLUSIVE, MORE_READINGS, NONE_FOUND, STEADY_LOSS
from pondtui.pond.water.normal import Normal, normal, surely_more
from pondtui.pond.water.recent import Recent
from pondtui.pond.water.spent import Spent
from pondtui.units import show
from pondtui.views.today import SeasonWords
from pondtui.views.water_units import heads, sums, volume
from pondtui.views.words import count, litres

LEAST_DAYS = 7.0  # that a season has to cover before it is told in one line
NEEDS = "two readings of the gauge are needed, a day apart at least: write one down each day"
VERDICTS = {
    STEADY_LOSS: "more is lost than the weather takes: animals, splash, falls or a leak",
    NONE_FOUND: "what is lost follows the weather",
    INCONCLUSIVE: "these readings do not decide whether all of it follows the weather",
    MORE_READINGS: "too few readings to part what follows the weather from what does not",
}


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
    """`4.6 ± 0.8 is normal for this weather`."""
    system = setup.pond.units
    if system == "metric":
        told = f"{usual.mm_per_day:.1f} ± {usual.error_mm_per_day:.1f}"
    else:
        shown = (show(v, "depth_rate", system, digits=2).split()[0] for v in usual)
        told = " ± ".join(shown)
    if surely_more(recent, usual):
        return f"MORE than the {told} normal for this weather"
    return f"{told} is normal for this weather"


def glance(found: Budget, recent: Recent, setup: Setup) -> SeasonWords:
    """What Today says of the water; nothing while readings or weather are too few to trust it."""
    usual = normal(found)
    told = ""
    if usual is not None and recent.loss_mm_per_day is not None:
        told = normal_words(usual, recent, setup)
    terms = found.whole.terms
    sound = found.whole.days >= LEAST_DAYS and None not in (terms.evaporation, terms.steady)
    return SeasonWords(told, season_words(found, setup) if sound else "", found.whole.unexplained)


def season_rows(found: Budget, recent: Recent, setup: Setup) -> list[tuple[str, str]]:
    """The same for the command line, each with its label."""
    told = glance(found, recent, setup)
    return [pair for pair in (("weather", told.normal), ("season", told.season)) if pair[1]]
