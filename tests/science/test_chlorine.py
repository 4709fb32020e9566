"""Chlorine, its agents and its limits, against published figures."""

from __future__ import annotations

from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.science import chlorine as cl
from pondtui.science import weights as w

US_GAL_L = 3.785411784
LB_G = 453.59237
C651 = "ANSI/AWWA C651 (1999-2014), table for 100,000 US gal, from memory"
FIELD_GUIDE = "AWWA Field Guide (2006) Table 7-2"

amounts = st.floats(0.001, 1e6)
agents = st.sampled_from(sorted(cl.AGENTS))


@pytest.mark.parametrize(
    ("agent", "end_point", "margin", "published", "tolerance", "source"),
    [
        ("thiosulfate-pentahydrate", "tetrathionate", 0, 7.0, 0.02, "laboratory note TE213 (2017)"),
        ("thiosulfate-pentahydrate", "sulfur", 0, 3.5, 0.01, "IUPAC weights"),
        ("thiosulfate-pentahydrate", "sulfate", 0, 0.875, 0.003, "IUPAC weights"),
        ("thiosulfate-anhydrous", "tetrathionate", 0, 4.46, 0.01, "IUPAC weights"),
        ("thiosulfate-anhydrous", "sulfur", 0, 2.23, 0.01, "IUPAC weights"),
        ("thiosulfate-anhydrous", "sulfate", 0, 0.56, 0.005, "IUPAC weights"),
        ("bisulfite", "tetrathionate", 0.1, 1.61, 0.01, FIELD_GUIDE),
        ("sulfite", "tetrathionate", 0.1, 1.96, 0.01, FIELD_GUIDE),
        ("metabisulfite", "tetrathionate", 0.1, 1.47, 0.01, FIELD_GUIDE + ", from memory"),
        ("ascorbic-acid", "tetrathionate", 0, 2.5, 0.05, FIELD_GUIDE),
        ("sodium-ascorbate", "tetrathionate", 0, 2.8, 0.05, FIELD_GUIDE),
    ],
)
def test_one_milligram_of_chlorine_needs_the_published_mass_of_agent(
    agent: str, end_point: str, margin: float, published: float, tolerance: float, source: str
) -> None:
    needed = cl.agent_ratio(agent, end_point) * (1 + margin)
    assert needed == pytest.approx(published, abs=tolerance), source


def test_only_thiosulfate_has_a_choice_of_end_points() -> None:
    for agent in cl.AGENTS:
        ratios = {cl.agent_ratio(agent, end) for end in cl.END_POINTS}
        assert len(ratios) == (3 if agent.startswith("thiosulfate") else 1)
        assert cl.RATIOS[agent] == max(ratios)


def test_the_bottle_spike_of_standard_methods_covers_five_milligrams() -> None:
    # Standard Methods (23rd ed.) 9060: 0.1 mL of 3 % thiosulfate in 120 mL serves up to 5 mg/L
    spike_mg_l = 0.1 * 30 / 0.120
    assert spike_mg_l == pytest.approx(25.0)
    needed_mg_l = cl.dechlorinator_g(1000, 5, "thiosulfate-anhydrous", margin=0)
    assert 0.85 * spike_mg_l < needed_mg_l < spike_mg_l


@pytest.mark.parametrize(
    ("gallons", "chlorine", "agent", "grams", "tolerance", "source"),
    [
        (100_000, 50, "bisulfite", 62.6 * LB_G, 0.03, C651 + ", ratio rounded to 1.50"),
        (100_000, 10, "sulfite", 14.6 * LB_G, 0.03, C651 + ", ratio rounded to 1.75"),
        (100_000, 10, "ascorbic-acid", 20.9 * LB_G, 0.01, C651 + ", ratio rounded to 2.50"),
        (100_000, 1, "ascorbic-acid", 2.1 * LB_G, 0.02, C651),
        (100, 1, "ascorbic-acid", 1.0, 0.07, "USDA Forest Service Tech Tip 0523-1301 (2005)"),
        (50, 2.5, "thiosulfate-pentahydrate", 3.31, 0.004, "constructed, IUPAC weights"),
    ],
)
def test_the_mass_for_a_volume_agrees_with_the_tables(
    gallons: float, chlorine: float, agent: str, grams: float, tolerance: float, source: str
) -> None:
    mass = cl.dechlorinator_g(gallons * US_GAL_L, chlorine, agent, margin=0)
    assert mass == pytest.approx(grams, rel=tolerance), source


def test_the_thiosulfate_figure_for_flushing_mains_is_never_used() -> None:
    # C651 (from memory) prints 60 lb pentahydrate for 100,000 US gal at 50 mg/L: far too little
    mass = cl.dechlorinator_g(100_000 * US_GAL_L, 50, "thiosulfate-pentahydrate", margin=0)
    assert mass > 4 * 60 * LB_G


