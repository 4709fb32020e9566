"""What the barrels can give on the days of an absence: rain first, then batches left ready, then
such as the sitter fills and treats."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time, timedelta

from pondtui.pond.away.default_visits import LEAST_L, ready_since
from pondtui.pond.refill.case import local_time
from pondtui.pond.refill.dealing import Dealer
from pondtui.pond.refill.planned import PlannedBatch
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.setup.windows import forbidden
from pondtui.pond.state.model import PondState
from pondtui.records import NamedTuple

USUAL_HOUR = 18
HOURS = (
    18,
    19,
    17,
    20,
    9,
    8,
    10,
    7,
    16,
    15,
    14,
    13,
    12,
    11,
)  # in this order; nobody comes at night
SHARE_OF_ROOM = 0.7  # a batch larger than that would find room only when it is nearly too late
EVERY_HOUR = range(24)  # of a keeper who is still there
NOT_READY = date.min
_ALL_L = 1e6


class Giver(NamedTuple):
    """One barrel during the absence."""

    barrel: Barrel
    batch: PlannedBatch  # the first one, as it would be left ready
    litres: float  # of one batch, no more than there will be room for
    ready: bool  # stands there treated and tested already, or is rain
    use_by: date | None  # of what is left ready; None for rain, NOT_READY where nothing can be
    refills: bool  # the sitter may fill it again


class Portion(NamedTuple):
    """What one barrel gives on one visit."""

    giver: Giver
    litres: float
    fills: bool  # the sitter fills and treats first
    hour: str


def givers(
    setup: Setup, state: PondState, now: int, first: date, room_l: float
) -> tuple[Giver, ...]:
    """The barrels that can give something worth a walk, rain first."""
    day = local_time(setup, now).date()
    batches, _ = Dealer(setup, state, now).deal(_ALL_L)
    found: dict[str, Giver] = {}
    for batch in batches:
        barrel = setup.barrel_on(batch.barrel, day)
        if barrel is None or barrel.name in found or (batch.treat_l > 0 and batch.dose is None):
            continue
        litres = min(batch.release_l, SHARE_OF_ROOM * room_l)
        if barrel.delivery == "carried":
            litres = litres // barrel.bucket_l * barrel.bucket_l
        if litres < (2 * barrel.bucket_l if barrel.delivery == "carried" else LEAST_L):
            continue
        rain = barrel.source == "rain"
        since = ready_since(barrel, state.barrels[barrel.name], batch.release_l)
        made = first if since is None else min(local_time(setup, since).date(), first)
        keeps = timedelta(minutes=setup.limits.treated_keeps_min)
        found[barrel.name] = Giver(barrel, batch, litres, rain or since is not None,
                                   None if rain else made + keeps, not rain)  # fmt: skip
    return tuple(found.values())


def given(
    setup: Setup, barrels: Sequence[Giver], days: Sequence[date]
) -> list[tuple[Portion, ...]]:
    """What each of some visits, in the order of their days, can bring: all that there is."""
    used: set[str] = set()
    found = []
    for day in days:
        portions = []
        for one in barrels:
            fresh = one.barrel.name not in used and (one.use_by is None or day <= one.use_by)
            hour = f"{USUAL_HOUR}:00" if fresh else filling_hour(setup, one.barrel, day)
            if hour and (fresh or one.refills):
                portions.append(Portion(one, one.litres, not fresh, hour))
                used.add(one.barrel.name)
        found.append(tuple(portions))
    return found


def filling_hour(setup: Setup, barrel: Barrel, day: date, hours: Iterable[int] = HOURS) -> str:
    """An hour of the day at which its water may be drawn; "" where there is none."""
    source = setup.sources.get(barrel.source)
    windows = source.forbidden if source is not None else ()
    for hour in hours:
        if not forbidden(windows, datetime.combine(day, time(hour))):
            return f"{hour:02d}:00"
    return ""


def never_filled(
    setup: Setup, barrels: Sequence[Giver], days: Sequence[date], hours: Sequence[int] = HOURS
) -> list[str]:
    """The barrels whose water may be drawn at none of the hours of any day; none without a day."""
    return [
        one.barrel.name
        for one in barrels
        if one.refills
        and days
        and not any(filling_hour(setup, one.barrel, day, hours) for day in days)
    ]


def stays_l(barrel: Barrel) -> float:
    """What does not run out, or is to stay."""
    return heel_l(barrel) + barrel.leave_at_least_l


def to_fill_l(barrel: Barrel, litres: float) -> float:
    """What the sitter fills in for so much to run out, at most to the line."""
    return min(litres, full_line_l(barrel) - stays_l(barrel))
