"""`import weather` and `import log`: looked over, asked for, taken in once, and never twice."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from pondtui.books.pondfile import load
from tests.cli.calls import Terminal, call, refused

WEATHER = """\
Day,Low [degC],High [degC],Rain
2026-06-01,10,20,0.5
2026-06-02,11,21,T
2026-06-04,12,22,900
2026-06-05,"12,22,1
"""
MAP = ("--map", "tmin=Low [degC]", "--map", "rain=Rain [mm]")


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "Station (1) 2026.CSV"
    path.write_text(WEATHER)
    return path


def test_a_weather_table_is_shown_copied_and_its_columns_kept(pond: Path, table: Path) -> None:
    result = call("import", "weather", str(table), *MAP, "--yes")
    assert result.code == 0
    assert result.err == ""
    for words in (
        "3 rows, 2026-06-01 to 2026-06-04",
        "columns: date = Day, tmin = Low [degC], tmax = High [degC], rain = Rain [mm]",
        "1 trace",
        "no weather 2026-06-03",
        "rain of 900 mm cannot be",
        "a quote opens at column 12",
        "copied: weather/station-1-2026.csv",
    ):
        assert words in result.out
    assert (pond / "weather" / "station-1-2026.csv").read_bytes() == table.read_bytes()
    loaded = load(pond)
    assert loaded.problems == []
    assert loaded.setup is not None
    assert loaded.setup.weather.columns == {
        "date": "Day",
        "tmin": "Low [degC]",
        "tmax": "High [degC]",
        "rain": "Rain [mm]",
    }


def test_the_same_table_again_changes_nothing(pond: Path, table: Path) -> None:
    call("import", "weather", str(table), *MAP, "--yes")
    before = {path: path.read_bytes() for path in pond.rglob("*") if path.is_file()}
    result = call("import", "weather", str(table), "--yes")
    assert "there already: weather/station-1-2026.csv" in result.out
    assert {path: path.read_bytes() for path in pond.rglob("*") if path.is_file()} == before


def test_a_table_that_has_grown_takes_the_place_of_the_shorter_one(pond: Path, table: Path) -> None:
    text = "date,rain [mm]\n2026-06-01,1\n"
    table.write_text(text)
    call("import", "weather", str(table), "--yes")
    table.write_text(text + "2026-06-02,2\n")
    assert "in place of the shorter one" in call("import", "weather", str(table), "--yes").out
    table.write_text("date,rain [mm]\n2027-06-01,1\n")
    assert "copied: weather/station-1-2026-2.csv" in (
        call("import", "weather", str(table), "--yes").out
    )
    assert sorted(path.name for path in (pond / "weather").iterdir()) == [
        "station-1-2026-2.csv",
        "station-1-2026.csv",
    ]


def test_keys_that_the_program_does_not_know_stay_in_the_description(
    pond: Path, table: Path
) -> None:
    with (pond / "pond.toml").open("a") as file:
        file.write('[weather]\nmissing = ["", "-9999"]\nstation = "17 B"\n[house]\nkey = "hook"\n')
    before = load(pond).data
    call("import", "weather", str(table), *MAP, "--yes")
    after = load(pond).data
    columns = after["weather"].pop("columns")
    assert set(columns) == {"date", "tmin", "tmax", "rain"}
    assert after == before


def test_columns_that_the_description_names_are_not_touched(pond: Path, table: Path) -> None:
    with (pond / "pond.toml").open("a") as file:
        file.write('[weather.columns]\ndate = "Day"\nrain = "Rain [mm]"\n')
    text = (pond / "pond.toml").read_text()
    result = call("import", "weather", str(table), "--yes", "--json")
    assert result.json["columns_written"] == {}
    assert (pond / "pond.toml").read_text() == text
    clash = call("import", "weather", str(table), "--yes", "--map", "rain=High [mm]")
    refused(clash, 2, "pond.toml says rain = 'Rain [mm]'")


def test_the_json_of_a_weather_table_tells_all_that_was_shown(pond: Path, table: Path) -> None:
    answer = call("import", "weather", str(table), *MAP, "--yes", "--json").json
    assert answer["written"] is True
    assert answer["file"] == "weather/station-1-2026.csv"
    assert (pond / answer["file"]).exists()
    assert (answer["days"], answer["rows"], answer["traces"]) == (3, 3, 1)
    assert answer["gaps"] == [{"from": "2026-06-03", "to": "2026-06-03"}]
    assert [problem["line"] for problem in answer["problems"]] == [5, 4]


def test_a_column_that_is_named_is_not_guessed_to_be_another(pond: Path, table: Path) -> None:
    # KNMI call the sum of rain RH, which elsewhere is humidity
    table.write_text("# STN,YYYYMMDD,   RH,   TN\n260,19800101,   58,  -12\n")
    words = ("rain=RH [0.1 mm]", "tmin=TN [0.1 degC]")
    answer = call("import", "weather", str(table), "--yes", "--json", "--map", *words).json
    assert answer["columns"] == {
        "date": "YYYYMMDD",
        "tmin": "TN [0.1 degC]",
        "rain": "RH [0.1 mm]",
    }
    assert answer["problems"] == []
    assert load(pond).problems == []


def test_check_names_what_is_wrong_in_the_weather(pond: Path, table: Path) -> None:
    call("import", "weather", str(table), *MAP, "--yes")
    result = call("check")
    assert result.code == 1
    assert "weather/station-1-2026.csv:4:18: rain of 900 mm cannot be" in result.out
    assert pond.exists()


def test_without_a_terminal_and_without_yes_nothing_is_taken_in(pond: Path, table: Path) -> None:
    result = call("import", "weather", str(table), *MAP)
    assert result.code == 2
    assert "give --yes" in result.err
    assert not (pond / "weather").exists()


@pytest.mark.parametrize(("typed", "taken"), [("y\n", True), ("\n", False), ("", False)])
def test_on_a_terminal_the_keeper_is_asked(
    pond: Path, table: Path, monkeypatch: pytest.MonkeyPatch, typed: str, taken: bool
) -> None:
    keyboard = Terminal(typed)
    monkeypatch.setattr(sys, "stdin", keyboard)
    result = call("import", "weather", str(table), *MAP, terminal=True)
    assert "copy these 3 days into" in result.out
    assert (pond / "weather").exists() is taken
    assert ("nothing was taken in" in result.out) is not taken


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("day,temp\n2026-06-01,ü\n".encode("latin-1"), "not UTF-8 text"),
        (b"", "no line names the columns"),
        (b"date,rain [mm]\n2026-06-01,wet\n", "wet is no number"),
        (b"date,rain [mm]\n", "a header and no rows"),
        (b"date,rain\n2026-06-01,3\n", "say the unit of rain"),
    ],
)
def test_a_table_of_which_nothing_can_be_used_is_refused_and_not_copied(
    pond: Path, tmp_path: Path, content: bytes, words: str
) -> None:
    path = tmp_path / "w.csv"
    path.write_bytes(content)
    refused(call("import", "weather", str(path), "--yes"), 3, words, "nothing was taken in")
    assert not (pond / "weather").exists()


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize(
    ("words", "code", "fragment"),
    [
        ((), 2, "say what to take in"),
        (("weather",), 2, "say what to take in"),
        (("moon", "x.csv"), 2, "say what to take in"),
        (("weather", "none.csv", "--yes"), 3, "cannot be read"),
        (("weather", ".", "--yes"), 3, "a folder, not a file"),
        (("weather", "TABLE", "--map", "rain"), 2, "write --map NAME=COLUMN"),
        (("weather", "TABLE", "--map", "snow=Rain [mm]"), 2, "weather has no snow"),
        (("weather", "TABLE", "--map", "rain=Rain [kg]"), 2, "kg is no unit of a depth of rain"),
        (("weather", "TABLE", "--map", "rain=RR [mm]"), 3, "no column is called RR [mm]"),
        (("weather", "TABLE", "rain=a", "rain=b"), 2, "rain stands twice"),
        (("log", "TABLE", "--map", "depth=x [mm]"), 2, "a log has no depth"),
        (("log", "TABLE", "--yes"), 3, "no column is known as a time"),
    ],
)
def test_a_call_that_cannot_be_meant_is_refused(
    table: Path, words: tuple[str, ...], code: int, fragment: str
) -> None:
    said = [str(table) if word == "TABLE" else word for word in words]
    refused(call("import", *said), code, fragment)


# --- logs -----------------------------------------------------------------------------------------

METER = "time,Count\n" + "".join(
    f"2026-06-02 08:{n:02},{1000 + 20 * min(max(n - 3, 0), 15)}\n" for n in range(40)
)
METER_MAP = ("--map", "meter=Count [0.5 L]", "--map", "barrel=yard")


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "log.csv"
    path.write_text("Time,Level [mm]\n2026-06-01 08:00,62\n2026-06-02 08:00,66\n")
    return path


def journal(pond: Path) -> list[str]:
    path = pond / "journal" / "2026-desk.txt"
    return path.read_text().splitlines() if path.exists() else []


def test_a_log_becomes_entries_once_and_never_twice(pond: Path, log: Path) -> None:
    first = call("import", "log", str(log), "--yes")
    assert "written: 2 level" in first.out
    lines = journal(pond)
    assert lines[0] == "2026-06-01 08:00:00+02:00 | level   | reading=62 mm; by=level sensor |"
    second = call("import", "log", str(log), "--yes")
    assert "of them 2 in the journal already" in second.out
    assert "nothing new" in second.out
    assert journal(pond) == lines


def test_a_struck_reading_does_not_come_back(pond: Path, log: Path) -> None:
    call("import", "log", str(log), "--yes")
    call("add", "strike", "of=2026-06-01 08:00:00+02:00 level")
    lines = journal(pond)
    assert len(lines) == 3
    call("import", "log", str(log), "--yes")
    assert journal(pond) == lines


def test_a_log_that_has_grown_adds_what_is_new(pond: Path, log: Path) -> None:
    call("import", "log", str(log), "--yes")
    log.write_text(log.read_text() + "2026-06-03 08:00,71\n")
    answer = call("import", "log", str(log), "--yes", "--json").json
    assert (answer["written"], answer["there_already"]) == (1, 2)
    assert len(journal(pond)) == 3


def test_a_reading_by_hand_at_the_same_second_is_no_reason_to_skip(pond: Path, log: Path) -> None:
    call("add", "level", "reading=63 mm", "by=MO", "--at", "2026-06-01 08:00:00+02:00")
    call("import", "log", str(log), "--yes")
    assert len(journal(pond)) == 3


def test_a_flow_meter_fills_the_barrel_that_is_named(pond: Path, log: Path) -> None:
    log.write_text(METER)
    call("import", "log", str(log), *METER_MAP, "--yes")
    assert journal(pond) == [
        "2026-06-02 08:18:00+02:00 | fill    | barrel=yard; added=150 L; source=tap; "
        "meter=650 L; by=flow meter |"
    ]


def test_a_flow_meter_needs_to_know_where_its_water_runs(pond: Path, log: Path) -> None:
    log.write_text(METER)
    alone = call("import", "log", str(log), "--map", "meter=Count [0.5 L]", "--yes")
    refused(alone, 2, "say where the meter's water runs")
    call("import", "log", str(log), "meter=Count [0.5 L]", "into=pond", "--yes")
    assert "| direct  | volume=150 L; source=tap" in journal(pond)[0]


@pytest.mark.usefixtures("pond")
@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("barrel=yrd", "nothing is called yrd (did you mean yard?)"),
        ("where=roof", "nothing is called roof"),
        ("turned=perhaps", "nothing is called perhaps"),
        ("offset=3", "offset: say the unit"),
        ("by=a;b", "no ; and no |"),
    ],
)
def test_a_word_on_the_sensor_that_cannot_be_is_refused(log: Path, said: str, words: str) -> None:
    refused(call("import", "log", str(log), "--yes", "--map", said), 2, words)


def test_a_log_is_shown_before_the_keeper_is_asked(
    pond: Path, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal("n\n"))
    result = call("import", "log", str(log), terminal=True)
    assert "worth a line: 2" in result.out
    assert "write 2 level into the journal? [y/N]" in result.out
    assert journal(pond) == []
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    assert call("import", "log", str(log)).code == 2


def test_rows_that_are_left_out_are_named_beside_what_is_taken(pond: Path, log: Path) -> None:
    log.write_text(log.read_text() + "2026-06-02 12:00,300\n2026-06-03 08:00,71\n")
    result = call("import", "log", str(log), "--yes")
    assert "log.csv:4: level: jumps from 66 to 300 mm and back; left out" in result.out
    assert len(journal(pond)) == 3
