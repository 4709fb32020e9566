"""What a hurried line means, on a metric and on a US pond. All cases are constructed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.errors import InputError
from pondtui.pond.daily.quick import Quick, complete, understand
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.kinds import KINDS
from tests.pond.box import POND, SHED, setup_of

CHORES = """
[[chore]]
name = "feed"
every = "1 d"
[[chore]]
name = "look at fish"
every = "1 d"
[kit]
ammonia = "0.25 mg/L as N"
"""
METRIC = setup_of(POND + SHED + CHORES)
US = setup_of(POND.replace('currency = "EUR"', 'units = "us"'))


@pytest.mark.parametrize(
    ("line", "kind", "fields", "note"),
    [
        ("level 62", "level", {"reading": "62 mm"}, ""),
        ("LEVEL 6.2 cm", "level", {"reading": "6.2 cm"}, ""),
        ("level 62mm", "level", {"reading": "62mm"}, ""),
        ("l 62", "level", {"reading": "62 mm"}, ""),
        ("le 62", "level", {"reading": "62 mm"}, ""),
        ("level 62 on 18.5 calm", "level",
         {"reading": "62 mm", "pump": "on", "temp": "18.5 degC"}, "calm"),
        ("level 62 18.5 degC", "level", {"reading": "62 mm", "temp": "18.5 degC"}, ""),
        ("level -5", "level", {"reading": "-5 mm"}, ""),
        ("level 62 temp=19", "level", {"reading": "62 mm", "temp": "19 degC"}, ""),
        ("rain 4", "rain", {"depth": "4 mm"}, ""),
        ("rain 4 hours=12 h | a storm", "rain", {"depth": "4 mm", "hours": "12 h"}, "a storm"),
        ("note heron again", "note", {}, "heron again"),
        ("note level 62", "note", {}, "level 62"),
        ("dip yard 90", "dip", {"barrel": "yard", "left": "90 L"}, ""),
        ("dip y 90 L", "dip", {"barrel": "yard", "left": "90 L"}, ""),
        ("treat yard 14.5 cloudy", "treat", {"barrel": "yard", "dose": "14.5 mL"}, "cloudy"),
        ("release shed 30", "release", {"barrel": "shed", "out": "30 L"}, ""),
        ("chore feed", "chore", {"name": "feed"}, ""),
        ("chore look", "chore", {"name": "look at fish"}, ""),
        ("chore look at fish all well", "chore", {"name": "look at fish"}, "all well"),
        ("skip feed too cold", "chore", {"name": "feed", "skipped": "yes"}, "too cold"),
        ("overflow", "event", {"what": "overflow"}, ""),
        ("power-cut two hours", "event", {"what": "power-cut"}, "two hours"),
        ("event gate-shut", "event", {"what": "gate-shut"}, ""),
        ("loss kind=goldfish count=1", "event",
         {"what": "loss", "kind": "goldfish", "count": "1"}, ""),
        ("count 9 goldfish", "count", {"kind": "goldfish", "number": "9"}, ""),
        ("count ramshorn snails 31", "count", {"kind": "ramshorn snails", "number": "31"}, ""),
        ("temp 18", "test", {"where": "pond", "temp": "18 degC"}, ""),
        ("test ph 7.6 ammonia 0.5", "test",
         {"where": "pond", "ph": "7.6", "ammonia": "0.5 mg/L as N"}, ""),
        ("test ammonia 0", "test", {"where": "pond", "ammonia": "<0.25 mg/L as N"}, ""),
        ("test tap chlorine-total 0.6", "test",
         {"where": "tap", "chlorine_total": "0.6 mg/L"}, ""),
        ("test yard chlorine_total 0", "test",
         {"where": "yard", "chlorine_total": "<0.02 mg/L"}, ""),
        ("supply food got 200 g", "supply", {"item": "food", "got": "200 g"}, ""),
        ("supply hose coupling left 2", "supply", {"item": "hose coupling", "left": "2"}, ""),
        ("drain 50", "drain", {"volume": "50 L"}, ""),
        ("putoff alarm=reading-old until=2026-07-01 | away", "putoff",
         {"alarm": "reading-old", "until": "2026-07-01"}, "away"),
    ],
)  # fmt: skip
def test_a_line_means_an_entry(line: str, kind: str, fields: dict[str, str], note: str) -> None:
    assert understand(line, METRIC) == Quick(kind, fields, note)


@pytest.mark.parametrize(
    ("line", "fields"),
    [
        ("level 2 7/16", {"reading": "2 7/16 in"}),
        ("level 2 1/2 in on", {"reading": "2 1/2 in", "pump": "on"}),
        ("rain 1/4", {"depth": "1/4 in"}),
        ("temp 64", {"where": "pond", "temp": "64 degF"}),
        ("dip 40", {"barrel": "yard", "left": "40 US gal"}),
        ("dip 40 gal", {"barrel": "yard", "left": "40 gal"}),
    ],
)
def test_a_pond_in_us_units_is_understood_in_them(line: str, fields: dict[str, str]) -> None:
    assert understand(line, US).fields == fields


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("", "say what"),
        ("lev", "level: a number such as 62, not nothing"),
        ("level high", "level: a number such as 62, not high"),
        ("frog 3", "frog begins no entry"),
        ("g 3", "one of gate-open, gate-shut, gauge-moved"),
        ("dip 90", "which barrel? yard, shed"),
        ("chore dance", "no chore is called dance; there is feed, look at fish"),
        ("skip feed", "say why"),
        ("count 9", "a kind and a number"),
        ("test ph", "names and values"),
        ("test nitrite 0", "0 on a kit means below its first step"),
        ("away monday", "say it by names: from=, to="),
        ("supply food got some", "an amount such as 200 g, not some"),
    ],
)
def test_what_is_not_understood_is_told_in_one_sentence(line: str, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        understand(line, METRIC)
    assert sentence in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("le", "level"),
        ("r", "rain"),
        ("dip s", "dip shed"),
        ("chore lo", "chore look at fish"),
        ("chore look at f", "chore look at fish"),
        ("event gate-s", "event gate-shut"),
        ("power", "power-cut"),
        ("test am", "test ammonia"),
        ("note he", ""),
        ("level ", ""),
        ("xyz", ""),
    ],
)
def test_the_word_that_is_typed_is_completed(text: str, line: str) -> None:
    assert complete(text, METRIC) == line


@pytest.mark.parametrize("setup", [METRIC, US])
@given(text=st.text(st.sampled_from("level rain dip yard 62./=|;on tetap"), max_size=30))
def test_any_line_is_understood_or_refused_in_one_sentence(setup: Setup, text: str) -> None:
    complete(text, setup)
    try:
        found = understand(text, setup)
    except InputError:
        return
    assert found.kind in KINDS
