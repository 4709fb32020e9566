"""A sample's journal while it is written, and refills taken through the program's own steps."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from pondtui.books.lines import make, parse_line, render
from pondtui.books.pondfile import load
from pondtui.books.stamps import render_stamp
from pondtui.pond.refill import actions
from pondtui.pond.refill.case import Case, current_case
from pondtui.pond.refill.own_steps import read_own_steps
from pondtui.pond.refill.procedure import Step
from pondtui.pond.refill.progress import progress
from pondtui.pond.refill.running import release_min, tap_flow_l_min
from pondtui.pond.refill.typed import Answer
from pondtui.pond.setup.barrels import full_line_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.pond.state.model import PondState
from pondtui.units import read
from tests.sample.tale import PassOver, Stop, Tale, Typed
from tests.sample.truth import Truth

TRUE_FITTINGS = 3.2  # the losses that the yard's pipe really has
BUCKET_MIN = 1.6
# minutes that a step takes; those with water are worked out
MINUTES = {"barrel-sound": 1.2, "dose": 2.5, "mix": 2.0, "chlorine-test": 3.5, "barrel-temp": 1.0,
           "level-after": 7.0}  # fmt: skip


def described(folder: Path) -> Setup:
    """The pond of a folder, with the steps of its procedure.toml."""
    setup, problems = load(folder)[:2]
    data = tomllib.loads((folder / "procedure.toml").read_text(encoding="utf-8"))
    steps, mistakes = read_own_steps(data, "procedure.toml")
    assert setup is not None
    assert not problems + mistakes, problems + mistakes
    return setup._replace(own_steps=steps)


_USUAL: Typed = {"filled": ["line"], "chlorine-test": ["0"], "released": ["all"]}


class Book:
    """Entries by file; `now` is the moment at which the person writing stands."""

    def __init__(self, setup: Setup, tale: Tale, truth: Truth, rng: Random) -> None:
        self.setup, self.tale, self.truth, self.rng = setup, tale, truth, rng
        self.tz = ZoneInfo(setup.pond.time_zone)
        self.lines: dict[str, list[str]] = {
            "desk": [],
            "phone": [],
            "hand": ["# Lines written with an editor. One entry a line; # begins a comment."],
        }
        self.told: list[str] = []  # from the sitter's message, to be taken in
        self.entries: list[Entry] = []
        self.now = 0

    def wait(self, minutes: float) -> None:
        """Time goes by, never to the second as planned."""
        self.now += max(round(minutes * 60 * self.rng.uniform(0.97, 1.03)), 1)

    def write(self, kind: str, fields: Mapping[str, str], note: str = "", by: str = "") -> Entry:
        """An entry of now, as the program on that person's device writes it."""
        by = by or self.tale.keeper
        entry = make(kind, {**fields, "by": by}, note, self.now, self.tz, self.setup.gallon)
        self.entries.append(entry)
        told = by == self.tale.sitter_name
        into = self.told if told else self.lines["phone" if by == self.tale.sitter else "desk"]
        into.append(render(entry))
        return entry

    def by_hand(self, rest: str) -> None:
        """A line of now as a person writes it with an editor: no seconds, few fields."""
        self.now -= self.now % 60
        stamp = re.sub(r":00(?=[+-])", "", render_stamp(self.now, self.tz))
        line = f"{stamp} | {rest}"
        entry, problems = parse_line(line, "hand", 0, self.tz, self.setup.gallon)
        assert entry is not None, problems
        self.entries.append(entry)
        self.lines["hand"].append(line)

    def state(self) -> PondState:
        """What the journal says now."""
        return fold(self.setup, merge(self.entries).live, self.now)

    def case(self, barrel: Barrel) -> Case:
        """The batch on a barrel now."""
        return current_case(self.setup, self.state(), barrel, self.now)

    def put(self, answer: Answer, by: str = "", note: str = "") -> Entry:
        """Write the entry that an answer means."""
        return self.write(answer.kind, answer.fields, note or answer.note, by)

    def refill(self, barrel: Barrel, typed: Typed, by: str = "") -> None:
        """Go on with the barrel's batch until it is closed up or `Stop`.

        `typed` holds the answers by step, used up one after another, the last one again; what is
        measured is measured where nothing is said.
        """
        label = self.case(barrel).batch.label
        answers = {step: list(words) for step, words in {**_USUAL, **typed}.items()}
        while True:
            case = self.case(barrel)
            on = progress(case).on
            if on is None or case.batch.label != label:
                return
            if on.status == "waiting":
                self.wait(case.wait_left_s / 60 + 0.5)
                continue
            words = answers.get(on.step.id, [""])
            word = words.pop(0) if len(words) > 1 else words[0]
            if isinstance(word, Stop):
                return
            if isinstance(word, PassOver):
                self.wait(1)
                self.put(actions.bypass(case, on.step, word.reason), by)
                continue
            assert on.closed is None, f"{on.step.id}: {on.closed}"
            self._take(case, on.step, word, by)

    def _take(self, case: Case, step: Step, word: str, by: str) -> None:
        word, _, note = (word or self._measured(case, step)).partition(" | ")
        self.wait(self._minutes(case, step, word))
        if step.asks == "level":
            word = f"{self.truth.rule(self.truth.gauge())} on"
        found = self.put(actions.answer(case, step, word), by, note)
        if found.kind == "release" and found.fields["to"] != actions.ELSEWHERE:
            self.truth.let_in(found.values["out"])

    def _measured(self, case: Case, step: Step) -> str:
        if step.asks == "temperature":
            return self.truth.barrel_temp(case.barrel)
        return actions.prompt(case, step).suggested

    def _minutes(self, case: Case, step: Step, word: str) -> float:
        if step.id == "filled":
            litres = full_line_l(case.barrel) - case.water.held_l
            return litres / (tap_flow_l_min(self.setup, case.barrel) or 11.0)
        if step.id != "released":
            return MINUTES.get(step.id, 0.4)
        fields = actions.answer(case, step, word).fields
        out = read(fields["out"], "volume", gallon=self.setup.gallon).value
        if case.barrel.delivery == "carried":
            return out / case.barrel.bucket_l * BUCKET_MIN
        pipe = case.barrel._replace(fittings=TRUE_FITTINGS)
        return release_min(pipe, (), case.water.held_l, out)[0] or 0.0
