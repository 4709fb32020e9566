"""`pondtui new DIR`: a pond folder from a few answers, or from a description that is there."""

from __future__ import annotations

import sys

from pondtui.books.newpond import create, refuse_existing
from pondtui.books.pondfile import parse
from pondtui.books.pondtext import as_toml
from pondtui.books.settings import write_settings
from pondtui.books.texts import read_text
from pondtui.cli.context import Context, as_path
from pondtui.cli.words import Call
from pondtui.errors import FileError, InputError, UsageError
from pondtui.paths import config_dir
from pondtui.pond.setup import chores
from pondtui.pond.setup.asking import mistake_in
from pondtui.pond.setup.template import QUESTIONS, Question, asked, default_of, example_of, skeleton


def run(call: Call, context: Context) -> int:
    """Make the folder and remember it as the pond used last."""
    if len(call.words) != 1 or not call.words[0]:
        raise UsageError("name the one folder to make: pondtui new DIR")
    folder = as_path(call.words[0]).absolute()
    refuse_existing(folder)
    name = call.get("from")
    if name is not None:
        text = read_text(name)
        _refuse_problems(text, name)
    elif sys.stdin.isatty() and context.out.isatty():
        text = as_toml(skeleton(_ask_all(context)))
        _refuse_problems(text, "the answers together")
    else:
        raise UsageError("there is no terminal to ask on: pondtui new DIR --from FILE.toml")
    create(folder, text)
    write_settings(config_dir(), context.settings._replace(last_pond=str(folder)))
    lines = [
        f"made: {folder}",
        f"pond.toml can be edited by hand; `pondtui --pond {call.words[0]} check` looks it over",
        "next: `pondtui add level reading=...`, then `pondtui plan`",
    ]
    context.answer({"pond_folder": str(folder)}, lines)
    return 0


def _refuse_problems(text: str, name: str) -> None:
    """Raises FileError with the first problem of a description."""
    problems = [p for p in parse(text).problems if p.severity == "problem"]
    if problems:
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        raise FileError(f"{problems[0]._replace(path=name)}{more}; nothing was made")


def _ask_all(context: Context) -> dict[str, str]:
    answers: dict[str, str] = {}
    context.say("Amounts with their unit, such as 3.2 m or 40 US gal; Enter takes what is in [ ].")
    for question in QUESTIONS:
        if asked(question, answers):
            answers[question.id] = _ask(question, answers, context)
    answers["chores"] = _ask_chores(context)
    return answers


def _ask_chores(context: Context) -> str:
    """Which chores of the list; Enter takes the first five."""
    for line in chores.lines():
        context.say(line)
    while True:
        context.out.write(f"Which chores? (numbers, or none; any other later) [1-{chores.BEGIN}] ")
        context.out.flush()
        line = sys.stdin.readline()
        if not line:
            return ""  # nothing of the pond hangs on it: the usual five
        try:
            chores.chosen(line)
        except InputError as error:
            context.say(f"  {error}")
            continue
        return line.strip()


def _ask(question: Question, answers: dict[str, str], context: Context) -> str:
    """Ask until the answer can be read."""
    example = example_of(question, answers)
    such = f", such as {example}" if example else ""
    choice = f" ({', '.join(question.words)})" if question.words else f" ({question.help}{such})"
    while True:
        given = default_of(question, answers)
        default = f" [{given}]" if given else ""
        context.out.write(f"{question.question}{choice}{default} ")
        context.out.flush()
        line = sys.stdin.readline()
        if not line:
            raise UsageError("the questions were not all answered: nothing was made")
        typed = line.strip() or given
        mistake = mistake_in(question, typed, answers)
        if not mistake:
            return typed
        context.say(f"  {mistake}")
