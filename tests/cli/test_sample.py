"""`sample`: one copy of one's own, kept, with a season that is always now."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pondtui import paths
from tests.cli.calls import POND, call, refused, write_pond

NEVER_FIXED = None  # the clock of the call is then the real one


@pytest.fixture
def shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shipped sample whose files are read-only, as an installed one may be."""
    folder = write_pond(tmp_path / "shipped" / "metric", POND, desk=NOTE)
    (folder / "now.txt").write_text("2026-08-14 18:20:00+02:00\n")
    (folder / "pond.toml").chmod(0o444)
    monkeypatch.setattr("pondtui.cli.sample.sample_source", lambda: folder.parent)
    return folder


NOTE = "2026-08-14 10:00:00+02:00 | note    | | as shipped\n"


def copy_of(name: str = "metric") -> Path:
    return paths.data_dir() / "sample" / name


@pytest.mark.usefixtures("shipped")
def test_the_copy_is_made_once_and_kept() -> None:
    assert call("sample", "add", "note", "-m", "mine").code == 0
    lines = call("sample", "journal").out.splitlines()
    assert ["mine" in lines[0], "as shipped" in lines[1]] == [True, True]
    assert not (copy_of() / "now.txt").exists()


@pytest.mark.usefixtures("shipped")
def test_a_fresh_copy_forgets_what_was_written() -> None:
    call("sample", "add", "note", "-m", "mine")
    assert call("sample", "--fresh", "journal").out.count("\n") == 1


@pytest.mark.usefixtures("shipped")
def test_the_copy_can_be_written_though_the_original_cannot() -> None:
    call("sample", "check")
    assert (copy_of() / "pond.toml").stat().st_mode & 0o200


@pytest.mark.usefixtures("shipped")
def test_the_season_is_now_whenever_it_is_opened() -> None:
    def sample_now() -> datetime:
        answer = call("sample", "where", "--json", now=NEVER_FIXED).json
        return datetime.fromisoformat(answer["now"])

    first = sample_now()
    assert timedelta() <= first - datetime(2026, 8, 14, 16, 20, tzinfo=UTC) < timedelta(minutes=2)
    clock = copy_of().with_name("metric-clock.txt")
    clock.write_text(str(int(clock.read_text()) + 86400))
    assert timedelta(hours=23) < sample_now() - first < timedelta(hours=25)


@pytest.mark.usefixtures("shipped")
def test_a_clock_that_is_set_goes_before_the_samples_own() -> None:
    moment = datetime(2026, 9, 1, tzinfo=UTC)
    assert call("sample", "where", "--json", now=moment).json["now"] == "2026-09-01 00:00:00+00:00"


@pytest.mark.usefixtures("shipped")
def test_a_clock_file_without_a_number_is_named() -> None:
    call("sample", "check")
    copy_of().with_name("metric-clock.txt").write_text("soon\n")
    refused(call("sample", "check"), 3, "metric-clock.txt", "pondtui sample --fresh")


def test_a_sample_whose_moment_makes_no_sense_is_named(shipped: Path) -> None:
    (shipped / "now.txt").write_text("2026-08-14 18:20:00\n")
    refused(call("sample", "check"), 3, "now.txt", "offset")
    (shipped / "now.txt").write_text("noon\n")
    refused(call("sample", "--fresh", "check"), 3, "now.txt")


@pytest.mark.usefixtures("shipped")
def test_a_sample_that_does_not_ship_is_said() -> None:
    refused(call("sample", "--us", "check"), 2, "us units yet")


@pytest.mark.usefixtures("shipped")
@pytest.mark.parametrize(
    "words", [["sample"], ["--pond", "x", "check"], ["check", "--pond", "x"], ["jurnal"]]
)
def test_a_call_that_cannot_be_meant_is_refused(words: list[str]) -> None:
    refused(call("sample", *words), 2)


@pytest.mark.usefixtures("shipped")
def test_json_may_be_asked_for_in_either_place() -> None:
    assert call("sample", "--json", "journal").json == call("sample", "journal", "--json").json


@pytest.mark.usefixtures("shipped")
def test_the_sample_is_never_the_pond_used_last() -> None:
    call("sample", "add", "note", "-m", "mine")
    refused(call("journal"), 2, "there is no pond yet")


@pytest.mark.usefixtures("shipped")
def test_a_copy_that_broke_off_half_way_is_made_anew() -> None:
    part = copy_of().with_name("metric.part")
    part.mkdir(parents=True)
    (part / "rest.txt").write_text("")
    assert call("sample", "check").code == 0
    assert not (copy_of() / "rest.txt").exists()


def test_the_sample_that_ships_is_sound() -> None:
    assert call("sample", "check", now=NEVER_FIXED).out == "nothing is wrong\n"
