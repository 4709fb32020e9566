"""`outlook` and `away` as called: their keys, and what cannot be planned."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.cli.calls import POND, call, refused

# the clock of these calls stands at 2026-08-14 18:20 by the pond's time
MARKS = """
[[mark]]
name = "shelf"
reading = "110 mm"
role = "warn"
[[person]]
name = "Tam"
role = "sitter"
free = ["sat", "wed"]
"""
LEVELS = "".join(
    f"2026-08-{day:02d} 17:00:00+02:00 | level | reading={62 + 2 * day} mm |\n"
    for day in range(4, 15)
)
DAYS = ("2026-08-15", "2026-09-05")
KEYS = {"from", "to", "alone", "alone_days", "visits", "chance_kept", "water_l", "conditioner_ml",
        "stock_lasts"}  # fmt: skip


@pytest.fixture
def pond(pond: Path) -> Path:
    (pond / "pond.toml").write_text(POND + MARKS)
    (pond / "journal" / "2026-hand.txt").write_text(LEVELS)
    return pond


def with_years(pond: Path, years: int) -> None:
    """Weather of so many past years: warm, now and then a shower; the present one too."""
    described = (pond / "pond.toml").read_text()
    described = described.replace('units = "metric"', 'units = "metric"\nlatitude = 51.0', 1)
    columns = ('[weather]\n[weather.columns]\ndate = "date"\ntmin = "tmin [degC]"\n'
               'tmax = "tmax [degC]"\nrain = "rain [mm]"\n')  # fmt: skip
    (pond / "pond.toml").write_text(described + columns)
    (pond / "weather").mkdir()
    day, rows = date(2026 - years, 1, 1), ["date,tmin,tmax,rain"]
    while day < date(2026, 8, 14):
        warm = 20 + (day.toordinal() * 7) % 9
        rows.append(f"{day},12,{warm},{6 if day.toordinal() % 11 == 0 else 0}")
        day += timedelta(1)
    (pond / "weather" / "all.csv").write_text("\n".join(rows) + "\n")


@pytest.mark.usefixtures("pond")
def test_the_outlook_has_its_keys_and_a_level_for_every_day() -> None:
    answer = call("outlook", "--days", "20", "--json").json
    assert {"rests_on_days", "levels", "marks"} <= answer.keys()
    assert [one["date"] for one in answer["levels"]][:2] == ["2026-08-15", "2026-08-16"]
    assert len(answer["levels"]) == 20
    assert all(one["p10_mm"] <= one["p50_mm"] <= one["p90_mm"] for one in answer["levels"])
    shelf = next(m for m in answer["marks"] if m["name"] == "shelf")
    assert set(shelf) == {"name", "role", "p10_day", "p50_day", "p90_day"}
    assert shelf["p10_day"] <= shelf["p50_day"]
    assert answer["chance_stated"] is False


def test_three_years_of_weather_let_a_chance_be_told(pond: Path) -> None:
    with_years(pond, 3)
    answer = call("outlook", "--json").json
    assert answer["chance_stated"] is True
    assert call("outlook").out.count("2026-") > 14
    plan = call("away", *DAYS, "--json").json
    assert plan["chance_kept"] >= 0.9
    assert plan["chance_kept_one_missed"] >= 0.9
    assert all(0 <= one["chance"] <= 1 for one in plan["alone"])


def test_two_years_of_weather_promise_nothing(pond: Path) -> None:
    with_years(pond, 2)
    plan = call("away", *DAYS, "--json").json
    assert plan["chance_kept"] is None
    assert all(one["chance"] is None for one in plan["alone"])
    assert any("2 past years" in said for said in plan["remarks"])


@pytest.mark.usefixtures("pond")
def test_the_plan_has_its_keys_and_adds_up() -> None:
    plan = call("away", *DAYS, "--json").json
    assert plan.keys() >= KEYS
    assert plan["visits"]
    assert plan["visits"][0].keys() >= {"date", "barrel", "add_l", "dose_ml", "release_l"}
    assert plan["water_l"] == sum(visit["release_l"] for visit in plan["visits"])
    assert plan["alone_days"] < 22
    assert plan["visits"][0]["add_l"] == 0  # left ready, tested
    filled = [visit for visit in plan["visits"] if visit["add_l"] > 0]
    assert all(visit["dose_ml"] > 0 for visit in filled)


@pytest.mark.usefixtures("pond")
def test_the_sitter_comes_on_free_days_only() -> None:
    plan = call("away", *DAYS, "--sitter", "tam", "--json").json
    days = {date.fromisoformat(visit["date"]).weekday() for visit in plan["visits"]}
    assert days <= {2, 5}


def test_no_barrel_is_filled_in_forbidden_hours(pond: Path) -> None:
    forbidden = POND.replace("flow =", 'forbidden = ["10:00-19:00"]\nflow =') + MARKS
    (pond / "pond.toml").write_text(forbidden)
    plan = call("away", *DAYS, "--json").json
    filled = [visit for visit in plan["visits"] if visit["add_l"] > 0]
    assert filled
    assert all(not "10:00" <= visit["hour"] < "19:00" for visit in filled)


def test_a_ban_without_end_leaves_what_is_left_ready_only(pond: Path) -> None:
    forbidden = POND.replace("flow =", 'forbidden = ["00:00-24:00"]\nflow =') + MARKS
    (pond / "pond.toml").write_text(forbidden)
    plan = call("away", "2026-08-15", "2026-10-20", "--json").json
    assert all(visit["add_l"] == 0 for visit in plan["visits"])
    assert plan["keeps_promise"] is False
    (said,) = (said for said in plan["remarks"] if "no visits of the sitter can keep" in said)
    assert "drawing water for" in said
    assert "more days" not in said  # nor a larger barrel: neither would help


def test_before_leaving_nothing_is_asked_for_that_a_ban_forbids(pond: Path) -> None:
    def planned(ban: str) -> dict[str, Any]:
        text = POND.replace("flow =", f"forbidden = {ban}\nflow =") + MARKS
        (pond / "pond.toml").write_text(text)
        found: dict[str, Any] = call("away", *DAYS, "--json").json
        return found

    def asked(plan: dict[str, Any]) -> str:
        return " ".join(plan["before_leaving"])

    def said(plan: dict[str, Any]) -> str:
        return " ".join(plan["remarks"])

    free = planned("[]")
    assert "fill the pond" in asked(free)
    assert "full, treated and tested" in asked(free)
    assert "before you leave" not in said(free)
    # up to the evening of the day of leaving, and free from the day after it on
    shut = planned('["08-01..08-15"]')
    assert "fill the pond" not in asked(shut)
    assert "full, treated and tested" not in asked(shut)
    assert f"forbidden at every hour up to {DAYS[0]}" in said(shut)
    assert shut["filled_first"] is False
    assert all(visit["add_l"] > 0 for visit in shut["visits"])  # nothing was left ready
    assert all(visit["date"] > DAYS[0] for visit in shut["visits"])
    # a keeper who is there may draw at night
    assert "before you leave" not in said(planned('["06:00-23:00"]'))


@pytest.mark.usefixtures("pond")
def test_a_short_absence_needs_nobody() -> None:
    plan = call("away", "2026-08-15", "2026-08-16", "--json").json
    assert plan["visits"] == []
    assert plan["alone_days"] >= 2
    assert "none is needed" in call("away", "2026-08-15", "2026-08-16").out


@pytest.mark.usefixtures("pond")
def test_wrong_dates_are_one_sentence() -> None:
    for days in (("2026-09-05", "2026-08-15"), ("2026-07-01", "2026-07-05"),
                 ("2028-01-01", "2028-01-05"), ("2026-08-15", "2027-08-15"), ("soon", "later"),
                 ("2026-08-15",)):  # fmt: skip
        refused(call("away", *days), 2)
    refused(call("away", "2026-09-05", "2026-08-15"), 2, "turn them round")


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize(
    "words",
    [("--mark", "moon"), ("--chance", "much"), ("--chance", "100%")],
)
def test_a_wrong_mark_or_chance_is_one_sentence(words: tuple[str, ...]) -> None:
    refused(call("away", *DAYS, *words), 2)


def test_winter_is_told_and_planned(pond: Path) -> None:
    late = LEVELS.replace("2026-08-", "2026-11-")
    (pond / "journal" / "2026-hand.txt").write_text(late)
    now = datetime(2026, 11, 14, 17, 0, tzinfo=UTC)
    plan = call("away", "2026-11-20", "2026-12-10", "--json", now=now).json
    assert any("outside the season" in said for said in plan["remarks"])


def test_without_readings_it_says_what_is_needed(pond: Path) -> None:
    (pond / "journal" / "2026-hand.txt").write_text("")
    plan = call("away", *DAYS, "--json").json
    assert (plan["visits"], plan["chance_kept"], plan["more_readings"]) == ([], None, 3)
    assert "never read" in call("away", *DAYS).out
    answer = call("outlook", "--json").json
    assert (answer["levels"], answer["rests_on_days"]) == ([], 0)
    assert "3 readings more" in call("outlook").out


def test_a_mark_that_is_passed_already_is_said(pond: Path) -> None:
    low = LEVELS.replace("reading=9", "reading=12").replace("reading=8", "reading=12")
    (pond / "journal" / "2026-hand.txt").write_text(low)
    plan = call("away", *DAYS, "--json").json
    assert any("already" in said for said in plan["remarks"])
    assert plan["filled_first"] is True
    assert plan["alone_days"] == 0


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize("days", ["0", "93", "-1", "many"])
def test_a_look_too_far_is_refused(days: str) -> None:
    refused(call("outlook", "--days", days), 2)


def test_in_us_units_plan_and_sheet_speak_of_inches_and_gallons(pond: Path) -> None:
    described = (pond / "pond.toml").read_text().replace('units = "metric"', 'units = "us"', 1)
    (pond / "pond.toml").write_text(described)
    words = ("2026-08-15", "2026-09-12")
    told = call("away", *words).out
    plan = call("away", *words, "--json").json
    assert plan["visits"]
    first = plan["visits"][0]
    assert f"{first['release_l'] / 3.785411784:.0f} US gal" in told
    assert " L " not in told
    assert " mm" not in told
    sheet = call("sheet", *words).out
    assert " in or more" in sheet
    assert f"{first['release_l'] / 3.785411784:.0f} US gal" in sheet
