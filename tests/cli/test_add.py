"""`add` and `undo`: a fact is written when it is acknowledged, and taken back by a line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.calls import POND, call, refused, write_pond

LEVEL = "2026-08-14 18:20:00+02:00 | level   | reading=62 mm; pump=on |"


def desk(pond: Path, year: int = 2026) -> list[str]:
    """The lines of this device's file."""
    path = pond / "journal" / f"{year}-desk.txt"
    return path.read_text().splitlines() if path.exists() else []


def test_an_entry_is_one_line_on_the_disk_and_on_the_screen(pond: Path) -> None:
    result = call("add", "level", "reading=62 mm", "pump=on")
    assert result == (0, LEVEL + "\n", "")
    assert desk(pond) == [LEVEL]


def test_a_value_needs_no_quotes(pond: Path) -> None:
    call("add", "level", "reading=62", "mm", "pump=on", "-m", "calm | clear\nwater")
    assert desk(pond) == [LEVEL + " calm | clear water"]


def test_a_dry_run_writes_nothing(pond: Path) -> None:
    result = call("add", "level", "reading=62 mm", "pump=on", "--dry-run")
    assert result.out.startswith(LEVEL)
    assert desk(pond) == []
    answer = call("add", "level", "reading=62 mm", "pump=on", "--dry-run", "--json").json
    assert answer == {"line": LEVEL, "written": False}


def test_two_entries_of_one_second_are_moved_apart(pond: Path) -> None:
    for _ in range(3):
        call("add", "note", "-m", "same")
    assert [line[:25] for line in desk(pond)] == [
        "2026-08-14 18:20:00+02:00",
        "2026-08-14 18:20:01+02:00",
        "2026-08-14 18:20:02+02:00",
    ]


def test_a_struck_second_is_not_used_again(pond: Path) -> None:
    call("add", "note", "-m", "first")
    call("undo")
    call("add", "note", "-m", "second")
    assert desk(pond)[-1].startswith("2026-08-14 18:20:01+02:00 | note")


def test_a_late_entry_stands_in_the_file_of_its_year(pond: Path) -> None:
    assert call("add", "level", "reading=2 in", "--at", "2025-12-31 23:30").code == 0
    assert desk(pond, 2025) == ["2025-12-31 23:30:00+01:00 | level   | reading=2 in |"]


def test_a_fact_is_taken_though_it_should_not_have_happened(pond: Path) -> None:
    call("add", "fill", "barrel=yard", "added=180 L")
    result = call("add", "release", "barrel=yard", "out=180 L")
    assert result.code == 0
    assert "untreated" in result.out
    assert len(desk(pond)) == 2


def test_treated_water_let_in_untested_is_told_at_once(pond: Path) -> None:
    call("add", "fill", "barrel=yard", "added=160 L", "--at", "2026-08-14 17:30")
    call("add", "treat", "barrel=yard", "dose=20 mL", "--at", "2026-08-14 17:40")
    result = call("add", "release", "barrel=yard", "out=160 L")
    assert result.code == 0
    assert "alarm: 160 L of treated water went from yard into the pond without" in result.out
    assert "test the pond for TOTAL chlorine" in result.out
    assert len(desk(pond)) == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["level", "reading=5000 mm"], "5000 mm cannot be: 0 mm is the brim of the pond, 800 mm"),
        (["level", "reading=1001 mm"], "reading: 1001 mm cannot be"),
        (["level 5000"], "reading: 5000 mm cannot be"),
        (["test", "where=pond"], "a test says nothing without a value"),
        (["test", "where=pond", "chlorine_total="], "chlorine_total: a value is missing"),
        (["putoff", "alarm=untreated", "until=2026-08-20", "-m", "x"], "cannot be put off"),
        (["putoff", "alarm=reading-odl", "until=2026-08-20"], "(did you mean reading-old?)"),
        (
            ["putoff", "alarm=gnomes", "until=2026-08-20"],
            "no alarm is called gnomes: `pondtui status --alarms --json`",
        ),
        (["bucket", "what=start", "pond=62 mm"], "bucket: a bucket test needs both levels"),
        (["tick", "step=outlet-shutt"], "step: nothing is called outlet-shutt"),
    ],
)
def test_what_cannot_be_is_not_taken(pond: Path, words: list[str], said: str) -> None:
    refused(call("add", *words), 2, said)
    assert desk(pond) == []


@pytest.mark.parametrize(
    "name", ["reading-old", "Level-Warn", "reading-nitrite", "stock flakes", "out-of-date flakes"]
)
def test_an_alarm_may_be_put_off_before_it_stands(pond: Path, name: str) -> None:
    assert call("add", "putoff", f"alarm={name}", "until=2026-08-20", "-m", "known").code == 0
    assert len(desk(pond)) == 1


def test_a_guessed_depth_may_be_short_of_a_reading(pond: Path) -> None:
    call("add", "level", "reading=990 mm")
    assert len(desk(pond)) == 1


