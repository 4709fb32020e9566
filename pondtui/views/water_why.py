"""`?` on the budget: what each term is made of."""

from __future__ import annotations

from pondtui.pond.setup.model import Setup
from pondtui.pond.water.budget import Budget
from pondtui.views.explain import JOURNAL, Explanation
from pondtui.views.water_words import season_words


def explain(found: Budget, setup: Setup) -> Explanation:
    """How the season's budget came about."""
    losses = found.losses
    steady = "not told apart yet" if losses.steady_mm is None else f"{losses.steady_mm:.2f} mm/day"
    inputs = (
        ("readings", str(len(found.levels))),
        ("site factor", f"{losses.factor:.2f} ± {losses.factor_half:.2f}"),
        ("steady loss", steady),
        ("open water", f"{found.whole.evaporation_mm:.0f} mm computed"),
        ("rain", f"{found.whole.rain_mm:.0f} mm"),
        ("area", f"{found.whole.area_m2:.1f} m2: litres for a mm of level"),
    )
    return Explanation(
        "Water budget",
        season_words(found, setup),
        inputs,
        "start + rain + roof + barrels + put in straight = evaporation + steady + ran over + taken "
        "out + not explained + end",
        f"evaporation: FAO-56 Penman-Monteith x 1.05 x site factor; {JOURNAL}; ± holds 95 of 100 "
        "times",
        ("evaporation and steady loss trade with each other: only their sum is well known",
         "only a bucket test, or pump off beside pump on, can say leak"),
    )  # fmt: skip
