"""The status as text and as JSON, on the box pond (constructed)."""

from __future__ import annotations

import json
from typing import Any

import pytest

from pondtui.errors import Problem
from pondtui.views.status import Status, alarm_lines, as_json, lines, look
from tests.pond.box import POND, SHED, at, entries_of, setup_of, state_of
from tests.views.test_plan import KEYS as PLAN_KEYS

NOW = "2026-06-10 09:00"
READ = "2026-06-10 08:00 | level | reading=60 mm; pump=on\n"
FILLED = READ + "2026-06-10 08:30 | fill | barrel=yard; added=180 L\n"
TREATED = FILLED + "2026-06-10 08:35 | treat | barrel=yard; dose=16 mL\n"
CLEAR = TREATED + "2026-06-10 08:50 | test | where=yard; chlorine_total=<0.02 mg/L\n"


def status(
    journal: str = READ, now: str = NOW, pond: str = POND, problems: tuple[Problem, ...] = ()
) -> Status:
    setup = setup_of(pond)
    return look(setup, state_of(setup, journal, now), entries_of(journal), at(now), problems)


def yard(journal: str, now: str = NOW, pond: str = POND) -> dict[str, Any]:
    row = as_json(status(journal, now, pond))["barrels"][0]
    assert isinstance(row, dict)
    return row


def test_the_json_has_the_keys_of_the_status_and_of_the_plan() -> None:
    own = ["level_mm", "level_age_h", "loss_mm_per_day", "barrels", "batch", "alarms", "due"]
    own += ["feeding", "animals"]
    data = as_json(status())
    assert list(data) == [*own, *PLAN_KEYS]
    assert list(data["barrels"][0]) == ["name", "held_l", "untreated_l", "ready", "expected_l"]
    assert data["level_mm"] == 60
    assert data["level_age_h"] == pytest.approx(1.0)
    assert data["batch"] is None
    json.dumps(data, allow_nan=False)


def test_a_gauge_never_read_is_null() -> None:
    data = as_json(status(""))
    assert data["level_mm"] is None
    assert data["level_age_h"] is None
    assert data["loss_mm_per_day"] is None
    assert data["need_l"] is None
    assert data["barrels"][0]["held_l"] == pytest.approx(20)


def test_the_loss_is_there_when_the_readings_carry_it() -> None:
    days = "\n".join(
        f"2026-06-{5 + n:02} 08:00 | level | reading={40 + 4 * n} mm" for n in range(6)
    )
    data = as_json(status(days))
    assert data["loss_mm_per_day"] == pytest.approx(4.0)


def test_a_running_hose_is_counted_to_this_moment() -> None:
    # 10 L/min for six minutes on a heel of 20 L, all of it untreated
    row = yard(READ + "2026-06-10 08:54 | start | what=fill; barrel=yard", NOW)
    assert row["held_l"] == pytest.approx(80)
    assert row["untreated_l"] == pytest.approx(80)
    assert row["ready"] is False


def test_an_open_outlet_is_counted_to_this_moment() -> None:
    opened = CLEAR + "2026-06-10 08:55 | start | what=release; barrel=yard"
    before, after = yard(opened, "2026-06-10 08:55"), yard(opened, NOW)
    assert before["held_l"] == pytest.approx(200)
    assert 20 < after["held_l"] < 200
    assert after["untreated_l"] == 0


@pytest.mark.parametrize(
    ("journal", "ready", "words"),
    [
        (READ, False, "nothing above the outlet"),
        (FILLED, False, "200 L in yard are untreated"),
        (TREATED, False, "not tested clear"),
        (CLEAR, True, "treated and tested clear; may be let out"),
        (CLEAR + "2026-06-10 08:55 | fill | barrel=yard; added=5 L", False, "untreated"),
        (
            TREATED + "2026-06-10 08:50 | bypass | step=chlorine-test; batch=yard-260610 | no kit",
            False,
            "passed over",
        ),
        (
            CLEAR.replace("16 mL", "90 mL"),
            False,
            "overdosed",
        ),
        (
            CLEAR.replace("chlorine_total=<0.02 mg/L", "chlorine_total=0.2 mg/L"),
            False,
            "showed chlorine",
        ),
        (  # no waiting makes it safe, though some of it is still to go
            TREATED + "2026-06-10 08:58 | treat | barrel=yard; dose=1 mL\n"
            "2026-06-10 08:59 | test | where=yard; chlorine_total=0.2 mg/L",
            False,
            "showed chlorine",
        ),
    ],
)  # fmt: skip
def test_only_water_known_to_be_clear_is_ready(journal: str, ready: bool, words: str) -> None:
    assert yard(journal)["ready"] is ready
    (line,) = [text for text in lines(status(journal)) if text.startswith("yard ")]
    assert words in line


