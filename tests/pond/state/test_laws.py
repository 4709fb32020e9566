"""Laws of the fold, over invented histories that nobody would write on purpose.

`PONDTUI_LONG_LAWS=1` runs each of them on many more histories.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from pondtui.pond.state.barrels import Water
from pondtui.pond.state.entry import Dose, Entry
from pondtui.pond.state.fold import AHEAD_S, Folding, fold
from pondtui.pond.state.merge import merge
from pondtui.pond.state.model import PondState
from tests.pond.world import BRIM, DAY_S, SETUP, at, parsed, with_bottle

# read when this file is loaded: every test hides the variables of the developer's machine
LONG = bool(os.environ.get("PONDTUI_LONG_LAWS"))
FAST = settings(
    deadline=None,
    max_examples=3000 if LONG else 60,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
START = at("05-01 07:00")
BARRELS = st.sampled_from(["yard", "shed", "butt"])
LABELS = st.sampled_from(["", "a", "b", "yard-1", "shed-260501"])
LITRES = st.sampled_from([0, 0.5, 1, 2, 20, 21.9, 50, 60.25, 100, 160, 180, 200, 400])
DOSES = st.sampled_from(["1 mL", "7.2 mL", "14.5 mL", "90 mL", "3 g"])
STEPS = st.sampled_from(
    ["outlet-shut", "no-fill", "mix", "agree", "outlet-shut-again", "chlorine-test", "own-lid"]
)


def _batch(label: str) -> str:
    return f"; batch={label}" if label else ""


def _on_barrel(kind: str, fields: str) -> Callable[[str, str, float], str]:
    return lambda name, label, litres: (
        f"{kind} | barrel={name}{_batch(label)}; {fields.format(litres)}"
    )


FILLS = st.builds(
    lambda name, label, litres, source, to: (
        f"fill | barrel={name}{_batch(label)}; {to or f'added={litres} L'}{source}"
    ),
    BARRELS,
    LABELS,
    LITRES,
    st.sampled_from(["", "; source=tap", "; source=rain", "; source=well"]),
    st.sampled_from(["", "", "to=line", "to=300 mm", "to=2 m"]),
)
TREATS = st.builds(
    lambda name, label, dose, rate: f"treat | barrel={name}{_batch(label)}; dose={dose}{rate}",
    BARRELS,
    LABELS,
    DOSES,
    st.sampled_from(
        ["", "; rate=8 mL per 100 L", "; for=180 L; needed=14.4 mL", "; for=0 L; needed=0 mL"]
    ),
)
TESTS = st.builds(
    lambda where, shown: f"test | where={where}; {shown}",
    st.sampled_from(["yard", "shed", "butt", "pond", "tap", "well", "attic"]),
    st.sampled_from(
        [
            "chlorine_total=<0.02 mg/L",
            "chlorine_total=0.5 mg/L",
            "chlorine_total=<0.1 mg/L",
            "chlorine_free=0.3 mg/L",
            "temp=12 degC",
            "ph=7.4",
        ]
    ),
)
OTHERS = st.sampled_from(
    [
        "level | reading=62 mm",
        "level | reading=40 mm; pump=off; temp=17 degC",
        "rain | depth=4 mm",
        "rain | depth=0 mm",
        "event | what=gauge-moved; was=60 mm; now=75 mm",
        "event | what=pump-off",
        "event | what=gate-shut",
        "direct | volume=50 L",
        "direct | buckets=2; source=rain",
        "direct | volume=50 L; dose=4 mL",
        "drain | volume=30 L",
        "supply | item=conditioner; left=120 mL",
        "supply | item=conditioner; got=1 bottle",
        "note | | heron",
        "sonar | x=1",
        "start | what=tea; barrel=yard",
        "fill | barrel=attic; added=5 L",
        "giveup | batch=a",
        "giveup | batch=zz",
        "tick | step=mix",
        "bypass | step=chlorine-test | no kit",
    ]
)
ON_BARREL = st.builds(
    lambda make, name, label, litres: make(name, label, litres),
    st.sampled_from(
        [
            _on_barrel("release", "out={} L"),
            _on_barrel("release", "left={} L"),
            _on_barrel("release", "out={} L; to=elsewhere"),
            _on_barrel("start", "what=fill"),
            _on_barrel("start", "what=release"),
        ]
    ),
    BARRELS,
    LABELS,
    LITRES,
)
DIPS = st.builds(lambda name, litres: f"dip | barrel={name}; left={litres} L", BARRELS, LITRES)
STEPPED = st.builds(
    lambda kind, step, label: f"{kind} | step={step}{_batch(label)} | no time",
    st.sampled_from(["tick", "bypass"]),
    STEPS,
    LABELS,
)
FACTS = st.one_of(FILLS, TREATS, TESTS, ON_BARREL, DIPS, STEPPED, OTHERS)
GAPS = st.sampled_from([0, 1, 60, 600, 3600, DAY_S, 20 * DAY_S])


@st.composite
def histories(draw: st.DrawFn, longest: int = 30) -> list[Entry]:
    """Entries in order, some in one second, some weeks apart."""
    lines = []
    instant = START
    for fact, gap in draw(st.lists(st.tuples(FACTS, GAPS), max_size=longest)):
        instant += gap
        lines.append(f"{datetime.fromtimestamp(instant, UTC):%Y-%m-%d %H:%M:%S}Z | {fact}")
    return list(merge(parsed(lines)).live)


def after(history: list[Entry]) -> int:
    """A time when all of it is past."""
    return (history[-1].instant if history else START) + 60


def strike(entry: Entry, instant: int) -> Entry:
    """A strike of every entry of that instant and kind."""
    when, of = (
        f"{datetime.fromtimestamp(each, UTC):%Y-%m-%d %H:%M:%S}Z"
        for each in (instant, entry.instant)
    )
    return parsed([f"{when} | strike | of={of} {entry.kind}"])[0]


def settled(state: PondState) -> PondState:
    """The state without what is only listed."""
    return state._replace(later=())


@FAST
@given(histories())
def test_no_entry_makes_the_fold_fail(history: list[Entry]) -> None:
    for setup in (
        SETUP,
        with_bottle(dose_when="before fill"),
        with_bottle(kind="dry", agent="thiosulfate-pentahydrate"),
        SETUP._replace(conditioners=()),
        SETUP._replace(barrels=(), basins=(), marks=(), sources={}),
    ):
        assert fold(setup, history, after(history)).entries == len(history)


@FAST
@given(histories(), st.randoms(use_true_random=False), st.integers(1, 4))
def test_the_state_does_not_depend_on_order_splits_or_repeats(
    history: list[Entry], rng: random.Random, files: int
) -> None:
    expected = fold(SETUP, merge(history).live, after(history))
    split: list[list[Entry]] = [[] for _ in range(files)]
    for entry in history:
        for _ in range(rng.choice([1, 1, 2])):
            rng.choice(split).append(entry)
    shuffled = [entry for part in split for entry in rng.sample(part, len(part))]
    assert fold(SETUP, merge(shuffled).live, after(history)) == expected


@FAST
@given(histories(), histories(longest=8), st.integers(0, 40 * DAY_S))
def test_what_is_dated_later_never_changes_an_earlier_state(
    history: list[Entry], more: list[Entry], wait: int
) -> None:
    then = after(history) + wait
    shift = then + AHEAD_S + 1 - START
    late = [
        Entry(e.instant + shift, e.stamp, e.kind, e.fields, e.values, e.note, e.path, e.line)
        for e in more
        if e.kind != "strike"
    ]
    before = fold(SETUP, history, then)
    assert settled(fold(SETUP, merge([*late, *history]).live, then)) == before


@FAST
@given(histories(), st.data())
def test_a_restart_anywhere_shows_the_same_state(history: list[Entry], data: st.DataObject) -> None:
    cut = data.draw(st.integers(0, len(history)))
    head = history[:cut]
    running = fold(SETUP, head, after(head))
    read_again = merge(parsed([_line(entry) for entry in head])).live
    assert fold(SETUP, read_again, after(head)) == running


def _line(entry: Entry) -> str:
    fields = "; ".join(f"{name}={value}" for name, value in entry.fields.items())
    return f"{entry.stamp} | {entry.kind} | {fields} | {entry.note}"


@FAST
@given(histories())
def test_the_water_of_a_barrel_balances_and_is_never_negative(history: list[Entry]) -> None:
    for cut in range(len(history) + 1):
        state = fold(SETUP, history[:cut], after(history))
        for water in state.barrels.values():
            balance = water.begun_l + water.filled_l + water.corrected_l - water.released_l
            assert water.held_l == pytest.approx(balance, abs=1e-6)
            assert water.held_l >= 0
            assert 0 <= water.untreated_l <= water.held_l + 1e-9
            assert water.spare_l >= 0
            if water.held_l > BRIM + 1:
                assert any("more than" in remark for remark in state.remarks)


@FAST
@given(histories())
def test_what_the_pond_got_is_what_the_releases_said(history: list[Entry]) -> None:
    state = fold(SETUP, history, after(history))
    said = sum(
        e.get("out")
        for e in history
        if e.kind == "release" and e.get("out") is not None and e.get("to") != "elsewhere"
    )
    straight = sum(a.litres for a in state.additions if not a.barrel)
    assert sum(a.litres for a in state.additions) - straight >= said - 1e-6


@FAST
@given(histories(), st.sampled_from(["yard", "shed"]), st.sampled_from(["", "a", "b", "new"]))
def test_no_dose_of_last_year_covers_the_water_of_this_year(
    history: list[Entry], name: str, label: str
) -> None:
    later = after(history) + 300 * DAY_S
    stamp = f"{datetime.fromtimestamp(later, UTC):%Y-%m-%d %H:%M:%S}Z"
    (fill,) = parsed([f"{stamp} | fill | barrel={name}{_batch(label)}; added=60 L"])
    water = fold(SETUP, [*history, fill], later).barrels[name]
    assert water.untreated_l == pytest.approx(water.held_l)
    assert water.clear_at is None


@FAST
@given(histories(), st.data())
def test_a_strike_is_as_if_the_entry_was_never_written(
    history: list[Entry], data: st.DataObject
) -> None:
    assume(history)
    wrong = data.draw(st.sampled_from(history))
    now = after(history) + 100
    taken_back = merge([*history, strike(wrong, now - 50)]).live
    without = [e for e in history if (e.instant, e.kind) != (wrong.instant, wrong.kind)]
    state, expected = fold(SETUP, taken_back, now), fold(SETUP, without, now)
    assert state._replace(entries=0) == expected._replace(entries=0)


@FAST
@given(histories(), st.data())
def test_a_strike_of_a_strike_restores(history: list[Entry], data: st.DataObject) -> None:
    assume(history)
    wrong = data.draw(st.sampled_from(history))
    now = after(history) + 100
    first = strike(wrong, now - 50)
    again = strike(first, now - 40)
    restored = fold(SETUP, merge([*history, first, again]).live, now)
    assert restored._replace(entries=0) == fold(SETUP, history, now)._replace(entries=0)


@FAST
@given(histories(), st.randoms(use_true_random=False))
def test_labels_never_change_what_stands_in_a_barrel(
    history: list[Entry], rng: random.Random
) -> None:
    kept = [e for e in history if e.kind not in ("giveup", "tick", "bypass")]
    relabelled = []
    for entry in kept:
        fields, values = dict(entry.fields), dict(entry.values)
        if entry.kind in ("fill", "treat", "release", "start"):
            label = rng.choice(["", "a", "b", "c"])
            for store in (fields, values):
                store.pop("batch", None)
                if label:
                    store["batch"] = label
        relabelled.append(Entry(entry.instant, entry.stamp, entry.kind, fields, values, entry.note))
    one, other = fold(SETUP, kept, after(history)), fold(SETUP, relabelled, after(history))
    for name, water in one.barrels.items():
        assert other.barrels[name]._replace(batch=None) == water._replace(batch=None)


@FAST
@given(
    st.floats(1, 180),
    st.lists(st.floats(0.01, 20), min_size=1, max_size=8),
    st.randoms(use_true_random=False),
)
def test_doses_cover_alike_in_one_pour_or_in_many(
    litres: float, parts: list[float], rng: random.Random
) -> None:
    """Poured in any order or all at once, the same agent covers the same water."""

    def water(doses: list[float]) -> Water:
        account = Water("yard", 0.0, False)
        account.fill(litres, None, False)
        for number, dose in enumerate(doses):
            account.treat(Dose(dose, "mL"), 0.08, number)
        return account

    needed = litres * 0.08
    assume(abs(sum(parts) / needed - 0.99) > 0.02)
    shuffled = rng.sample(parts, len(parts))
    assert (water([sum(parts)]).untreated == 0) == (water(shuffled).untreated == 0)
    assert (water(parts).untreated == 0) == (sum(parts) > needed * 0.99)


@FAST
@given(histories(), st.data())
def test_a_fold_kept_open_tells_what_a_fold_from_the_beginning_tells(
    history: list[Entry], data: st.DataObject
) -> None:
    """Entries come behind, come late, are struck; the clock goes on and is set back."""
    kept = Folding(SETUP)
    for _ in range(data.draw(st.integers(2, 5))):
        live = data.draw(st.lists(st.sampled_from(history), unique=True)) if history else []
        live = list(merge(live).live) if data.draw(st.booleans()) else history[: len(live)]
        now = START + data.draw(st.integers(0, 60 * DAY_S))
        assert kept.state(live, now) == fold(SETUP, live, now)
