"""procedure.toml: the keeper's own steps, and every mistake in them told."""

from __future__ import annotations

import tomllib

import pytest

from pondtui.pond.refill.own_steps import read_own_steps
from pondtui.pond.refill.procedure import step_ids
from pondtui.pond.setup.model import OwnStep


def read(text: str) -> tuple[tuple[OwnStep, ...], list[str]]:
    """The steps of a file, and what is said about it."""
    steps, problems = read_own_steps(tomllib.loads(text), "procedure.toml")
    assert all(problem.path == "procedure.toml" for problem in problems)
    return steps, [problem.message for problem in problems]


LID = '[[step]]\nid = "own-lid"\nafter = "mix"\ntext = "Put the lid on"\n'


def test_a_step_needs_an_id_a_place_and_words() -> None:
    steps, said = read(LID)
    assert steps == (OwnStep("own-lid", "mix", "Put the lid on"),)
    assert said == []


def test_a_number_has_a_unit_and_a_wait_its_minutes() -> None:
    steps, said = read(
        '[[step]]\nid = "ph"\nafter = "filled"\ntext = "pH"\nkind = "number"\nunit = "pH"\n'
        '[[step]]\nid = "rest"\nafter = "ph"\ntext = "Rest"\nkind = "wait"\nminutes = 5\n'
        '[[step]]\nid = "air"\nafter = "rest"\ntext = "Air"\nkind = "wait"\nminutes = "2 h"\n'
    )
    assert said == []
    assert [(s.kind, s.unit, s.minutes) for s in steps] == [
        ("number", "pH", 0.0),
        ("wait", "", 5.0),
        ("wait", "", 120.0),
    ]


@pytest.mark.parametrize("taken", step_ids())
def test_a_safety_step_cannot_be_replaced(taken: str) -> None:
    steps, said = read(LID.replace("own-lid", taken))
    assert steps == ()
    assert any(taken in message and "taken" in message for message in said)


@pytest.mark.parametrize(
    ("wrong", "word"),
    [
        (LID.replace('"own-lid"', '"Own Lid"'), "id"),
        (LID.replace('"mix"', '"mixx"'), '"mix"'),
        (LID.replace('"Put the lid on"', '" "'), "text"),
        (LID + 'kind = "dance"\n', "kind"),
        (LID + 'kind = "wait"\n', "minutes"),
        (LID + 'kind = "wait"\nminutes = -5\n', "minutes"),
        (LID + 'kind = "wait"\nminutes = "5 kg"\n', "minutes"),
        (LID + 'kind = "wait"\nminutes = nan\n', "minutes"),
        (LID + LID, "taken"),
        ("step = 3\n", "[[step]]"),
        ("step = [1]\n", "[[step]]"),
    ],
)
def test_a_mistake_is_told_and_its_step_left_out(wrong: str, word: str) -> None:
    steps, said = read(wrong)
    assert len(steps) == (1 if wrong == LID + LID else 0)
    assert any(word in message for message in said)


def test_a_step_behind_a_step_that_is_left_out_is_told() -> None:
    steps, said = read(
        LID.replace('"Put the lid on"', '""')
        + '[[step]]\nid = "two"\nafter = "own-lid"\ntext = "Two"\n'
    )
    assert steps == ()
    assert len(said) == 2


def test_an_unknown_key_is_a_remark_and_the_step_stays() -> None:
    steps, problems = read_own_steps(tomllib.loads(LID + 'colour = "red"\n'), "procedure.toml")
    assert len(steps) == 1
    assert [problem.severity for problem in problems] == ["remark"]


def test_an_empty_file_has_no_steps() -> None:
    assert read("") == ((), [])
    assert read("format = 1\n") == ((), [])
