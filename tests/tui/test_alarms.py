"""The Problems screen says no more than was looked at."""

from __future__ import annotations

from pathlib import Path

from pondtui.pond.daily.climate import Climate
from tests.tui.ponds import app_on, press, screen_text, settle, write_pond


async def test_before_the_weather_is_read_it_is_not_said_that_nothing_is_wrong(
    tmp_path: Path,
) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    async with app.run_test(size=(80, 24)) as pilot:
        app.session.climate = None
        await press(pilot, "p")
        assert any("the weather is not read yet" in t for t in screen_text(app))
        app.session.take_climate(Climate({}, {}, None))
        app.state_changed()
        await settle(pilot)
        assert any(t.strip() == "Nothing is wrong." for t in screen_text(app))
