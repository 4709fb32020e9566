"""Batches: which round of the procedure an entry belongs to, and what was done in it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pondtui.pond.state.entry import Dose
from pondtui.pond.state.model import Batch, Temperature

SHUT_AGAIN = "outlet-shut-again"
AGREE = "agree"


class Round:
    """One batch while it is folded; the order numbers tell what came after what."""

    def __init__(self, label: str, barrel: str, opened: int) -> None:
        self.label = label
        self.barrel = barrel
        self.opened = self.last = opened
        self.ticks: dict[str, int] = {}
        self.bypassed: dict[str, int] = {}
        self.order: dict[str, int] = {}
        self.doses: list[Dose] = []
        self.added = self.released = 0.0
        self.treated_at: int | None = None
        self.times: dict[str, int] = {}  # event or step -> instant of the latest
        self.given_up = False
        self.piped = True  # carried water has no outlet to shut
        self.rate_per_l: float | None = None
        self.temp: Temperature | None = None
        self.emptied = False
        self.ended: int | None = None
        self.filled = False  # water was poured in for it, whatever its label was then
        self.begun = False  # water or agent was put in: a batch that only ticked has not begun
        self.count = 0

    def mark(self, event: str, instant: int) -> None:
        """Number an event: a later one has the larger number."""
        self.count += 1
        self.order[event] = self.count
        self.times[event] = instant
        self.last = max(self.last, instant)

    def tick(self, step: str, instant: int) -> None:
        """A step ticked."""
        self.count += 1
        self.ticks[step] = self.count
        self.times[step] = instant
        self.last = max(self.last, instant)
        again = step == AGREE and self.ended is not None
        if again and not (self.emptied or self.given_up):
            self.ended = None  # what was left standing after close-up is let out now

    def bypass(self, step: str, instant: int) -> None:
        """A step passed over."""
        self.count += 1
        self.bypassed[step] = self.count
        self.last = max(self.last, instant)

    def agreed(self) -> bool:
        """The keeper agreed to what stands in the barrel, and nothing was done to it since."""
        since = max((self.order.get(e, 0) for e in ("fill", "treat", "colour", "dip")), default=0)
        return self.ticks.get(AGREE, 0) > max(since, self.order.get("release", 0))

    def close_if_done(self, instant: int) -> None:
        """A batch ends at close-up: released, outlet shut again, level read."""
        released = self.order.get("release", 0)
        newer = max(self.order.get(e, 0) for e in ("fill", "start-fill", "start-release"))
        if self.ended is not None or released <= max(newer, self.ticks.get(AGREE, 0)):
            return
        shut = max(self.ticks.get(SHUT_AGAIN, 0), self.bypassed.get(SHUT_AGAIN, 0))
        shut = shut if self.piped else self.count + 1
        read = max(self.order.get("level", 0), self.bypassed.get("level-after", 0))
        by_hand = self.emptied and not self.ticks  # entered without the checklist
        if by_hand or min(shut, read) > released:
            self.ended = instant

    def frozen(self) -> Batch:
        """The batch as a value."""
        return Batch(
            label=self.label,
            barrel=self.barrel,
            opened=self.opened,
            last=self.last,
            ticks=dict(self.ticks),
            bypassed=dict(self.bypassed),
            order=dict(self.order),
            doses=tuple(self.doses),
            added_l=self.added,
            released_l=self.released,
            treated_at=self.treated_at,
            times=dict(self.times),
            rate_per_l=self.rate_per_l,
            temp=self.temp,
            emptied=self.emptied,
            ended=self.ended,
            revision=self.count,
        )


def label_for(barrel: str, day: date, taken: Iterable[str]) -> str:
    """A new label such as yard-260603, numbered from the second of a day on."""
    stem = f"{barrel}-{day:%y%m%d}"
    used = set(taken)
    if stem not in used:
        return stem
    number = next(n for n in range(2, len(used) + 3) if f"{stem}-{n}" not in used)
    return f"{stem}-{number}"


def barrel_of(label: str, barrels: Iterable[str]) -> str:
    """The barrel whose name a label begins with; the longest name wins; "" when none does."""
    fitting = [b for b in barrels if label == b or label.startswith(f"{b}-")]
    return max(fitting, key=len, default="")
