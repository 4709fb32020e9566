"""Measure and print the table.

`python -m tests.bench --only keys --only memory` measures some rows, `--rounds 5` takes fewer
samples of each.
"""

from __future__ import annotations

import argparse
import signal
import sys
import tempfile
from pathlib import Path

from tests.bench import apps, work
from tests.bench.measure import line, measure

HEAD = "| what | ours, median (quartiles) | against | theirs | ratio | wanted | |"


def main() -> None:
    """Print one row after the other."""
    words = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    words.add_argument("--only", action="append", default=[], metavar="NAME", help="part of a name")
    words.add_argument("--rounds", type=int, metavar="N", help="samples of each row")
    asked = words.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))  # what runs is ended
    with tempfile.TemporaryDirectory() as room:
        print(HEAD, "|---|---|---|---|---|---|---|", sep="\n", flush=True)
        for name, make in (work.ROWS | apps.ROWS).items():
            if not asked.only or any(part in name for part in asked.only):
                with make(Path(room)) as row:
                    print(line(row, measure(row, asked.rounds)), flush=True)


if __name__ == "__main__":
    main()
