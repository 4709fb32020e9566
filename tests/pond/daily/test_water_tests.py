"""What water tests mean, what is worked out beside them, and what is compared with what."""

from __future__ import annotations

import pytest

from pondtui.books.pondfile import parse
from pondtui.pond.daily.judged import Judged
from pondtui.pond.daily.water_tests import judged
from tests.pond.box import POND, at, entries_of, setup_of

NOW = "2026-06-10 20:00"
HIGH = POND.replace("latitude = 51.0", 'latitude = 51.0\nelevation = "1500 m"')


def found(lines: str, pond: str = POND, now: str = NOW) -> dict[str, Judged]:
    return {row.name: row for row in judged(setup_of(pond), entries_of(lines), at(now))}


def noted(values: str, when: str = "2026-06-10 08:00") -> str:
    return f"{when} | test | where=pond; {values}\n"


@pytest.mark.parametrize(
    ("ph", "temp", "share", "source"),
    [
        # UF/IFAS FA16 Table 1: fraction of un-ionised ammonia
        ("7.0", "20", 0.0039, "UF/IFAS FA16 Table 1"),
        ("8.0", "24", 0.0502, "UF/IFAS FA16 Table 1"),
        ("8.6", "28", 0.2178, "UF/IFAS FA16 Table 1"),
    ],
)
def test_un_ionised_ammonia_is_worked_out_as_nitrogen(
    ph: str, temp: str, share: float, source: str
) -> None:
    row = found(noted(f"ammonia=1 mg/L as N; ph={ph}; temp={temp} degC"))["ammonia_un_ionised"]
    assert row.value == pytest.approx(share, rel=0.02), source


def test_the_basis_of_the_kit_counts() -> None:
    # 1.2878 mg/L as NH4 hold 1 mg/L as N: molar masses with IUPAC atomic weights (2021)
    as_n = found(noted("ammonia=1 mg/L as N; ph=8; temp=24 degC"))["ammonia_un_ionised"]
    as_ion = found(noted("ammonia=1.2878 mg/L as NH4; ph=8; temp=24 degC"))["ammonia_un_ionised"]
    assert as_ion.value == pytest.approx(as_n.value, rel=1e-4)
    # 3.2845 mg/L as NO2 hold 1 mg/L as N
    assert found(noted("nitrite=1 mg/L as N"))["nitrite"].value == pytest.approx(3.2845, rel=1e-4)


def test_a_share_of_a_hundredth_needs_no_act_and_a_tenth_does() -> None:
    # the limit of 0.05 mg/L un-ionised as N: UF/IFAS FA16
    low = found(noted("ammonia=0.3 mg/L as N; ph=7.0; temp=20 degC"))["ammonia_un_ionised"]
    high = found(noted("ammonia=0.3 mg/L as N; ph=9.0; temp=24 degC"))["ammonia_un_ionised"]
    assert (low.verdict, high.verdict) == ("ok", "act")
    assert "FA16" in high.source


def test_ammonia_is_a_range_for_the_kits_step() -> None:
    kit = POND + '[kit]\nammonia = "0.25 mg/L as N"\n'
    row = found(noted("ammonia=0.5 mg/L as N; ph=8; temp=24 degC"), kit)["ammonia_un_ionised"]
    assert row.low == pytest.approx(0.375 * 0.0502, rel=0.02)  # half a step either way
    assert row.high == pytest.approx(0.625 * 0.0502, rel=0.02)


def test_nothing_seen_is_watched_where_the_kits_step_could_hide_harm() -> None:
    clear = found(noted("ammonia=<0.25 mg/L as N; ph=7.2; temp=20 degC"))["ammonia_un_ionised"]
    coarse = found(noted("ammonia=<0.25 mg/L as N; ph=9.0; temp=24 degC"))["ammonia_un_ionised"]
    assert (clear.verdict, coarse.verdict) == ("ok", "watch")
    assert (coarse.low, "too coarse" in coarse.text) == (0.0, True)


def test_ammonia_without_its_ph_asks_for_it() -> None:
    rows = found(noted("ammonia=1 mg/L as N; temp=20 degC"))
    assert "ammonia_un_ionised" not in rows
    assert rows["ammonia_limits"].verdict is None
    assert "measure pH with it" in rows["ammonia_limits"].text


