"""The questions of setting up a pond, in their order, and why an answer cannot be taken."""

from __future__ import annotations

import os
from collections.abc import Mapping

from pondtui.books.draft import folder_of, free_folder
from pondtui.books.newpond import refuse_existing
from pondtui.errors import FileError
from pondtui.pond.setup.asking import contradiction, level_mistake, mistake_in, questions
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.template import Question, default_of, example_of
from pondtui.records import NamedTuple

_READING = next(field for field in TABLES["mark"].fields if field.key == "reading")
_LEVEL = Question("level", "What does the gauge read now?", "the last question; left empty, you "
                  "read it later", "mark", _READING, required=False)  # fmt: skip
_LATER = ("barrel_name",)  # one barrel needs no name of its own; Setup can give it one
USUAL = "1-6"  # the chores that nearly every pond has
WORDS = {
    "metric": "litres, centimetres, degrees Celsius", "us": "US gallons, inches, degrees "
    "Fahrenheit", "imperial": "imperial gallons, inches, degrees Fahrenheit",
    "down": "from a fixed edge down to the water", "up": "a rule that stands in the water",
    "box": "four upright sides", "cylinder": "round, upright sides", "ellipse": "oval, upright "
    "sides", "bowl": "oval, rounded like a bowl", "battered": "four sloping sides",
    "table": "any other form, measured at several depths",
    "upright": "round, on its end", "lying": "round, on its side", "straight": "any other with "
    "upright walls",
    USUAL: "fish, pump and fall, feeding by the water's temperature, the week's tests, "
    "filter sponge, level and temperature",
    "none": "none for now",
}  # fmt: skip
HEADS = {USUAL: "take", "none": "leave"}  # of a word that says too little


class Step(NamedTuple):
    """What is asked on one screen."""

    id: str
    text: str
    help: str
    words: tuple[str, ...] = ()
    default: str = ""
    example: str = ""
    question: Question | None = None


def steps(answers: Mapping[str, str], zone: str, units: str) -> list[Step]:
    """All that is asked after the answers so far; the last one makes the pond.

    `zone` and `units` are what this machine says of itself, "" where it says nothing.
    """
    here = {"pond_time_zone": zone, "pond_units": units}
    found = [
        _step(question, answers, here) for question in questions(answers)
        if question.id not in _LATER
    ]  # fmt: skip
    found.append(Step("chores", "Take the usual chores?", "what falls due stands on the first "
                      "screen; Setup changes the list", (USUAL, "none"), USUAL))  # fmt: skip
    name = answers.get("pond_name", "pond")
    folder = answers.get("folder") or free_folder(name)
    found.append(Step("folder", "In which folder is it to be kept?", "pond.toml and the journal "
                      "are text files in it", default=folder))  # fmt: skip
    return [*found, _step(_LEVEL, answers, here)]


def _step(question: Question, answers: Mapping[str, str], here: Mapping[str, str]) -> Step:
    default = here.get(question.id) or default_of(question, answers)
    example = example_of(question, answers)
    if question.id == "level":
        example = answers.get("target", "")
    return Step(question.id, question.question, question.help, question.words, default, example,
                question)  # fmt: skip


def wrong(step: Step, typed: str, answers: Mapping[str, str]) -> str:
    """Why the answer cannot be taken, or nothing."""
    if step.id == "folder":
        return _no_folder(typed)
    question = step.question
    if question is None:
        return ""
    found = mistake_in(question, typed, answers)
    if found:
        return found
    if step.id == "level":
        return level_mistake(typed, answers)
    return contradiction(question, typed, answers)


def _no_folder(typed: str) -> str:
    path = folder_of(typed)
    try:
        refuse_existing(path)
    except FileError as error:
        return str(error)
    above = next((each for each in path.parents if each.exists()), path)
    if not above.is_dir() or not os.access(above, os.W_OK):
        return f"nothing can be written in {above}: name a folder somewhere else, such as ~/pond"
    return ""
