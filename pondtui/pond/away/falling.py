"""How fast the level falls, as far as the readings tell: values with their uncertainty, to draw."""

from __future__ import annotations

import random
from math import sqrt

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.loss import Loss
from pondtui.pond.water.loss_model import DAILY_POOR_MM
from pondtui.pond.water.recent import recent_loss
from pondtui.records import NamedTuple
from pondtui.science.trends import SURE

LEAST_FACTOR, MOST_FACTOR = 0.2, 2.0  # a pond in deep shade, one in dry wind
_TRIES = 40


class Falling(NamedTuple):
    """Site factor and steady loss; without computed evaporation the factor is None and all that
    the pond loses in dry weather counts as steady."""

    factor: float | None
    factor_sd: float
    steady_mm: float  # a day
    steady_sd: float
    correlation: float
    daily_mm: float  # what a day takes or gives besides, standard deviation
    error_mm: float  # of a reading
    days: float  # of readings that this rests on


class TooLittle(NamedTuple):
    """Nothing can be said yet, and how many readings, one a day, would change that."""

    reason: str
    more_readings: int = 0


def falling(setup: Setup, state: PondState, loss: Loss | None) -> Falling | TooLittle:
    """By the fitted loss, else by the fall of the last days, its upper bound taken."""
    if state.level is None:
        return TooLittle("the gauge was never read: write a level first, such as `add level`", 3)
    error = setup.gauge.error_mm
    if loss is not None and loss.site_factor is not None and loss.steady is not None:
        half = (loss.steady.high - loss.steady.value) / SURE
        # the allowance is for a bias of the weather, which will be the same ahead
        steady_sd = sqrt(max(half**2 - (loss.allowance_mm / SURE) ** 2, 0.01 * half**2))
        return Falling(
            loss.site_factor.value,
            (loss.site_factor.high - loss.site_factor.value) / SURE,
            loss.steady.value,
            steady_sd,
            loss.correlation,
            loss.daily_mm or DAILY_POOR_MM,
            max(loss.error_mm or error, error / 2),
            sum(fall.days for run in loss.runs for fall in run),
        )
    recent = recent_loss(setup, state)
    if recent.loss_mm_per_day is None:
        more = max(recent.more_readings, 1)
        return TooLittle("the readings of the last eight days tell no loss yet: read the level "
                         "once a day", more)  # fmt: skip
    wide = recent.error_mm_per_day or 0.0
    most = max(recent.loss_mm_per_day, 0.0) + wide
    return Falling(None, 0.0, most, wide / SURE, 0.0, DAILY_POOR_MM, error, recent.days)


def draw(found: Falling, chance: random.Random) -> tuple[float, float]:
    """A site factor and a steady loss that the readings allow; neither below what can be."""
    if found.factor is None:
        return 0.0, max(chance.gauss(found.steady_mm, found.steady_sd), 0.0)
    rest = sqrt(max(1 - found.correlation**2, 0.0))
    factor, steady = found.factor, found.steady_mm
    for _ in range(_TRIES):
        one, other = chance.gauss(0, 1), chance.gauss(0, 1)
        factor = found.factor + found.factor_sd * one
        steady = found.steady_mm + found.steady_sd * (found.correlation * one + rest * other)
        if steady >= 0 and LEAST_FACTOR <= factor <= MOST_FACTOR:
            break
    return min(max(factor, LEAST_FACTOR), MOST_FACTOR), max(steady, 0.0)
