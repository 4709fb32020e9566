"""The water in one barrel, entry by entry: what it holds, and of it what is not yet safe.

Treatment is counted in litres. `untreated` is the water that needs agent, `spare` the litres that
the agent given so far would still cover: both leave with the water, neither outlives a batch.
Looks while the hose runs stay provisional: the entry that ends the filling says how much it was.
"""

from __future__ import annotations

from copy import copy

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
        self.rain = rain  # a rain barrel: rain water in it needs no agent
        self.rain_only = rain  # and nothing but rain stands in it
        self.untreated = 0.0 if rain else heel_l
        self.spare = 0.0
        self.lacking = 0.0  # litres that tested clear although too little agent was given
        self.agent: dict[str, float] = {}  # mL and g of agent in the water
        self.dosed_at: int | None = None  # the latest agent that is still counted
        self.treated_at: int | None = None
        self.known_at: int | None = None  # the latest dose or clear test: what is not untreated
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
        known = self.known_at
        return known is not None and self.held > 0 and now - known > keeps_min * 60

    def forget(self, now: int, keeps_min: float) -> None:
        """Water of unknown state is handled as untreated once more is done to it; agent too old
        to be trusted covers nothing, whatever was tested since."""
        if self.stale(now, keeps_min):
            self._all_untreated()
        if self.dosed_at is not None and now - self.dosed_at > keeps_min * 60:
            self.dosed_at = None
            self.spare = 0.0
            self.agent = {}

    def begin_batch(self) -> None:
        """A batch starts: the heel counts as untreated unless treated and tested clear since."""
        tested = self.clear_at is not None and self.clear_at >= (self.treated_at or self.clear_at)
        clear = tested and self.untreated == 0
        if self.rain and clear:
            self.rain_only = True  # as good as rain again
        if not self.rain_only and not (clear and self.treated_at is not None):
            self._all_untreated()
        self.spare = self.lacking = 0.0

    def start(self, what: str, instant: int) -> None:
        """Hose on or outlet open."""
        self.settle_looks()
        self.running = Running(what, instant, self.held)

    def fill(self, added_l: float | None, to_l: float | None, rain: bool) -> float:
        """Water poured in, from the beginning of the pouring; returns the litres added."""
        start = self._base("fill")
        if added_l is None:
            added_l = max((to_l or 0.0) - start, 0.0)
            if to_l is not None and to_l < start:  # less stood there than was believed
                self._lose_to(to_l)
                start = to_l
        again = max(start - self.held, 0.0)  # believed gone by a look, there after all
        end_l = max(start + added_l, 0.0)
        self.corrected += end_l - added_l - self.held
        self.held = end_l
        self.filled += added_l
        self._stop("fill")
        if self.running is not None:  # poured in while the outlet runs
            self.running = self.running._replace(held_l=self.running.held_l + added_l)
        if not (rain and self.rain):
            self.rain_only = False
            self.untreated += added_l + again
            self.clear_at = None
            self._settle()
        self.untreated = min(self.untreated, self.held)
        return added_l

    def treat(self, dose: Dose, per_l: float | None, instant: int) -> None:
        """Conditioner given, judged at `per_l` of it a litre; None: it cannot be judged."""
        self.agent[dose.unit] = self.agent.get(dose.unit, 0.0) + dose.amount
        self.treated_at = self.dosed_at = self.known_at = instant
        self.clear_at = None
        if per_l:
            self.spare += dose.amount / per_l
        self._settle()

    def test(self, *, clear: bool, instant: int) -> None:
        """A total-chlorine test of the barrel."""
        self.coloured = not clear
        if clear:
            self.clear_at = self.known_at = instant
            self.lacking += max(self.untreated - self.spare, 0.0)
            self.spare = max(self.spare - self.untreated, 0.0)  # it went into this water
            self.untreated = 0.0
        else:
            self._all_untreated()

    def release(self, out_l: float | None, left_l: float | None, end: int) -> tuple[float, float]:
        """Water let out since the outlet was opened; returns (litres let out, litres missing).

        Missing is what was let out beyond the water that was believed to be there.
        """
        self.settle_looks()
        start = self._base("release")
        running = self.running
        opened = running.instant if running is not None and running.what == "release" else None
        if out_l is None:
            self._find(max((left_l or 0.0) - start, 0.0))
            start = max(start, left_l or 0.0)
            out_l = start - (left_l or 0.0)
        missing = max(out_l - start, 0.0)
        end_l = max(start - out_l, 0.0)
        self.corrected += end_l - self.held + out_l
        self.released += out_l
        self._scale_to(end_l)
        if opened is not None and end > opened and out_l > 0:
            self.timed.append(TimedRelease(start, self.held, (end - opened) / 60))
        self._stop("release")
        if self.running is not None:  # let out while the hose runs
            self.running = self.running._replace(held_l=self.running.held_l - out_l)
        return out_l, missing

    def dip(self, left_l: float, instant: int) -> float:
        """A look into the barrel sets what it holds; returns the surplus (negative: missing)."""
        surplus = left_l - self.seen_l
        if self.running is not None:
            looks = (*self.running.looks, Look(instant, left_l))
            self.running = self.running._replace(looks=looks)
        if not self._filling():
            self._set(left_l)
        return surplus

    @property
    def seen_l(self) -> float:
        """What it holds by the latest look, also while the hose runs."""
        if self.running is not None and self.running.looks and self._filling():
            return self.running.looks[-1].held_l
        return self.held

    def settle_looks(self) -> None:
        """What was seen while the hose ran counts when no entry is to say how much ran in."""
        if self.running is not None and self.running.looks and self._filling():
            self._set(self.seen_l)
            self.running = self.running._replace(looks=())

    def give_up(self) -> None:
        """Nothing runs any more; what stands there stays as it is."""
        self.settle_looks()
        self.running = None

    def frozen(
        self,
        now: int,
        keeps_min: float,
        ceiling: dict[str, float],
        full_l: float,
        batch: Batch | None,
    ) -> BarrelNow:
        """The account as a value. `ceiling` is the most agent a litre may hold, by unit; `full_l`
        the volume that a dose given before filling is for, 0 where none is."""
        if self.seen_l != self.held:
            seen = copy(self)
            seen.settle_looks()
            frozen = seen.frozen(now, keeps_min, ceiling, full_l, batch)
            return frozen._replace(running=self.running)
        unknown, untreated = "", min(self.untreated, self.held)
        if self.stale(now, keeps_min) and untreated > 0:
            untreated = self.held  # as `forget` will count it once more is done
        elif self.stale(now, keeps_min):
            days = (now - (self.known_at or now)) / DAY_S
            unknown = f"treated or tested {days:.0f} days ago: test it"
        litres = self.held if self.held > 0 else 1.0
        if batch is not None and not {"fill", "no-fill"} & {*batch.order, *batch.ticks}:
            litres = max(litres, full_l)  # dosed first: judged by what it will be filled to
        over = max(
            (a / (litres * ceiling[unit]) for unit, a in self.agent.items() if ceiling.get(unit)),
            default=0.0,
        )
        return BarrelNow(
            name=self.name,
            held_l=self.held,
            untreated_l=untreated,
            begun_l=self.begun,
            filled_l=self.filled,
            corrected_l=self.corrected,
            released_l=self.released,
            spare_l=self.spare,
            lacking_l=min(self.lacking, self.held),
            treated_at=self.treated_at,
            clear_at=self.clear_at,
            unknown=unknown,
            coloured=self.coloured and self.held > 0,
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

    def _filling(self) -> bool:
        return self.running is not None and self.running.what == "fill"

    def _set(self, left_l: float) -> None:
        """What a look says: a surplus is new water, what is missing went as it stood."""
        if left_l > self.held:
            self._find(left_l - self.held)
        else:
            self._lose_to(left_l)

    def _find(self, surplus_l: float) -> None:
        """More stands there than was believed: nobody treated it, in a rain barrel it rained."""
        before = self.held
        self.corrected += surplus_l
        self.held += surplus_l
        if self.rain and not self._filling():
            return
        if surplus_l <= DIP_ERROR_L and before > 0:  # the same water, measured anew
            self.untreated *= self.held / before
        else:
            self.rain_only = False
            self.untreated += surplus_l
            self.clear_at = None
            self._settle()

    def _lose_to(self, left_l: float) -> None:
        self.corrected += left_l - self.held
        self._scale_to(left_l)

    def _scale_to(self, left_l: float) -> None:
        """Let water go: treated and untreated alike."""
        if self.held <= 0:
            self.held = left_l
            self.untreated = self.lacking = 0.0
            return
        if left_l <= 0:
            self.treated_at = self.known_at = self.clear_at = None  # an empty barrel has no past
        share = left_l / self.held
        self.held = left_l
        self.untreated *= share
        self.spare *= share
        self.lacking *= share
        self.agent = {unit: amount * share for unit, amount in self.agent.items()}

    def _settle(self) -> None:
        """The water is treated once the agent given covers all that needs it."""
        if self.untreated > 0 and self.spare >= self.untreated * COVERED:
            self.spare = max(self.spare - self.untreated, 0.0)
            self.untreated = 0.0
        if self.lacking > 0 and self.untreated == 0 and self.spare >= self.lacking * COVERED:
            self.spare = max(self.spare - self.lacking, 0.0)
            self.lacking = 0.0

    def _all_untreated(self) -> None:
        self.untreated = self.held
        self.spare = self.lacking = 0.0
        self.treated_at = None
        self.known_at = None
        self.clear_at = None
