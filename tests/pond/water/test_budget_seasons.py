"""The budget on simulated ponds under real weather: what is not explained stays within its errors.

The weather and the ponds are those of tests/simulator.py; the ponds are constructed.
"""

from __future__ import annotations

import pytest

from pondtui.pond.state.entry import Entry
from pondtui.pond.water import budget as module
from pondtui.pond.water.budget import Terms, budget
from tests.pond.water.books import open_end
from tests.simulator import Faults, Season, season

SEASONS = 30
WRONG = Faults(poor_weather=True, bias=0.1, noise_mm=0.6, barrel=0.05, drift=0.1, readers_mm=2.0,
               wander_h=1.0, rain_short=0.1, splash_mm=0.7)  # fmt: skip


def terms_of(found: Season, monkeypatch: pytest.MonkeyPatch) -> tuple[Terms, Terms, bool]:
    """Terms, errors and the alarm of a season whose evaporation the simulator knows."""
    monkeypatch.setattr(module, "daily", lambda *_: found.evaporation)
    entries = [Entry(when, "", "rain", {}, {"depth": mm}) for when, mm in found.state.rain]
    whole = budget(found.setup, found.state, entries, {}, found.first, found.last).whole
    return whole.terms, whole.errors, whole.unexplained


@pytest.mark.parametrize(("faults", "most"), [(Faults(), 2), (WRONG, 3)])
def test_a_pond_that_is_written_down_is_rarely_called_unexplained(
    faults: Faults, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    called = 0
    for seed in range(SEASONS):
        terms, errors, unexplained = terms_of(season(seed, 1.0, faults), monkeypatch)
        called += unexplained
        assert abs(open_end(terms)) < 1e-6
        assert errors.residual is not None
    assert called <= most, f"{called} of {SEASONS}"
