"""The list of chores to choose from: every one of them is a good one."""

from __future__ import annotations

import pytest

from pondtui.errors import InputError
from pondtui.pond.setup.chores import BEGIN, CHORES, chosen, lines
from pondtui.pond.setup.read import read_setup
from pondtui.pond.setup.template import skeleton
from tests.pond.setup.examples import small


@pytest.mark.parametrize("chore", CHORES, ids=lambda chore: chore["name"])
def test_a_chore_of_the_list_is_read_without_a_word(chore: dict[str, object]) -> None:
    setup, problems = read_setup(small(chore=[chore]), "pond.toml")
    assert setup is not None
    assert [setup.chores[0].name, problems] == [chore["name"], []]


def test_all_of_them_stand_together() -> None:
    setup, problems = read_setup(small(chore=[dict(chore) for chore in CHORES]), "pond.toml")
    assert setup is not None
    assert (len(setup.chores), problems) == (len(CHORES), [])


@pytest.mark.parametrize(
    ("typed", "numbers"),
    [("", range(1, BEGIN + 1)), ("1-3", (1, 2, 3)), ("2, 7 7", (2, 7)), ("none", ())],
)
def test_numbers_choose_chores(typed: str, numbers: tuple[int, ...]) -> None:
    assert [c["name"] for c in chosen(typed)] == [CHORES[n - 1]["name"] for n in numbers]


@pytest.mark.parametrize("typed", ["feed", "1-", "0-2", "99", "3-x"])
def test_what_is_no_number_of_the_list_is_refused(typed: str) -> None:
    with pytest.raises(InputError, match="the list"):
        chosen(typed)


def test_the_answer_goes_into_the_new_pond() -> None:
    assert [c["name"] for c in skeleton({"chores": "3"})["chore"]] == ["feed"]
    assert len(skeleton({})["chore"]) == BEGIN
    assert len(lines()) == len(CHORES)
