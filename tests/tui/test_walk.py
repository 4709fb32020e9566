"""Thousands of random keys in the real Refill screen never let untreated water out unseen.

`pytest --long-walk` presses 20,000 keys, otherwise 2,000.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.journal import read_folder
from pondtui.books.pondfile import load
from pondtui.pond.state.fold import fold
from tests.pond.auditor import audit, let_in
from tests.pond.walks import vessel
from tests.tui.terminal import ROOT
from tests.tui.walk import Walker

START = 1_791_560_400  # 2026-10-09 17:40 in the pond's zone
SHORT, LONG = 2_000, 20_000
SEED = 1
LEAST_RELEASES = 20


@pytest.mark.long
async def test_no_untreated_water_is_let_out_without_a_bypass_or_an_agreed_unknown(
    tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    keys = LONG if request.config.getoption("--long-walk") else SHORT
    (tmp_path / "journal").mkdir()
    shutil.copy(ROOT / "sample" / "metric" / "pond.toml", tmp_path)
    walked = await Walker(tmp_path, START, SEED).run(keys)
    setup = load(tmp_path).setup
    assert setup is not None
    journal = read_folder(tmp_path, ZoneInfo(setup.pond.time_zone), setup.gallon)
    assert [p for p in journal.problems if p.severity == "problem"] == []
    barrels = [vessel(barrel) for barrel in setup.barrels]
    found = [finding for each in barrels for finding in audit(journal.entries, each)]
    assert found == []
    releases = sum(len(let_in(journal.entries, each.name)) for each in barrels)
    assert releases >= LEAST_RELEASES
    state = fold(setup, journal.live, walked.now)
    for barrel in state.barrels.values():
        balance = barrel.begun_l + barrel.filled_l + barrel.corrected_l - barrel.released_l
        assert barrel.held_l == pytest.approx(balance, abs=1e-6)
