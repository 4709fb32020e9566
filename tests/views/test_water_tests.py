"""Trends and ranges beside a reading. All cases are constructed."""

from __future__ import annotations

from pondtui.pond.daily.series import series
from pondtui.pond.daily.water_tests import judged
from pondtui.views.water_tests import of_like_hours, rows, trend
from tests.pond.box import POND, at, entries_of, setup_of

NOW = at("2026-06-10 20:00")
SETUP = setup_of(POND)
LINES = """
2026-06-07 08:00 | test | where=pond; ph=7.4; nitrate=10 mg/L as NO3
2026-06-08 16:00 | test | where=pond; ph=8.6; nitrate=20 mg/L as NO3
2026-06-09 08:30 | test | where=pond; ph=7.5; nitrate=30 mg/L as NO3
2026-06-10 08:00 | test | where=pond; ph=7.6; nitrate=10 mg/L as NO3
"""


def test_ph_of_the_afternoon_is_left_out_of_the_trend_of_the_morning() -> None:
    found = series(entries_of(LINES), NOW)
    assert [v.value for v in of_like_hours(SETUP, "ph", found)] == [7.4, 7.5, 7.6]
    assert len(of_like_hours(SETUP, "nitrate", found)) == 4


def test_a_trend_is_bars_from_the_lowest_to_the_highest_and_the_last_step_in_a_word() -> None:
    values = series(entries_of(LINES), NOW)["nitrate"]
    assert trend(values, NOW) == "▁▅█▁ down"
    assert trend(values, NOW, ascii=True).isascii()
    assert trend(values[:1], NOW) == ""
    assert trend(values, NOW + 200 * 86_400) == ""  # a season ago is no trend


def test_each_row_has_its_sound_range_and_its_value_as_the_kit_said_it() -> None:
    entries = entries_of(LINES)
    tests = judged(SETUP, entries, NOW)
    found = {row.name: row for row in rows(SETUP, tests, series(entries, NOW), NOW)}
    assert found["nitrate"].value == "10 mg/L as NO3"
    assert "sound: under 50 mg/L as NO3" in found["nitrate"].told
    assert "sound: 7 to 8.5" in found["ph"].told
    assert found["ph"].sign == "ok"
