"""Measure and print the table; words choose rows: `python -m tests.bench evaporation`."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.bench.measure import line, measure
from tests.bench.rows import rows


def main() -> None:
    """Print one row after the other."""
    print("| what | ours, median (quartiles) | against | theirs | ratio | wanted | |")
    print("|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as room:
        for row in rows(Path(room)):
            if not sys.argv[1:] or any(word in row.what for word in sys.argv[1:]):
                print(line(row, measure(row)), flush=True)


if __name__ == "__main__":
    main()
