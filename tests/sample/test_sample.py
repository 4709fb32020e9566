"""The sample pond shows a whole season, is what its generator makes, and ends ready for a batch."""

from __future__ import annotations

import math
import shutil
from collections import Counter
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.journal import Journal, read_folder
from pondtui.books.pondfile import load
from pondtui.pond.daily.alarms import alarms
from pondtui.pond.daily.due import due
from pondtui.pond.refill.guards import forbidden
from pondtui.pond.refill.plan import Plan, make_plan
from pondtui.pond.refill.running import pipe_of
from pondtui.pond.setup.barrels import brim_l, full_line_l, heel_l, volume_l
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.kinds import KINDS
from pondtui.pond.state.model import PondState
from pondtui.pond.water.evaporation import DayEvaporation
from pondtui.pond.water.loss import estimate
from pondtui.pond.water.recent import recent_loss
from tests.sample.book import TRUE_FITTINGS, Book, described
from tests.sample.generate import HERE, write
from tests.sample.truth import SITE, STEADY_MM, Truth
from tests.sample.weather import Weather, open_water_mm

ZONE = ZoneInfo("Europe/Brussels")
NOW = int(datetime(2026, 10, 9, 15, 40, tzinfo=UTC).timestamp())


@pytest.fixture(scope="module")
def setup() -> Setup:
    return described(HERE)  # which refuses every problem and remark


@pytest.fixture(scope="module")
def journal() -> Journal:
    return read_folder(HERE, ZONE, None)


@pytest.fixture(scope="module")
def state(setup: Setup, journal: Journal) -> PondState:
    return fold(setup, journal.live, NOW)


def local(instant: int) -> datetime:
    return datetime.fromtimestamp(instant, ZONE)


def files(folder: Path) -> dict[str, bytes]:
    found = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in found}


def test_the_generator_makes_the_sample_byte_for_byte(tmp_path: Path) -> None:
    for name in ("pond.toml", "procedure.toml"):
        shutil.copy(HERE / name, tmp_path)
    write(tmp_path)
    assert files(tmp_path) == files(HERE)


def test_the_sample_was_left_at_its_fixed_moment() -> None:
    written = datetime.fromisoformat((HERE / "now.txt").read_text(encoding="ascii").strip())
    assert int(written.timestamp()) == NOW
    assert load(HERE).text.startswith("# Quillwater Court: an invented pond")


def test_nothing_is_wrong_or_odd_in_description_or_journal(
    journal: Journal, state: PondState
) -> None:
    assert journal.problems == []
    assert state.remarks == ()
    assert state.later == ()
    moments = Counter((entry.instant, entry.kind) for entry in journal.entries)
    assert set(moments.values()) == {1}


def test_every_kind_of_entry_occurs(journal: Journal) -> None:
    assert {entry.kind for entry in journal.entries} == set(KINDS)


def test_three_files_by_two_persons_and_an_editor(journal: Journal) -> None:
    by = {info.path: {e.get("by") for e in journal.entries if e.path == info.path}
          for info in journal.files}  # fmt: skip
    assert by == {
        "journal/2026-desk.txt": {"OF"},
        "journal/2026-phone.txt": {"TB"},
        "journal/2026-hand.txt": {"OF", None},
    }
    hand = (HERE / "journal" / "2026-hand.txt").read_text(encoding="utf-8").splitlines()
    lines = [line for line in hand if not line.startswith("#")]
    assert all(line[16] == "+" for line in lines)  # no seconds
    assert len(lines) < len(hand)


def test_each_file_stands_in_the_order_of_time(journal: Journal) -> None:
    for info in journal.files:
        stamps = [e.instant for e in sorted(journal.entries, key=lambda e: e.line)
                  if e.path == info.path]  # fmt: skip
        assert stamps == sorted(stamps)


