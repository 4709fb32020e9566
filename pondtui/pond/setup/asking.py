"""Asking for a pond, one question after the other: what is next, and what an answer lacks."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from pondtui.errors import InputError
from pondtui.pond.setup.forms import as_raw
from pondtui.pond.setup.model import Setup
from pondtui.pond.setup.read import read_findings
from pondtui.pond.setup.shapes import bottom_mm
from pondtui.pond.setup.template import (
    QUESTIONS,
    Question,
    asked,
    default_of,
    example_of,
    skeleton,
)
from pondtui.pond.setup.values import read_value
from pondtui.pond.water.levels import drop_mm, floating
from pondtui.units import CANONICAL, read, show

_OVERFULL_MM = 50.0  # a reading farther above the edge is a slip: the water would have run off

# What stands for sizes that are not told yet, so that those that are can be checked and drawn.
_STAND_INS = {
    "basin_length": "3 m",
    "basin_width": "2 m",
    "basin_diameter": "2.4 m",
    "basin_depth": "0.8 m",
    "basin_areas": "0 m, 5 m2; 0.8 m, 1 m2",
    "barrel_diameter": "56 cm",
    "barrel_width": "50 cm",
    "barrel_breadth": "50 cm",
    "barrel_height": "90 cm",
    "barrel_length": "1 m",
    "barrel_full_line": "2 mm",
    "barrel_outlet": "1 mm",
    "conditioner_label_dose": "8 mL",
    "conditioner_label_volume": "100 L",
}


def questions(answers: Mapping[str, str]) -> list[Question]:
    """The questions that apply after the answers so far."""
    return [question for question in QUESTIONS if asked(question, answers)]


def mistake_in(question: Question, typed: str, answers: Mapping[str, str]) -> str:
    """Why an answer cannot be taken, or nothing."""
    if not typed:
        return "this one is needed" if question.required else ""
    if question.words and typed not in question.words:
        return f"one of {', '.join(question.words)}"
    units = answers.get("pond_units")
    gallon = units if units in ("us", "imperial") else None
    field, example = question.field, example_of(question, answers)
    if example and field.type in CANONICAL:  # in the keeper's own units
        field = field._replace(example=f'"{example}"')
    try:
        read_value(field, as_raw(field, typed), gallon)
    except InputError as error:
        return str(error)
    return ""


def contradiction(question: Question, typed: str, answers: Mapping[str, str]) -> str:
    """What an answer says against the earlier ones, or nothing.

    The reader of the whole file judges, and what it says of questions yet to come is left out.
    """
    given = {**answers, question.id: typed or default_of(question, answers)}
    before = set(_told(answers, set(answers) - {question.id}))
    for told in _told(given, set(given)):
        if told not in before:
            return told
    return ""


def level_mistake(typed: str, answers: Mapping[str, str]) -> str:
    """Why a first reading of the gauge cannot be right for the pond that was told, or nothing."""
    setup = so_far(answers)
    if setup is None or not typed:
        return ""
    basin = floating(setup, date.max)
    drop = drop_mm(setup, basin, read(typed, "length", gallon=setup.gallon, signed=True).value)
    if drop > bottom_mm(basin):
        deep = show(bottom_mm(basin), "length", setup.pond.units)
        return f"that is below the bottom, {deep} under the edge: read the gauge again"
    if drop < -_OVERFULL_MM:
        above = show(-drop, "length", setup.pond.units)
        return f"that is {above} above the edge where it runs over: read the gauge again"
    return ""


def so_far(answers: Mapping[str, str]) -> Setup | None:
    """The pond as far as it is told; what is not yet told has a likely size."""
    return read_findings(skeleton({**_stand_ins(answers), **answers}))[0]


def _stand_ins(answers: Mapping[str, str]) -> dict[str, str]:
    return {name: text for name, text in _STAND_INS.items() if not answers.get(name)}


def _told(answers: Mapping[str, str], known: set[str]) -> list[str]:
    """The problems with what is known."""
    findings = read_findings(skeleton({**_stand_ins(answers), **answers}))[1]
    marks = ("spill", "target", "danger")
    found = []
    for finding in findings:
        if finding.table == "mark":
            name = marks[finding.nth]
        else:
            name = f"{finding.table.partition('.')[0]}_{finding.key}"
        if finding.severity == "problem" and name in known:
            found.append(finding.message)
    return found
