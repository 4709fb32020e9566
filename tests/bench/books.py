"""Journals to measure with: the sample's season, and twenty years made of it, ten entries a day."""

from __future__ import annotations

import json
import shutil
from collections import defaultdict
from datetime import date, timedelta
from pathlib import Path

SAMPLE = Path(__file__).parents[2] / "sample" / "metric"
YEARS, A_DAY = 20, 10
LAST = date(2026, 10, 9)  # the day that the sample ends
CHORES = 9  # that a digit ticks off
# What fills each day up to its ten entries: it moves no water.
_MORE = (
    "chore   | name=look at fish; by=OF |",
    "chore   | name=feed; by=OF |",
    "note    | | heron at dawn, number {n}",
    "test    | where=pond; temp={t} degC; ph=7.8; ammonia=0.1 mg/L as N; by=OF |",
    "note    | | leaves taken out, {n} handfuls",
    "chore   | name=water test; by=OF |",
    "test    | where=pond; nitrite=0.05 mg/L as NO2; kh=6 dKH; by=OF |",
    "note    | | iris {n} in flower",
    "chore   | name=rinse filter sponge; by=OF |",
    "level   | reading={n} mm; pump=on; by=OF |",
)


def season(folder: Path) -> Path:
    """The sample pond as it is shipped."""
    shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
    return folder


def with_chores(folder: Path) -> Path:
    """The sample pond with nine chores that are due."""
    season(folder)
    text = (folder / "pond.toml").read_text(encoding="utf-8")
    head, _, tail = text.partition("[[chore]]")
    rest = tail[tail.index("[[supply]]") :]
    chores = "".join(
        f'[[chore]]\nname = "round {n}"\nevery = "1 d"\n' for n in range(1, CHORES + 1)
    )
    (folder / "pond.toml").write_text(head + chores + rest, encoding="utf-8")
    return folder


def twenty_years(folder: Path) -> Path:
    """The sample's season year after year, each day of each year filled up to ten entries."""
    season(folder)
    first = date(LAST.year - YEARS, LAST.month, LAST.day) + timedelta(1)
    shipped = {
        path.stem.partition("-")[2]: path.read_text(encoding="utf-8").splitlines()
        for path in sorted((SAMPLE / "journal").glob("*.txt"))
    }
    weather = (SAMPLE / "weather" / "2026.csv").read_text(encoding="utf-8")
    for year in range(first.year, LAST.year + 1):
        begin, end = max(first, date(year, 1, 1)), min(LAST, date(year, 12, 31))
        held: dict[date, int] = defaultdict(int)
        for device, lines in shipped.items():
            kept = []
            for line in (_moved(each, year) for each in lines if each[:1] == "2"):
                day = date.fromisoformat(line[:10])
                if begin <= day <= end:
                    held[day] += 1
                    kept.append(line)
            if device == "desk":
                kept = sorted(kept + _filling(begin, end, held))
            (folder / "journal" / f"{year}-{device}.txt").write_text(
                "".join(f"{line}\n" for line in kept), encoding="utf-8"
            )
        (folder / "weather" / f"{year}.csv").write_text(_moved(weather, year), encoding="utf-8")
    return folder


def _moved(text: str, year: int) -> str:
    """The same in another year, the labels of the batches included."""
    return text.replace("2026-", f"{year}-").replace("-26", f"-{year % 100:02d}")


def _filling(begin: date, end: date, held: dict[date, int]) -> list[str]:
    found = []
    for number in range((end - begin).days + 1):
        day = begin + timedelta(number)
        for place in range(A_DAY - held[day]):
            text = _MORE[place].format(n=60 + number % 7, t=8 + number % 13)
            found.append(
                f"{day} {8 + place // 6:02d}:{place % 6}7:{number % 60:02d}+01:00 | {text}"
            )
    return found


def as_json_lines(folder: Path) -> list[str]:
    """The same facts as JSON, a line each: what any reader has to do at the least."""
    found = []
    for path in sorted((folder / "journal").glob("*.txt")):
        for text in path.read_text(encoding="utf-8").splitlines():
            parts = [part.strip() for part in text.split("|")]
            if len(parts) >= 3:
                fields = dict(f.strip().split("=", 1) for f in parts[2].split(";") if "=" in f)
                fact = {"stamp": parts[0], "kind": parts[1], "fields": fields, "note": parts[-1]}
                found.append(json.dumps(fact))
    return found
