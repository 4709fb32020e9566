"""What the Refill screen says of a step: targets, doubts, and no two sentences at odds."""

from __future__ import annotations

from pondtui.views.refill import build
from tests.pond.world import (
    AGREED,
    BEFORE,
    DOSED,
    FILLED,
    SETUP,
    YARD,
    case,
    with_barrel,
    with_tap,
)

TICKED = BEFORE.replace("batch=a", "batch=yard-a")  # a label that names its barrel
HOSE_ON = BEFORE + "07:02 | start | what=fill; barrel=yard; batch=a\n"


def test_while_the_hose_runs_it_says_where_to_stop() -> None:
    # 40 mm under the target over 5 m2 are 200 L; the barrel takes 160 L up to its line at 180 L
    before = build(case(TICKED, "07:02"))
    assert (before.amount, before.amount_note) == (
        "160 L",
        "to put in: up to 180 L, 900 mm on the dipstick",
    )
    assert "stop at 180 L, 900 mm on the dipstick" in build(case(HOSE_ON, "07:04")).amount_note
    no_flow = with_tap(flow_l_min=None)
    assert "stop at 180 L" in build(case(HOSE_ON, "07:04", no_flow)).amount_note


def test_a_barrel_filled_in_part_stops_where_the_pond_has_enough() -> None:
    nearly = HOSE_ON.replace("reading=80 mm", "reading=50 mm")  # 10 mm over 5 m2: 50 L
    assert "stop at 70 L, 350 mm on the dipstick" in build(case(nearly, "07:04")).amount_note


def test_a_pond_that_needs_nothing_is_not_told_to_be_filled() -> None:
    now = build(case(TICKED.replace("reading=80 mm", "reading=40 mm"), "07:02"))
    assert "nothing to put in" in now.head
    assert now.amount_note.startswith("have room; the pond needs none now")


def test_a_dose_says_on_what_it_rests() -> None:
    assert build(case(FILLED, "07:20")).advice == ()
    never = with_tap(total_chlorine_mg_l=None, free_chlorine_mg_l=None, measured=None)
    (said,) = build(case(FILLED, "07:20", never)).advice
    assert "never measured" in said
    old = with_tap(measured=SETUP.sources["tap"].measured.replace(month=3))  # type: ignore[union-attr]  # it has a day
    assert "measured on 2026-03-20" in build(case(FILLED, "07:20", old)).advice[0]


def test_a_dose_after_colour_says_that_it_is_one_more() -> None:
    colour = DOSED + "07:35 | test | where=yard; chlorine_total=0.3 mg/L\n"
    now = build(case(colour, "07:36"))
    assert now.step == "dose"
    assert "on top of what was given" in now.advice[0]


def test_the_wait_names_its_length_and_the_label() -> None:
    now = build(case(DOSED, "07:25"))
    assert now.amount_note == "to go of 10 min; the label stands above this figure"


def test_carried_water_is_counted_in_buckets() -> None:
    carried = YARD._replace(delivery="carried", pipe_bore_mm=None, bucket_l=15.0)
    now = build(case(AGREED, "07:42", with_barrel(carried)))
    assert now.step == "released"
    assert (now.amount, now.amount_note) == ("160 L", "to carry: 11 buckets of 15 L")


def test_what_is_closed_says_its_way_out() -> None:
    low = DOSED + "07:35 | bypass | step=chlorine-test; batch=a | dark\n"
    treated = low + "07:36 | release | barrel=yard; batch=a; out=50 L\n"
    now = build(case(treated + "07:37 | tick | step=agree; batch=a\n", "07:40"))
    assert now.closed == (
        "not tested clear of TOTAL chlorine since the last dose; "
        "test the barrel for TOTAL chlorine",
    )