def test_the_writer_of_the_settings_signs(pond: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    settings = pond.parent / "settings" / "pondtui"
    settings.mkdir(parents=True)
    (settings / "settings.toml").write_text('by = "MO"\ndevice = "shed"\n')
    monkeypatch.setenv("XDG_CONFIG_HOME", str(settings.parent))
    call("add", "note", "-m", "x")
    call("add", "note", "by=AN", "-m", "y")
    lines = (pond / "journal" / "2026-shed.txt").read_text().splitlines()
    assert ["by=MO" in lines[0], "by=AN" in lines[1]] == [True, True]


def test_a_device_keeps_its_name_when_the_host_is_renamed(
    pond: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    call("add", "note", "-m", "x")
    monkeypatch.setattr("socket.gethostname", lambda: "renamed")
    call("add", "note", "-m", "y")
    assert len(desk(pond)) == 2


@pytest.mark.parametrize(
    ("words", "fragments"),
    [
        ([], ["say what to add"]),
        (["lvel"], ["no kind of entry named lvel", "level"]),
        (["level"], ["reading"]),
        (["level", "reading="], ["reading"]),
        (["level", "reading=nan mm"], ["reading", "nan"]),
        (["level", "reading=inf mm"], ["reading", "inf"]),
        (["level", "reading=3 kg"], ["reading", "a length such as 62 mm", "3 kg"]),
        (["level", "reading=62,5 mm"], ["reading", "use a point: 62.5 mm"]),
        (["level", "reading=62 mm", "pmup=on"], ["pmup", "pump"]),
        (["level", "high"], ["a number such as 62, not high"]),
        (["fill", "barrel=yard", "added=-3 L"], ["added", "-3 L"]),
        (["fill", "barrel=yrad", "added=3 L"], ["barrel", "yrad", "did you mean yard?"]),
        (["fill", "barrel=yard", "added=3 gal"], ["added", "gal"]),
        (["fill", "barrel=yard"], ["added or to"]),
        (["test", "where=lake", "ph=7"], ["where", "lake", "pond"]),
        (["bypass", "step=wait"], ["note"]),
        (["note"], ["an empty note says nothing"]),
        (["note", "-m", " ", "by=MO"], ["an empty note says nothing"]),
        (["event", "what=flood"], ["what", "flood"]),
        (["note", "-m", "x", "--at", "noon"], ["--at", "noon"]),
        (["note", "-m", "x", "--at", "2026-13-01 10:00"], ["--at", "2026-13-01"]),
    ],
)
def test_what_cannot_be_read_is_refused_and_nothing_written(
    pond: Path, words: list[str], fragments: list[str]
) -> None:
    refused(call("add", *words), 2, *fragments)
    assert desk(pond) == []


def test_a_bare_gallon_is_written_out_as_the_ponds_own(tmp_path: Path) -> None:
    us = write_pond(tmp_path / "us", POND.replace('"metric"', '"us"'))
    result = call("--pond", str(us), "add", "fill", "barrel=yard", "added=40 gal")
    assert "added=40 US gal" in result.out


@pytest.mark.usefixtures("pond")
def test_a_clock_set_back_within_a_batch_stops_and_says_so() -> None:
    batch = ("barrel=yard", "batch=yard-1")
    call("add", "fill", *batch, "added=180 L", "--at", "2026-08-14 19:00")
    refused(call("add", "treat", *batch, "dose=15 mL"), 2, "40 min before the last entry")
    assert call("add", "treat", *batch, "dose=15 mL", "--at", "2026-08-14 18:20").code == 0


def test_a_pond_whose_description_is_broken_still_takes_a_fact(pond: Path) -> None:
    (pond / "pond.toml").write_text("[pond\n")
    result = call("add", "level", "reading=62 mm")
    assert result.code == 0
    assert "pond.toml" in result.err
    assert desk(pond) == ["2026-08-14 16:20:00+00:00 | level   | reading=62 mm |"]


def test_undo_strikes_what_this_device_wrote_last(pond: Path) -> None:
    (pond / "journal" / "2026-phone.txt").write_text("2026-08-14 17:00:00Z | note | | later\n")
    call("add", "level", "reading=62 mm")
    call("add", "level", "reading=60 mm", "--at", "2026-08-13 08:00")
    first, second = call("undo"), call("undo")
    assert "reading=60 mm" in first.out
    assert "reading=62 mm" in second.out
    assert desk(pond)[2].endswith("of=2026-08-13 08:00:00+02:00 level |")
    assert len(desk(pond)) == 4
    refused(call("undo"), 2, "no entry that could be taken back")


@pytest.mark.usefixtures("pond")
def test_undo_says_in_json_what_it_struck() -> None:
    call("add", "level", "reading=62 mm", "pump=on")
    assert call("undo", "--json").json["struck"] == LEVEL


def test_undo_takes_no_words(pond: Path) -> None:
    call("add", "note", "-m", "x")
    refused(call("undo", "everything"), 2, "undo takes no words")
    assert len(desk(pond)) == 1
