"""The sample ponds show whole seasons, are what their generator makes, and say what is true."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.journal import Journal, read_folder
from pondtui.books.pondfile import load
from pondtui.books.weather import read_weather
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
from pondtui.pond.water.budget import budget
from pondtui.pond.water.evaporation import daily
from pondtui.pond.water.loss import Loss, estimate
from pondtui.pond.water.rained import table_rain
from pondtui.pond.water.recent import recent_loss
from pondtui.pond.water.weather import WeatherDay
from tests.sample import metric, us
from tests.sample.book import TRUE_FITTINGS, Book, described
from tests.sample.generate import Season, season, texts
from tests.sample.tale import Tale
from tests.sample.truth import Truth


class Sample(NamedTuple):
    """A shipped sample, read, and the season that its generator tells."""

    tale: Tale
    told: Season
    setup: Setup
    journal: Journal
    state: PondState
    zone: ZoneInfo
    now: int

    def weather(self) -> Mapping[date, WeatherDay]:
        """Its weather table."""
        weather, report = read_weather(self.tale.folder, self.setup)
        assert not report.problems
        return weather

    def loss(self, since: date) -> Loss:
        """What the loss verb answers for the days since then."""
        weather = self.weather()
        evaporation = daily(
            self.setup, weather, self.journal.live, since, self.tale.last + timedelta(1)
        )
        return estimate(self.setup, self.state, evaporation, since, self.tale.last, self.now,
                        table_rain=table_rain(self.setup, weather))  # fmt: skip

    def local(self, instant: int) -> datetime:
        """The pond's own clock."""
        return datetime.fromtimestamp(instant, self.zone)


@pytest.fixture(scope="module", params=[metric.TALE, us.TALE], ids=lambda tale: tale.name)
def sample(request: pytest.FixtureRequest) -> Sample:
    tale: Tale = request.param
    setup = described(tale.folder)  # which refuses every problem and remark
    zone = ZoneInfo(setup.pond.time_zone)
    journal = read_folder(tale.folder, zone, setup.gallon)
    now = int(datetime.fromisoformat(tale.now).timestamp())
    return Sample(
        tale, season(tale), setup, journal, fold(setup, journal.live, now), zone, now
    )  # fmt: skip


TIGHT = pytest.mark.parametrize("sample", [metric.TALE], indirect=True, ids=["metric"])
LEAKY = pytest.mark.parametrize("sample", [us.TALE], indirect=True, ids=["us"])


def made(folder: Path) -> dict[str, str]:
    found = (path for path in folder.rglob("*") if path.is_file())
    files = {str(p.relative_to(folder)): p.read_bytes().decode() for p in found}
    return {name: text for name, text in files.items() if not name.endswith(".toml")}


def test_the_generator_makes_the_sample_byte_for_byte(sample: Sample) -> None:
    assert texts(sample.told) == made(sample.tale.folder)


def test_the_sample_was_left_at_its_fixed_moment(sample: Sample) -> None:
    written = (sample.tale.folder / "now.txt").read_text(encoding="ascii").strip()
    assert int(datetime.fromisoformat(written).timestamp()) == sample.now
    name = sample.setup.pond.name
    assert load(sample.tale.folder).text.startswith(f"# {name}: an invented pond")


def test_nothing_is_wrong_or_odd_in_description_or_journal(sample: Sample) -> None:
    assert sample.journal.problems == []
    assert sample.state.remarks == ()
    assert sample.state.later == ()
    moments = Counter((entry.instant, entry.kind) for entry in sample.journal.entries)
    assert set(moments.values()) == {1}


def test_every_kind_of_entry_occurs(sample: Sample) -> None:
    assert {entry.kind for entry in sample.journal.entries} == set(KINDS)


def test_three_files_by_two_persons_and_an_editor(sample: Sample) -> None:
    tale, journal = sample.tale, sample.journal
    by = {info.path: {e.get("by") for e in journal.entries if e.path == info.path}
          for info in journal.files}  # fmt: skip
    assert by == {
        "journal/2026-desk.txt": {tale.keeper, tale.sitter_name},  # a message, taken in
        "journal/2026-phone.txt": {tale.sitter},
        "journal/2026-hand.txt": {tale.keeper, None},
    }
    text = (tale.folder / "journal" / "2026-hand.txt").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    assert all(line[16] in "+-" for line in lines)  # no seconds
    assert len(lines) < len(text.splitlines())


def test_each_file_stands_in_the_order_of_time_but_for_what_was_told_later(sample: Sample) -> None:
    for info in sample.journal.files:
        stamps = [e.instant for e in sorted(sample.journal.entries, key=lambda e: e.line)
                  if e.path == info.path and e.get("by") != sample.tale.sitter_name]  # fmt: skip
        assert stamps == sorted(stamps)


def test_the_weather_has_every_day_up_to_yesterday_and_one_gap(sample: Sample) -> None:
    tale = sample.tale
    rows = (tale.folder / "weather" / "2026.csv").read_text(encoding="ascii").splitlines()
    cells = [row.split(",") for row in rows[1:]]
    days = [date.fromisoformat(row[0]) for row in cells]
    assert (days[0], days[-1]) == (tale.first, tale.last - timedelta(1))
    assert len(days) == (tale.last - tale.first).days
    assert [row[0] for row in cells if "" in row] == [str(tale.climate.station_out)]


