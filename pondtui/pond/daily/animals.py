"""Fish, snails and others counted by kind, with what came and what was lost since."""

from __future__ import annotations

from collections.abc import Iterable

from pondtui.pond.daily.times import happened
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import key_of, live_of
from pondtui.records import NamedTuple


class Animals(NamedTuple):
    """One kind, as it was last counted and as it should be now."""

    kind: str
    counted: int | None  # None: never
    counted_at: int | None
    came: int = 0  # since the count
    lost: int = 0  # since the count

    @property
    def expected(self) -> int | None:
        """How many there should be; None where nobody counted."""
        return None if self.counted is None else max(self.counted + self.came - self.lost, 0)


def animals(entries: Iterable[Entry], now: int) -> tuple[Animals, ...]:
    """Every kind that was counted, brought or lost, in the order of its first mention."""
    found: dict[str, Animals] = {}
    of_animals = (e for e in live_of(entries).of(("count",), ("event",)) if happened(e, now))
    for entry in sorted(of_animals, key=lambda e: e.instant):
        kind = str(entry.get("kind") or "fish")
        before = found.get(key_of(kind), Animals(kind, None, None))
        if entry.kind == "count":
            found[key_of(kind)] = Animals(before.kind, entry.get("number"), entry.instant)
        elif entry.kind == "event" and entry.get("what") in ("new-fish", "loss"):
            number = entry.get("count")
            number = 1 if number is None else number
            if entry.get("what") == "loss":
                found[key_of(kind)] = before._replace(lost=before.lost + number)
            else:
                found[key_of(kind)] = before._replace(came=before.came + number)
    return tuple(found.values())


def told(kind: Animals) -> str:
    """`8 goldfish (9 counted, 1 lost since)`."""
    since = [f"{kind.came} came since"] * bool(kind.came) + [f"{kind.lost} lost since"] * bool(
        kind.lost
    )
    if kind.counted is None:
        return f"{kind.kind}: never counted ({', '.join(w[:-6] for w in since)})"
    if not since:
        return f"{kind.counted} {kind.kind}"
    return f"{kind.expected} {kind.kind} ({kind.counted} counted, {', '.join(since)})"
