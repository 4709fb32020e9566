"""`status` and `plan` as called: text, JSON, exit codes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.calls import POND, call, refused, write_pond

# the clock of these calls stands at 2026-08-14 18:20 by the pond's time
TODAY = "2026-08-14 17:00:00+02:00 | level | reading=62 mm |\n"
LOW = TODAY.replace("62 mm", "9 mm")  # over the rim at 20 mm
STALE = "2026-08-10 17:00:00+02:00 | level | reading=62 mm |\n"


def write(pond: Path, lines: str) -> None:
    (pond / "journal" / "2026-desk.txt").write_text(lines)


@pytest.mark.parametrize("verb", ["status", "plan"])
def test_both_answer_in_text_and_in_one_json_object(pond: Path, verb: str) -> None:
    write(pond, TODAY)
    text, data = call(verb), call(verb, "--json")
    assert (text.code, text.err, data.code, data.err) == (0, "", 0, "")
    assert "62 mm" in text.out
    assert data.json["need_l"] == pytest.approx(102)  # 17 mm of 6 m2


@pytest.mark.parametrize(
    ("words", "journal", "code"),
    [
        (("status",), LOW, 0),
        (("status", "--exit-code"), LOW, 1),
        (("status", "--exit-code"), TODAY, 0),
        (("status", "--exit-code"), STALE, 1),
        (("status", "--alarms", "--exit-code"), LOW, 1),
        (("plan",), STALE, 0),
        (("plan", "--exit-code"), STALE, 1),
        (("plan", "--exit-code"), TODAY, 0),
        (("plan", "--exit-code"), "", 1),
        (("plan", "--exit-code", "--from", "62 mm"), STALE, 0),
    ],
)
def test_exit_codes(pond: Path, words: tuple[str, ...], journal: str, code: int) -> None:
    write(pond, journal)
    assert call(*words).code == code
    assert call(*words, "--json").code == code


def test_alarms_alone(pond: Path) -> None:
    write(pond, TODAY)
    assert call("status", "--alarms").out == "nothing is wrong\n"
    assert call("status", "--alarms", "--json").json == {"alarms": []}
    write(pond, LOW)
    assert [a["name"] for a in call("status", "--alarms", "--json").json["alarms"]] == [
        "level-spill"
    ]


def test_plan_to_another_mark_and_from_a_typed_level(pond: Path) -> None:
    write(pond, TODAY)
    data = call("plan", "--to", "rim", "--from", "6 cm", "--json").json
    assert (data["from_mm"], data["to_mark"], data["to_mm"]) == (60, "rim", 20)
    assert data["need_l"] == pytest.approx(240)


def test_words_that_cannot_be_meant_are_refused(pond: Path) -> None:
    write(pond, TODAY)
    refused(call("plan", "--to", "fuul"), 2, "no mark is called 'fuul'", "did you mean full?")
    refused(call("plan", "--from", "3 kg"), 2, "--from", "length")
    refused(call("plan", "now"), 2, "takes no words")
    refused(call("status", "now"), 2, "takes no words")


@pytest.mark.usefixtures("pond")
def test_a_pond_without_a_journal_says_how_to_begin() -> None:
    assert "never read" in call("status").out
    assert call("status", "--json").json["level_mm"] is None


def test_a_description_of_a_name_alone_still_has_a_status(pond: Path) -> None:
    (pond / "pond.toml").write_text('format = 1\n[pond]\nname = "Bare"\n')
    found = call("status", "--json")
    assert found.code == 0
    assert found.json["barrels"] == []
    assert found.json["closed"][0]["guard"] == "description"
    assert call("status").code == call("plan").code == 0


def test_a_line_that_cannot_be_read_is_an_alarm_and_the_rest_still_counts(pond: Path) -> None:
    write(pond, TODAY + "2026-08-14 17:05:00+02:00 | level | reading=3 kg |\n")
    found = call("status", "--json").json
    assert found["level_mm"] == 62
    assert [a["name"] for a in found["alarms"]] == ["files"]


def test_the_status_tells_the_outlook_by_its_keys(tmp_path: Path) -> None:
    lines = "".join(f"2026-08-{d} 07:40:00+02:00 | level | reading={20 + 4 * d} mm |\n"
                    for d in range(10, 15))  # fmt: skip
    mark = '[[mark]]\nname = "shelf"\nreading = "90 mm"\nrole = "warn"\n'
    folder = write_pond(tmp_path / "ahead", POND + mark, desk=lines)
    assert "ahead      shelf about " in call("--pond", str(folder), "status").out
    found = call("--pond", str(folder), "status", "--json").json["outlook"]
    assert found["mark"]["name"] == "shelf"
    assert found["mark"]["p10_day"] <= found["mark"]["p50_day"] <= found["mark"]["p90_day"]
    assert found["rests_on_days"] > 3


def test_with_too_few_readings_the_status_says_how_many_more(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "few", POND,
                        desk="2026-08-14 07:40:00+02:00 | level | reading=62 mm |\n")  # fmt: skip
    found = call("--pond", str(folder), "status", "--json").json["outlook"]
    assert found["mark"] is None
    assert found["more_readings"] >= 1
    assert "readings needed" in call("--pond", str(folder), "status").out
