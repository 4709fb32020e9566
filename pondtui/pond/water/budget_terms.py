"""The terms of a water budget, and what a span of days says of them."""

from __future__ import annotations

from datetime import date

from pondtui.pond.water.spent import Spent
from pondtui.records import NamedTuple


class Terms(NamedTuple):
    """Litres; losses are positive. None: nothing is known of it."""

    start: float | None = None
    rain: float | None = None
    downpipe: float | None = None
    released: float | None = None
    direct: float | None = None
    evaporation: float | None = None
    steady: float | None = None
    overflow: float | None = None
    drained: float | None = None
    residual: float | None = None
    end: float | None = None


INS = ("rain", "downpipe", "released", "direct")
OUTS = ("evaporation", "steady", "overflow", "drained", "residual")


class Losses(NamedTuple):
    """What evaporation and steady loss rest on, as halves of 95 % intervals."""

    factor: float
    factor_half: float
    steady_mm: float | None  # a day; None: it cannot be told apart
    steady_half: float = 0.0  # without the allowance
    correlation: float = 0.0
    allowance_mm: float = 0.0
    daily_mm: float = 0.8  # what a day may be off by itself, standard deviation


class Period(NamedTuple):
    """A span of days."""

    name: str
    first: date
    last: date
    terms: Terms
    errors: Terms  # halves of 95 % intervals
    spent: Spent
    days: float = 0.0  # that the readings cover
    area_m2: float = 0.0  # litres per mm of level
    loss_error_l: float | None = None  # of evaporation and steady loss together
    evaporation_mm: float = 0.0  # computed for open water
    rain_mm: float = 0.0

    @property
    def unexplained(self) -> bool:
        """The residual is more than the errors allow, and no term that is not known hides it:
        a loss may be evaporation or a steady one, a gain may be rain."""
        terms, rest, error = self.terms, self.terms.residual, self.errors.residual
        if rest is None or error is None:
            return False
        hidden = (terms.evaporation, terms.steady) if rest > 0 else (terms.rain,)
        return None not in hidden and abs(rest) > error
