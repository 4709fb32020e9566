"""The command line on a fresh copy of a sample pond, on the day on which that sample stands."""

from __future__ import annotations

import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from tests.cli.calls import Result, call

SAMPLE = Path(__file__).parents[2] / "sample"


def sample_now(name: str = "metric") -> datetime:
    """The moment at which the sample stands."""
    return datetime.fromisoformat((SAMPLE / name / "now.txt").read_text(encoding="utf-8").strip())


def copy_sample(folder: Path, name: str = "metric") -> Path:
    """A copy that may be written to."""
    shutil.copytree(SAMPLE / name, folder)
    return folder


def sample_call(*words: str, name: str = "metric") -> Result:
    """One call on a copy that is thrown away."""
    with tempfile.TemporaryDirectory() as room:
        folder = copy_sample(Path(room) / "pond", name)
        return call("--pond", str(folder), *words, now=sample_now(name))
