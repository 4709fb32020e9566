"""The budget on simulated ponds under real weather: what is not explained stays within its errors.

The weather and the ponds are those of tests/simulator.py; the ponds are constructed.
"""

from __future__ import annotations

import pytest

from pondtui.pond.state.entry import Entry
from pondtui.pond.water import budget as module
from pondtui.pond.water.budget import Budget, budget
from tests.pond.water.books import open_end
from tests.simulator import Faults, Season, season

SEASONS = 30
WRONG = Faults(poor_weather=True, bias=0.1, noise_mm=0.6, barrel=0.05, drift=0.1, readers_mm=2.0,
               wander_h=1.0, rain_short=0.1, splash_mm=0.7)  # fmt: skip


def budget_of(found: Season, monkeypatch: pytest.MonkeyPatch) -> Budget:
    """The budget of a season whose evaporation the simulator knows."""
    monkeypatch.setattr(module, "daily", lambda *_: found.evaporation)
    entries = [Entry(when, "", "rain", {}, {"depth": mm}) for when, mm in found.state.rain]
    return budget(found.setup, found.state, entries, {}, found.first, found.last)


@pytest.mark.parametrize(("faults", "most"), [(Faults(), 2), (WRONG, 3)])
def test_a_pond_that_is_written_down_is_rarely_called_unexplained(
    faults: Faults, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    called = 0
    for seed in range(SEASONS):
        whole = budget_of(season(seed, 1.0, faults), monkeypatch).whole
        called += whole.unexplained
        assert abs(open_end(whole.terms)) < 1e-6
    assert called <= most, f"{called} of {SEASONS}"


def test_the_true_terms_lie_within_their_errors(monkeypatch: pytest.MonkeyPatch) -> None:
    """95 of 100 should: of 30 seasons at most 4 may not; the sum of both losses is kept closer."""
    missed = {"evaporation": 0, "steady": 0, "both": 0}
    for seed in range(SEASONS):
        found = season(seed, 1.5)
        answer = budget_of(found, monkeypatch)
        terms, errors = answer.whole.terms, answer.whole.errors
        assert terms.evaporation is not None
        assert terms.steady is not None
        assert answer.losses.steady_mm is not None
        evaporation = terms.evaporation / answer.losses.factor * found.site_factor
        steady = terms.steady / answer.losses.steady_mm * found.steady_mm
        missed["evaporation"] += abs(terms.evaporation - evaporation) > (errors.evaporation or 0)
        missed["steady"] += abs(terms.steady - steady) > (errors.steady or 0)
        off = abs(terms.evaporation + terms.steady - evaporation - steady)
        missed["both"] += off > (answer.whole.loss_error_l or 0)
    assert max(missed.values()) <= 4, missed
