"""Two sides of a ratio, measured in turn in one go, so that a busy machine is busy for both."""

from __future__ import annotations

import os
from collections.abc import Callable
from statistics import quantiles
from time import perf_counter
from typing import NamedTuple

Pair = tuple[float, float]  # ours, theirs


class Row(NamedTuple):
    """A figure and what it is held against."""

    name: str  # as it is chosen on the command line
    what: str
    against: str
    once: Callable[[], Pair]  # measures both sides, one right after the other
    rounds: int
    times: float | None = None  # ours may be so many times theirs
    plus: float = 0.0  # and so much more, in the row's unit
    most: float | None = None  # and at most so much, whatever theirs is
    unit: str = "ms"
    tail: bool = False  # judged by the 95th percentile, not the median


class Side(NamedTuple):
    """One side's samples in short."""

    low: float
    median: float
    high: float
    p95: float


class Measured(NamedTuple):
    """Both sides of a row."""

    ours: Side
    theirs: Side


def measure(row: Row, rounds: int | None = None) -> Measured:
    """Measure both sides in turn; the first round only warms up."""
    row.once()
    pairs = [row.once() for _ in range(max(rounds or row.rounds, 2))]
    return Measured(*(_side(samples) for samples in zip(*pairs, strict=True)))


def _side(samples: tuple[float, ...]) -> Side:
    low, median, high = quantiles(samples, n=4)
    return Side(low, median, high, quantiles(samples, n=20, method="inclusive")[-1])


def timed(work: Callable[[], object]) -> float:
    """Milliseconds that it takes."""
    begin = perf_counter()
    work()
    return (perf_counter() - begin) * 1000


def written(handle: int, line: bytes) -> None:
    """The least that puts a line on the disk."""
    os.write(handle, line)
    os.fsync(handle)


def both(ours: Callable[[], object], theirs: Callable[[], object]) -> Callable[[], Pair]:
    """Time two pieces of work, one after the other."""
    return lambda: (timed(ours), timed(theirs))


def met(row: Row, found: Measured) -> bool:
    """Whether ours stays within all that is wanted."""
    ours, theirs = _judged(row, found.ours), _judged(row, found.theirs)
    within = row.most is None or ours <= row.most
    return within and ours <= (1 if row.times is None else row.times) * theirs + row.plus


def _judged(row: Row, side: Side) -> float:
    return side.p95 if row.tail else side.median


def line(row: Row, found: Measured) -> str:
    """One row of the table, in Markdown."""
    ours, theirs = _judged(row, found.ours), _judged(row, found.theirs)
    more = f"+{ours - theirs:.1f} {row.unit}"
    how = more if row.times is None else f"{ours / theirs:.2f}x"
    return (
        f"| {row.what} | {_told(row, found.ours)} | {row.against} | {_told(row, found.theirs)} | "
        f"{how} | {_wanted(row)} | {'met' if met(row, found) else 'NOT MET'} |"
    )


def _told(row: Row, side: Side) -> str:
    tail = f", p95 {side.p95:.1f}" if row.tail else ""
    return f"{side.median:.3g} ({side.low:.3g}-{side.high:.3g}{tail}) {row.unit}"


def _wanted(row: Row) -> str:
    words = [] if row.times is None else [f"{row.times:g}x"]
    if row.plus:
        words.append(f"+ {row.plus:.3g} {row.unit}")
    if row.most is not None:
        words.append(f"and {row.most:g} {row.unit} at most")
    return " ".join(words)
