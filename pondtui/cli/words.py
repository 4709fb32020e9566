"""The words of a call, taken apart by the table of verbs."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS, Option, Verb
from pondtui.errors import UsageError, nearest
from pondtui.records import NamedTuple


class Call(NamedTuple):
    """A call taken apart. For a nested verb `words` is the call that follows it."""

    verb: Verb
    words: tuple[str, ...] = ()
    options: Mapping[str, str] = MappingProxyType({})  # a switch that is set holds "yes"

    def has(self, name: str) -> bool:
        """Whether the option stands in the call."""
        return name in self.options

    def get(self, name: str) -> str | None:
        """The value of the option, None where it is absent."""
        return self.options.get(name)


def parse(argv: Sequence[str]) -> Call:
    """Take a call apart. Raises UsageError, one sentence, where it cannot be meant."""
    verb = VERBS[""]
    words: list[str] = []
    options: dict[str, str] = {}
    rest = deque(argv)
    while rest:
        word = rest.popleft()
        if word == "--":
            words += rest
            break
        if word.startswith("-") and len(word) > 1:
            _take_option(word, rest, verb, options)
        elif not verb.name:
            verb = _verb(word)
        elif verb.nested:
            words = [word, *rest]
            break
        else:
            words.append(word)
    return Call(verb, tuple(words), options)


def _verb(word: str) -> Verb:
    if word and word in VERBS:
        return VERBS[word]
    hint = nearest(word, [name for name in VERBS if name])
    raise UsageError(f"there is no verb '{word}'{hint}; `pondtui help` lists them")


def _take_option(word: str, rest: deque[str], verb: Verb, options: dict[str, str]) -> None:
    name, _, value = word.partition("=")
    given = "=" in word
    option = _option(name, verb)
    if not option.value:
        if given:
            raise UsageError(f"{name} takes no value")
        value = "yes"
    elif not given:
        if not rest:
            raise UsageError(f"{name} needs a value: {name} {option.value}")
        value = rest.popleft()
    if option.many and option.name in options:
        value = f"{options[option.name]}\n{value}"
    elif option.name in options and options[option.name] != value:
        raise UsageError(f"{name} stands twice in the call with different values")
    options[option.name] = value


def _option(name: str, verb: Verb) -> Option:
    known = (*verb.options, *GLOBAL_OPTIONS)
    for option in known:
        if name == f"--{option.name}" or (option.letter and name == f"-{option.letter}"):
            return option
    hint = nearest(name, [f"--{option.name}" for option in known])
    where = f"pondtui {verb.name}".strip()
    raise UsageError(f"{where} has no option {name}{hint}")
