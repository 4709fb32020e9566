"""Two sides of a ratio, run in turn in one go, so that a busy machine is busy for both."""

from __future__ import annotations

from collections.abc import Callable
from statistics import quantiles
from time import perf_counter
from typing import NamedTuple


class Row(NamedTuple):
    """A figure: `ours` and `theirs` each do the work once; `bar` is the largest ratio wanted."""

    what: str
    against: str
    ours: Callable[[], object]
    theirs: Callable[[], object]
    bar: float
    rounds: int = 15
    most_ms: float | None = None  # the most that ours may take, where that is wanted too


class Measured(NamedTuple):
    """Quartiles of both sides, ms, and the ratio of the medians."""

    ours: list[float]
    theirs: list[float]

    @property
    def ratio(self) -> float:
        """Median over median."""
        return self.ours[1] / self.theirs[1]


def measure(row: Row) -> Measured:
    """Run both sides in turn; the first round of each only warms up."""
    row.ours(), row.theirs()
    ours, theirs = [], []
    for _ in range(row.rounds):
        ours.append(_once(row.ours))
        theirs.append(_once(row.theirs))
    return Measured(quantiles(ours, n=4), quantiles(theirs, n=4))


def _once(work: Callable[[], object]) -> float:
    begin = perf_counter()
    work()
    return (perf_counter() - begin) * 1000


def line(row: Row, found: Measured) -> str:
    """One row of the table, in Markdown."""
    low, mid, high = found.ours
    met = found.ratio <= row.bar and (row.most_ms is None or mid <= row.most_ms)
    limit = f"{row.bar:g}x" + (f", {row.most_ms:g} ms" if row.most_ms is not None else "")
    return (
        f"| {row.what} | {mid:.1f} ms ({low:.1f}-{high:.1f}) | {row.against} | "
        f"{found.theirs[1]:.1f} ms ({found.theirs[0]:.1f}-{found.theirs[2]:.1f}) | "
        f"{found.ratio:.2f}x | {limit} | {'met' if met else 'NOT MET'} |"
    )
