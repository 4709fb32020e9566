"""What this pond would lose in this weather, beside what it did lose."""

from __future__ import annotations

from math import hypot, sqrt

from pondtui.pond.water.budget import Budget
from pondtui.pond.water.loss_model import Allowance
from pondtui.pond.water.recent import Recent
from pondtui.records import NamedTuple
from pondtui.science.trends import SURE

DAYS = 8  # as many as the loss of the last week looks back


class Normal(NamedTuple):
    """Loss to the weather alone, in mm of this level a day, with half its 95 % interval."""

    mm_per_day: float
    error_mm_per_day: float


def normal(found: Budget) -> Normal | None:
    """Of the last days that the readings cover; None where their weather is not known."""
    cells = [c for c in found.cells[-DAYS:] if c.length and not c.without_weather]
    area_days = sum(c.area_days for c in cells)
    days = sum(c.length for c in cells)
    if not area_days or days < 1:
        return None
    open_mm = sum(c.open_l for c in cells) / area_days * days
    spread = sum(c.surface_days for c in cells) / area_days
    losses = found.losses
    noise = SURE * Allowance().noise_mm * losses.factor * spread * sqrt(days)
    return Normal(losses.factor * open_mm / days, hypot(losses.factor_half * open_mm, noise) / days)


def surely_more(recent: Recent, usual: Normal) -> bool:
    """Whether the pond loses more than the weather takes, for all that both may be off."""
    loss, error = recent.loss_mm_per_day, recent.error_mm_per_day
    if loss is None or error is None:
        return False
    return loss - usual.mm_per_day > hypot(error, usual.error_mm_per_day)
