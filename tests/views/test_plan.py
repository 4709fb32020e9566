"""The plan as text and as JSON, on the box pond (constructed)."""

from __future__ import annotations

import json
from typing import Any

import pytest

from pondtui.pond.refill.plan import make_plan
from pondtui.views.plan import as_json, lines
from tests.pond.box import POND, SHED, at, setup_of, state_of

NOW = "2026-06-10 09:00"
READ = "2026-06-10 08:00 | level | reading=100 mm; temp=20 degC"
KEYS = [
    "from_mm", "to_mark", "to_mm", "need_l", "batches", "conditioner_ml", "conditioner_left_ml",
    "cost", "pond_temp_after_c", "ammonia_rise_n_mg_per_l", "total_min", "closed",
]  # fmt: skip
BATCH_KEYS = [
    "barrel", "held_l", "heel_l", "add_l", "treat_l", "dose_ml", "measured_ml", "fill_min",
    "wait_min", "release_l", "release_min", "leaves_l",
]  # fmt: skip
DRY = """\
[[conditioner]]
from = 2026-04-02
kind = "dry"
agent = "thiosulfate-pentahydrate"
"""


def both(pond: str = POND, journal: str = READ) -> tuple[dict[str, Any], list[str]]:
    setup = setup_of(pond)
    plan = make_plan(setup, state_of(setup, journal, NOW), at(NOW))
    return as_json(plan, setup), lines(plan, setup)


def test_the_json_has_exactly_the_promised_keys() -> None:
    data, _ = both()
    assert list(data) == KEYS
    assert [list(batch) for batch in data["batches"]] == [BATCH_KEYS, BATCH_KEYS]
    json.dumps(data, allow_nan=False)


def test_the_json_is_not_rounded() -> None:
    data, _ = both(journal=READ.replace("100 mm", "50.1 mm"))
    assert data["need_l"] == pytest.approx(60.6, abs=1e-9)
    assert data["batches"][0]["dose_ml"] == pytest.approx(6.448, abs=1e-9)  # 80.6 L
    assert data["batches"][0]["measured_ml"] == 6.5


def test_closed_is_a_list_of_guard_and_reason() -> None:
    data, said = both(journal=READ.replace("06-10", "06-09"))
    (closed,) = data["closed"]
    assert list(closed) == ["guard", "reason"]
    assert closed["guard"] == "fresh-reading"
    assert said[0] == f"CLOSED     {closed['reason']}"


def test_a_weighed_agent_is_told_in_grams() -> None:
    data, said = both(POND[: POND.index("[[conditioner]]")] + DRY)
    assert "dose_g" in data["batches"][0]
    assert "dose_ml" not in data["batches"][0]
    assert data["conditioner_g"] > 0
    assert any(line.startswith("  dose     ") and " g for 200 L" in line for line in said)


def test_without_a_plan_the_keys_are_there_and_empty() -> None:
    data, said = both(journal="")
    assert list(data) == KEYS
    assert data["batches"] == []
    assert [data[key] for key in KEYS if key not in ("batches", "closed")] == [None] * 10
    assert data["closed"][0]["guard"] == "fresh-reading"
    assert said == [f"no plan: {data['closed'][0]['reason']}"]


def test_the_text_tells_each_batch_in_order_and_the_sums() -> None:
    _, said = both()
    assert said[0] == "level      100 mm to full at 40 mm: 360 L"
    first = said.index("batch 1    yard")
    assert said[first + 1 : first + 5] == [
        "  holds    20 L, of it heel 20 L",
        "  fill     180 L, 18 min",
        "  dose     16 mL in the 20 mL syringe for 200 L",
        "  wait     10 min, then test total chlorine",
    ]
    assert said[first + 5].startswith("  release  180 L, about ")
    assert "agent      30.5 mL in all, 970 mL are left in the bottle" in said
    assert "cost       1.44 EUR" in said
    assert "pond       19.4 °C afterwards" in said


def test_buckets_are_told_for_carried_water() -> None:
    rain = "2026-06-09 20:00 | fill | barrel=shed; added=120 L; source=rain\n"
    _, said = both(POND + SHED, rain + READ)
    assert "  carry    120 L: 12 buckets" in said


def test_the_pond_speaks_its_own_units() -> None:
    _, said = both(POND.replace('currency = "EUR"', 'units = "us"'))
    text = "\n".join(said)
    assert "95.1 US gal" in text  # 360 L
    assert "3 15/16 in" in text  # 100 mm
    assert "°F" in text
    assert "16 mL in the 20 mL syringe" in text  # doses stay in the label's mL


def test_a_full_pond_needs_one_line() -> None:
    _, said = both(journal=READ.replace("100 mm", "40 mm"))
    assert said == ["level      40 mm; full is 40 mm: nothing to put in"]
