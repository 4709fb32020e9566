"""One line that a hurried hand types, and the entry that it means.

`level 62`, `rain 4`, `note heron again`, `dip yard 90`, `chore feed`, `overflow`, `temp 18.5`,
`test ph 7.6 ammonia 0.1`, or any kind with `name=value`. Bare numbers get the pond's own units.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from pondtui.errors import InputError
from pondtui.pond.daily.amounts import amount_of
from pondtui.pond.daily.quick_amounts import take_amount, with_unit
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.kinds import EVENTS, KINDS, Kind
from pondtui.pond.state.live import key_of
from pondtui.records import NamedTuple

_PAIR = re.compile(r"(?:^|[\s;])([a-z][a-z0-9_]*)=")
BY_HAND = ("strike", "tick", "bypass", "start", "giveup")  # need stamps or a batch: no quick line
SHORT = {"temp": "test", "skip": "chore"}  # words of their own for what is written often
OFTEN = ("level", "rain", "note", "dip", "chore", "test")  # their first letter will do
EVENT_WORDS = tuple(EVENTS.split())


class Quick(NamedTuple):
    """The entry that a line means."""

    kind: str
    fields: dict[str, str]
    note: str = ""


def understand(text: str, setup: Setup) -> Quick:
    """The entry that the line means. Raises InputError, one sentence with an example."""
    words, pairs, note = _parted(text)
    if not words:
        raise InputError("say what: such as level 62, rain 4, note heron again")
    first, rest = _first(words[0]), words[1:]
    if first in EVENT_WORDS:
        first, rest = "event", [first, *rest]
    kind = KINDS[SHORT.get(first, first)]
    reader = _READERS.get(first, _named_only)
    fields, said = reader(kind, rest, setup)
    given = {name: _typed(kind, name, value, setup) for name, value in pairs.items()}
    return Quick(kind.name, {**fields, **given}, " ".join([*said, note]).strip())


def _typed(kind: Kind, name: str, value: str, setup: Setup) -> str:
    field = kind.field(name)
    return value if field is None else with_unit(setup, kind.name, field, value)


def _parted(text: str) -> tuple[list[str], dict[str, str], str]:
    """Loose words, `name=value` pairs and what stands behind a bar."""
    body, _, note = text.strip().partition("|")
    found = list(_PAIR.finditer(body))
    if not found:
        return body.split(), {}, note.strip()
    pairs = {}
    for place, match in enumerate(found):
        end = found[place + 1].start() if place + 1 < len(found) else len(body)
        pairs[match[1]] = body[match.end() : end].strip(" ;")
    return body[: found[0].start()].split(), pairs, note.strip()


def starts() -> tuple[str, ...]:
    """The words that a line may begin with."""
    kinds = (name for name in KINDS if name not in BY_HAND)
    return (*kinds, *SHORT, *(word for word in EVENT_WORDS if word not in KINDS))


def _first(word: str) -> str:
    """The word that this one is, or the only one that it begins."""
    low = word.casefold()
    if low in starts():
        return low
    fitting = [name for name in starts() if name.startswith(low)]
    often = [name for name in OFTEN if name in fitting]
    if len(often) == 1 or len(fitting) == 1:
        return (often or fitting)[0]
    if fitting:
        raise InputError(f"{word}: one of {', '.join(fitting)}")
    raise InputError(f"{word} begins no entry: such as level 62, rain 4, note heron again")


# --- one reader a kind: fields, and the words left over for the note ------------------------------

Read = tuple[dict[str, str], Sequence[str]]


def _named_only(kind: Kind, words: Sequence[str], _setup: Setup) -> Read:
    if words:
        fields = ", ".join(f"{field.name}=" for field in kind.fields)
        raise InputError(f"{kind.name}: say it by names: {fields}")
    return {}, ()


def _note(_kind: Kind, words: Sequence[str], _setup: Setup) -> Read:
    return {}, words


def _level(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
    """Reading, then pump and temperature in any order."""
    reading, words = take_amount(setup, kind, "reading", words)
    fields = {"reading": reading}
    while words:
        if words[0].casefold() in ("on", "off") and "pump" not in fields:
            fields["pump"], words = words[0].casefold(), words[1:]
        elif words[0][0].isdigit() and "temp" not in fields:
            fields["temp"], words = take_amount(setup, kind, "temp", words)
        else:
            break
    return fields, words


def _one(name: str) -> Callable[[Kind, Sequence[str], Setup], Read]:
    """A kind with one amount, and words."""

    def read(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
        amount, left = take_amount(setup, kind, name, words)
        return {name: amount}, left

    return read


def _of_barrel(name: str) -> Callable[[Kind, Sequence[str], Setup], Read]:
    """A barrel (the only one need not be named), an amount, and words."""

    def read(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
        barrels = list(dict.fromkeys(b.name for b in setup.barrels if b.retired is None))
        barrel, left = _named(words, barrels)
        if barrel is None and len(barrels) == 1:
            barrel = barrels[0]
        if barrel is None:
            raise InputError(f"{kind.name}: which barrel? {', '.join(barrels) or 'none is there'}")
        amount, left = take_amount(setup, kind, name, left)
        return {"barrel": barrel, name: amount}, left

    return read


def _named(words: Sequence[str], names: Sequence[str]) -> tuple[str | None, Sequence[str]]:
    """The longest name that the words begin with, else the only one that the first word begins."""
    for name in sorted(names, key=len, reverse=True):
        parts = name.casefold().split()
        if [word.casefold() for word in words[: len(parts)]] == parts:
            return name, words[len(parts) :]
    fitting = [n for n in names if words and n.casefold().startswith(words[0].casefold())]
    return (fitting[0], words[1:]) if len(fitting) == 1 else (None, words)


def chore_names(setup: Setup) -> list[str]:
    """Every chore, those of the marks too."""
    return [*(c.name for c in setup.chores), *(m.rising for m in setup.marks if m.rising)]


def _chore(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
    name, left = _named(words, chore_names(setup))
    if name is None:
        if not words:
            raise InputError(f"{kind.name}: which one? {', '.join(chore_names(setup)) or 'none'}")
        known = ", ".join(chore_names(setup)) or "none"
        raise InputError(f"no chore is called {' '.join(words)}; there is {known}")
    return {"name": name}, left


def _skip(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
    fields, left = _chore(kind, words, setup)
    if not left:
        raise InputError(f"skip {fields['name']}: say why, such as skip {fields['name']} too cold")
    return {**fields, "skipped": "yes"}, left


def _event(_kind: Kind, words: Sequence[str], _setup: Setup) -> Read:
    what, left = _named(words, EVENT_WORDS)
    if what is None:
        raise InputError(f"event: one of {', '.join(EVENT_WORDS)}")
    return {"what": what}, left


def _count(_kind: Kind, words: Sequence[str], _setup: Setup) -> Read:
    """`count goldfish 9` and `count 9 goldfish`."""
    numbers = [word for word in words if word.isdigit()]
    kind = " ".join(word for word in words if not word.isdigit())
    if len(numbers) != 1 or not kind:
        raise InputError("count: a kind and a number, such as count goldfish 9")
    return {"kind": kind, "number": numbers[0]}, ()


def _test(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
    """A place (the pond where none is named), then names and values in turn."""
    places = ["pond", "tap", *(barrel.name for barrel in setup.barrels)]
    whole = {place.casefold(): place for place in places}
    where = whole.get(words[0].casefold(), "") if words else ""
    left = list(words[1:] if where else words)
    fields = {"where": where or "pond"}
    known = [field.name for field in kind.fields if field.name != "where"]
    while left:
        name, rest = _named([left[0].replace("-", "_")], known)
        if name is None or rest or len(left) < 2:
            break
        fields[name], after = take_amount(setup, kind, name, left[1:])
        left = list(after)
    if len(fields) == 1:
        raise InputError("test: names and values, such as test ph 7.6 ammonia 0.1")
    return fields, left


def _temp(kind: Kind, words: Sequence[str], setup: Setup) -> Read:
    temp, left = take_amount(setup, kind, "temp", words)
    return {"where": "pond", "temp": temp}, left


def _supply(_kind: Kind, words: Sequence[str], _setup: Setup) -> Read:
    """`supply conditioner got 500 mL`, `supply food left 80 g`."""
    low = [word.casefold() for word in words]
    verb = next((word for word in ("got", "left") if word in low[1:]), "")
    if not verb:
        raise InputError("supply: such as supply food got 200 g, or supply food left 80 g")
    place = low.index(verb)
    amount = " ".join(words[place + 1 :])
    if amount_of(amount, None) is None and not amount.casefold().endswith("gal"):
        raise InputError(f"supply: {verb} an amount such as 200 g, not {amount or 'nothing'}")
    return {"item": " ".join(words[:place]), verb: amount}, ()


_READERS: Mapping[str, Callable[[Kind, Sequence[str], Setup], Read]] = {
    "note": _note,
    "level": _level,
    "rain": _one("depth"),
    "drain": _one("volume"),
    "direct": _one("volume"),
    "dip": _of_barrel("left"),
    "fill": _of_barrel("added"),
    "release": _of_barrel("out"),
    "treat": _of_barrel("dose"),
    "chore": _chore,
    "skip": _skip,
    "event": _event,
    "count": _count,
    "test": _test,
    "temp": _temp,
    "supply": _supply,
}


# --- completion -----------------------------------------------------------------------------------


def complete(text: str, setup: Setup) -> str:
    """The line with its last word completed; "" where nothing or too much fits."""
    words = text.split()
    if not words or text.endswith(" ") or "=" in words[-1] or "|" in text:
        return ""
    if len(words) == 1:
        return _only(words[0], starts())
    head, _, _ = text.partition(" ")
    try:
        first = _first(head)
    except InputError:
        return ""
    typed = text[len(head) :].lstrip()
    found = _only(typed, _second(first, setup))
    return f"{head} {found}" if found else ""


def _second(first: str, setup: Setup) -> Sequence[str]:
    """What may stand behind the first word."""
    if first in ("dip", "fill", "release", "treat"):
        return [barrel.name for barrel in setup.barrels]
    if first in ("chore", "skip"):
        return chore_names(setup)
    if first == "event":
        return EVENT_WORDS
    if first == "supply":
        return [supply.name for supply in setup.supplies] or ["conditioner"]
    if first == "test":
        names = [field.name for field in KINDS["test"].fields if field.name != "where"]
        return ["pond", "tap", *(barrel.name for barrel in setup.barrels), *names]
    return ()


def _only(typed: str, names: Sequence[str]) -> str:
    """The first of the names that the text begins."""
    low = key_of(typed)
    return next((name for name in names if low and name.casefold().startswith(low)), "")
