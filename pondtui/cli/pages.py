"""The manual's pages on the verbs, written from their table; and the manual as a whole."""

from __future__ import annotations

from functools import cache

from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS, Option, Verb
from pondtui.tui import key_pages
from pondtui.views.pages import contents
from pondtui.views.pages.page import Page, row

COMMANDS = "commands"


@cache
def manual() -> tuple[Page, ...]:
    """Every page of the manual."""
    return (*contents.pages(), *key_pages.pages(), *verb_pages())


def verb_pages() -> tuple[Page, ...]:
    """All verbs, then one page a verb."""
    rows = [row(f"pondtui {v.name}".strip(), v.help) for v in VERBS.values()]
    own = VERBS[""].options
    parts = [*rows, "", "# Options of every verb", *options(GLOBAL_OPTIONS), ""]
    parts += ["# Options of pondtui itself, without a verb", *options(own), ""] if own else []
    text = "\n".join(parts)
    named = [verb for verb in VERBS.values() if verb.name]
    return (
        Page(COMMANDS, "every verb of the command line", text),
        *(Page(f"{COMMANDS} {v.name}", f"command: {v.name}", verb_text(v)) for v in named),
    )


def verb_text(verb: Verb) -> str:
    """One verb: its call, what it does, its options."""
    help = f"{verb.help[:1].upper()}{verb.help[1:]}."
    also = ["Answers with --json as well."] if verb.reads else []
    return "\n".join([f"    {verb.usage}", "", help, *also, "", *options(verb.options), ""])


def options(found: tuple[Option, ...]) -> list[str]:
    """A row for each option."""
    rows = []
    for option in found:
        short = f", -{option.letter}" if option.letter else ""
        rows.append(row(f"--{option.name}{short} {option.value}".rstrip(), option.help))
    return rows