def test_a_home_made_stock_is_measured_with_the_margin_in_it() -> None:
    # constructed: 50 US gal at 2.5 mg/L, 10 % more, 100 g/L pentahydrate
    mass = cl.dechlorinator_g(50 * US_GAL_L, 2.5, "thiosulfate-pentahydrate")
    assert mass / 100 * 1000 == pytest.approx(36.4, abs=0.1)


@given(volume=amounts, chlorine=st.floats(0, 50), agent=agents, purity=st.floats(0.01, 1))
def test_an_impure_agent_holds_as_much_as_the_pure_mass(
    volume: float, chlorine: float, agent: str, purity: float
) -> None:
    pure = cl.dechlorinator_g(volume, chlorine, agent)
    assert cl.dechlorinator_g(volume, chlorine, agent, purity=purity) * purity == pytest.approx(
        pure
    )
    plain = cl.dechlorinator_g(volume, chlorine, agent, margin=0)
    assert pure == pytest.approx(1.1 * plain)


@pytest.mark.parametrize(
    ("agent", "published", "tolerance", "source"),
    [
        ("sulfite", 7.88, 0.01, "boiler-water practice"),
        ("metabisulfite", 5.94, 0.01, "IUPAC weights"),
        ("thiosulfate-anhydrous", 2.47, 0.01, "IUPAC weights, to sulfate"),
        ("ascorbic-acid", 1.10, 0.01, "constructed: C6H8O6 + 5 O2, IUPAC weights"),
    ],
)
def test_one_milligram_of_oxygen_takes_the_published_mass_of_agent(
    agent: str, published: float, tolerance: float, source: str
) -> None:
    assert cl.agent_per_oxygen(agent) == pytest.approx(published, abs=tolerance), source


def test_twenty_milligrams_of_sulfite_too_many_cost_two_and_a_half_of_oxygen() -> None:
    assert cl.oxygen_demand_mg_l("sulfite", 20) == pytest.approx(2.54, abs=0.01)  # constructed


@pytest.mark.parametrize(
    ("fill", "heel", "clear", "label_volume", "multiplier", "dose"),
    [
        (50 * US_GAL_L, 0, False, 10 * US_GAL_L, 1, 25.0),  # constructed label: 5 mL per 10 US gal
        (200, 60, True, 40, 2, 35.0),  # constructed label: 5 mL per 40 L, double for chloramine
        (200, 60, False, 40, 2, 50.0),  # constructed: the same with an untested heel
    ],
)
def test_the_label_dose_follows_the_water_that_holds_chlorine(
    fill: float, heel: float, clear: bool, label_volume: float, multiplier: float, dose: float
) -> None:
    volume = cl.volume_to_treat_l(fill, heel, clear)
    found = cl.label_dose_ml(volume, 5, label_volume, multiplier=multiplier)
    assert found == pytest.approx(dose)


@given(
    volume=amounts,
    tap=st.floats(0, 10),
    label=st.floats(0.5, 5),
    multiplier=st.floats(0.5, 3),
)
def test_a_weak_reading_never_lowers_the_label_dose(
    volume: float, tap: float, label: float, multiplier: float
) -> None:
    plain = cl.label_dose_ml(volume, 5, 40)
    dose = cl.label_dose_ml(
        volume, 5, 40, tap_chlorine_mg_l=tap, label_chlorine_mg_l=label, multiplier=multiplier
    )
    assert dose == pytest.approx(plain * max(1, multiplier, tap / label))


@given(dose=st.floats(0, 1e5), step=st.floats(0.01, 100))
def test_a_measured_dose_is_never_short_and_never_a_mark_too_much(dose: float, step: float) -> None:
    measured = cl.round_up(dose, step)
    assert measured >= dose - 1e-9 * step * (1 + dose / step)
    assert measured < dose + step * (1 + 1e-9)


@given(marks=st.integers(0, 10_000), step=st.sampled_from([0.1, 0.2, 0.25, 0.5, 1.0, 5.0]))
def test_a_dose_on_a_mark_stays_on_it(marks: int, step: float) -> None:
    assert cl.round_up(marks * step, step) == pytest.approx(marks * step)
    assert ceil(cl.round_up(marks * 0.1 + 0.05, 0.1) * 10 - 1e-6) == marks + 1


def test_chloramine_leaves_a_fifth_of_its_chlorine_as_nitrogen() -> None:
    assert cl.chloramine_ammonia_n_mg_l(1.0) == pytest.approx(0.198, abs=0.001)  # IUPAC weights
    # breakpoint at Cl2:N = 7.6 by weight (Applications of Environmental handbook ch. 4): 3 mol to 2
    assert 1.5 / cl.chloramine_ammonia_n_mg_l(1.0) == pytest.approx(7.6, abs=0.05)
    # 1 mg/L of NH2Cl is 1.377 mg/L as Cl2 (IUPAC weights)
    chloramine = w.N + 2 * w.H + w.CL
    assert w.CL2 / chloramine == pytest.approx(1.377, abs=0.002)


