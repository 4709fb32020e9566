"""What a form refuses beside its field: what cannot be is not saved. Cases are constructed."""

from __future__ import annotations

from pathlib import Path

from tests.tui.ponds import app_on, press, screen_text, type_into, until, write_pond


async def test_a_level_that_cannot_be_is_refused_beside_its_field(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l")
        await until(pilot, lambda: any("gauge reads" in line for line in screen_text(app)))
        before = app.session.state().entries
        await type_into(pilot, "reading", "62000")
        await press(pilot, "enter")
        assert any("62000 mm cannot be" in line for line in screen_text(app))
        assert app.session.state().entries == before


async def test_a_test_of_a_place_that_is_not_there_is_refused(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "t")
        await until(pilot, lambda: any("Water test" in line for line in screen_text(app)))
        before = app.session.state().entries
        await type_into(pilot, "where", "pondd")
        await type_into(pilot, "chlorine_total", "0")
        await press(pilot, "enter")
        assert any("nothing is called pondd (did you mean pond?)" in t for t in screen_text(app))
        assert app.session.state().entries == before


async def test_a_bucket_test_does_not_begin_without_its_levels(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "b", "k", "s")
        await until(pilot, lambda: any("Begin the bucket test" in t for t in screen_text(app)))
        before = app.session.state().entries
        await type_into(pilot, "pond", "62")
        await press(pilot, "enter")
        assert any("bucket: a bucket test needs both levels" in t for t in screen_text(app))
        await type_into(pilot, "bucket", "40")
        await press(pilot, "enter")
        assert len(app.session.journal.entries) == before + 1
