"""Whether and how much to feed: by the water's mean temperature, and not after trouble."""

from __future__ import annotations

from collections.abc import Iterable

from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.times import DAY_S, happened
from pondtui.pond.daily.warmth import MEAN_DAYS, warmth
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.alarms import POND_TEST
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live, live_of
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple
from pondtui.units import show

TROUBLE_S = DAY_S  # after the power came back, the filter needs as long: common practice, no source
TESTS_COUNT_S = 3 * DAY_S
# up to so many degC: common practice, no source
BANDS = (
    (10.0, False, "feed nothing: fish that cold do not digest"),
    (15.0, True, "every 2 to 4 days, easily digested food, at noon"),
    (20.0, True, "once a day"),
    (28.0, True, "one to three times a day"),
)
HOT = "less than usual, and never at dawn, when the water holds the least oxygen"
PORTION = "no more than is eaten in 5 minutes"


class Feeding(NamedTuple):
    """The advice of today."""

    feed: bool
    text: str
    why: str


def feeding(
    setup: Setup,
    state: PondState,
    entries: Iterable[Entry],
    tests: Iterable[Judged],
    now: int,
) -> Feeding:
    """The advice at `now`; `tests` are the pond's latest readings, judged."""
    entries = live_of(entries)
    trouble = _trouble(state, entries, tests, now)
    if trouble:
        return Feeding(False, "feed nothing today", trouble)
    warm = warmth(setup, entries, now)
    if warm is None:
        why = f"no water temperature in the last {MEAN_DAYS} days: measure it"
        return Feeding(True, f"by the water's temperature; {PORTION}", why)
    mean = show(warm.mean_c, "temperature", setup.pond.units)
    why = f"the water's mean of {warm.days} days is {mean}" if warm.days > 1 else f"water {mean}"
    for below, feed, text in BANDS:
        if warm.mean_c < below or (below == BANDS[-1][0] and warm.mean_c == below):
            return Feeding(feed, f"{text}; {PORTION}" if feed else text, why)
    return Feeding(True, f"{HOT}; {PORTION}", why)


def _trouble(state: PondState, entries: Live, tests: Iterable[Judged], now: int) -> str:
    """Why nothing should be fed; "" where nothing speaks against it."""
    if any(alarm.remedy == POND_TEST for alarm in state.alarms):
        return "chlorine may have reached the fish: test the pond first"
    if state.pump == "off":
        return "the pump is off: the filter and the air come first"
    for entry in entries.since(now - TROUBLE_S + 1):
        if entry.kind != "event":
            continue
        if happened(entry, now) and entry.get("what") in ("power-cut", "pump-off"):
            return f"{str(entry.get('what')).replace('-', ' ')} in the last day"
    for test in tests:
        bad = test.verdict == "act" or (test.verdict == "watch" and test.name in _AMMONIA)
        if test.name in _FOOD_FEEDS and bad and now - test.instant < TESTS_COUNT_S:
            return f"{test.label} stands in {test.verdict}"
    return ""


_AMMONIA = ("ammonia_un_ionised", "nitrite")
_FOOD_FEEDS = (*_AMMONIA, "ammonia_limits", "oxygen", "chlorine_total")
