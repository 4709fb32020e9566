"""Which alarms stand, when they go, and which may be put off. All cases are constructed."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import pondtui
from pondtui.errors import Problem
from pondtui.pond.daily.alarms import NEVER_PUT_OFF, alarms
from pondtui.pond.daily.possible import MAY_BE_PUT_OFF
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Alarm
from tests.pond.box import POND, at, entries_of, setup_of, state_of

NOW = "2026-06-10 09:00"
READ = "2026-06-10 08:00 | level | reading=60 mm"
FILL = "2026-06-10 07:50 | start | what=fill; barrel=yard"
BATCH = """
2026-06-09 08:00 | fill | barrel=yard; added=180 L
2026-06-09 08:10 | treat | barrel=yard; dose=16 mL
"""
TESTED = BATCH + "2026-06-09 08:30 | test | where=yard; chlorine_total=<0.02 mg/L\n"
RELEASED = TESTED + "2026-06-09 08:50 | release | barrel=yard; out=180 L\n"


def standing(
    lines: str = READ,
    *,
    now: str = NOW,
    pond: str = POND,
    setup: Setup | None = None,
    problems: tuple[Problem, ...] = (),
) -> tuple[Alarm, ...]:
    setup = setup or setup_of(pond)
    state = state_of(setup, lines, now)
    return alarms(setup, state, at(now), problems, entries_of(lines))


def test_a_pond_in_order_has_no_alarm() -> None:
    assert standing() == ()


@pytest.mark.parametrize(
    ("lines", "now", "name"),
    [
        # level at or past a mark: shelf 110 mm (warn), intake 240 mm (danger), rim 10 mm (spill)
        ("2026-06-10 08:00 | level | reading=109 mm", NOW, ""),
        ("2026-06-10 08:00 | level | reading=110 mm", NOW, "level-warn"),
        ("2026-06-10 08:00 | level | reading=239 mm", NOW, "level-warn"),
        ("2026-06-10 08:00 | level | reading=240 mm", NOW, "level-danger"),
        ("2026-06-10 08:00 | level | reading=11 mm", NOW, ""),
        ("2026-06-10 08:00 | level | reading=10 mm", NOW, "level-spill"),
        # a reading keeps two days in season, April to October
        (READ, "2026-06-12 08:00", ""),
        (READ, "2026-06-12 08:01", "reading-old"),
        (READ, "2026-11-12 08:01", ""),
        ("", NOW, "reading-old"),
        # a batch with water in it, untouched for a day
        (TESTED + READ, "2026-06-10 08:30", ""),
        (TESTED + READ, "2026-06-10 08:31", "batch-open"),
        (RELEASED + READ, "2026-06-10 09:30", ""),
        # treated water keeps 14 days; the heel alone troubles nobody
        (RELEASED + "2026-06-24 08:00 | level | reading=60 mm", "2026-06-24 09:00", ""),
        # 200 L less the heel at 10 L/min are 18 min; a tenth more is 19.8
        (FILL + "\n" + READ, "2026-06-10 08:09", ""),
        (FILL + "\n" + READ, "2026-06-10 08:10", "hose-running"),
        # one emergency dose of the pond is 364.8 mL
        ("2026-06-09 20:00 | supply | item=conditioner; left=365 mL\n" + READ, NOW, ""),
        ("2026-06-09 20:00 | supply | item=conditioner; left=364 mL\n" + READ, NOW, "stock"),
        # an entry of tomorrow
        (READ + "\n2026-06-11 08:00 | note | | later", NOW, "clock"),
    ],
)
def test_the_rules_at_their_limits(lines: str, now: str, name: str) -> None:
    assert [a.name for a in standing(lines, now=now)] == ([name] if name else [])


def test_treated_water_older_than_the_keeper_lets_it_count_is_told() -> None:
    level = "2026-06-23 08:00 | level | reading=60 mm"
    before = standing(TESTED + level, now="2026-06-23 08:30")
    after = standing(TESTED + level, now="2026-06-23 08:31")
    assert "water-old" not in [a.name for a in before]
    (old,) = [a for a in after if a.name == "water-old"]
    assert "200 L in yard" in old.text
    assert "TOTAL chlorine" in old.remedy
    assert old.since == at("2026-06-23 08:30")


def test_the_next_mark_within_two_days_is_told() -> None:
    fall = "\n".join(
        f"2026-06-{5 + n:02} 08:00 | level | reading={60 + 8 * n} mm" for n in range(6)
    )
    (near,) = standing(fall)  # 100 mm, 8 mm a day: 10 mm to the shelf
    assert (near.name, near.severity) == ("level-near", "watch")
    assert "shelf is 10 mm under the water" in near.text
    slow = "\n".join(
        f"2026-06-{5 + n:02} 08:00 | level | reading={60 + 4 * n} mm" for n in range(6)
    )
    assert standing(slow) == ()  # 80 mm, 4 mm a day: a week


def test_a_harmless_mark_on_the_way_hides_no_warning() -> None:
    line = '[[mark]]\nname = "line"\nreading = "105 mm"\nrole = "top-up"\n'
    fall = "\n".join(
        f"2026-06-{5 + n:02} 08:00 | level | reading={60 + 8 * n} mm" for n in range(6)
    )
    assert [a.name for a in standing(fall, pond=POND + line)] == ["level-near"]


def test_an_outlet_open_far_too_long_is_told() -> None:
    lines = TESTED + READ + "\n2026-06-10 08:05 | start | what=release; barrel=yard"
    assert standing(lines, now="2026-06-10 08:06") == ()
    (open_,) = standing(lines, now="2026-06-10 12:00")
    assert open_.name == "outlet-running"
    assert "shut the outlet" in open_.remedy


LET_IN = BATCH + "2026-06-09 08:50 | release | barrel=yard; out={} L\n"
ALWAYS = POND + '[limits]\nneed_clear_test = "always"\n'
KNOWN = POND + '[limits]\nneed_clear_test = "unless known"\n'
TRIED = """
2026-06-08 08:00 | fill | barrel=yard; added=180 L
2026-06-08 08:10 | treat | barrel=yard; dose=16 mL
2026-06-08 08:30 | test | where=yard; chlorine_total=<0.02 mg/L
2026-06-08 08:50 | release | barrel=yard; out=180 L
2026-06-08 09:00 | level | reading=60 mm
"""


def test_treated_water_let_in_without_its_test_is_told_until_the_pond_is_tested() -> None:
    twice = LET_IN.format(100) + "2026-06-09 09:10 | release | barrel=yard; out=50 L\n" + READ
    (told,) = standing(twice)
    assert (told.name, told.severity) == ("untested", "act")
    assert (
        told.text == "150 L of treated water went from yard into the pond without a chlorine test"
    )
    assert "TOTAL chlorine" in told.remedy
    test = "\n2026-06-10 08:10 | test | where=pond; chlorine_total={}"
    assert standing(twice + test.format("<0.02 mg/L")) == ()
    assert "untested" in [a.name for a in standing(twice + test.format("0.2 mg/L"))]


@pytest.mark.parametrize(
    ("lines", "now", "pond", "told"),
    [
        (LET_IN.format(180), "2026-06-11 08:49", POND, ["untested"]),
        (LET_IN.format(180), "2026-06-11 08:51", POND, []),  # fish would have shown it by then
        (RELEASED, "2026-06-10 09:00", POND, []),
        (
            LET_IN.format(180).replace("out=180 L", "out=180 L; to=elsewhere"),
            "2026-06-10 09:00",
            POND,
            [],
        ),
        # where all of tap and bottle is known, this batch needed no test
        (TRIED + LET_IN.format(180), "2026-06-10 09:00", KNOWN, []),
        (TRIED + LET_IN.format(180), "2026-06-10 09:00", ALWAYS, ["untested"]),
        (LET_IN.format(180), "2026-06-10 09:00", KNOWN, ["untested"]),  # a new bottle
        # another alarm asks for the same test already
        (
            BATCH + "2026-06-09 08:40 | bypass | step=chlorine-test; batch=yard-260609 | no kit\n"
            "2026-06-09 08:50 | release | barrel=yard; out=180 L\n",
            "2026-06-10 09:00",
            POND,
            ["bypass"],
        ),
    ],
)
def test_who_is_told_of_a_missing_test(lines: str, now: str, pond: str, told: list[str]) -> None:
    level = f"{now[:10]} 08:00 | level | reading=60 mm"
    assert [a.name for a in standing(lines + level, now=now, pond=pond)] == told


def test_a_conditioner_out_of_date_is_told_the_day_after() -> None:
    assert standing(pond=POND + "best_before = 2026-06-10\n") == ()
    (old,) = standing(pond=POND + "best_before = 2026-06-09\n")
    assert (old.name, old.severity) == ("out-of-date", "act")


def test_the_keepers_own_level_of_stock_is_told_above_the_reserve() -> None:
    pond = POND + '[[supply]]\nname = "conditioner"\nreorder_at = "500 mL"\n'
    counted = "2026-06-09 20:00 | supply | item=conditioner; left={} mL\n" + READ
    assert standing(counted.format(501), pond=pond) == ()
    (stock,) = standing(counted.format(500), pond=pond)
    assert "500 mL" in stock.text


def test_problems_in_files_are_told_and_remarks_are_not() -> None:
    wrong = Problem("journal/2026-desk.txt", 3, 1, "this is no entry")
    remark = wrong._replace(severity="remark")
    assert standing(problems=(remark,)) == ()
    (files,) = standing(problems=(wrong, wrong, remark))
    assert files.name == "files"
    assert "journal/2026-desk.txt:3: this is no entry, and 1 more" in files.text
    assert "pondtui check" in files.remedy


def test_a_season_over_new_year_is_a_southern_summer() -> None:
    south = POND + '[season]\nstart = "10-01"\nend = "04-30"\n'
    lines = "2026-01-05 08:00 | level | reading=60 mm"
    assert [a.name for a in standing(lines, now="2026-01-10 09:00", pond=south)] == ["reading-old"]
    assert standing(lines, now="2026-06-10 09:00", pond=south) == ()


def test_what_must_be_acted_on_stands_first_and_every_alarm_says_what_to_do() -> None:
    lines = READ.replace("06-10", "06-01") + "\n2026-06-09 08:00 | direct | volume=40 L; source=tap"
    found = standing(lines)
    assert [a.name for a in found] == ["untreated", "reading-old"]
    assert all(a.remedy for a in found)


OLD = READ.replace("06-10", "06-01") + "\n"


@pytest.mark.parametrize(
    ("until", "now", "hidden"),
    [
        ("2026-06-11", "2026-06-10 23:59", True),
        ("2026-06-11", "2026-06-11 00:00", False),
        ("2026-06-10", "2026-06-10 09:00", False),
    ],
)
def test_an_alarm_put_off_comes_back_on_its_day(until: str, now: str, hidden: bool) -> None:
    put = f"2026-06-10 08:30 | putoff | alarm=reading-old; until={until} | away"
    assert (standing(OLD + put, now=now) == ()) is hidden


def test_the_last_word_on_an_alarm_counts() -> None:
    twice = """
    2026-06-10 08:30 | putoff | alarm=reading-old; until=2026-06-20 | away
    2026-06-10 08:40 | putoff | alarm=reading-old; until=2026-06-10 | back
    """
    assert [a.name for a in standing(OLD + twice)] == ["reading-old"]


def test_putting_off_one_alarm_leaves_the_others() -> None:
    lines = "2026-06-10 08:00 | level | reading=245 mm\n"
    put = lines + "2026-06-10 08:30 | putoff | alarm=level-warn; until=2026-06-20 | known"
    assert [a.name for a in standing(put)] == ["level-danger"]


@pytest.mark.parametrize("name", sorted(NEVER_PUT_OFF))
def test_what_may_harm_fish_cannot_be_put_off(name: str) -> None:
    cases = {
        "untreated": "2026-06-10 08:10 | direct | volume=40 L; source=tap",
        "bypass": "2026-06-10 08:10 | bypass | step=chlorine-test; batch=yard-260610 | no kit",
        "untested": LET_IN.format(180),
        "overdosed": "2026-06-10 08:10 | fill | barrel=yard; added=180 L\n"
        "2026-06-10 08:20 | treat | barrel=yard; dose=90 mL",
        "hose-running": "2026-06-10 08:10 | start | what=fill; barrel=yard",
        "outlet-running": TESTED + "2026-06-10 05:00 | start | what=release; barrel=yard",
        "level-danger": "2026-06-10 08:10 | level | reading=250 mm",
        "reading-chlorine-total": "2026-06-10 08:10 | test | where=pond; chlorine_total=0.1 mg/L",
    }
    put = f"\n2026-06-10 08:40 | putoff | alarm={name}; until=2026-06-20 | please"
    assert name in [a.name for a in standing(READ + "\n" + cases[name] + put)]


def test_every_alarm_can_be_named_to_be_put_off_or_never() -> None:
    calls = [
        node
        for file in (Path(pondtui.__file__).parent / "pond").rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text()))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Alarm"
    ]
    names = {c.args[0].value for c in calls if isinstance(c.args[0], ast.Constant)}
    levels = {"level-warn", "level-danger"}  # by the role of the mark
    supplies = {"stock"}  # that of the conditioner
    assert names | levels | supplies == {*MAY_BE_PUT_OFF, *NEVER_PUT_OFF} - {
        "reading-chlorine-total"
    }
    assert sum(not isinstance(call.args[0], ast.Constant) for call in calls) == 4
