"""An independent audit of a journal: what reached the pond that should not have.

Written anew from the rules, not from the program: it shares nothing with the fold but the reading
of lines. It walks the entries of one barrel and keeps three numbers: what stands there, how many
litres of it need agent and how many litres the agent given covers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from pondtui.pond.state.entry import Entry

RANKS = (
    "note weather away supply chore putoff event count rain start fill treat test tick bypass "
    "release giveup direct drain dip level strike"
)
ENOUGH = 0.98  # a hundredth is measuring error; a second one keeps the audit from splitting hairs
READING_ERROR_L = 1.0
DAY_S = 86_400


class Vessel(NamedTuple):
    """What the audit has to know of a barrel."""

    name: str
    heel_l: float
    line_l: float
    litres_at: Callable[[float], float]  # depth [mm] -> L
    rain: bool = False
    piped: bool = True


class Rules(NamedTuple):
    """What the keeper demands."""

    keeps_s: int = 14 * DAY_S
    clear_mg_l: float = 0.02
    need_test: bool = True
    per_l: float | None = None  # agent a litre where an entry does not say what it is judged by
    unit: str = "mL"  # and its unit


STRICT = Rules()


class Finding(NamedTuple):
    """Water that went to the pond and should not have."""

    entry: Entry
    litres: float
    why: str


def audit(entries: Iterable[Entry], vessel: Vessel, rules: Rules = STRICT) -> list[Finding]:
    """Every release into the pond of water that was not dosed enough and tested clear since,
    without a bypass of its batch or an agreement to what nobody knew."""
    walk = _Walk(vessel, rules)
    for entry in _live(entries):
        walk.take(entry)
    return walk.found


def let_in(entries: Iterable[Entry], name: str) -> list[Entry]:
    """The releases of a barrel into the pond: a walk that never reaches one proves nothing."""
    return [
        entry
        for entry in _live(entries)
        if entry.kind == "release"
        and entry.get("barrel") == name
        and entry.get("to") != "elsewhere"
    ]


def _live(entries: Iterable[Entry]) -> list[Entry]:
    """What was not struck, every fact once, in order."""
    facts = {entry.canonical: entry for entry in entries}
    strikes = [entry for entry in facts.values() if entry.kind == "strike"]

    def struck(entry: Entry, path: tuple[Entry, ...]) -> bool:
        """`path`: the strikes followed so far; one that comes round to itself has no effect."""
        return any(
            strike not in path and not struck(strike, (*path, strike))
            for strike in strikes
            if (strike.get("of").instant, strike.get("of").kind) == (entry.instant, entry.kind)
        )

    def place(entry: Entry) -> tuple[int, int, str]:
        kinds = RANKS.split()
        rank = kinds.index(entry.kind) if entry.kind in kinds else len(kinds)
        return entry.instant, rank, entry.canonical

    return sorted((e for e in facts.values() if not struck(e, ())), key=place)


class _Walk:
    """One barrel, entry by entry."""

    def __init__(self, vessel: Vessel, rules: Rules) -> None:
        self.vessel, self.rules = vessel, rules
        self.found: list[Finding] = []
        self.held = vessel.heel_l
        self.need = 0.0 if vessel.rain else vessel.heel_l
        self.cover = 0.0
        self.tap_in_it = not vessel.rain
        self.dosed: int | None = None
        self.clear: int | None = None
        self.known: int | None = None  # the latest dose or clear test, whatever was poured in since
        self.hose_from: float | None = None  # litres when the hose went on
        self.seen: float | None = None  # the latest look since
        self.outlet_from: float | None = None
        self.label = ""
        self.over = True  # no batch is open
        self.filled = False  # water was poured in for this one: agent may go in before
        self.emptied = False  # over since no more than the heel is left: a look may find more
        self.as_it_stands = False
        self.agreed = False
        self.released = self.shut = self.read = False
        self.passed: set[str] = set()

    def take(self, entry: Entry) -> None:
        """One entry, whatever it is about."""
        mine = entry.get("barrel") == self.vessel.name
        own = entry.get("batch") in (None, self.label) and bool(self.label)
        if entry.kind in ("tick", "bypass", "giveup") and own:
            self._step(entry)
        elif entry.kind == "tick" and str(entry.get("batch")).startswith(f"{self.vessel.name}-"):
            self._begin(str(entry.get("batch")))
            self._step(entry)
        elif entry.kind == "bypass" and entry.get("batch"):
            self.passed.add(str(entry.get("batch")))
        elif entry.kind == "level":
            self.read = self.released
        elif entry.kind == "test" and entry.get("where") == self.vessel.name:
            self._test(entry)
        elif mine and entry.kind in ("start", "fill", "treat", "release", "dip"):
            getattr(self, f"_{entry.kind}")(entry)
        if self.released and self.read and (self.shut or not self.vessel.piped):
            self.over, self.emptied = True, False

    # --- batches ----------------------------------------------------------------------------------

    def _begin(self, label: str) -> None:
        self.label = label
        self.released = self.shut = self.read = self.agreed = self.as_it_stands = False
        self.emptied = False  # what is found now is the new batch's

    def _water_of_a_batch(self, entry: Entry, *, agent: bool = False) -> None:
        """The first water or agent after a batch ended."""
        self._age(entry.instant)
        label = str(entry.get("batch") or "")
        if label != self.label or self.over:
            stands = self.as_it_stands and label == self.label
            self._begin(label or self.label or self.vessel.name)
            self.as_it_stands = stands
        self.released = self.shut = self.read = False
        if self.over and not (agent and self.as_it_stands):
            self.over = self.filled = self.emptied = False
            clear = self.clear is not None and self.dosed is not None and self.clear >= self.dosed
            if clear:
                self.need = 0.0
            elif self.tap_in_it:
                self._raw()
            self.cover = 0.0

    def _step(self, entry: Entry) -> None:
        step = str(entry.get("step"))
        if entry.kind == "giveup":
            self._settle_seen()
            self.over, self.emptied = True, False
            self.hose_from = self.outlet_from = None
        elif entry.kind == "bypass":
            self.passed.add(self.label)
            self.shut = self.shut or (self.released and step == "outlet-shut-again")
            self.read = self.read or (self.released and step == "level-after")
        elif step == "no-fill":
            self.as_it_stands = True
        elif step == "agree":
            self.agreed = True
        elif step == "outlet-shut-again":
            self.shut = self.released

    # --- water ------------------------------------------------------------------------------------

    def _old(self, instant: int) -> bool:
        there = self.tap_in_it and self.held > 0 and self.known is not None
        return there and instant - (self.known or 0) > self.rules.keeps_s

    def _age(self, instant: int) -> None:
        if self._old(instant):
            self._raw()
        if self.dosed is not None and instant - self.dosed > self.rules.keeps_s:
            self.need, self.cover = max(self.need - self.cover, 0.0), 0.0

    def _raw(self) -> None:
        self.need, self.cover = self.held, 0.0
        self.dosed = self.clear = self.known = None

    def _start(self, entry: Entry) -> None:
        if entry.get("what") == "fill":
            self._water_of_a_batch(entry)
        self._settle_seen()
        filling = entry.get("what") == "fill"
        self.hose_from = self.held if filling else None
        self.outlet_from = None if filling else self.held

    def _fill(self, entry: Entry) -> None:
        self._water_of_a_batch(entry)
        added, to = entry.get("added"), entry.get("to")
        start = self.held if self.hose_from is None else self.hose_from
        if added is None:
            full = self.vessel.litres_at(to) if isinstance(to, float) else self.vessel.line_l
            if full < start:
                self._shrink(full)
                start = full
            added = full - start
        again = max(start - self.held, 0.0)  # a look said that it was gone
        self.held = max(start + added, 0.0)
        self.hose_from = self.seen = None
        self.filled = True
        if self.outlet_from is not None:
            self.outlet_from += added
        self.agreed = False
        if not (self.vessel.rain and entry.get("source") in (None, "rain")):
            self.tap_in_it = True
            self.need = min(self.need + added + again, self.held)
            self.clear = None

    def _treat(self, entry: Entry) -> None:
        self._water_of_a_batch(entry, agent=True)
        dose, needed, litres = entry.get("dose"), entry.get("needed"), entry.get("for")
        per_l = self.rules.per_l if dose.unit == self.rules.unit else None
        if entry.get("rate") is not None and entry.get("rate").unit == dose.unit:
            per_l = entry.get("rate").per_l
        if needed is not None and needed.unit == dose.unit and needed.amount > 0 and litres:
            per_l = needed.amount / litres
        self.cover += dose.amount / per_l if per_l else 0.0
        self.dosed = self.known = entry.instant
        self.clear, self.agreed = None, False

    def _test(self, entry: Entry) -> None:
        total, free = entry.get("chlorine_total"), entry.get("chlorine_free")
        limit = self.rules.clear_mg_l
        if any(t is not None and not t.below and t.value > limit for t in (total, free)):
            self._raw()
            self.agreed = False
        elif total is not None and total.value <= limit:
            self.clear = self.known = entry.instant
            if not self.rules.need_test:  # then a clear test is as good as a dose
                self.need, self.cover = 0.0, max(self.cover - self.need, 0.0)

    def _dip(self, entry: Entry) -> None:
        left = entry.get("left")
        left = self.vessel.litres_at(entry.get("depth")) if left is None else left
        if self.hose_from is not None:
            self.seen = left  # the entry of the filling will say how much it was
            return
        self._stands(left)
        self.agreed = False
        if self.outlet_from is None and self.filled and left <= self.vessel.heel_l + 2:
            self.over = not self.released or self.over
        elif self.emptied and left > self.vessel.heel_l + 2:
            self.over = self.emptied = False

    def _stands(self, left: float) -> None:
        """What was seen replaces what was believed."""
        self._found_more(left - self.held)
        if left < self.held:
            self._shrink(left)
        self.held = left

    def _settle_seen(self) -> None:
        if self.seen is not None:
            self._stands(self.seen)
        self.seen = None

    def _found_more(self, surplus: float) -> None:
        if surplus > READING_ERROR_L and not self.vessel.rain:
            self.need += surplus
            self.clear = None

    def _shrink(self, left: float) -> None:
        share = left / self.held if self.held > 0 else 0.0
        self.need, self.cover, self.held = self.need * share, self.cover * share, left

    def _release(self, entry: Entry) -> None:
        self._settle_seen()
        start = self.held if self.outlet_from is None else self.outlet_from
        out, left = entry.get("out"), entry.get("left")
        if out is None:
            self._found_more(left - start)
            start = max(start, left)
            self.held = max(self.held, start)
            out = start - left
        if entry.get("to") != "elsewhere" and out > 0:
            why = self._wrong(entry.instant)
            label = str(entry.get("batch") or self.label)
            if why and label not in self.passed:
                self.found.append(Finding(entry, out, why))
        self._shrink(max(start - out, 0.0))
        self.outlet_from = None
        if self.hose_from is not None:
            self.hose_from -= out
        self.agreed = False
        self.released, self.shut, self.read = True, False, False
        if not self.over and self.held <= self.vessel.heel_l + 2:
            self.over = self.emptied = True

    def _wrong(self, instant: int) -> str:
        if not self.tap_in_it:
            return ""
        if self.need > 0 and self.cover < self.need * ENOUGH:
            return f"the agent covers {self.cover:.0f} L of {self.need:.0f} L"
        if self._old(instant):
            return "" if self.agreed else "older than it keeps, and nobody agreed"
        if self.rules.need_test and self.clear is None:
            return "no test read nothing since the last water and agent"
        return ""
