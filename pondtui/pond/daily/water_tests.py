"""The latest water tests judged: ok, watch or act, with what to do and by which source.

What can be worked out is not asked: un-ionised ammonia, the limits of ammonia for this pH and
temperature, oxygen saturation for this height, carbon dioxide as a range, nitrite against chloride.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pondtui.pond.daily import computed
from pondtui.pond.daily.judged import LABELS, Judged, earlier, seen
from pondtui.pond.daily.readings import READINGS, judge
from pondtui.pond.daily.remedies import remedy
from pondtui.pond.daily.series import Series, Value, day_before, latest_series
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry

WORSE = {"ok": 0, "watch": 1, "act": 2}


def judged(
    setup: Setup, entries: Iterable[Entry], now: int, where: str = "pond"
) -> tuple[Judged, ...]:
    """The latest value of every reading of a place; only the pond's are judged."""
    found = latest_series(entries, now, where)
    if where != "pond":
        return tuple(_plain(name, values[-1]) for name, values in found.items())
    rows = [row for row in _rows(setup, found) if row is not None]
    order = list(LABELS)
    return tuple(sorted(rows, key=lambda row: order.index(row.name) if row.name in order else 99))


def _rows(setup: Setup, found: Series) -> Iterator[Judged | None]:
    for name, values in found.items():
        if name == "ammonia":
            yield from computed.ammonia(setup, found)
        elif name == "nitrite":
            yield computed.nitrite(setup, found)
        elif name == "alkalinity":
            yield _alkalinity(setup, found)
        elif name in READINGS:
            yield _simple(setup, found, name)
        else:
            yield _plain(name, values[-1])
    yield _change(setup, found, "ph", "ph_change")
    yield _change(setup, found, "temp", "temp_change")
    yield computed.carbon_dioxide(found)


def _plain(name: str, value: Value) -> Judged:
    return Judged(name, value.value, value.instant, None, below=value.below, written=value.text)


def _simple(setup: Setup, found: Series, name: str) -> Judged:
    last = found[name][-1]
    text = ""
    if name == "oxygen":
        text = computed.saturation(setup, found, last)
    elif name == "ph":
        text = computed.of_the_morning(setup, last)
    return _told(setup, found, name, last, text)


def _told(setup: Setup, found: Series, name: str, last: Value, text: str = "") -> Judged:
    """A value by its row of the table; of chlorine nothing may be seen at all."""
    zero = last.below and name == "chlorine_total"
    verdict = judge(name, 0.0 if zero else seen(last), setup.readings)
    before = earlier(found[name])
    again = any(judge(name, seen(v), setup.readings) == "act" for v in before if not v.below)
    return Judged(
        name,
        last.value,
        last.instant,
        verdict,
        text,
        remedy(name, verdict, confirmed=again),
        READINGS[name].source,
        last.below,
        written=last.text,
    )


def _alkalinity(setup: Setup, found: Series) -> Judged:
    """By the stricter row while it falls."""
    values = found["alkalinity"]
    last = values[-1]
    row = _told(setup, found, "alkalinity", last)
    if len(values) > 1 and last.value < values[-2].value:
        falling = judge("alkalinity_falling", last.value, setup.readings)
        if WORSE[falling] > WORSE[row.verdict or "ok"]:
            source = READINGS["alkalinity_falling"].source
            row = row._replace(verdict=falling, remedy=remedy("alkalinity", falling), source=source)
        row = row._replace(text="falling")
    return row


def _change(setup: Setup, found: Series, name: str, row: str) -> Judged | None:
    """The change in a day at about the same hour; None where there is nothing to compare."""
    before = day_before(setup, found, name)
    if before is None:
        return None
    last = found[name][-1]
    change = abs(last.value - before.value)
    verdict = judge(row, round(change, 6), setup.readings)
    text = f"{before.text} a day before"
    return Judged(row, change, last.instant, verdict, text, remedy(row, verdict),
                  READINGS[row].source)  # fmt: skip
