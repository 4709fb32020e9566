"""Water and the bucket test: a key, what it does, and what stands on the screen then."""

from __future__ import annotations

from pathlib import Path

import pytest

from pondtui.tui.app import PondApp
from pondtui.tui.bucket import BucketScreen
from pondtui.tui.entry_form import EntryForm
from pondtui.tui.water import WaterScreen
from tests.tui.ponds import (
    LEVELS,
    NOW,
    POND,
    app_on,
    press,
    screen_text,
    settle,
    type_into,
    write_pond,
)

MEANS = "[weather]\nmonthly_evaporation_mm = [10, 18, 40, 65, 95, 110, 115, 95, 60, 32, 14, 8]\n"
DAYS = "".join(
    f"2026-0{month}-{day:02d} 07:40:00+02:00 | level   | reading={50 + 5 * (day % 8)} mm; by=AB |\n"
    + (f"2026-0{month}-{day:02d} 08:00:00+02:00 | direct  | volume=210 L; source=rain; by=AB |\n"
       if day % 8 == 7 else "")
    for month in (6, 7) for day in range(1, 31)
)  # fmt: skip
RAIN = "2026-07-10 19:00:00+02:00 | rain    | depth=4 mm; by=AB |\n"


def pond(folder: Path, *, means: bool = True) -> Path:
    """A pond read every morning of two months."""
    write_pond(folder, desk=DAYS + RAIN + LEVELS)
    (folder / "pond.toml").write_text(POND + (MEANS if means else ""), encoding="utf-8")
    return folder


def text_of(app: PondApp) -> str:
    return "\n".join(screen_text(app))


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (160, 50)])
async def test_the_budget_and_each_chart_open_by_a_key(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=size) as pilot:
        await press(pilot, "b")
        assert isinstance(app.screen, WaterScreen)
        assert "water at the start" in text_of(app)
        assert "not explained" in text_of(app)
        for words in ("mm on the gauge", "week by week", "month by month"):
            await press(pilot, "c")
            assert words in text_of(app)
        await press(pilot, "c")
        assert "water at the start" in text_of(app)


async def test_the_cursor_reads_values_and_zoom_shows_its_month(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b", "c")
        assert "Fri 14 Aug: level 80 mm" in text_of(app)
        await press(pilot, "left")
        assert "Thu 13 Aug: level 74 mm" in text_of(app)
        await press(pilot, "pageup")
        assert "Jul: level" in text_of(app)
        await press(pilot, "z")
        assert "1 Jul" in text_of(app)
        assert " Jun" not in text_of(app)


async def test_the_same_numbers_stand_in_a_table(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b", "c", "t")
        row = next(line for line in screen_text(app) if "2026-06-07" in line)
        assert row.split() == ["2026-06-07", "85", "210"]
        await press(pilot, "t")
        assert "mm on the gauge" in text_of(app)


async def test_today_tells_what_is_normal_and_the_season_in_one_line(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "normal for this" in text_of(app)
        assert any(line.startswith(" Season    in ") for line in screen_text(app))


async def test_without_weather_today_claims_nothing_of_it(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond", means=False))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "normal for this" not in text_of(app)
        assert not any(line.startswith(" Season") for line in screen_text(app))


async def test_the_explanation_names_what_the_budget_rests_on(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b", "question_mark")
        assert "site factor" in text_of(app)
        assert "FAO-56" in text_of(app)


async def test_the_bucket_test_is_walked_with_keys_and_ends_in_the_journal(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    clock = [NOW]
    app.session.now = lambda: clock[0]
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b", "k")
        assert isinstance(app.screen, BucketScreen)
        assert "a leak of 1.3 mm/day or more" in text_of(app)
        for hours, pond_mm, bucket in ((0, "80", "40"), (72, "95", "46")):
            clock[0] = NOW + hours * 3600
            await press(pilot, "r" if hours else "s")
            assert isinstance(app.screen, EntryForm)
            await type_into(pilot, "pond", pond_mm)
            await type_into(pilot, "bucket", bucket)
            await press(pilot, "enter")
        assert "LEAK after 72 h" in text_of(app)
        lines = (app.session.folder / "journal/2026-desk.txt").read_text("utf-8").splitlines()
        assert "pond=95 mm; bucket=46 mm" in lines[-2]
        assert "bucket test, pump on: LEAK" in lines[-1]


async def test_a_look_before_the_beginning_is_told_off(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "b", "k", "r")
        assert isinstance(app.screen, BucketScreen)
        assert "s begins one" in text_of(app)


@pytest.mark.parametrize("desk", ["", LEVELS.splitlines()[0] + "\n"])
async def test_a_pond_without_readings_says_what_it_needs_on_every_view(
    tmp_path: Path, desk: str
) -> None:
    app = app_on(write_pond(tmp_path / "pond", desk=desk))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b")
        assert "two readings of the gauge are needed" in text_of(app)
        await press(pilot, "c", "left", "c", "z", "right", "c", "left", "pageup", "t", "t", "c")
        assert isinstance(app.screen, WaterScreen)


@pytest.mark.parametrize(("columns", "months"), [(40, 3), (60, 5), (80, 0)])
async def test_no_table_of_the_water_is_broken_by_a_narrow_screen(
    tmp_path: Path, columns: int, months: int
) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(columns, 40)) as pilot:
        await press(pilot, "b")
        for name in ("+ rain", "+ put in straight", "- not explained"):
            row = next(line for line in screen_text(app) if line.strip().startswith(name))
            assert len(row.split()) >= len(name.split()) + 2  # its volume and its error
        assert ("mm left out" in text_of(app)) == (columns == 40)
        await press(pilot, "t")
        head, first, *_ = [line.split() for line in screen_text(app)[1:] if line.strip()]
        if months:  # a column a month
            assert head == ["L", *(f"2026-{4 + n:02d}" for n in range(months))]
            assert len(first) == 1 + months
        else:  # a line a month: eight terms and its name
            assert head[:2] == ["L", "rain"]
            assert len(first) == 1 + 8


async def test_where_no_chart_has_room_the_way_to_its_numbers_is_said(tmp_path: Path) -> None:
    app = app_on(pond(tmp_path / "pond"))
    async with app.run_test(size=(40, 20)) as pilot:
        await press(pilot, "b", "c")
        assert "no room for this chart: t shows" in text_of(app)
        await press(pilot, "t")
        assert "gauge" in text_of(app)