def test_ph_of_the_same_half_day_speaks_for_an_ammonia_test_and_an_older_one_does_not() -> None:
    ammonia = noted("ammonia=1 mg/L as N; temp=20 degC")
    near = noted("ph=8", "2026-06-10 16:00")
    far = noted("ph=8", "2026-06-09 16:00")
    assert "ammonia_un_ionised" in found(ammonia + near)
    assert "ammonia_un_ionised" not in found(far + ammonia)


@pytest.mark.parametrize(
    ("ph", "temp", "acute", "chronic"),
    [("7.0", "20", "17", "1.9"), ("8.0", "25", "2.6", "0.56")],  # EPA 822-R-13-001 Tables 5b, 6
)
def test_epas_limits_of_this_ph_and_temperature_stand_beside_total_ammonia(
    ph: str, temp: str, acute: str, chronic: str
) -> None:
    text = found(noted(f"ammonia=0.1 mg/L as N; ph={ph}; temp={temp} degC"))["ammonia_limits"].text
    assert f"{acute} for an hour" in text
    assert f"{chronic} for a month" in text


def test_total_ammonia_over_epas_month_is_watched_and_over_its_hour_acted_on() -> None:
    # pH 8, 25 degC: 0.56 for a month, 2.6 for an hour (EPA 822-R-13-001)
    verdicts = [
        found(noted(f"ammonia={n} mg/L as N; ph=8; temp=25 degC"))["ammonia_limits"].verdict
        for n in ("0.5", "0.6", "2.5", "2.7")
    ]
    assert verdicts == ["ok", "watch", "watch", "act"]


@pytest.mark.parametrize(
    ("pond", "share"),
    # 9.09 mg/L at 20 degC and sea level, Benson & Krause (1984); 7.58 at 1500 m, same formula
    [(POND, 88), (HIGH, 105)],
)
def test_oxygen_stands_beside_what_the_water_holds_at_this_height(pond: str, share: int) -> None:
    row = found(noted("oxygen=8 mg/L; temp=20 degC"), pond)["oxygen"]
    assert (row.verdict, row.source) == ("ok", "UF/IFAS FA27")
    assert int(row.text.split(" %")[0]) == pytest.approx(share, abs=1)


def test_carbon_dioxide_is_a_range_of_two_either_way_and_never_judged() -> None:
    row = found(noted("ph=7.5; temp=20 degC; alkalinity=100 mg/L CaCO3"))["carbon_dioxide"]
    assert row.verdict is None
    assert row.low is not None
    assert row.high is not None
    assert row.low * 2 == pytest.approx(row.value, rel=0.02)  # pH off by 0.3
    assert row.high / 2 == pytest.approx(row.value, rel=0.02)


@pytest.mark.parametrize(
    ("values", "verdict", "word"),
    [
        ("nitrite=0.05 mg/L as NO2", "ok", ""),
        ("nitrite=0.5 mg/L as NO2", "watch", "chloride of 5 mg/L would shield"),
        ("nitrite=0.5 mg/L as NO2; chloride=6 mg/L", "watch", "enough"),
        ("nitrite=0.5 mg/L as NO2; chloride=4 mg/L", "act", "too little"),  # SRAC 462: 10 : 1
        ("nitrite=1 mg/L as NO2", "act", "10 mg/L"),
        ("nitrite=<0.1 mg/L as NO2", "ok", ""),
    ],
)
def test_nitrite_is_set_against_chloride(values: str, verdict: str, word: str) -> None:
    row = found(noted(values))["nitrite"]
    assert (row.verdict, word in row.text) == (verdict, True)


def test_alkalinity_of_fifty_is_act_only_while_it_falls() -> None:
    before = noted("alkalinity=60 mg/L CaCO3", "2026-06-03 08:00")
    steady = found(noted("alkalinity=45 mg/L CaCO3"))["alkalinity"]
    falling = found(before + noted("alkalinity=45 mg/L CaCO3"))["alkalinity"]
    assert (steady.verdict, falling.verdict) == ("watch", "act")
    degrees = found(noted("alkalinity=4 dH"))["alkalinity"]
    assert degrees.value == pytest.approx(71.4, abs=0.1)
    assert degrees.written == "4 dH"