def test_a_reading_nearly_every_evening(sample: Sample) -> None:
    days = {sample.local(e.instant).date() for e in sample.journal.live if e.kind == "level"}
    assert len(days) == (sample.tale.last - sample.tale.first).days + 1


def test_the_season_holds_every_kind_of_batch(sample: Sample) -> None:
    journal, tap = sample.journal, sample.setup.barrels[0].name
    batches = [batch for batch in sample.state.batches if batch.barrel == tap]
    assert 14 <= len(batches) <= 26
    assert sum(len(batch.doses) == 2 for batch in batches) == 1
    assert sum(batch.bypassed.get("chlorine-test", 0) > 0 for batch in batches) == 1
    kinds = Counter(entry.kind for entry in journal.live)
    assert (kinds["giveup"], kinds["strike"], kinds["direct"], kinds["away"]) == (1, 1, 1, 2)
    releases = [e for e in journal.live if e.kind == "release"]
    assert {e.get("barrel") for e in releases} == {b.name for b in sample.setup.barrels}
    assert sum(e.get("to") == "elsewhere" for e in releases) == 1
    assert [e.path for e in releases if e.get("by") is None] == ["journal/2026-hand.txt"]
    assert sum(e.get("by") == sample.tale.sitter for e in releases) == 1
    parts = Counter(e.get("batch") for e in releases)
    assert sorted(parts.values())[-2:] == [1, 2]
    what = {e.get("what") for e in journal.live if e.kind == "event"}
    assert {"overflow", "animal", "power-cut", "gate-shut", "gate-open", "restriction"} <= what


def test_a_barrel_passed_over_was_shown_safe_the_next_morning(sample: Sample) -> None:
    live = sample.journal.live
    bypass = next(e for e in live if e.kind == "bypass" and e.get("step") == "chlorine-test")
    clear = next(e for e in live if e.kind == "test" and e.get("where") == "pond"
                 and e.get("chlorine_total") is not None)  # fmt: skip
    assert 0 < clear.instant - bypass.instant < 86_400
    assert clear.fields["chlorine_total"] == "<0.02 mg/L"
    assert sample.state.pond_clear_at == clear.instant


def test_the_misread_level_is_gone_and_its_correction_counts(sample: Sample) -> None:
    journal = sample.journal
    strike = next(e for e in journal.entries if e.kind == "strike")
    wrong = next(e for e in journal.entries if journal.is_struck(e))
    right = next(e for e in journal.live if e.kind == "level" and e.instant > strike.instant)
    assert wrong.get("reading") - right.get("reading") >= 40
    assert right.instant - strike.instant <= 1


def test_the_end_wants_a_barrelful_and_nothing_is_in_the_way(sample: Sample) -> None:
    setup, state = sample.setup, sample.state
    assert alarms(setup, state, sample.now, entries=sample.journal.live) == ()
    assert due(setup, sample.journal.live, sample.now) == ()
    assert state.open_batches == ()
    plan = make_plan(setup, state, sample.now)
    assert isinstance(plan, Plan)
    assert 25 <= abs(plan.from_mm - plan.to_mm) <= 42
    assert plan.closed == ()
    tap, rain = setup.barrels
    assert [batch.barrel for batch in plan.batches][:2] == [rain.name, tap.name]
    assert plan.conditioner_left is not None
    assert plan.reserve is not None
    assert plan.conditioner_left > plan.reserve
    held = state.barrels[tap.name]
    assert held.held_l == pytest.approx(heel_l(tap), abs=1.5)
    assert held.running is None
    assert heel_l(rain) + 15 < state.barrels[rain.name].held_l < 110


def test_a_newcomer_can_take_a_whole_batch_now(sample: Sample) -> None:
    setup, tap = sample.setup, sample.setup.barrels[0]
    truth = Truth(setup, sample.tale, Random(5))
    truth.day, truth.reading_mm = sample.tale.last, sample.told.truth.reading_mm
    truth.temp_c = sample.told.truth.temp_c
    book = Book(setup, sample.tale, truth, Random(5))
    book.entries, book.now = list(sample.journal.live), sample.now
    assert forbidden(book.case(tap)).open
    book.refill(tap, {})
    after = book.state()
    assert len(after.batches) == len(sample.state.batches) + 1
    assert after.batches[-1].ended is not None
    assert after.batches[-1].released_l == pytest.approx(full_line_l(tap) - heel_l(tap), abs=1.5)
    assert alarms(setup, after, book.now) == ()


