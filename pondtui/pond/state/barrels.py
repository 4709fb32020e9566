"""The water in one barrel, entry by entry: what it holds, and of it what is not yet safe.

Treatment is counted in litres. `untreated` is the water that needs agent, `spare` the litres that
the agent given so far would still cover: both leave with the water, neither outlives a batch.
"""

from __future__ import annotations

from pondtui.pond.state.entry import Dose
from pondtui.pond.state.model import BarrelNow, Batch, Look, Running, TimedRelease

COVERED = 0.99  # a volume is not measured closer than a hundredth: less missing agent is none
DIP_ERROR_L = 1.0  # a smaller surplus of a dip is reading error, not new water
EMPTIED_L = 2.0  # over the heel: a batch with no more than this left is over
DAY_S = 86_400


class Water:
    """The running account of one barrel. Held = begun + filled + corrected - released."""

    def __init__(self, name: str, heel_l: float, rain: bool) -> None:
        self.name = name
        self.begun = heel_l
        self.held = heel_l
        self.filled = self.corrected = self.released = 0.0
        self.rain_only = rain  # rain water in a rain barrel needs no agent
        self.untreated = 0.0 if rain else heel_l
        self.spare = 0.0
        self._looked = 0.0  # untreated litres that looks found while the hose runs
        self.agent: dict[str, float] = {}  # mL and g of agent in the water
        self.treated_at: int | None = None
        self.clear_at: int | None = None
        self.coloured = False
        self.running: Running | None = None
        self.timed: list[TimedRelease] = []
        self.changed = 0
        self.revision = 0

    def stale(self, now: int, keeps_min: float) -> bool:
        """Treated or tested longer ago than the keeper lets it count."""
        if self.rain_only:
            return False
        known = max(self.treated_at or 0, self.clear_at or 0)
        return bool(known) and self.held > 0 and now - known > keeps_min * 60

    def forget(self, now: int, keeps_min: float) -> None:
        """Water of unknown state is handled as untreated once more is done to it."""
        if self.stale(now, keeps_min):
            self._all_untreated()

    def begin_batch(self) -> None:
        """A batch starts: the heel counts as untreated unless treated and tested clear since."""
        clear = self.treated_at is not None and (self.clear_at or 0) >= self.treated_at
        if not self.rain_only and not (clear and self.untreated == 0):
            self._all_untreated()
        self.spare = 0.0
        self.agent = {}

    def start(self, what: str, instant: int) -> None:
        """Hose on or outlet open."""
        self.running = Running(what, instant, self.held)
        self._looked = 0.0

    def fill(self, added_l: float | None, to_l: float | None, rain: bool) -> float:
        """Water poured in, from the beginning of the pouring; returns the litres added."""
        start = self._base("fill")
        self._forget_looks()
        if added_l is None:
            added_l = max((to_l or 0.0) - start, 0.0)
            start = max(start, to_l or 0.0) - added_l
        self._correct(start)
        self.held += added_l
        self.filled += added_l
        if not (rain and self.rain_only):
            self.rain_only = False
            self.untreated += added_l
            self.clear_at = None
            self._settle()
        self._stop("fill")
        return added_l

    def treat(self, dose: Dose, per_l: float | None, instant: int) -> None:
        """Conditioner given, judged at `per_l` of it a litre; None: it cannot be judged."""
        self.agent[dose.unit] = self.agent.get(dose.unit, 0.0) + dose.amount
        self.treated_at = instant
        self.clear_at = None
        if per_l:
            self.spare += dose.amount / per_l
        self._settle()

    def test(self, *, clear: bool, instant: int) -> None:
        """A total-chlorine test of the barrel."""
        self.coloured = not clear
        if clear:
            self.clear_at = instant
            self.untreated = 0.0
        else:
            self._all_untreated()

    def release(self, out_l: float | None, left_l: float | None, end: int) -> tuple[float, float]:
        """Water let out since the outlet was opened; returns (litres let out, litres missing).

        Missing is what was let out beyond the water that was believed to be there.
        """
        start = self._base("release")
        running = self.running
        opened = running.instant if running is not None and running.what == "release" else None
        if out_l is None:
            out_l = max(start - (left_l or 0.0), 0.0)
            start = max(start, left_l or 0.0)
        missing = max(out_l - start, 0.0)
        end_l = max(start - out_l, 0.0)
        self.corrected += end_l - self.held + out_l
        self.released += out_l
        self._scale_to(end_l)
        if opened is not None and end > opened and out_l > 0:
            self.timed.append(TimedRelease(start, self.held, (end - opened) / 60))
        self._stop("release")
        return out_l, missing

    def dip(self, left_l: float, instant: int) -> float:
        """A look into the barrel sets what it holds; returns the surplus (negative: missing)."""
        surplus = left_l - self.held
        if surplus > 0:
            self._correct(left_l)
            if surplus > DIP_ERROR_L and not self.rain_only:
                self.untreated += surplus
                self._looked += surplus
                self.clear_at = None
                self._settle()
        else:
            self.corrected += surplus
            self._scale_to(left_l)
        if self.running is not None:
            looks = (*self.running.looks, Look(instant, left_l))
            self.running = self.running._replace(looks=looks)
        return surplus

    def frozen(
        self,
        now: int,
        keeps_min: float,
        ceiling: dict[str, float],
        full_l: float,
        batch: Batch | None,
    ) -> BarrelNow:
        """The account as a value. `ceiling` is the most agent a litre may hold, by unit."""
        unknown = ""
        if self.stale(now, keeps_min):
            days = (now - max(self.treated_at or 0, self.clear_at or 0)) / DAY_S
            unknown = f"treated or tested {days:.0f} days ago: test it"
        litres = self.held if self.held > 0 else 1.0
        if batch is not None and "fill" not in batch.order and self.running is None:
            litres = max(litres, full_l)  # dosed first: judged by what it will be filled to
        over = max(
            (a / (litres * ceiling[unit]) for unit, a in self.agent.items() if ceiling.get(unit)),
            default=0.0,
        )
        return BarrelNow(
            name=self.name,
            held_l=self.held,
            untreated_l=min(self.untreated, self.held),
            begun_l=self.begun,
            filled_l=self.filled,
            corrected_l=self.corrected,
            released_l=self.released,
            spare_l=self.spare,
            treated_at=self.treated_at,
            clear_at=self.clear_at,
            unknown=unknown,
            coloured=self.coloured,
            overdosed=over,
            running=self.running,
            batch=batch,
            timed=tuple(self.timed),
            changed=self.changed,
            revision=self.revision,
        )

    def _base(self, what: str) -> float:
        """What it held when this pouring began: looks taken meanwhile are part of the pouring."""
        running = self.running
        return running.held_l if running is not None and running.what == what else self.held

    def _stop(self, what: str) -> None:
        if self.running is not None and self.running.what == what:
            self.running = None

    def _forget_looks(self) -> None:
        """Water that a look found while the hose ran is part of what the fill entry says."""
        counted = min(self._looked, self.untreated)
        self.untreated -= counted
        self.spare += self._looked - counted
        self._looked = 0.0

    def _correct(self, held_l: float) -> None:
        self.corrected += held_l - self.held
        self.held = held_l

    def _scale_to(self, left_l: float) -> None:
        """Let water go: treated and untreated alike."""
        if self.held <= 0:
            self.held = left_l
            self.untreated = 0.0 if self.rain_only else left_l
            return
        share = left_l / self.held
        self.held = left_l
        self.untreated *= share
        self.spare *= share
        self.agent = {unit: amount * share for unit, amount in self.agent.items()}

    def _settle(self) -> None:
        """The water is treated once the agent given covers all that needs it."""
        if self.untreated > 0 and self.spare >= self.untreated * COVERED:
            self.spare = max(self.spare - self.untreated, 0.0)
            self.untreated = 0.0

    def _all_untreated(self) -> None:
        self.untreated = self.held
        self.spare = 0.0
        self.treated_at = None
        self.clear_at = None
