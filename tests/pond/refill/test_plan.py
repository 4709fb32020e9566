"""The refill plan against examples worked by hand on the box pond (constructed arithmetic)."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.refill.plan import NoPlan, Plan, make_plan, reserve, target_mark
from pondtui.pond.refill.rates import rate_per_l
from pondtui.pond.setup.model import Setup
from tests.pond.box import POND, SHED, at, setup_of, state_of

SETUP = setup_of()
NOW = "2026-06-10 09:00"
READ = "2026-06-10 08:00 | level | reading=100 mm; temp=20 degC"
DRY = """\
[[conditioner]]
from = 2026-04-02
kind = "dry"
agent = "thiosulfate-pentahydrate"
purity = "98 %"
"""
BATTERED = POND.replace('shape = "box"', 'shape = "battered"').replace(
    'depth = "0.8 m"', 'depth = "0.8 m"\nside_slope = 0.5'
)


def planned(
    setup: Setup = SETUP,
    lines: str = READ,
    *,
    now: str = NOW,
    mark: str | None = None,
    from_mm: float | None = None,
) -> Plan:
    found = make_plan(setup, state_of(setup, lines, now), at(now), mark=mark, from_mm=from_mm)
    assert isinstance(found, Plan), found
    return found


def closed(plan: Plan) -> list[str]:
    return [verdict.guard for verdict in plan.closed]


def test_sixty_mm_of_six_square_metres_are_two_batches_of_180_litres() -> None:
    plan = planned()
    assert (plan.from_mm, plan.to_mark, plan.to_mm) == (100, "full", 40)
    assert plan.need_l == pytest.approx(360)
    first, second = plan.batches
    for batch in plan.batches:
        assert batch.barrel == "yard"
        assert batch.held_l == pytest.approx(20)
        assert batch.heel_l == pytest.approx(20)
        assert batch.add_l == pytest.approx(180)
        assert batch.release_l == pytest.approx(180)
        assert batch.leaves_l == pytest.approx(20)
        assert batch.fill_min == pytest.approx(18)  # at 10 L/min
        assert batch.wait_min == 10
    # the first heel was never treated; the second was, and tested clear with its batch
    assert first.treat_l == pytest.approx(200)
    assert second.treat_l == pytest.approx(180)
    assert closed(plan) == []


def test_the_dose_is_rounded_up_to_the_marks_of_the_device() -> None:
    first, second = planned().batches
    assert first.dose == pytest.approx(16.0)  # 8 mL per 100 L
    assert first.measured == pytest.approx(16.0)
    assert second.dose == pytest.approx(14.4)
    assert second.measured == pytest.approx(14.5)
    assert second.devices == "14.5 mL in the 20 mL syringe"


def test_the_sums_are_those_of_the_batches() -> None:
    plan = planned()
    assert plan.conditioner == pytest.approx(30.5)
    assert plan.conditioner_left == pytest.approx(969.5)
    assert plan.cost == pytest.approx(1.44)  # 360 L at 4 a cubic metre
    release = sum(b.release_min or 0 for b in plan.batches)
    assert release > 0
    assert plan.total_min == pytest.approx(2 * (18 + 10) + release)


def test_the_pond_afterwards_is_as_warm_as_the_balance_of_heat_says() -> None:
    # energy balance as in OpenStax College Physics 2e, section 14.2: 4200 L of 20 and 360 L of 12
    assert planned().pond_temp_after_c == pytest.approx((4200 * 20 + 360 * 12) / 4560)


def test_without_a_temperature_of_today_the_warmth_is_not_told() -> None:
    assert planned(lines=READ.replace("; temp=20 degC", "")).pond_temp_after_c is None


def test_a_short_last_batch_fills_only_what_is_needed() -> None:
    plan = planned(from_mm=80)  # 240 L
    assert [b.add_l for b in plan.batches] == pytest.approx([180, 60])
    assert plan.batches[1].treat_l == pytest.approx(60)
    assert plan.batches[1].dose == pytest.approx(4.8)
    assert plan.batches[1].measured == pytest.approx(5.0)


def test_litres_follow_the_real_shape_of_the_basin() -> None:
    # 3 m x 2 m at the top, sides running in 0.5 per metre of depth on every side. Prismoidal
    # formula from 100 to 40 mm: lengths 2.9 and 2.96, widths 1.9 and 1.96, middle 2.93 x 1.93
    area = (2.9 * 1.9 + 4 * 2.93 * 1.93 + 2.96 * 1.96) / 6
    assert planned(setup_of(BATTERED)).need_l == pytest.approx(area * 60, rel=1e-6)


def test_a_heel_treated_and_tested_clear_is_not_dosed_again() -> None:
    before = """
    2026-06-08 08:00 | fill | barrel=yard; added=180 L
    2026-06-08 08:10 | treat | barrel=yard; dose=16 mL
    2026-06-08 08:30 | test | where=yard; chlorine_total=<0.02 mg/L
    2026-06-08 09:00 | release | barrel=yard; out=180 L
    2026-06-08 09:05 | level | reading=70 mm
    """
    assert planned(lines=before + READ).batches[0].treat_l == pytest.approx(180)
    untested = "\n".join(line for line in before.splitlines() if "test" not in line)
    assert planned(lines=untested + "\n" + READ).batches[0].treat_l == pytest.approx(200)


def test_water_that_stands_treated_in_the_barrel_is_let_out_before_more_is_filled() -> None:
    ready = """
    2026-06-10 08:10 | fill | barrel=yard; added=100 L
    2026-06-10 08:20 | treat | barrel=yard; dose=10 mL
    2026-06-10 08:40 | test | where=yard; chlorine_total=<0.02 mg/L
    """
    plan = planned(lines=READ + ready, from_mm=55)  # 90 L
    (batch,) = plan.batches
    assert batch.held_l == pytest.approx(120)
    assert (batch.add_l, batch.treat_l, batch.dose, batch.fill_min) == (0, 0, 0, 0)
    assert batch.release_l == pytest.approx(90)
    assert plan.cost == 0


def test_rain_goes_first_carried_in_buckets_without_conditioner_or_cost() -> None:
    setup = setup_of(POND + SHED)
    plan = planned(
        setup, "2026-06-09 20:00 | fill | barrel=shed; added=120 L; source=rain\n" + READ
    )
    rain, *tap = plan.batches
    assert (rain.barrel, rain.add_l, rain.treat_l, rain.measured) == ("shed", 0, 0, 0)
    assert rain.release_l == pytest.approx(120)
    assert rain.buckets == 12
    assert [b.barrel for b in tap] == ["yard", "yard"]
    assert sum(b.release_l for b in tap) == pytest.approx(240)
    assert plan.cost == pytest.approx(0.96)
    assert "alkalinity" in plan.notes[0]


def test_part_of_a_bucket_is_one_more_walk() -> None:
    setup = setup_of(POND + SHED)
    lines = "2026-06-09 20:00 | fill | barrel=shed; added=31 L; source=rain\n" + READ
    assert planned(setup, lines).batches[0].buckets == 4


def test_ballast_stays_in_the_barrel() -> None:
    setup = setup_of(POND.replace('source = "tap"', 'source = "tap"\nleave_at_least = "30 L"'))
    first = planned(setup).batches[0]
    assert first.release_l == pytest.approx(150)
    assert first.leaves_l == pytest.approx(50)


def test_dosed_before_filling_the_barrel_is_filled_to_its_line() -> None:
    setup = setup_of(POND.replace('wait = "10 min"', 'wait = "10 min"\ndose_when = "before fill"'))
    (batch,) = planned(setup, from_mm=50).batches  # 60 L
    assert batch.add_l == pytest.approx(180)
    assert batch.treat_l == pytest.approx(200)
    assert batch.release_l == pytest.approx(60)
    assert batch.leaves_l == pytest.approx(140)


def test_stronger_tap_water_takes_more_than_the_label() -> None:
    setup = setup_of(POND.replace('"0.5 mg/L"', '"1.5 mg/L"'))
    assert planned(setup).batches[0].dose == pytest.approx(24.0)


def test_the_reserve_is_one_dose_of_the_whole_pond_and_closes_a_plan_that_would_use_it() -> None:
    state = state_of(SETUP, READ, NOW)
    day = date(2026, 6, 10)
    # 760 mm x 6 L, 8 mL per 100 L
    assert reserve(SETUP, state, day) == pytest.approx(4560 * 0.08)
    counted = "2026-06-09 20:00 | supply | item=conditioner; left={} mL\n" + READ
    # 30.5 mL are used, 364.8 stay back
    assert closed(planned(lines=counted.format(396))) == []
    assert closed(planned(lines=counted.format(395))) == ["stock"]


def test_the_reserve_follows_the_strength_of_the_water_that_the_barrel_draws() -> None:
    day = date(2026, 6, 10)
    tested = READ + "\n2026-06-10 07:00 | test | where=tap; chlorine_total=1.5 mg/L"
    assert reserve(SETUP, state_of(SETUP, tested, NOW), day) == pytest.approx(4560 * 0.08 * 1.5)
    well = POND.replace('source = "tap"', 'source = "well"').replace('"0.5 mg/L"', '"2 mg/L"')
    setup = setup_of(well.replace("[source.tap]", "[source.well]"))
    # a test of the tap says nothing about the well, whose 2 mg/L take twice the label
    assert reserve(setup, state_of(setup, tested, NOW), day) == pytest.approx(4560 * 0.08 * 2)


def test_without_a_mark_to_fill_to_the_reserve_is_for_the_pond_as_it_was_read() -> None:
    setup = SETUP._replace(marks=tuple(m for m in SETUP.marks if m.role in ("spill", "danger")))
    assert target_mark(setup) is None
    state = state_of(setup, READ, NOW)
    # 700 mm x 6 L, 8 mL per 100 L
    assert reserve(setup, state, date(2026, 6, 10)) == pytest.approx(4200 * 0.08)
    assert reserve(setup, state_of(setup, "", NOW), date(2026, 6, 10)) is None


@pytest.mark.parametrize(
    ("change", "lines", "guard", "words"),
    [
        ("", READ.replace("06-10", "06-09"), "fresh-reading", "2026-06-09 08:00"),
        ("", READ + "\n2026-06-10 08:30 | rain | depth=4 mm", "fresh-reading", "rained"),
        ('forbidden = ["08:00-20:00"]', READ, "forbidden", "20:00"),
    ],
)
def test_what_forbids_beginning_now_closes(change: str, lines: str, guard: str, words: str) -> None:
    setup = setup_of(POND.replace('flow = "10 L/min"', f'flow = "10 L/min"\n{change}'))
    (verdict,) = planned(setup, lines).closed
    assert verdict.guard == guard
    assert words in verdict.reason


def test_forbidden_hours_do_not_close_rain_water() -> None:
    text = POND.replace('flow = "10 L/min"', 'flow = "10 L/min"\nforbidden = ["08:00-20:00"]')
    lines = "2026-06-09 20:00 | fill | barrel=shed; added=120 L; source=rain\n" + READ
    assert closed(planned(setup_of(text + SHED), lines, from_mm=55)) == []


def test_a_conditioner_out_of_date_closes() -> None:
    setup = setup_of(POND + "best_before = 2026-06-09\n")
    assert closed(planned(setup)) == ["bottle"]


def test_water_stronger_than_the_label_allows_for_closes() -> None:
    setup = setup_of(POND.replace('"0.5 mg/L"', '"3.5 mg/L"'))
    assert closed(planned(setup)) == ["ceiling", "stock"]


def test_a_dry_agent_without_a_known_strength_closes_and_tells_no_dose() -> None:
    text = POND[: POND.index("[[conditioner]]")].replace('total_chlorine = "0.5 mg/L"\n', "")
    text = text.replace("measured = 2026-06-01\n", "")
    setup = setup_of(text + DRY)
    plan = planned(setup)
    assert plan.batches[0].dose is None
    assert plan.batches[0].unit == "g"
    assert closed(plan) == ["volume"]


def test_a_dry_agent_is_weighed_by_stoichiometry() -> None:
    text = POND[: POND.index("[[conditioner]]")]
    setup = setup_of(text + DRY)
    # thiosulfate pentahydrate, 7.0 g a g of chlorine (tetrathionate end point), 10 % more
    assert planned(setup).batches[0].dose == pytest.approx(
        200 * 0.5 / 1000 * 7.0 * 1.1 / 0.98, rel=0.005
    )


def test_a_dry_agent_in_solution_is_measured_by_its_strength() -> None:
    text = POND[: POND.index("[[conditioner]]")]
    setup = setup_of(text + DRY + 'margin = "20 %"\nstock = "80 g/L"\n')
    first = planned(setup).batches[0]
    grams = 200 * 0.5 / 1000 * 7.0 * 1.2 / 0.98
    assert first.dose == pytest.approx(grams / 80 * 1000, rel=0.005)
    assert first.unit == "mL"


@pytest.mark.parametrize(("stock", "unit"), [("", "g"), ('stock = "80 g/L"\n', "mL")])
def test_a_dry_agent_says_what_it_was_worked_out_of(stock: str, unit: str) -> None:
    text = POND[: POND.index("[[conditioner]]")]
    rate = rate_per_l(setup_of(text + DRY + stock), "tap", date(2026, 6, 10))
    assert rate is not None
    assert (rate.unit, rate.factor) == (unit, 1.0)  # stoichiometry is never a multiple of a label
    assert rate.label_per_l == rate.per_l
    assert rate.why == "for 0.5 mg/L of total chlorine and a margin of 10%"


def test_a_mark_too_near_the_edge_closes_for_want_of_room() -> None:
    # to the rim itself: 540 L, and 2 mm of reading error are 12 L too much
    plan = planned(mark="rim")
    assert plan.need_l == pytest.approx(540)
    assert closed(plan) == ["room"]
    assert "528 L" in plan.closed[0].reason
    assert plan.closed[0].largest_l == pytest.approx(528)


def test_a_batch_too_cold_for_the_pond_closes() -> None:
    text = POND.replace('depth = "0.8 m"', 'depth = "0.25 m"').replace('"240 mm"', '"200 mm"')
    # 900 L at 20 degC and 180 L at 6 degC: 2.3 degC colder
    setup = setup_of(text.replace('temperature = "12 degC"', 'temperature = "6 degC"'))
    (verdict,) = planned(setup).closed
    assert verdict.guard == "warmth"
    assert "-2.3" in verdict.reason
    # 900 L x 2 / (14 - 2)
    assert verdict.largest_l == pytest.approx(150)


def test_a_temperature_measured_in_the_barrel_goes_before_that_of_the_tap() -> None:
    warm = """
    2026-06-10 08:10 | fill | barrel=yard; added=180 L
    2026-06-10 08:20 | treat | barrel=yard; dose=16 mL
    2026-06-10 08:40 | test | where=yard; chlorine_total=<0.02 mg/L; temp=18 degC
    """
    plan = planned(lines=READ + warm, from_mm=70)  # 180 L into 4380 L
    # a typed level says nothing of the warmth: that of the reading of today stays
    assert plan.pond_temp_after_c == pytest.approx((4380 * 20 + 180 * 18) / 4560)


@pytest.mark.parametrize(
    ("poured_l", "first_c"),
    [
        (180, 18.0),  # full: let out as it was measured
        (80, (100 * 18 + 100 * 12) / 200),  # half full: the rest is drawn from the tap
    ],
)
def test_what_was_measured_in_the_barrel_counts_for_its_next_batch_alone(
    poured_l: int, first_c: float
) -> None:
    warm = f"""
    2026-06-10 08:10 | fill | barrel=yard; added={poured_l} L
    2026-06-10 08:40 | test | where=yard; temp=18 degC
    """
    plan = planned(lines=READ + warm)  # 360 L into 4200 L, in two batches
    assert [batch.release_l for batch in plan.batches] == pytest.approx([180, 180])
    assert plan.pond_temp_after_c == pytest.approx(
        (4200 * 20 + 180 * first_c + 180 * 12) / 4560, abs=1e-6
    )


def test_chloramine_leaves_its_ammonia_in_the_pond() -> None:
    # stoichiometry with IUPAC standard atomic weights: 14.007 / 70.90 = 0.198 mg N a mg of Cl2
    text = POND.replace("chloramine = false", 'chloramine = true\nfree_chlorine = "0.1 mg/L"')
    plan = planned(setup_of(text))
    assert plan.ammonia_rise_n_mg_per_l == pytest.approx(0.4 * 0.198 * 360 / 4560, rel=0.005)
    assert planned().ammonia_rise_n_mg_per_l == 0


def test_tap_water_that_may_hold_chloramine_counts_as_if_it_did() -> None:
    plan = planned(setup_of(POND.replace("chloramine = false\n", "")))
    assert plan.ammonia_rise_n_mg_per_l == pytest.approx(0.5 * 0.198 * 360 / 4560, rel=0.005)


def test_water_let_in_since_the_reading_is_not_planned_again() -> None:
    plan = planned(lines=READ + "\n2026-06-10 08:30 | direct | volume=120 L; source=rain")
    assert plan.from_mm == pytest.approx(80)
    assert plan.need_l == pytest.approx(240)
    assert "since the last reading" in plan.notes[0]


def test_a_pond_that_stands_higher_needs_nothing() -> None:
    plan = planned(from_mm=30)
    assert (plan.need_l, plan.batches, plan.cost, plan.total_min) == (0, (), 0, 0)
    assert closed(plan) == []


def test_a_typed_level_is_a_reading_of_now() -> None:
    plan = planned(lines=READ.replace("06-10", "06-01"), from_mm=70)
    assert plan.need_l == pytest.approx(180)
    assert closed(plan) == []


def test_rain_alone_may_be_too_little_and_that_is_said() -> None:
    setup = setup_of(POND + SHED)
    setup = setup._replace(barrels=tuple(b for b in setup.barrels if b.name == "shed"))
    plan = planned(
        setup, "2026-06-09 20:00 | fill | barrel=shed; added=120 L; source=rain\n" + READ
    )
    assert plan.short_l == pytest.approx(240)
    assert "240 L more" in plan.notes[-1]


@pytest.mark.parametrize(
    ("mark", "lines", "guard", "words"),
    [
        ("brim", READ, "description", 'no mark is called "brim"'),
        (None, "", "fresh-reading", "never read"),
    ],
)
def test_without_a_mark_or_a_reading_there_is_no_plan_and_it_says_why(
    mark: str | None, lines: str, guard: str, words: str
) -> None:
    found = make_plan(SETUP, state_of(SETUP, lines, NOW), at(NOW), mark=mark)
    assert isinstance(found, NoPlan)
    assert found.guard == guard
    assert words in found.reason


def test_the_target_goes_before_a_top_up_mark() -> None:
    top_up = SETUP.marks[0]._replace(name="line", role="top-up")
    with_both = SETUP._replace(marks=(top_up, *SETUP.marks))
    assert target_mark(with_both) == SETUP.mark("full")
    assert target_mark(SETUP._replace(marks=(top_up,))) == top_up
    assert target_mark(SETUP._replace(marks=())) is None


@given(st.floats(40, 700))
def test_the_batches_bring_what_is_needed_and_no_dose_is_rounded_down(level: float) -> None:
    plan = planned(from_mm=level)
    brought = sum(b.release_l for b in plan.batches)
    assert brought + plan.short_l == pytest.approx(plan.need_l, abs=1.0)
    for b in plan.batches:
        assert b.held_l + b.add_l <= 200 + 1e-6
        assert b.leaves_l == pytest.approx(b.held_l + b.add_l - b.release_l)
        assert b.measured is not None
        assert b.dose is not None
        assert b.dose - 1e-6 <= b.measured < b.dose + 0.5
