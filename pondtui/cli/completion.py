"""`pondtui completion SHELL`: a script for the shell, made from the tables; and names for it."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterable

from pondtui.cli import completion_scripts
from pondtui.cli.context import Context
from pondtui.cli.pages import manual
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS, Option, Verb
from pondtui.cli.words import Call
from pondtui.errors import PondError, UsageError, nearest
from pondtui.pond.state.kinds import BY, KINDS, Field
from pondtui.worksheets.registry import Input, sheets

Offers = dict[str, list[str]]  # "VERB:FIRST:FIELD" -> words; @barrels and the like are asked for

FILES = "@files"
_SCRIPTS = {
    "bash": completion_scripts.BASH,
    "zsh": completion_scripts.ZSH,
    "fish": completion_scripts.FISH,
}
_OF_POND = ("barrels", "marks", "chores", "supplies", "basins")
_BY_FIELD = {"barrel": ["@barrels"], "where": ["pond", "tap", "@barrels"], "item": ["@supplies"],
             "to": ["line", "elsewhere", "@basins"]}  # fmt: skip
_BY_VALUE = {"FILE": [FILES], "DIR": [FILES], "MARK": ["@marks"]}


def run(call: Call, context: Context) -> int:
    """Print a script, or names of this pond, one a line; without a pond none."""
    word = " ".join(call.words)
    if word in _OF_POND:
        for name in _names(word, context):
            context.say(name)
        return 0
    if word not in _SCRIPTS:
        raise UsageError(
            f"completion: one of {', '.join(_SCRIPTS)}, not {word or 'nothing'}"
            f"{nearest(word, list(_SCRIPTS))}"
        )
    context.say(script(word))
    return 0


def _names(what: str, context: Context) -> list[str]:
    try:
        setup = context.setup
    except PondError:
        return []  # a shell waits for words, and has no place for a sentence
    things: dict[str, Iterable[str]] = {
        "barrels": (barrel.name for barrel in setup.barrels),
        "marks": (mark.name for mark in setup.marks),
        "chores": (chore.name for chore in setup.chores),
        "supplies": (supply.name for supply in setup.supplies),
        "basins": (basin.name for basin in setup.basins),
    }
    return list(dict.fromkeys(things[what]))


def script(shell: str) -> str:
    """The script of a shell."""
    valued = {f"--{o.name}" for o in _all_options() if o.value}
    valued |= {f"-{o.letter}" for o in _all_options() if o.value and o.letter}
    cases = "\n".join(_case(shell, key, words) for key, words in offers().items())
    return (
        _SCRIPTS[shell]
        .replace("%CASES%", cases)
        .replace("%VALUED%", (" " if shell == "fish" else "|").join(sorted(valued)))
        .rstrip()
    )


def offers() -> Offers:
    """What may stand where."""
    verbs = [name for name in VERBS if name]
    found: Offers = {"::": verbs, ":-:": _options(VERBS[""])}
    for option in GLOBAL_OPTIONS:
        found[f":--{option.name}:"] = _values(option)
    for name in verbs:
        verb = VERBS[name]
        found[f"{name}::"] = re.findall(r"[\w-]+", verb.arguments.split(" ")[0])
        if "|" not in verb.arguments:
            found[f"{name}::"] = []
        found[f"{name}:-:"] = _options(verb)
        for option in (*verb.options, *GLOBAL_OPTIONS):
            found[f"{name}:--{option.name}:"] = _values(option)
            if option.letter:
                found[f"{name}:-{option.letter}:"] = _values(option)
    found["new::"] = [FILES]
    found["tests::"] = ["pond", "tap", "@barrels"]
    names = [page.name.split() for page in manual()]
    found["help::"] = list(dict.fromkeys(parts[-1] for parts in names))
    for action in ("tick", "skip", "history"):
        found[f"chores:{action}:"] = ["@chores"]
    for kind in ("weather", "log", "report"):
        found[f"import:{kind}:"] = [FILES]
    found |= _of_kinds() | _of_worksheets()
    return {key: words for key, words in found.items() if words}


def _of_kinds() -> Offers:
    found: Offers = {"add::": list(KINDS)}
    for kind in KINDS.values():
        found[f"add:{kind.name}:"] = [f"{field.name}=" for field in (*kind.fields, BY)]
        for field in kind.fields:
            found[f"add:{kind.name}:{field.name}"] = _of_field(field)
    found["add:chore:name"] = ["@chores"]
    return found


def _of_field(field: Field) -> list[str]:
    if field.type == "yesno":
        return ["yes", "no"]
    return list(field.words) or _BY_FIELD.get(field.name, [])


def _of_worksheets() -> Offers:
    found: Offers = {"worksheet::": []}
    for sheet in sheets():
        found["worksheet::"].append(sheet.name)
        found[f"worksheet:{sheet.name}:"] = [f"{each.name}=" for each in sheet.inputs]
        for each in sheet.inputs:
            found[f"worksheet:{sheet.name}:{each.name}"] = _of_input(each)
    return found


def _of_input(each: Input) -> list[str]:
    if each.kind == "yesno":
        return ["yes", "no"]
    return [FILES] if each.name == "file" else list(each.words)


def _all_options() -> Iterable[Option]:
    return (option for verb in VERBS.values() for option in (*verb.options, *GLOBAL_OPTIONS))


def _options(verb: Verb) -> list[str]:
    return [f"--{option.name}" for option in (*verb.options, *GLOBAL_OPTIONS)]


def _values(option: Option) -> list[str]:
    """The values of an option, where its help lists them: `csv or json`."""
    for part in option.help.split(": ") if option.value in ("FORMAT", "UNITS", "PERIOD") else ():
        words = re.split(", | or ", part)
        if all(re.fullmatch("[a-z]+", word) for word in words):
            return words
    return _BY_VALUE.get(option.value, [])


def _case(shell: str, key: str, words: list[str]) -> str:
    plain = " ".join(shlex.quote(word) for word in words if not word.startswith("@"))
    does = [f"printf '%s\\n' {plain}"] if plain else []
    does += [f"printf '%s\\n' {word}" if word == FILES else
             f"command pondtui completion {word[1:]} 2>/dev/null"
             for word in words if word.startswith("@")]  # fmt: skip
    if shell == "fish":
        return f"        case '{key}'\n            {'; '.join(does)}"
    return f"        '{key}') {'; '.join(does)} ;;"
