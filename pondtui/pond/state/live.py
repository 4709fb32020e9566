"""The live entries with an index by topic, so that no question about one thing walks over all the
years. Nothing in it is ever changed: one entry more makes another one, which takes the index over.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from functools import cached_property, lru_cache

from pondtui.pond.state.entry import Entry, Measured

Topic = tuple[str, ...]  # see `topics`
_NAMED = {"chore": "name", "event": "what", "supply": "item"}


@lru_cache(maxsize=1024)
def key_of(name: str) -> str:
    """The form in which the name of a chore, a supply or an event is compared."""
    return " ".join(name.split()).casefold()


class Live(tuple[Entry, ...]):
    """Live entries in their order."""

    def of(self, *wanted: Topic, since: int | None = None, until: int | None = None) -> list[Entry]:
        """Those of some topics, in their order; with instants those between, both included."""
        found = [self._places(topic, since, until) for topic in wanted]
        chosen = found[0] if len(found) == 1 else sorted({n for each in found for n in each})
        return [self[n] for n in chosen]

    def backwards(self, topic: Topic, until: int | None = None) -> Iterator[Entry]:
        """Those of a topic, the latest first; with an instant those up to it."""
        return (self[n] for n in reversed(self._places(topic, None, until)))

    def _places(self, topic: Topic, since: int | None, until: int | None) -> list[int]:
        places = self.places.get(topic, [])
        if since is not None:
            places = places[bisect_left(places, since, key=self._instant) :]
        if until is not None:
            places = places[: bisect_right(places, until, key=self._instant)]
        return places

    def _instant(self, place: int) -> int:
        return self[place].instant

    def since(self, instant: int) -> tuple[Entry, ...]:
        """Those of an instant and later."""
        return self[bisect_left(self, instant, key=lambda entry: entry.instant) :]

    def plus(self, entry: Entry) -> Live:
        """With one more behind all others."""
        places = dict(self.places)
        for topic in topics(entry):
            places[topic] = [*places.get(topic, []), len(self)]
        more = Live((*self, entry))
        more.places = places
        return more

    @cached_property
    def places(self) -> dict[Topic, list[int]]:
        """Of each topic the places of its entries, in the order of first mention."""
        found: dict[Topic, list[int]] = {}
        for place, entry in enumerate(self):
            for topic in topics(entry):
                found.setdefault(topic, []).append(place)
        return found


def topics(entry: Entry) -> list[Topic]:
    """What an entry is about: its kind; of chores, events and supplies the name too; of what was
    measured each field with its place, of a reading of the gauge the pond's temperature."""
    kind = entry.kind
    found: list[Topic] = [(kind,)]
    if kind in _NAMED:
        found.append((kind, key_of(str(entry.get(_NAMED[kind])))))
    elif kind in ("level", "test"):
        where = str(entry.get("where")).casefold() if kind == "test" else "pond"
        found += [("measured", where, name) for name in entry.fields if _measured(entry, name)]
    return found


def _measured(entry: Entry, name: str) -> bool:
    of_test = entry.kind == "test" or name == "temp"
    return of_test and isinstance(entry.get(name), float | Measured)


def live_of(entries: Iterable[Entry]) -> Live:
    """Live entries in their order, with their index: the same where they have one already."""
    return entries if isinstance(entries, Live) else Live(entries)