def test_the_weather_has_every_day_up_to_yesterday_and_one_gap() -> None:
    rows = (HERE / "weather" / "2026.csv").read_text(encoding="ascii").splitlines()
    assert rows[0] == "date,tmin,tmax,rain,sun,wind"
    cells = [row.split(",") for row in rows[1:]]
    days = [date.fromisoformat(row[0]) for row in cells]
    assert (days[0], days[-1], len(days)) == (date(2026, 4, 1), date(2026, 10, 8), 191)
    assert [row[0] for row in cells if "" in row] == ["2026-06-27"]
    rain = sum(float(row[3] or 0) for row in cells)
    assert 150 < rain < 450


def test_a_reading_nearly_every_evening(journal: Journal) -> None:
    days = {local(e.instant).date() for e in journal.live if e.kind == "level"}
    assert len(days) == 192


def test_the_season_holds_every_kind_of_batch(journal: Journal, state: PondState) -> None:
    yard = [batch for batch in state.batches if batch.barrel == "yard"]
    assert 14 <= len(yard) <= 20
    assert sum(len(batch.doses) == 2 for batch in yard) == 1
    assert sum(batch.bypassed.get("chlorine-test", 0) > 0 for batch in yard) == 1
    kinds = Counter(entry.kind for entry in journal.live)
    assert (kinds["giveup"], kinds["strike"], kinds["direct"]) == (1, 1, 1)
    releases = [e for e in journal.live if e.kind == "release"]
    assert sum(e.get("to") == "elsewhere" for e in releases) == 1
    assert [e.path for e in releases if e.get("by") is None] == ["journal/2026-hand.txt"]
    assert sum(e.get("by") == "TB" for e in releases) == 1
    parts = Counter(e.get("batch") for e in releases)
    assert sorted(parts.values())[-2:] == [1, 2]
    what = {e.get("what") for e in journal.live if e.kind == "event"}
    assert {"overflow", "animal", "power-cut", "gate-shut", "gate-open", "restriction"} <= what


def test_the_misread_level_is_gone_and_its_correction_counts(journal: Journal) -> None:
    strike = next(e for e in journal.entries if e.kind == "strike")
    wrong = next(e for e in journal.entries if journal.is_struck(e))
    right = next(e for e in journal.live if e.kind == "level" and e.instant > strike.instant)
    assert wrong.get("reading") - right.get("reading") == 40
    assert right.instant - strike.instant <= 1


def test_the_end_wants_a_barrelful_and_nothing_is_in_the_way(
    setup: Setup, journal: Journal, state: PondState
) -> None:
    assert alarms(setup, state, NOW, entries=journal.live) == ()
    assert due(setup, journal.live, NOW) == ()
    assert state.open_batches == ()
    plan = make_plan(setup, state, NOW)
    assert isinstance(plan, Plan)
    assert 25 <= plan.from_mm - plan.to_mm <= 35
    assert plan.closed == ()
    assert [batch.barrel for batch in plan.batches] == ["shed", "yard"]
    assert plan.conditioner_left is not None
    assert plan.reserve is not None
    assert plan.conditioner_left > plan.reserve
    yard, shed = state.barrels["yard"], state.barrels["shed"]
    assert yard.held_l == pytest.approx(heel_l(setup.barrels[0]), abs=1)
    assert (yard.water, yard.running) == ("clear", None)
    assert heel_l(setup.barrels[1]) + 25 < shed.held_l < 110


def test_a_newcomer_can_take_a_whole_batch_now(
    setup: Setup, journal: Journal, state: PondState
) -> None:
    truth = Truth(setup, Random(5))
    truth.day, truth.reading_mm, truth.temp_c = date(2026, 10, 9), 74.0, 15.0
    book = Book(setup, truth, Random(5))
    book.entries, book.now = list(journal.live), NOW
    assert forbidden(book.case(setup.barrels[0])).open
    book.refill(setup.barrels[0], {})
    after = book.state()
    assert len(after.batches) == len(state.batches) + 1
    assert after.batches[-1].ended is not None
    assert after.batches[-1].released_l == pytest.approx(197, abs=1)
    assert alarms(setup, after, book.now) == ()


