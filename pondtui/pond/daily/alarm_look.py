"""What the rules of the alarms look at, worked out once for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from pondtui.errors import Problem
from pondtui.pond.daily.due import ChoreNow
from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.measured import value_words
from pondtui.pond.daily.supplies import Stock
from pondtui.pond.daily.times import DAY_S as DAY_S
from pondtui.pond.refill.case import local_time
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.units import show

if TYPE_CHECKING:
    from pondtui.pond.daily.climate import Climate


class Look(NamedTuple):
    """What the rules look at."""

    setup: Setup
    state: PondState
    now: int
    problems: Sequence[Problem] = ()
    chores: Sequence[ChoreNow] = ()
    tests: Sequence[Judged] = ()  # the latest readings of the pond
    stocks: Sequence[Stock] = ()
    climate: Climate | None = None  # None while the weather tables are not read

    @property
    def day(self) -> date:
        """Today at the pond."""
        return local_time(self.setup, self.now).date()

    def length(self, mm: float) -> str:
        """A length in the pond's own units, as on a rule."""
        return show(mm, "length", self.setup.pond.units, rule=True)

    def when(self, instant: int) -> str:
        """An instant by the pond's clock."""
        return f"{local_time(self.setup, instant):%Y-%m-%d %H:%M}"

    def value(self, test: Judged) -> str:
        """A reading's value in the keeper's own units."""
        return value_words(self.setup, test)
