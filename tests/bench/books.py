"""Journals to measure with: one season, and twenty years of ten entries a day."""

from __future__ import annotations

import json
import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

SAMPLE = Path(__file__).parents[2] / "sample" / "metric"
YEARS, A_DAY = 20, 10
_KINDS = (
    "level   | reading={n} mm; pump=on; by=OF | ",
    "tick    | step=outlet-shut; batch=yard-{d} | ",
    "fill    | barrel=yard; batch=yard-{d}; added=150 L; source=tap; by=OF | ",
    "treat   | barrel=yard; batch=yard-{d}; dose=9.5 mL; for=150 L; rate=6 mL per 100 L; "
    "needed=9 mL; by=OF | ",
    "test    | where=yard; chlorine_total=<0.02 mg/L; by=OF | ",
    "release | barrel=yard; batch=yard-{d}; out=150 L; to=gravel bay; by=OF | ",
    "chore   | name=feed; by=OF | ",
    "rain    | depth={m} mm | ",
    "note    | | heron at dawn, number {n}",
    "test    | where=pond; temp=18.5 degC; ph=7.8; ammonia=0.1 mg/L as N | ",
)


def season(folder: Path) -> Path:
    """The sample pond as it is shipped."""
    shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
    return folder


def twenty_years(folder: Path) -> Path:
    """The sample pond with twenty full years of entries, up to its fixed moment."""
    season(folder)
    last = datetime(2026, 10, 9, 6, tzinfo=UTC)
    for back in range(YEARS * 365):
        day = last - timedelta(days=back + 1)
        lines = []
        for place in range(A_DAY):
            stamp = (day + timedelta(minutes=13 * place)).isoformat(" ").replace("+00:00", "+02:00")
            text = _KINDS[place].format(n=40 + (back * 7) % 60, d=f"{day:%y%m%d}", m=back % 3)
            lines.append(f"{stamp} | {text}\n")
        path = folder / "journal" / f"{day.year}-years.txt"
        with path.open("a", encoding="utf-8") as file:
            file.writelines(lines)
    return folder


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
