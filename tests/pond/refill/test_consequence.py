"""Whoever passes a step over is told what it will do, in the numbers of this batch.

Constructed: 180 L stand in the barrel and 160 L can leave, the tap has 0.6 mg/L, the pond holds
3600 L at its reading and the bay 150 L: 0.6 x 160 / 3910 = 0.0246 mg/L. The limits are EPA
440/5-84-030 (1984), 0.011 mg/L for four days, and 40 CFR 141.65, 4 mg/L at the tap (from memory).
"""

from __future__ import annotations

import pytest

from pondtui.pond.refill.consequence import consequence, harm, times_chronic
from pondtui.pond.refill.procedure import STEPS
from tests.pond.world import AGREED, BEFORE, FILLED, case, with_tap


@pytest.mark.parametrize("step", ["dose", "mix", "wait", "chlorine-test", "agree", "tap-shut"])
def test_passing_over_the_treatment_tells_the_chlorine_that_the_fish_get(step: str) -> None:
    said = consequence(case(FILLED, "07:20"), step)
    assert said == (
        "if it is untreated, up to 0.025 mg/L of chlorine in the pond, "
        "2 x the 0.011 mg/L that water life bears (EPA 1984)"
    )


def test_a_tap_of_unknown_strength_counts_as_the_most_that_is_allowed() -> None:
    unknown = with_tap(total_chlorine_mg_l=None, free_chlorine_mg_l=None)
    said = consequence(case(FILLED, "07:20", unknown), "dose")
    assert "up to 0.164 mg/L" in said  # 4 x 160 / 3910
    assert "15 x the 0.011 mg/L" in said
    assert said.endswith("the tap taken as 4 mg/L")


def test_without_a_gauge_reading_no_number_is_made_up() -> None:
    unread = FILLED.replace("07:00 | level | reading=80 mm; pump=on; temp=18 degC", "")
    said = consequence(case(unread, "07:20"), "dose")
    assert said.startswith("what it would do to the pond cannot be worked out")
    assert "mg/L" not in said


def test_nothing_to_let_out_does_nothing_to_the_pond() -> None:
    assert "cannot be worked out" in harm(case(FILLED, "07:20"), 0.0)


def test_opening_too_early_tells_degrees_and_litres_over_the_edge() -> None:
    nearly_full = AGREED.replace("80 mm", "25 mm")  # 25 L to the pipe, 10 L of it the gauge's error
    said = consequence(case(nearly_full, "07:42"), "outlet-open")
    assert "145 L go over the edge" in said
    assert "it changes the pond by -0.1 °C" in said  # 2 degC colder, 160 L into some 4,000


def test_a_release_with_room_speaks_of_no_edge() -> None:
    said = consequence(case(AGREED, "07:42"), "outlet-open")
    assert "edge" not in said
    assert "it changes the pond by -0.1 °C" in said
    assert "0.025 mg/L" in said


def test_a_barrel_that_was_not_looked_at_tells_its_weight() -> None:
    # 1 kg a litre, by the definition of the litre and the density of water
    assert "180 kg stand in it now" in consequence(case(FILLED, "07:20"), "barrel-sound")


def test_a_hose_under_water_speaks_of_the_drinking_water() -> None:
    assert "drinking water" in consequence(case(BEFORE, "07:05"), "hose-above-rim")


@pytest.mark.parametrize("step", [step.id for step in STEPS])
def test_every_step_of_the_procedure_has_its_own_words(step: str) -> None:
    said = consequence(case(AGREED, "07:42"), step)
    assert said
    assert said != "one of your own steps is left out"


def test_a_step_of_the_keepers_own_is_named_as_such() -> None:
    assert consequence(case(BEFORE, "07:05"), "wipe-the-rim") == "one of your own steps is left out"


def test_the_limit_for_four_days_is_one_of_itself() -> None:
    assert times_chronic(0.011) == pytest.approx(1.0)
