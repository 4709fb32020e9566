"""Random deeds of a keeper, as the rules turn them into entries: nothing untreated goes out unseen.

What the walk through the Refill screen does with keys, without the screen and so much further:
whatever order things are done in, an audit that shares nothing with the fold finds nothing, and no
step asks for what is done already.
`PONDTUI_LONG_LAWS=1` walks further and on many more ways.
"""

from __future__ import annotations

import os
import random
from datetime import UTC

import pytest

from pondtui.books.lines import make, render
from pondtui.errors import PondError
from pondtui.pond.refill import actions
from pondtui.pond.refill.case import Case, current_case
from pondtui.pond.refill.progress import StepNow, progress
from pondtui.pond.refill.typed import Answer
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import Folding
from tests.pond.auditor import audit, let_in
from tests.pond.walks import ANSWERS, vessel
from tests.pond.world import SETUP, at, with_bottle

LONG = bool(os.environ.get("PONDTUI_LONG_LAWS"))
DEEDS = 1_500
TYPED = ANSWERS | {
    "dose": ["", "", "", "", "", "5", "40", "3 kg"],
    "level": ["75", "90 on", "110", "62", "off"],
}
LOOKS = ["60 L", "300 mm", "20 L", "nothing"]
PASSES_S = [5, 20, 60, 180, 600, 600, 3600]


class Walk:
    """One seeded walk. Deeds that the rules refuse leave no entry."""

    def __init__(self, setup: Setup, seed: int) -> None:
        self.setup, self.dice = setup, random.Random(seed)
        self.now = at("07:00")
        self.entries: list[Entry] = []
        self.folding = Folding(setup)
        self.barrel = setup.barrels[0]

    def go(self, deeds: int) -> None:
        """So many deeds."""
        for _ in range(deeds):
            if self.dice.random() < 0.4:
                self.now += self.dice.choice(PASSES_S)
            if self.dice.random() < 0.003:
                self.now += self.dice.choice([1, 20]) * 86_400
            if self.dice.random() < 0.01:
                self.barrel = self.dice.choice(self.setup.barrels)
            state = self.folding.state(self.entries, self.now)
            level = state.level
            if level is None or self.now - level.instant > 3600:
                self._write(Answer("level", {"reading": f"{self.dice.randint(60, 120)} mm"}))
                continue
            case = current_case(self.setup, state, self.barrel, self.now)
            try:
                answer = self._deed(case, progress(case).on)
            except PondError:
                continue
            if answer is not None:
                self._write(answer)

    def _write(self, answer: Answer) -> None:
        self.now += 1  # entries of one second would be sorted by their kinds
        entry = make(answer.kind, answer.fields, answer.note, self.now, UTC, None)
        self.entries.append(entry)

    def _deed(self, case: Case, on: StepNow | None) -> Answer | None:
        chance = self.dice.random()
        if chance < 0.02:
            return actions.give_up(case) if case.batch.revision else None
        if chance < 0.05:
            return actions.look(case, self.dice.choice(LOOKS))
        if chance < 0.08:
            return actions.more(case)
        if on is None:
            return None
        if chance < 0.11:
            started = {"fill", "start-fill"} & set(case.batch.order)
            may_stand = on.step.stage in ("before", "fill") and case.can_leave_l >= 1
            return actions.use_as_it_stands(case) if may_stand and not started else None
        if chance < 0.13 and (on.step.passable or on.verdicts):
            return actions.bypass(case, on.step, "in a hurry")
        if on.verdicts or (on.status == "waiting" and not on.step.own):
            return None
        if on.step.asks == "dose":
            assert case.to_treat_l > 0, "a dose is asked for, and nothing is left to dose"
        typed = self.dice.choice(TYPED.get(on.step.asks, [""]))
        return actions.answer(case, on.step, typed or actions.prompt(case, on.step).suggested)


@pytest.mark.parametrize("setup", [SETUP, with_bottle(dose_when="before fill")], ids=["", "first"])
@pytest.mark.parametrize("seed", range(40 if LONG else 3))
def test_whatever_is_done_no_untreated_water_goes_out_unseen(setup: Setup, seed: int) -> None:
    walk = Walk(setup, seed)
    walk.go(DEEDS * (4 if LONG else 1))
    for barrel in setup.barrels:
        found = audit(walk.entries, vessel(barrel))
        told = [render(entry) for entry in walk.entries if entry.get("barrel") == barrel.name]
        assert found == [], "\n".join(told[-40:])
    assert sum(len(let_in(walk.entries, barrel.name)) for barrel in setup.barrels) >= 5