@pytest.mark.parametrize("number", [0, 1])
def test_litres_are_neither_made_nor_lost(sample: Sample, number: int) -> None:
    barrel = sample.setup.barrels[number]
    held = heel_l(barrel)
    for entry in sample.journal.live:
        if entry.get("barrel") == barrel.name:
            held = poured(entry, held, full_line_l(barrel), lambda mm: volume_l(barrel, mm))
            assert 0 <= held <= brim_l(barrel)
    water = sample.state.barrels[barrel.name]
    assert water.held_l == pytest.approx(held, abs=1e-6)
    law = water.begun_l + water.filled_l + water.corrected_l - water.released_l
    assert law == pytest.approx(water.held_l, abs=1e-6)
    out = sum(b.released_l for b in sample.state.batches if b.barrel == barrel.name)
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


def test_the_season_raises_no_alarm_but_those_it_shows(sample: Sample) -> None:
    seen: dict[str, set[date]] = {}
    for day in sorted({sample.local(e.instant).date() for e in sample.journal.live}):
        evening = datetime(day.year, day.month, day.day, 21, 0, tzinfo=sample.zone)
        now = min(int(evening.timestamp()), sample.now)
        known = [entry for entry in sample.journal.live if entry.instant <= now]
        for alarm in alarms(sample.setup, fold(sample.setup, known, now), now, entries=known):
            seen.setdefault(alarm.name, set()).add(day)
    assert set(seen) - {"chore-overdue"} == {"bypass", "level-spill"}
    assert len(seen["bypass"]) == 1


def test_the_alarm_that_was_put_off_would_have_stood(sample: Sample) -> None:
    live = sample.journal.live
    put_off = next(entry for entry in live if entry.kind == "putoff")
    before = [entry for entry in live if entry.instant <= put_off.instant]
    state = fold(sample.setup, before, put_off.instant)
    found = alarms(sample.setup, state, put_off.instant)
    assert [alarm.name for alarm in found] == [put_off.get("alarm")]


def test_timed_releases_tell_of_the_pipe_that_is_really_there(sample: Sample) -> None:
    tap = sample.setup.barrels[0]
    timed = sample.state.barrels[tap.name].timed
    assert len(timed) >= 6
    pipe = pipe_of(tap, timed)
    assert pipe is not None
    assert math.isclose(pipe.line.fittings, TRUE_FITTINGS, abs_tol=0.6)


def test_the_last_week_loses_what_nature_took(sample: Sample) -> None:
    loss = recent_loss(sample.setup, sample.state).loss_mm_per_day
    assert loss is not None
    steady = sample.tale.nature.steady_on(sample.tale.last)
    assert steady + 1 < loss < steady + 5


@TIGHT
def test_the_metric_pond_is_found_tight(sample: Sample) -> None:
    nature = sample.tale.nature
    for since in (sample.tale.first, sample.tale.last - timedelta(120)):
        loss = sample.loss(since)
        assert loss.verdict in ("none found", "inconclusive")
        assert loss.changed_on is None
        assert loss.site_factor is not None
        assert loss.steady is not None
        assert loss.site_factor.low <= nature.site <= loss.site_factor.high
        assert loss.steady.low <= nature.steady_mm <= loss.steady.high


@LEAKY
def test_the_leak_of_the_us_pond_is_found_and_dated(sample: Sample) -> None:
    tale = sample.tale
    for since in (tale.first, tale.last - timedelta(120)):
        loss = sample.loss(since)
        days = [since + timedelta(n) for n in range((tale.last - since).days)]
        usual = sum(tale.nature.steady_on(day) for day in days) / len(days)
        assert loss.verdict == "steady loss"
        assert loss.steady is not None
        assert loss.steady.low <= usual <= loss.steady.high
        assert loss.changed_on is not None
        assert abs((loss.changed_on - tale.nature.leak_from).days) <= 5


@LEAKY
def test_a_looker_since_the_change_finds_the_leak_itself(sample: Sample) -> None:
    nature = sample.tale.nature
    loss = sample.loss(nature.leak_from)
    assert loss.verdict == "steady loss"
    assert loss.steady is not None
    assert loss.steady.low <= nature.steady_mm + nature.leak_mm <= loss.steady.high


def test_the_budget_agrees_with_what_really_came_and_went(sample: Sample) -> None:
    tale = sample.tale
    whole = budget(sample.setup, sample.state, sample.journal.live, sample.weather(),
                   tale.first, tale.last).whole  # fmt: skip
    really = sample.told.truth.litres
    assert set(really) == {"rain", "downpipe", "evaporation", "steady"}
    for name, litres in really.items():
        told, error = getattr(whole.terms, name), getattr(whole.errors, name)
        assert abs((told or 0.0) - litres) <= (error or 0.0), name
    assert whole.terms.residual is not None
    assert whole.errors.residual is not None
    assert abs(whole.terms.residual) <= whole.errors.residual


def test_the_bucket_test_sees_the_leak_and_only_the_leak(sample: Sample) -> None:
    looks = [entry for entry in sample.journal.live if entry.kind == "bucket"]
    assert [look.get("what") for look in looks] == ["start", "read", "read", "read"]
    pond = abs(looks[-1].get("pond") - looks[0].get("pond"))
    bucket = looks[-1].get("bucket") - looks[0].get("bucket")
    steady = sample.tale.nature.steady_on(sample.tale.bucket[0])
    assert (pond - bucket) / 3 == pytest.approx(steady, abs=1.5)
