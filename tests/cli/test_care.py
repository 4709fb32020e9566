"""Chores, tests, supplies and automation on the command line. Cases are constructed."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from tests.cli.calls import POND, Result, call, refused, write_pond

CARE = """
elevation = "40 m"
[[chore]]
name = "look at fish"
every = "1 d"
[[chore]]
name = "look at pump"
every = "2 d"
person = "Mo"
[[chore]]
name = "rinse sponge, gently"
weekdays = ["sat"]
window = ["04-01", "10-31"]
[[chore]]
name = "breaker"
monthly = 31
[[chore]]
name = "feed"
water = [["10 degC", "28 degC", "1 d"]]
[[supply]]
name = "food"
reorder_at = "100 g"
used_by = "feed"
each = "5 g"
place = "tin"
"""
TEXT = POND.replace("[gauge]", "[limits]\n[gauge]") + CARE.replace('elevation = "40 m"\n', "")
DESK = """\
2026-08-13 08:00:00+02:00 | level | reading=60 mm; temp=20 degC |
2026-08-13 08:10:00+02:00 | chore | name=look at fish; by=MO |
2026-08-10 08:10:00+02:00 | chore | name=look at pump |
2026-08-12 08:00:00+02:00 | supply | item=food; got=200 g |
2026-08-13 09:00:00+02:00 | test | where=pond; nitrite=0.5 mg/L as NO2; ph=7.5 |
"""  # fmt: skip


@pytest.fixture
def pond(tmp_path: Path) -> Path:
    return write_pond(tmp_path / "pond", TEXT, desk=DESK)


def on(pond: Path, *words: str) -> Result:
    return call("--pond", str(pond), *words)


def written(pond: Path) -> str:
    return "".join(path.read_text() for path in (pond / "journal").iterdir())


def test_the_chores_are_listed_what_is_late_first(pond: Path) -> None:
    result = on(pond, "chores")
    lines = result.out.splitlines()
    assert lines[0].startswith("LATE   look at pump")
    assert "2 days late" in lines[0]
    assert "Mo" in lines[0]
    assert any(line.startswith("due    look at fish") for line in lines)
    assert lines[-1].startswith("food")
    assert result.code == 0


def test_the_chores_as_json_have_their_promised_keys(pond: Path) -> None:
    data = on(pond, "chores", "--json").json
    pump = next(chore for chore in data["chores"] if chore["name"] == "look at pump")
    assert (pump["state"], pump["days_late"], pump["due_since"]) == ("late", 2, "2026-08-12")
    assert pump["last"] == "2026-08-10 08:10:00+02:00"
    assert set(data["feeding"]) == {"feed", "text", "why"}


def test_a_tick_writes_the_whole_name_at_the_time_chosen(pond: Path) -> None:
    result = on(pond, "chores", "tick", "look", "at", "p", "--at", "2026-08-14 09:00")
    assert result.code == 0, result.err
    assert "2026-08-14 09:00:00+02:00 | chore   | name=look at pump" in written(pond)
    assert on(pond, "chores", "--json").json["chores"][1]["state"] == "done"


def test_a_skip_asks_for_its_reason(pond: Path) -> None:
    refused(on(pond, "chores", "skip", "breaker"), 2, "say why it is skipped")
    assert on(pond, "chores", "skip", "breaker", "-m", "no torch").code == 0
    assert "name=breaker; skipped=yes | no torch" in written(pond)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("tick",), "no chore is called nothing"),
        (("tick", "look"), "may be several: there is look at fish, look at pump"),
        (("tick", "dance"), "no chore is called dance"),
        (("dance",), "tick, skip, history NAME, not dance"),
        (("--as", "pdf"), "--as ics writes all chores"),
        (("-m", "why"), "--note goes with tick or skip"),
    ],
)
def test_what_is_not_understood_is_told_in_one_sentence(
    pond: Path, words: tuple[str, ...], sentence: str
) -> None:
    before = written(pond)
    refused(on(pond, "chores", *words), 2, sentence)
    assert written(pond) == before


def test_the_history_of_a_chore_tells_who_and_when(pond: Path) -> None:
    assert on(pond, "chores", "history", "look at fish").out == "2026-08-13 08:10 done by MO\n"
    assert "was never done" in on(pond, "chores", "history", "breaker").out


def test_the_calendar_is_read_by_another_reader_and_says_what_is_left_out(pond: Path) -> None:
    place = pond.parent / "chores.ics"
    result = on(pond, "chores", "--as", "ics", "-o", str(place))
    assert result.code == 0, result.err
    assert "warmth decides: feed" in result.err
    raw = place.read_bytes()
    assert b"\r\n" in raw
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    events: list[Any] = Calendar.from_ical(raw).walk("VEVENT")
    by_name: dict[str, list[Any]] = {}
    for event in events:
        by_name.setdefault(str(event["SUMMARY"]).removesuffix(" (Test Pond)"), []).append(event)
    assert set(by_name) == {"look at fish", "look at pump", "rinse sponge, gently", "breaker"}
    (fish,) = by_name["look at fish"]
    assert fish["DTSTART"].dt == date(2026, 8, 14)
    assert fish["RRULE"] == {"FREQ": ["DAILY"], "INTERVAL": [1]}
    this, following = by_name["rinse sponge, gently"]  # this season's and the next one's
    assert this["RRULE"]["UNTIL"] == [date(2026, 10, 31)]
    assert following["DTSTART"].dt == date(2027, 4, 3)  # the first Saturday of April
    assert by_name["breaker"][0]["RRULE"]["BYSETPOS"] == [-1]
    assert len({str(event["UID"]) for event in events}) == len(events)


def test_the_calendar_of_another_day_takes_the_place_of_the_older_one(pond: Path) -> None:
    first: list[Any] = Calendar.from_ical(on(pond, "chores", "--as", "ics").out).walk("VEVENT")
    on(pond, "chores", "tick", "look at fish")
    second: list[Any] = Calendar.from_ical(on(pond, "chores", "--as", "ics").out).walk("VEVENT")
    assert [str(e["UID"]) for e in first] == [str(e["UID"]) for e in second]


def test_the_tests_are_judged_with_what_to_do(pond: Path) -> None:
    result = on(pond, "tests")
    assert "WATCH nitrite" in result.out
    assert "measure it again tomorrow" in result.out
    rows = {row["reading"]: row for row in on(pond, "tests", "--json").json["tests"]}
    assert rows["nitrite"]["verdict"] == "watch"
    assert rows["nitrite"]["unit"] == "mg/L as NO2"
    assert rows["ph"]["measured"] == "2026-08-13 09:00:00+02:00"
    refused(on(pond, "tests", "sea"), 2, "nothing is called sea")
    assert "no water test of tap" in on(pond, "tests", "tap").out


def test_what_was_never_counted_is_not_said_to_be_there(tmp_path: Path) -> None:
    said = on(
        write_pond(tmp_path / "pond", desk="2026-08-13 08:00:00+02:00 | level | reading=62 mm |\n"),
        "supplies",
    ).out
    assert "never counted" in said
    assert "wanted in hand for an emergency of the whole pond" in said
    assert "of it kept" not in said


def test_the_supplies_tell_what_is_left_and_where(pond: Path) -> None:
    assert "food         200 g left; tin" in on(pond, "supplies").out
    (conditioner, food) = on(pond, "supplies", "--json").json["supplies"]
    assert food["left"] == {"value": 200, "unit": "g"}
    assert (conditioner["name"], conditioner["left"]) == ("conditioner", None)


def test_automation_is_worked_out_for_this_pond_with_its_cautions(pond: Path) -> None:
    result = on(pond, "automation")
    for words in (
        "cross-connection",
        "lift the float by hand: the flow must stop",
        "over 12 hours",
        "carbon is spent after so many litres",
    ):
        assert words in result.out
    data = on(pond, "automation", "--json").json
    # 11 L/min for 8 h; 0.5 mg/L; the label's 8 mL per 100 L; 180 L at 1 L of carbon per 10 min
    assert data["float_valve"]["stuck_l"] == pytest.approx(5280)
    assert data["doser"]["dose_ml_per_min"] == pytest.approx(0.88)
    assert data["doser"]["dose_share_at_0.5_of_the_flow"] == pytest.approx(2)
    assert data["carbon_filter"]["contact_min"] == 2  # chloramine = false
    assert data["carbon_filter"]["barrel_min_with_1_l"] == pytest.approx(180 / 0.5)
    assert data["by_hand"]["fill_min"] == pytest.approx(180 / 11)


def test_automation_without_a_flow_says_how_to_measure_it(tmp_path: Path) -> None:
    pond = write_pond(tmp_path / "pond", POND.replace('flow = "11 L/min"\n', ""))
    refused(on(pond, "automation"), 2, "flow-by-bucket", "[source.tap]")


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (("level", "62"), "level   | reading=62 mm |"),
        (("rain", "4"), "rain    | depth=4 mm |"),
        (("note", "heron", "again"), "note    | | heron again"),
        (("level 62 on 18",), "level   | reading=62 mm; pump=on; temp=18 degC |"),
        (("temp", "19"), "test    | where=pond; temp=19 degC |"),
        (("overflow",), "event   | what=overflow |"),
        (("chore", "feed", "-m", "ate well"), "chore   | name=feed | ate well"),
        (("test", "where=pond", "chlorine_total=0"), "chlorine_total=<0.02 mg/L"),
        (("level", "reading=62 mm"), "level   | reading=62 mm |"),
    ],
)
def test_a_hurried_line_is_an_entry_too(pond: Path, words: tuple[str, ...], line: str) -> None:
    result = on(pond, "add", *words, "--dry-run")
    assert result.code == 0, result.err
    assert line in result.out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("test", "where=pond", "ph=71"), "ph: from 0 to 14, such as 7.5, not 71"),
        (("test", "where=pond", "ammonia=0.5 mg/L"), "say it as N, NH3 or NH4"),
        (("dip", "barrel=yard", "left=900 L"), "more than yard holds to its brim, 225 L"),
        (("dip", "barrel=yard", "depth=2 m"), "lies above the brim of yard at 900 mm"),
        (("test", "where=pond", "nitrite=0 mg/L"), "0 on a kit means below its first step"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(
    pond: Path, words: tuple[str, ...], sentence: str
) -> None:
    refused(on(pond, "add", *words), 2, sentence)


def test_the_alarms_alone_end_with_one_and_a_daily_tick_does_not(pond: Path) -> None:
    quiet = write_pond(pond.parent / "quiet", TEXT.split("[[supply]]")[0],
                       desk="2026-08-14 08:00:00+02:00 | level | reading=60 mm |\n")  # fmt: skip
    assert on(quiet, "chores", "--json").json["chores"][0]["state"] == "due"
    assert on(quiet, "status", "--alarms", "--exit-code").code == 0
    loud = on(pond, "status", "--alarms", "--exit-code")
    assert loud.code == 1
    assert "WATCH" in loud.out
