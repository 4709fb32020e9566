"""What of a sensor's log is worth a line in the journal: few readings, each a real one.

Everything here looks back only: what a longer log says of an earlier time is what the shorter one
said. A reading that jumps waits for the next one to bear it out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta, tzinfo

from pondtui.records import NamedTuple

# common practice, no source
MORNING = timedelta(hours=8)  # a day's reading is its first one from then on, when water is calm
SWITCH_L = 1.0  # less than this is no pouring, and a meter may waver by as much
PAUSE_S = 600  # a tap shut for so long has ended its pouring
LONG_S = 6 * 3600  # readings further apart cannot tell one pouring from two
FASTEST_L_MIN = 100.0  # no garden hose runs faster


class Sample(NamedTuple):
    """A row of a log: instant in seconds since 1970, value in the canonical unit."""

    instant: int
    value: float
    line: int


class Left(NamedTuple):
    """A row that is kept out, or a count that begins anew, and why."""

    line: int
    why: str


class Rule(NamedTuple):
    """What of a sensor's readings matters, in its canonical unit."""

    step: float  # a change that is worth a line within the day
    jump: float  # a change that must be borne out by the next reading
    low: float
    high: float
    unit: str


TEMPERATURE = Rule(2.0, 5.0, -5.0, 50.0, "degC")
METER = Rule(SWITCH_L, float("inf"), 0.0, 1e7, "L")


def level_rule(error_mm: float) -> Rule:
    """The rule for a level sensor beside a gauge that is read to within `error_mm`."""
    return Rule(max(5.0, 3 * error_mm), max(10.0, 5 * error_mm), 0.0, 5000.0, "mm")


class Poured(NamedTuple):
    """Water that ran past a flow meter, up to the last time that its total rose."""

    instant: int
    litres: float
    total_l: float
    line: int


def one_a_minute(samples: Iterable[Sample], near: float, left: list[Left]) -> Iterator[Sample]:
    """The first reading of each minute; one that differs from it by more than `near` is named."""
    kept: Sample | None = None
    for sample in samples:
        if kept is None or sample.instant // 60 != kept.instant // 60:
            kept = sample
            yield sample
        elif abs(sample.value - kept.value) > near:
            why = f"{sample.value:g} in the same minute as {kept.value:g} in line {kept.line}"
            left.append(Left(sample.line, f"{why}; left out"))


def worth(
    samples: Iterable[Sample], rule: Rule, zone: tzinfo, left: list[Left]
) -> Iterator[Sample]:
    """The readings that matter: one a day, and every change by a step of the rule."""
    kept: Sample | None = None
    day: date | None = None
    for sample in _believed(samples, rule, left):
        today = (datetime.fromtimestamp(sample.instant, zone) - MORNING).date()
        if kept is None or today != day or abs(sample.value - kept.value) >= rule.step:
            kept, day = sample, today
            yield sample


def _believed(samples: Iterable[Sample], rule: Rule, left: list[Left]) -> Iterator[Sample]:
    """Readings without those that cannot be and those that jump away and come back."""
    base: Sample | None = None
    doubted: Sample | None = None
    for sample in one_a_minute(_possible(samples, rule, left), rule.step, left):
        if base is not None and doubted is not None:
            if abs(sample.value - doubted.value) <= abs(sample.value - base.value):
                yield doubted
                base = doubted
            else:
                why = (
                    f"jumps from {base.value:g} to {doubted.value:g} {rule.unit} and back; left out"
                )
                left.append(Left(doubted.line, why))
            doubted = None
        if base is not None and abs(sample.value - base.value) > rule.jump:
            doubted = sample
            continue
        yield sample
        base = sample


def _possible(samples: Iterable[Sample], rule: Rule, left: list[Left]) -> Iterator[Sample]:
    for sample in samples:
        if rule.low <= sample.value <= rule.high:
            yield sample
        else:
            span = f"{rule.low:g} to {rule.high:g} {rule.unit}"
            left.append(
                Left(sample.line, f"{sample.value:g} {rule.unit} cannot be: {span}; left out")
            )


class _Meter:
    """A flow meter's total, followed reading by reading."""

    def __init__(self, first: Sample) -> None:
        self.base_l = first.value  # total at which the pouring, if one runs, began
        self.last = first  # the last believed reading
        self.rose: Sample | None = None  # the last reading that was higher than the one before

    def fits(self, sample: Sample) -> bool:
        """Whether the reading can follow the last one: no fall but wavering, no burst."""
        rise = sample.value - self.last.value
        minutes = (sample.instant - self.last.instant) / 60
        return -SWITCH_L <= rise <= SWITCH_L + FASTEST_L_MIN * minutes

    def ended(self, sample: Sample) -> Poured | None:
        """What was poured, where this reading shows that the pouring is over."""
        if self.rose is None:
            return None
        still = sample.value <= self.last.value
        if sample.instant - self.rose.instant < (PAUSE_S if still else LONG_S):
            return None
        return self.close()

    def close(self) -> Poured | None:
        """What was poured since the pouring began; too little is left to the next one."""
        rose, self.rose = self.rose, None
        if rose is None or rose.value - self.base_l < SWITCH_L:
            return None
        poured = Poured(rose.instant, rose.value - self.base_l, rose.value, rose.line)
        self.base_l = rose.value
        return poured

    def follow(self, sample: Sample) -> None:
        if sample.value > self.last.value:
            self.last = self.rose = sample
        else:  # wavering: the highest total counts
            self.last = Sample(sample.instant, self.last.value, sample.line)

    def restart(self, sample: Sample) -> None:
        """The counter was set back or changed: count on from its new total."""
        self.base_l, self.last, self.rose = sample.value, sample, None


def pourings(samples: Iterable[Sample], left: list[Left]) -> Iterator[Poured]:
    """Every pouring that a flow meter's totals show, once it is over.

    A total that falls, or rises faster than any hose, is a slip when the next reading is back on
    the old count, else a counter that began anew: what ran unseen at that moment is not made up.
    """
    meter: _Meter | None = None
    doubted: Sample | None = None
    for sample in one_a_minute(_possible(samples, METER, left), METER.jump, left):
        if meter is None:
            meter = _Meter(sample)
            continue
        if doubted is not None:
            slip = f"total jumps from {meter.last.value:g} to {doubted.value:g} L"
            if meter.fits(sample):
                left.append(Left(doubted.line, f"{slip} and back; left out"))
            else:
                left.append(Left(doubted.line, f"{slip}: counted on from there"))
                if poured := meter.close():
                    yield poured
                meter.restart(doubted)
            doubted = None
        if not meter.fits(sample):
            doubted = sample
            continue
        if poured := meter.ended(sample):
            yield poured
        meter.follow(sample)
