"""Pump and gates: what counts between two instants is what counts there in the whole history."""

from __future__ import annotations

from bisect import bisect_right

from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.state.entry import Entry
from pondtui.pond.state.live import Live
from pondtui.pond.water.held import Switch, switches
from tests.pond.box import POND, setup_of
from tests.pond.water.test_budget import BAY
from tests.pond.world import entries

SETUP = setup_of(POND + BAY)
DAY_S = 86_400
FACTS = st.sampled_from(
    [
        "level | reading=60 mm",
        "level | reading=60 mm; pump=on",
        "level | reading=60 mm; pump=off",
        "event | what=pump-off",
        "event | what=pump-on",
        "event | what=gate-shut",
        "event | what=gate-open; kind=bay",
        "event | what=heron-seen",
    ]
)
HISTORIES = st.lists(FACTS, min_size=1, max_size=30).map(
    lambda facts: entries(
        [f"2026-06-{n // 3 + 1:02} {8 + n % 3:02}:00:00Z | {fact}" for n, fact in enumerate(facts)]
    )
)


def _stands(found: list[Switch], instant: int) -> tuple[bool, frozenset[str]]:
    place = bisect_right([each.instant for each in found], instant) - 1
    now = found[place] if place >= 0 else Switch(0)
    return now.pump_on, now.gates_shut


@given(HISTORIES, st.integers(0, 10), st.integers(0, 10))
def test_how_pump_and_gates_stand_in_a_season_does_not_hang_on_how_much_is_looked_at(
    history: list[Entry], first: int, days: int
) -> None:
    since = history[0].instant + first * DAY_S
    until = since + days * DAY_S
    of_all = switches(SETUP, Live(history), 0, history[-1].instant)
    found = switches(SETUP, Live(history), since, until)
    for entry in history:
        if since <= entry.instant <= until:
            assert _stands(found, entry.instant) == _stands(of_all, entry.instant)
    assert _stands(found, since) == _stands(of_all, since)


def test_a_pump_and_a_gate_stay_as_they_were_left_long_before() -> None:
    live = Live(
        entries(
            [
                "2020-06-01 08:00:00Z | event | what=gate-shut",
                "2021-06-01 08:00:00Z | level | reading=60 mm; pump=off",
                "2022-06-01 08:00:00Z | level | reading=61 mm",
            ]
        )
    )
    end = live[-1].instant + DAY_S
    assert _stands(switches(SETUP, live, end, end + DAY_S), end) == (False, frozenset({"bay"}))
