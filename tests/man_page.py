"""The man page, written from the same tables as the help: pondtui/cli/pondtui.1.

python -m tests.man_page
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import pondtui
from pondtui.cli.pages import manual
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS, Option, Verb
from pondtui.pond.state.kinds import KINDS
from pondtui.views.pages.contents import topics
from pondtui.views.pages.page import Page

FILE = Path(__file__).parents[1] / "pondtui" / "cli" / "pondtui.1"
DATE = "2026-11-25"  # of the last change of this script's own words
HEAD = f"""\
.\\" Written by python -m tests.man_page: change the tables, not this file.
.TH PONDTUI 1 {DATE} "pondtui {pondtui.__version__}" "User Commands"
.SH NAME
pondtui \\- logbook and checklist for a small garden pond
"""
ABOUT = (
    "pondtui walks one batch of water from fill to treat to release, works out the dose for the "
    "water that is really in the barrel, says what stands in the way, and keeps every reading in a "
    "plain text journal. Without a verb it opens the pond used last on the screen; without a "
    "terminal it prints the status."
)
FILES = (
    ("pond.toml", "in the pond's folder: the pond as it is described"),
    ("journal/*.txt", "in the pond's folder: one file a year and device, only added to"),
    ("settings.toml", "the program's own settings; pondtui where names the place"),
)
EXAMPLES = (
    ("pondtui sample", "look round the invented pond"),
    ("pondtui plan", "what a refill needs now"),
    ('pondtui add level reading="62 mm"', "write down what the gauge reads"),
    ("source <(pondtui completion bash)", "let bash complete verbs, options and names"),
)


def escaped(text: str) -> str:
    """A text as roff takes it: a hyphen is typed as such, nothing is taken for a request."""
    text = text.replace("\\", "\\e").replace("-", "\\-").replace("`", "").replace("'", "\\(aq")
    return re.sub(r"^([.])", r"\\&\1", text)


def entry(left: str, right: str) -> str:
    """A row: bold at the left, its text below it."""
    return f".TP\n.B {escaped(left)}\n{escaped(right)}\n"


def section(title: str, body: Iterable[str]) -> str:
    return f".SH {title}\n{''.join(body)}"


def option(each: Option) -> str:
    letter = f", -{each.letter}" if each.letter else ""
    return entry(f"--{each.name}{letter} {each.value}".rstrip(), each.help)


def command(verb: Verb) -> str:
    help = f"{verb.help[:1].upper()}{verb.help[1:]}."
    also = "Answers with --json as well." if verb.reads else ""
    lines = [f".SS {escaped(verb.usage)}\n", f"{escaped(help)}\n"]
    return "".join([*lines, *([f"{escaped(also)}\n"] if also else []), *map(option, verb.options)])


def _rows(page: Page, after: str = "") -> list[tuple[str, str]]:
    text = page.text.split(f"# {after}\n")[-1] if after else page.text
    parts = [line.partition(" :: ") for line in text.splitlines()]
    return [(left, right) for left, mark, right in parts if mark]


def text() -> str:
    """The whole page."""
    pages = {page.name: page for page in manual()}
    verbs = [verb for verb in VERBS.values() if verb.name]
    kinds = [entry(kind.name, kind.help) for kind in KINDS.values()]
    listed = [entry(f"pondtui help {page.name}", page.title) for page in topics(manual())]
    return "".join(
        [
            HEAD,
            section("SYNOPSIS", [".B pondtui\n[\\-\\-pond DIR] [VERB ...]\n"]),
            section("DESCRIPTION", [f"{escaped(ABOUT)}\n"]),
            section("OPTIONS", map(option, (*GLOBAL_OPTIONS, *VERBS[""].options))),
            section("COMMANDS", map(command, verbs)),
            section("ENTRIES", ["The kinds of entries that pondtui add writes.\n", *kinds]),
            section("ENVIRONMENT", [entry(*r) for r in _rows(pages["settings"], "Variables")]),
            section("FILES", [entry(*each) for each in FILES]),
            section("EXIT STATUS", [entry(*each) for each in _rows(pages["exit-codes"])]),
            section("EXAMPLES", [entry(*each) for each in EXAMPLES]),
            section("SEE ALSO", ["The manual, page by page:\n", *listed]),
        ]
    )


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(text(), encoding="utf-8")
