"""Alarms of care and weather, each rule at its limits. All cases are constructed."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from pondtui.pond.daily.alarms import NEVER_PUT_OFF, alarms
from pondtui.pond.daily.climate import Climate
from pondtui.pond.state.model import Alarm
from pondtui.pond.water.evaporation import DayEvaporation
from pondtui.pond.water.loss import LossAlarm
from pondtui.pond.water.loss_model import Interval
from pondtui.pond.water.weather import WeatherDay
from tests.pond.box import POND, at, entries_of, setup_of, state_of

NOW = "2026-06-10 09:00"
TODAY = date(2026, 6, 10)
READ = "2026-06-10 08:00 | level | reading=60 mm\n"


def standing(
    lines: str = "", *, pond: str = POND, climate: Climate | None = None, now: str = NOW
) -> tuple[Alarm, ...]:
    setup = setup_of(pond)
    level = "" if "| level" in lines else READ
    state = state_of(setup, level + lines, now)
    return alarms(setup, state, at(now), (), entries_of(level + lines), climate)


def names(found: tuple[Alarm, ...]) -> list[str]:
    return [alarm.name for alarm in found]


WEEKLY = (
    POND + '[[chore]]\nname = "rinse"\nevery = "7 d"\n[[chore]]\nname = "look"\nevery = "1 d"\n'
)


@pytest.mark.parametrize(
    ("rinse", "look", "told"),
    [
        ("06-03", "06-09", ""),  # both due today
        ("06-03", "06-06", ""),  # a daily one three days late
        ("06-03", "06-05", "look (4 days)"),
        ("05-27", "06-09", ""),  # a weekly one seven days late
        ("05-26", "06-09", "rinse (8 days)"),
        ("05-26", "06-01", "rinse (8 days), look (8 days)"),
    ],
)
def test_a_chore_is_overdue_when_it_is_late_by_more_than_its_own_interval(
    rinse: str, look: str, told: str
) -> None:
    lines = f"2026-{rinse} 08:00 | chore | name=rinse\n2026-{look} 08:00 | chore | name=look"
    found = [a for a in standing(lines, pond=WEEKLY) if a.name == "chore-overdue"]
    assert [told in a.text for a in found] == ([True] if told else [])


def test_a_chore_never_done_is_no_alarm() -> None:
    assert standing(pond=WEEKLY) == ()


@pytest.mark.parametrize(
    ("values", "name", "severity"),
    [
        ("oxygen=5 mg/L", "", ""),
        ("oxygen=4.5 mg/L", "reading-oxygen", "watch"),
        ("oxygen=3.9 mg/L", "reading-oxygen", "act"),
        ("nitrite=1 mg/L as NO2", "reading-nitrite", "act"),
        ("ph=8.6", "reading-ph", "watch"),
        ("alkalinity=1 dH", "reading-alkalinity", "act"),
        ("ammonia=0.5 mg/L as N; ph=8.5; temp=25 degC", "reading-ammonia-un-ionised", "act"),
    ],
)
def test_a_reading_in_watch_or_act_is_told_with_what_to_do(
    values: str, name: str, severity: str
) -> None:
    found = standing(f"2026-06-10 08:30 | test | where=pond; {values}")
    if not name:
        assert found == ()
        return
    alarm = next(a for a in found if a.name == name)
    assert alarm.severity == severity
    assert ("measure it again first" in alarm.remedy) is (severity == "act")


def test_a_better_reading_ends_the_alarm_and_so_does_a_month() -> None:
    bad = "2026-06-10 08:30 | test | where=pond; nitrite=0.5 mg/L as NO2\n"
    good = "2026-06-10 08:50 | test | where=pond; nitrite=0.05 mg/L as NO2\n"
    assert names(standing(bad)) == ["reading-nitrite"]
    assert standing(bad + good) == ()
    later = "2026-07-10 08:00 | level | reading=60 mm\n"
    assert names(standing(bad + later, now="2026-07-10 08:30")) == ["reading-nitrite"]
    assert standing(bad + later, now="2026-07-10 08:31") == ()


def test_a_low_oxygen_of_the_day_before_yesterday_says_nothing_of_today() -> None:
    assert standing("2026-06-08 08:59 | test | where=pond; oxygen=3 mg/L") == ()


FOOD = POND + '[[supply]]\nname = "food"\nreorder_at = "100 g"\nbest_before = 2026-06-09\n'


def test_any_supply_is_told_when_it_is_low_and_when_it_is_out_of_date() -> None:
    low = "2026-06-10 07:00 | supply | item=food; left=100 g; best_before=2027-01-01"
    assert names(standing(low, pond=FOOD)) == ["stock food"]
    old = "2026-06-10 07:00 | supply | item=food; left=101 g"
    assert names(standing(old, pond=FOOD)) == ["out-of-date food"]
    gone = "2026-06-10 07:00 | supply | item=food; left=0 g"
    assert names(standing(gone, pond=FOOD)) == ["stock food"]  # there is nothing to throw away


def weather(**by_day: tuple[float, float]) -> Climate:
    days = {}
    for word, (tmin, tmax) in by_day.items():
        day = TODAY + timedelta({"before": -2, "yesterday": -1, "today": 0, "tomorrow": 1}[word])
        days[day] = WeatherDay(day, tmin_c=tmin, tmax_c=tmax)
    return Climate(days, {}, None)


@pytest.mark.parametrize(
    ("climate", "name", "words"),
    [
        (weather(yesterday=(0.1, 29.9)), "", ""),
        (weather(yesterday=(0.0, 8)), "frost", "yesterday"),
        (weather(before=(-9, 3)), "", ""),
        (weather(tomorrow=(-5, 1)), "frost", "Thu 11 Jun"),
        (weather(today=(14, 30.0)), "heat", "today"),
        (weather(yesterday=(14, 36.0)), "", ""),  # over
        (weather(tomorrow=(16, 33.0)), "heat", "Thu 11 Jun"),
    ],
)
def test_frost_and_heat_are_taken_from_the_tables(climate: Climate, name: str, words: str) -> None:
    found = standing(climate=climate)
    assert names(found) == ([name] if name else [])
    assert all(words in alarm.text for alarm in found)


def test_hard_frost_empties_the_barrels() -> None:
    (soft,) = standing(climate=weather(today=(-3.9, 1)))
    (hard,) = standing(climate=weather(today=(-4.0, 1)))
    assert "drain barrels" in hard.remedy
    assert "drain barrels" not in soft.remedy


def test_a_steady_loss_in_two_windows_is_told_with_its_interval_and_calls_it_no_leak() -> None:
    loss = LossAlarm(at("2026-03-20 08:00"), Interval(2, 1, 3), Interval(2, 0.9, 3.1))
    (alarm,) = standing(climate=Climate({}, {}, loss))
    assert (alarm.name, alarm.since) == ("loss-steady", at("2026-03-20 08:00"))
    assert "0.9 mm/day" in alarm.text
    assert "leak" not in alarm.text


def falling(mm_per_day: float) -> str:
    return "".join(
        f"2026-06-{2 + n:02} 08:00 | level | reading={40 + mm_per_day * n:.0f} mm\n"
        for n in range(9)
    )


@pytest.mark.parametrize(
    ("mm_per_day", "told"),
    # 5 mm of open water: 1.25 x 5 + 2 = 8.25 mm at most; nine readings of 2 mm are sure to 0.5 mm
    [(5.0, False), (8.5, False), (9.5, True)],
)
def test_a_loss_that_no_weather_of_these_days_can_take_is_told(
    mm_per_day: float, told: bool
) -> None:
    days = {TODAY - timedelta(n): DayEvaporation(5.0, "full station", "") for n in range(10)}
    found = standing(falling(mm_per_day), climate=Climate({}, days, None))
    assert ("loss-unusual" in names(found)) is told


def test_without_weather_nothing_is_called_out_of_the_ordinary() -> None:
    assert "loss-unusual" not in names(standing(falling(9.5)))
    few = {TODAY - timedelta(n): DayEvaporation(1.0, "full station", "") for n in (1, 2)}
    assert "loss-unusual" not in names(standing(falling(9.5), climate=Climate({}, few, None)))


def test_chlorine_in_the_pond_cannot_be_put_off_and_other_readings_can() -> None:
    assert "reading-chlorine-total" in NEVER_PUT_OFF
    lines = "2026-06-10 08:30 | test | where=pond; nitrite=0.5 mg/L as NO2\n"
    put = "2026-06-10 08:40 | putoff | alarm=Reading-Nitrite; until=2026-06-12 | new kit ordered"
    assert standing(lines + put) == ()
    late = READ.replace("06-10", "06-12") + lines + put
    assert names(standing(late, now="2026-06-12 08:30")) == ["reading-nitrite"]


def test_every_alarm_says_what_to_do() -> None:
    lines = "2026-06-10 08:30 | test | where=pond; oxygen=3 mg/L; nitrite=0.5 mg/L as NO2; ph=9.2"
    found = standing(lines, climate=weather(today=(-5, 31)))
    assert len(found) == 5
    assert all(alarm.remedy for alarm in found)
    assert [a.severity for a in found] == sorted(a.severity for a in found)  # act before watch