@pytest.mark.parametrize(
    ("hours", "change", "verdict"),
    [
        ("2026-06-09 08:00", "0.4", "watch"),
        ("2026-06-09 09:15", "0.4", "watch"),
        ("2026-06-09 10:00", "0.4", None),  # two hours apart by the clock
        ("2026-06-09 16:00", "0.4", None),  # an afternoon is no morning
        ("2026-06-08 08:00", "0.4", None),  # two days
        ("2026-06-09 08:00", "0.2", "ok"),
        ("2026-06-09 08:00", "0.5", "act"),
    ],
)
def test_ph_of_a_day_is_compared_only_at_like_hours(
    hours: str, change: str, verdict: str | None
) -> None:
    rows = found(noted("ph=7.5", hours) + noted(f"ph={7.5 + float(change):.1f}"))
    assert (rows["ph_change"].verdict if "ph_change" in rows else None) == verdict


def test_temperature_of_like_hours_may_not_move_three_degrees() -> None:
    day = "2026-06-09 08:00 | level | reading=60 mm; temp=18 degC\n"
    rows = found(day + "2026-06-10 08:10 | level | reading=60 mm; temp=21 degC")
    assert rows["temp_change"].verdict == "act"


def test_a_reading_in_act_is_measured_again_before_anything_is_done() -> None:
    first = found(noted("nitrite=2 mg/L as NO2"))["nitrite"]
    assert first.remedy.startswith("measure it again first")
    assert "fish gasp" in first.remedy
    again = noted("nitrite=2 mg/L as NO2", "2026-06-10 09:00")
    twice = found(noted("nitrite=2 mg/L as NO2") + again)
    assert twice["nitrite"].remedy.startswith("stop feeding")


def test_a_watched_reading_is_measured_tomorrow() -> None:
    assert found(noted("oxygen=4.5 mg/L"))["oxygen"].remedy.startswith("measure it again tomorrow")
    assert found(noted("oxygen=6 mg/L"))["oxygen"].remedy == ""


def test_the_keepers_own_limits_go_before_the_programs() -> None:
    own = POND + '[readings]\noxygen = ["5 mg/L", "7 mg/L"]\nph = [6.0, 6.5, 9.2, 9.5]\n'
    rows = found(noted("oxygen=6 mg/L; ph=9.1"), own)
    assert (rows["oxygen"].verdict, rows["ph"].verdict) == ("watch", "ok")


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ('oxygen = ["5 mg/L"]', "2 limits from low to high"),
        ('oxygen = ["7 mg/L", "5 mg/L"]', "from low to high"),
        ('oxygen = ["5 mm", "7 mm"]', "a concentration such as 4 mg/L, not 5 mm"),
        ("ph = [6, 7, 8, 71]", "0 to 14"),
    ],
)
def test_limits_that_cannot_be_are_refused_in_one_sentence(line: str, sentence: str) -> None:
    (problem,) = [p for p in parse(f"{POND}[readings]\n{line}\n").problems
                  if p.severity == "problem"]  # fmt: skip
    assert sentence in problem.message
    assert problem.line > 0


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ('ammonia = "0.1 mg/L"', "say it as N, NH3, NH4"),
        ('ammonia = "0 mg/L as N"', "the first step above nothing"),
        ('oxygen = "1 mg/L as N"', "without a basis"),
    ],
)
def test_a_kit_without_its_basis_is_refused_in_one_sentence(line: str, sentence: str) -> None:
    (problem,) = [p for p in parse(f"{POND}[kit]\n{line}\n").problems if p.severity == "problem"]
    assert sentence in problem.message


def test_the_taps_tests_are_shown_and_not_judged() -> None:
    lines = "2026-06-10 08:00 | test | where=tap; chlorine_total=0.5 mg/L; ph=8"
    rows = judged(setup_of(POND), entries_of(lines), at(NOW), "tap")
    assert {row.name: row.verdict for row in rows} == {"chlorine_total": None, "ph": None}
    assert found(lines) == {}
