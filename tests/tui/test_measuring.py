"""Measuring help on the screen: typed, worked out, taken into a field; left and found again."""

from __future__ import annotations

from pathlib import Path

import pytest

from pondtui.tui.app import PondApp
from pondtui.tui.measuring import Measuring
from pondtui.views.measures import measure_for
from tests.tui.ponds import app_on, press, screen_text, settle, type_into, write_pond


def dialog(table: str, key: str, kept: dict[str, str]) -> Measuring:
    measure = measure_for(table, key)
    assert measure is not None
    return Measuring(measure, key, {"shape": "upright"}, "metric", kept)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 12)])
async def test_enter_takes_the_measured_size(tmp_path: Path, size: tuple[int, int]) -> None:
    app: PondApp = app_on(write_pond(tmp_path / "pond"))
    answers: list[dict[str, str] | None] = []
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        app.push_screen(dialog("source", "flow", {}), answers.append)
        await settle(pilot)
        await type_into(pilot, "m-volume", "10 L")
        await press(pilot, "enter")  # nothing to take yet: goes on
        await settle(pilot)
        assert answers == []
        assert app.focused is not None
        assert app.focused.id == "m-time"
        await type_into(pilot, "m-time", "50 s")
        print("\n".join(screen_text(app)))
        assert any("flow of the tap: 12 L/min" in line for line in screen_text(app))
        await press(pilot, "enter")
    assert answers == [{"flow": "12 L/min"}]


async def test_what_was_typed_is_there_again_after_leaving(tmp_path: Path) -> None:
    app = app_on(write_pond(tmp_path / "pond"))
    answers: list[dict[str, str] | None] = []
    kept: dict[str, str] = {}
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        app.push_screen(dialog("barrel", "diameter", kept), answers.append)
        await settle(pilot)
        await type_into(pilot, "m-girth", "180 furlongs of tape")
        assert any("girth" in line and "tape" in line for line in screen_text(app))
        await press(pilot, "escape")
        assert answers == [None]
        app.push_screen(dialog("barrel", "diameter", kept), answers.append)
        await settle(pilot)
        assert "180 furlongs of tape" in "\n".join(screen_text(app))