@pytest.mark.parametrize("name", ["yard", "shed"])
def test_litres_are_neither_made_nor_lost(
    name: str, setup: Setup, journal: Journal, state: PondState
) -> None:
    barrel = next(b for b in setup.barrels if b.name == name)
    held = heel_l(barrel)
    for entry in journal.live:
        if entry.get("barrel") == name:
            held = poured(entry, held, full_line_l(barrel), lambda mm: volume_l(barrel, mm))
            assert 0 <= held <= brim_l(barrel)
    water = state.barrels[name]
    assert water.held_l == pytest.approx(held, abs=1e-6)
    law = water.begun_l + water.filled_l + water.corrected_l - water.released_l
    assert law == pytest.approx(water.held_l, abs=1e-6)
    out = sum(batch.released_l for batch in state.batches if batch.barrel == name)
    assert out == pytest.approx(water.released_l, abs=1e-6)


def poured(entry: Entry, held: float, line_l: float, litres: Callable[[float], float]) -> float:
    """What a barrel holds after an entry, reckoned anew from its words alone."""
    if entry.kind == "dip":
        return litres(entry.get("depth"))
    if entry.kind == "fill":
        to, added = entry.get("to"), entry.get("added")
        if to is None:
            return held + float(added)
        return line_l if to == "line" else litres(to)
    if entry.kind == "release":
        out, left = entry.get("out"), entry.get("left")
        return float(left) if out is None else held - float(out)
    return held


def test_the_season_raises_no_alarm_but_those_it_shows(setup: Setup, journal: Journal) -> None:
    seen: dict[str, set[date]] = {}
    for day in sorted({local(e.instant).date() for e in journal.live}):
        evening = datetime(day.year, day.month, day.day, 21, 0, tzinfo=ZONE)
        now = min(int(evening.timestamp()), NOW)
        known = [entry for entry in journal.live if entry.instant <= now]
        for alarm in alarms(setup, fold(setup, known, now), now, entries=known):
            seen.setdefault(alarm.name, set()).add(day)
    assert set(seen) == {"bypass", "chore-overdue", "level-spill"}
    assert len(seen["bypass"]) == 1
    assert date(2026, 8, 22) in seen["level-spill"]


def test_the_alarm_that_was_put_off_would_have_stood(setup: Setup, journal: Journal) -> None:
    put_off = next(entry for entry in journal.live if entry.kind == "putoff")
    before = [entry for entry in journal.live if entry.instant <= put_off.instant]
    found = alarms(setup, fold(setup, before, put_off.instant), put_off.instant)
    assert [alarm.name for alarm in found] == [put_off.get("alarm")]


def test_timed_releases_tell_of_the_pipe_that_is_really_there(
    setup: Setup, state: PondState
) -> None:
    timed = state.barrels["yard"].timed
    assert len(timed) >= 12
    pipe = pipe_of(setup.barrels[0], timed)
    assert pipe is not None
    assert math.isclose(pipe.line.fittings, TRUE_FITTINGS, abs_tol=0.6)


def test_the_last_week_loses_what_an_autumn_week_does(setup: Setup, state: PondState) -> None:
    loss = recent_loss(setup, state).loss_mm_per_day
    assert loss is not None
    assert 1.5 < loss < 5


def test_shelter_and_steady_loss_can_be_told_from_the_readings(
    setup: Setup, state: PondState
) -> None:
    days = {}
    for row in (HERE / "weather" / "2026.csv").read_text(encoding="ascii").splitlines()[1:]:
        day, *cells = row.split(",")
        if all(cells):
            weather = Weather(date.fromisoformat(day), *map(float, cells))
            taken = open_water_mm(weather, 50.4, 85.0)
            days[weather.day] = DayEvaporation(taken, "radiation", "the sample's own")
    loss = estimate(setup, state, days, None, None, NOW)
    assert loss.site_factor is not None
    assert loss.steady is not None
    assert loss.site_factor.low <= SITE <= loss.site_factor.high
    assert loss.steady.low <= STEADY_MM <= loss.steady.high
    assert loss.steady.high - loss.steady.low < 2
