"""A reading and what it means, as values."""

from __future__ import annotations

from pondtui.pond.daily.readings import Verdict
from pondtui.pond.daily.series import Value
from pondtui.records import NamedTuple

SOON_S = 300  # a second reading within five minutes is the same one
DAY_S = 86_400
LABELS = {
    "ammonia_un_ionised": "un-ionised ammonia",
    "ammonia_limits": "total ammonia",
    "nitrite": "nitrite",
    "nitrate": "nitrate",
    "ph": "pH",
    "ph_change": "pH, change in a day",
    "alkalinity": "alkalinity (KH)",
    "hardness": "hardness (GH)",
    "oxygen": "oxygen",
    "carbon_dioxide": "carbon dioxide",
    "chloride": "chloride",
    "temp": "water temperature",
    "temp_change": "temperature, change in a day",
    "chlorine_total": "TOTAL chlorine",
    "chlorine_free": "free chlorine",
}


class Judged(NamedTuple):
    """One reading, what it means and what to do."""

    name: str  # of the table of readings, or of a field
    value: float  # canonical unit
    instant: int
    verdict: Verdict | None  # None: shown, not judged
    text: str = ""  # what was measured or worked out, beside the value
    remedy: str = ""
    source: str = ""
    below: bool = False
    low: float | None = None  # a range, where the value is one
    high: float | None = None
    written: str = ""  # as the kit said it; "" where it was worked out

    @property
    def label(self) -> str:
        """The reading's name for people."""
        return LABELS.get(self.name, self.name.replace("_", " "))


def seen(value: Value) -> float:
    """The value to be judged: below the kit's first step is less than that step."""
    return value.value * (1 - 1e-9) if value.below else value.value


def earlier(values: list[Value]) -> list[Value]:
    """The values of the last day before the latest one: it was measured again."""
    last = values[-1]
    return [v for v in values if SOON_S <= last.instant - v.instant <= DAY_S]