def test_old_treated_water_is_not_ready() -> None:
    assert yard(CLEAR, "2026-06-24 08:50")["ready"] is True
    assert yard(CLEAR, "2026-06-24 08:51")["ready"] is False


def test_rain_in_a_rain_barrel_is_ready() -> None:
    rain = READ + "2026-06-09 20:00 | fill | barrel=shed; added=120 L; source=rain"
    row = as_json(status(rain, pond=POND + SHED))["barrels"][1]
    assert (row["name"], row["untreated_l"], row["ready"]) == ("shed", 0, True)


def test_the_open_batch_tells_its_stage_and_step_and_what_is_closed() -> None:
    ticks = "".join(
        f"2026-06-10 08:2{n} | tick | step={step}; batch=yard-260610\n"
        for n, step in enumerate(("outlet-shut", "barrel-sound", "hose-above-rim"))
    )
    shut = "2026-06-10 08:31 | tick | step=tap-shut; batch=yard-260610\n"
    begun = status(READ + ticks + FILLED[len(READ) :])
    assert as_json(begun)["batch"] == {
        "id": "yard-260610",
        "barrel": "yard",
        "stage": "fill",
        "step": "tap-shut",
    }
    late = status(READ + ticks + FILLED[len(READ) :] + shut)
    assert as_json(late)["batch"]["step"] == "dose"
    assert "batch      yard-260610: Give conditioner (treat)" in lines(late)


def test_a_closed_guard_in_front_of_the_step_is_something_to_do() -> None:
    forbidden = POND.replace('flow = "10 L/min"', 'flow = "10 L/min"\nforbidden = ["08:00-20:00"]')
    tick = READ + "2026-06-10 08:20 | tick | step=barrel-sound; batch=yard-260610"
    assert status(tick).to_do is False
    closed = status(tick, pond=forbidden)
    assert closed.to_do is True
    assert any("closed: drawing water is forbidden" in line for line in lines(closed))


def test_an_alarm_is_something_to_do_and_a_chore_is_not() -> None:
    chores = POND + '[[chore]]\nname = "look at fish"\nevery = "1 d"\n'
    daily = status(pond=chores)
    assert [d["name"] for d in as_json(daily)["due"]] == ["look at fish"]
    assert daily.to_do is False
    assert status(READ.replace("60 mm", "120 mm")).to_do is True


def test_alarms_stand_on_top_each_with_its_way_out() -> None:
    found = status(READ.replace("60 mm", "245 mm"))
    said = lines(found)
    assert said[1].startswith("ACT        the level read 245 mm")
    assert said[2].startswith("           -> ")
    assert alarm_lines(found) == said[1:3]
    (alarm,) = as_json(found)["alarms"]
    assert list(alarm) == ["name", "severity", "since", "text", "remedy", "batch"]
    assert alarm["since"] == "2026-06-10 08:00:00+02:00"


def test_problems_in_files_are_an_alarm() -> None:
    wrong = Problem("pond.toml", 7, 1, "this is no length")
    assert "pond.toml:7" in alarm_lines(status(problems=(wrong,)))[0]


def test_the_text_of_a_pond_in_order() -> None:
    days = "\n".join(
        f"2026-06-{4 + n:02} 08:00 | level | reading={40 + 4 * n} mm" for n in range(7)
    )
    assert lines(status(days, pond=POND + '[[chore]]\nname = "skim"\nevery = "1 d"\n')) == [
        "Box, 2026-06-10 09:00",
        "level      64 mm down to the water, read today 08:00",
        "loss       4.0 mm/day, +- 0.7 mm/day, by 7 readings over 6.0 days",
        "next mark  shelf (warn), 46 mm lower, in 10 to 14 days",
        "refill     144 L to full, 1 batch",
        "yard       20 L, untreated; nothing above the outlet",
        "due        skim, never done yet",
    ]


def test_too_few_readings_say_how_many_more() -> None:
    two = READ + "2026-06-09 08:00 | level | reading=56 mm; pump=on"
    (line,) = [text for text in lines(status(two)) if text.startswith("loss")]
    assert "not known yet: 1 more daily reading needed" in line
    assert "uncertain by 5.5 mm/day" in line


def test_what_was_left_out_is_said() -> None:
    wet = READ + "2026-06-09 08:00 | level | reading=90 mm\n2026-06-10 08:00 | rain | depth=30 mm"
    assert "           left out: 2026-06-09 08:00 to 2026-06-10 08:00: 30 mm of rain" in lines(
        status(wet)
    )


def test_us_units_are_spoken_on_a_us_pond() -> None:
    text = "\n".join(lines(status(pond=POND.replace('currency = "EUR"', 'units = "us"'))))
    assert "2 3/8 in" in text
    assert "US gal" in text
