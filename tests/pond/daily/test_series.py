"""The end of what was measured says all that the whole of it says of the latest values."""

from __future__ import annotations

from unittest.mock import patch

from hypothesis import given
from hypothesis import strategies as st

from pondtui.pond.daily import water_tests
from pondtui.pond.daily.series import latest_series, series
from tests.pond.box import POND, at, entries_of, setup_of

SETUP = setup_of(POND)
NOW = "2026-12-10 20:00"
LATER = "2026-12-11 08:00 | test | where=pond; ph=9.9"  # does not count yet
VALUES = st.sampled_from(
    ["ph=7.2", "ph=8.9", "temp=12 degC", "temp=24 degC", "ammonia=0.1 mg/L as N",
     "ammonia=2 mg/L as N", "nitrite=0.3 mg/L as NO2", "chloride=20 mg/L", "alkalinity=80 mg/L",
     "alkalinity=20 mg/L", "oxygen=5 mg/L", "chlorine_total=<0.1 mg/L", "colour=green"]
)  # fmt: skip
TESTS = st.lists(
    st.tuples(
        st.integers(1, 330),  # days before now
        st.integers(6, 20),  # hour
        st.sampled_from(["pond", "pond", "tap", "level"]),
        st.lists(VALUES, min_size=1, max_size=4, unique_by=lambda v: v.split("=")[0]),
    ),
    max_size=14,
)


def _lines(tests: list[tuple[int, int, str, list[str]]]) -> str:
    found = [LATER]
    for days, hour, where, values in tests:
        month, day = divmod(330 - days, 30)
        stamp = f"2026-{month + 1:02}-{min(day + 1, 28):02} {hour:02}:00"
        if where == "level":
            found.append(f"{stamp} | level | reading=60 mm; temp={days % 20 + 5} degC")
        else:
            found.append(f"{stamp} | test | where={where}; {'; '.join(values)}")
    return "\n".join(found)


@given(TESTS, st.sampled_from(["pond", "tap"]))
def test_the_latest_tests_are_judged_alike_by_the_end_and_by_the_whole(
    tests: list[tuple[int, int, str, list[str]]], where: str
) -> None:
    entries, now = entries_of(_lines(tests)), at(NOW)
    told = water_tests.judged(SETUP, entries, now, where)
    with patch.object(water_tests, "latest_series", series):
        assert told == water_tests.judged(SETUP, entries, now, where)


@given(TESTS)
def test_the_end_is_the_end_of_each_series(
    tests: list[tuple[int, int, str, list[str]]],
) -> None:
    entries, now = entries_of(_lines(tests)), at(NOW)
    whole, end = series(entries, now), latest_series(entries, now)
    assert list(end) == list(whole)
    for name, values in end.items():
        assert values == whole[name][-len(values) :]
        assert len(values) >= min(2, len(whole[name]))