def test_the_limits_are_the_published_ones() -> None:
    assert cl.MRDL_MG_L == 4.0  # 40 CFR 141.65
    assert (cl.CHRONIC_MG_L, cl.ACUTE_MG_L) == (0.011, 0.019)  # EPA 440/5-84-030, from memory


def test_added_water_counts_in_the_final_volume() -> None:
    # a tenth of the final water at 0.5 mg/L (hobby page, arithmetic)
    assert cl.pond_chlorine_mg_l(0.5, 100, 900) == pytest.approx(0.05)
    # constructed: 4 mg/L must be diluted 364-fold
    assert cl.pond_chlorine_mg_l(4.0, 1, 4 / 0.011 - 1) == pytest.approx(cl.CHRONIC_MG_L)


@given(chlorine=st.floats(0, 10), released=st.floats(0, 1e6), pond=amounts)
def test_the_pond_is_never_stronger_than_the_tap(
    chlorine: float, released: float, pond: float
) -> None:
    assert 0 <= cl.pond_chlorine_mg_l(chlorine, released, pond) <= chlorine


def test_a_kit_that_starts_high_cannot_clear_a_small_pond() -> None:
    # constructed: first step 0.1 mg/L, 150 L into 850 L and into 3,850 L
    assert cl.kit_zero_pond_mg_l(0.1, 150, 850) == pytest.approx(0.015)
    assert cl.kit_zero_pond_mg_l(0.1, 150, 850) > cl.CHRONIC_MG_L
    assert cl.kit_zero_pond_mg_l(0.1, 150, 3850) < cl.CHRONIC_MG_L


def test_standing_halves_and_halves_again() -> None:
    # worked example of a mailing list (1999): 3.56 mg/L, half-life 8 h, 12 h
    assert cl.aired_mg_l(3.56, 8 * 60, 12 * 60) == pytest.approx(1.26, abs=0.01)
    # constructed: 2 mg/L to the chronic limit at 12 h
    assert cl.airing_time_min(2, 12 * 60, 0.011) / 60 == pytest.approx(90, abs=0.1)
    assert cl.airing_time_min(0.5, 60, 2) == 0


@given(start=st.floats(0.01, 10), half_life=st.floats(1, 1e5), share=st.floats(0.001, 1))
def test_airing_time_and_airing_are_inverse(start: float, half_life: float, share: float) -> None:
    time = cl.airing_time_min(start, half_life, start * share)
    assert cl.aired_mg_l(start, half_life, time) == pytest.approx(start * share)


@pytest.mark.parametrize(
    ("bed_l", "flow", "minutes", "tolerance", "source"),
    [
        (8.02 * 28.316846592, 12 * US_GAL_L, 5, 0.01, "carbon tank sheet, V = Q x EBCT / 7.48"),
        (16.04 * 28.316846592, 12 * US_GAL_L, 10, 0.02, "the same, 10 min for chloramine (AAMI)"),
        (500 * US_GAL_L, 700 * US_GAL_L, 0.71, 0.005, "worked example, 500 gal / 700 gpm"),
        (1, 0.5, 2, 1e-9, "definition"),
        (1, 15, 4 / 60, 1e-9, "definition: an open hose through a small cartridge, 4 s"),
        (13.37 * 28.316846592, 10 * US_GAL_L, 10, 0.01, "definition"),
    ],
)
def test_carbon_contact_is_bed_over_flow(
    bed_l: float, flow: float, minutes: float, tolerance: float, source: str
) -> None:
    assert cl.carbon_contact_min(bed_l, flow) == pytest.approx(minutes, abs=tolerance), source


def test_a_doser_keeps_the_label_rate_and_a_thinner_stock_runs_faster() -> None:
    # constructed: 5 mL per 40 L at 8 L/min
    assert cl.doser_ml_per_min(5, 40, 8) == pytest.approx(1.0)
    assert cl.doser_ml_per_min(5, 40, 8, 10) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("call", "word"),
    [
        (lambda: cl.agent_ratio("soap"), "agent"),
        (lambda: cl.agent_ratio("sulfite", "nowhere"), "end point"),
        (lambda: cl.dechlorinator_g(-1, 1, "sulfite"), "volume"),
        (lambda: cl.dechlorinator_g(1, 1, "sulfite", purity=1.2), "purity"),
        (lambda: cl.dechlorinator_g(1, 1, "sulfite", purity=0), "purity"),
        (lambda: cl.volume_to_treat_l(100, 120, True), "heel"),
        (lambda: cl.label_dose_ml(100, 5, 0), "label's volume"),
        (lambda: cl.round_up(5, 0), "graduation"),
        (lambda: cl.aired_mg_l(1, 0, 5), "half-life"),
        (lambda: cl.pond_chlorine_mg_l(1, 1, 0), "pond"),
        (lambda: cl.carbon_contact_min(1, 0), "flow"),
        (lambda: cl.chloramine_ammonia_n_mg_l(float("nan")), "combined"),
    ],
)
def test_what_cannot_be_is_refused_by_name(call: object, word: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=word):
        call()
