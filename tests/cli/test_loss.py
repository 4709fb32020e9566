"""`pondtui loss` as called: keys, words, and what cannot be meant."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.cli.calls import POND, call, refused, write_pond

KEYS = {
    "site_factor", "site_factor_low", "site_factor_high",
    "steady_mm_per_day", "steady_low_mm_per_day", "steady_high_mm_per_day",
    "steady_l_per_day", "steady_low_l_per_day", "steady_high_l_per_day",
    "confidence", "verdict", "more_readings", "changed_on", "runs", "left_out", "around",
}  # fmt: skip
WATER = POND.replace('units = "metric"', 'units = "metric"\nlatitude = 51.0').replace(
    'depth = "0.8 m"', 'depth = "4 m"'
)


def pond(folder: Path, days: int = 60, leak: float = 4.0, weather: bool = True) -> Path:
    """A pond of 6 m2 read every morning up to 14 August 2026, leaking after the weather."""
    chance = random.Random(4)
    first = datetime(2026, 8, 14, 5, 30, tzinfo=UTC) - timedelta(days)
    level, lines = 60.0, []
    rows = ["date,tmin [degC],tmax [degC]"]
    for n in range(days + 1):
        moment = first + timedelta(n)
        reading = round(level + chance.gauss(0, 1))
        lines.append(f"{moment:%Y-%m-%d %H:%M:%S}Z | level | reading={reading} mm; pump=on |")
        low = chance.uniform(8, 14)
        high = low + chance.uniform(3, 16)
        rows.append(f"{moment:%Y-%m-%d},{low:.1f},{high:.1f}")
        level += leak + 0.2 * (high - low)
    write_pond(folder, WATER, hand="\n".join(lines) + "\n")
    if weather:
        (folder / "weather").mkdir()
        (folder / "weather" / "2026.csv").write_text("\n".join(rows) + "\n")
    return folder


def test_the_answer_has_its_keys(tmp_path: Path) -> None:
    result = call("--pond", str(pond(tmp_path / "p")), "loss", "--json")
    assert result.code == 0
    assert set(result.json) >= KEYS
    assert result.json["verdict"] == "steady loss"
    low, high = result.json["steady_low_mm_per_day"], result.json["steady_high_mm_per_day"]
    assert low < result.json["steady_mm_per_day"] < high
    assert result.json["steady_l_per_day"] == pytest.approx(6 * result.json["steady_mm_per_day"])
    assert result.json["around"] is None
    assert set(result.json["runs"][0]) == {"from", "to", "readings"}


def test_the_answer_for_people_names_verdict_and_allowance(tmp_path: Path) -> None:
    out = call("--pond", str(pond(tmp_path / "p")), "loss").out
    assert out.startswith("Loss from 2026-04-16 to 2026-08-14: 61 readings in 1 unbroken run")
    for words in ("steady loss", "site factor", "allowed for weather", "Theil-Sen", "bucket test"):
        assert words in out


def test_before_and_after_a_moment(tmp_path: Path) -> None:
    where = str(pond(tmp_path / "p"))
    result = call("--pond", where, "loss", "--around", "2026-07-15 12:00+02:00", "--json")
    around = result.json["around"]
    assert set(around) == {
        "before_mm_per_day", "after_mm_per_day", "difference_low", "difference_high",
    }  # fmt: skip
    assert around["difference_low"] < 0 < around["difference_high"]
    text = call("--pond", where, "loss", "--around", "2026-08-14 12:00+02:00").out
    assert "too few readings on one side" in text


def test_days_can_be_chosen(tmp_path: Path) -> None:
    where = str(pond(tmp_path / "p"))
    out = call("--pond", where, "loss", "--from", "2026-07-01", "--to", "2026-07-20").out
    assert out.startswith("Loss from 2026-07-01 to 2026-07-20: 20 readings")


def test_without_weather_it_says_that_nothing_can_be_parted(tmp_path: Path) -> None:
    result = call("--pond", str(pond(tmp_path / "p", weather=False)), "loss", "--json")
    assert result.json["steady_mm_per_day"] is None
    assert result.json["verdict"] == "inconclusive"
    assert [out["reason"] for out in result.json["left_out"]] == [
        "no weather to compute evaporation from"
    ]


def test_an_empty_journal_asks_for_readings(tmp_path: Path) -> None:
    folder = write_pond(tmp_path / "p", WATER)
    result = call("--pond", str(folder), "loss", "--json")
    assert (result.code, result.json["verdict"]) == (0, "more readings needed")
    assert result.json["more_readings"] == 60
    assert "more readings needed, 60 readings more" in call("--pond", str(folder), "loss").out


@pytest.mark.parametrize(
    ("words", "fragment"),
    [
        (("--from", "1.6.2026"), "--from: a date such as"),
        (("--to", "2026-06-31"), "--to: a date such as"),
        (("--from", "2026-W20"), "--from: a date such as"),
        (("--from", "2026-08-01", "--to", "2026-07-01"), "comes after the last"),
        (("--around", "yesterday"), "yesterday"),
        (("soon",), "takes no words"),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(
    tmp_path: Path, words: tuple[str, ...], fragment: str
) -> None:
    folder = write_pond(tmp_path / "p", WATER)
    refused(call("--pond", str(folder), "loss", *words), 2, fragment)
