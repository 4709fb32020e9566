"""The accounts while the entries go by: barrels, batches and the pond's own records."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, date, datetime, tzinfo
from zoneinfo import ZoneInfo

from pondtui.pond.refill.procedure import NO_FILL
from pondtui.pond.setup.barrels import heel_l
from pondtui.pond.setup.model import Barrel, Setup
from pondtui.pond.state.barrels import Water
from pondtui.pond.state.batches import Round, label_for
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.model import Addition, Filled, Level, Temperature
from pondtui.units import show


class Ledger:
    """Everything that the handlers of the entries write to."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self.tz: tzinfo = ZoneInfo(setup.pond.time_zone)
        self.keeps_min = setup.limits.treated_keeps_min
        self.waters: dict[str, Water] = {}
        self.open: dict[str, Round] = {}  # by barrel
        self.rounds: list[Round] = []
        self.by_label: dict[str, Round] = {}
        self.waiting: dict[str, list[tuple[str, str, int]]] = {}  # label -> ticks without a barrel
        self.levels: list[Level] = []
        self.pond_temp: Temperature | None = None
        self.rain: list[tuple[int, float]] = []
        self.additions: list[Addition] = []
        self.fills: list[Filled] = []
        self.drained: list[tuple[int, float]] = []
        self.disturbances: list[tuple[int, str]] = []
        self.events: list[tuple[int, str]] = []
        self.pump = ""
        self.gate_shut = False
        self.meters: dict[str, float] = {}
        self.tap: tuple[int, float, float | None] | None = None
        self.pond_clear_at: int | None = None
        self.bypasses: list[tuple[Entry, Round | None]] = []
        self.harm: list[tuple[Entry, str]] = []  # untreated water that reached the pond
        self.stock: list[Entry] = []
        self.remarks: list[str] = []
        self.live: list[Round] = []  # not ended, as far as known
        self._days: dict[int, date] = {}
        names = Counter(barrel.name for barrel in setup.barrels)
        self._only = {b.name: b for b in setup.barrels if names[b.name] == 1}  # never changed

    def day(self, instant: int) -> date:
        """The local day of an instant; days begin on a quarter of an hour in every zone."""
        quarter = instant // 900
        day = self._days.get(quarter)
        if day is None:
            day = datetime.fromtimestamp(instant, UTC).astimezone(self.tz).date()
            self._days[quarter] = day
        return day

    def config(self, name: str, instant: int) -> Barrel | None:
        """A barrel as it was described on the day of an instant."""
        return self._only.get(name) or self.setup.barrel_on(name, self.day(instant))

    def alive(self, current: Round) -> None:
        """Remember a batch that has not ended."""
        if current.ended is None and current not in self.live:
            self.live.append(current)

    def litres(self, volume_l: float) -> str:
        """A volume in the pond's own units."""
        return show(volume_l, "volume", self.setup.pond.units)

    def barrel(self, entry: Entry) -> tuple[Barrel, Water] | None:
        """The barrel an entry names, as it was that day; a remark where there is none."""
        name = str(entry.get("barrel"))
        config = self.config(name, entry.instant)
        if config is None:
            known = ", ".join(dict.fromkeys(b.name for b in self.setup.barrels)) or "none"
            self.remark(entry, f"no barrel is called {name} (there is: {known})")
            return None
        return config, self.water(config)

    def water(self, config: Barrel) -> Water:
        """A barrel's account."""
        if config.name not in self.waters:
            self.waters[config.name] = self.begun(config)
        return self.waters[config.name]

    @staticmethod
    def begun(config: Barrel) -> Water:
        """The account of a barrel that nothing is written of: it begins at its heel."""
        return Water(config.name, heel_l(config), config.source == "rain")

    def remark(self, entry: Entry, text: str) -> None:
        """Something the keeper should look at; it stops nothing."""
        self.remarks.append(f"{entry.stamp} {entry.kind}: {text}")

    def before(self, water: Water, entry: Entry) -> None:
        """Before anything is done to the water: what is too old to be known counts as untreated."""
        water.forget(entry.instant, self.keeps_min)
        water.changed, water.revision = entry.instant, water.revision + 1

    def round_for_water(self, entry: Entry, water: Water, *, agent: bool = False) -> Round:
        """The batch that takes new water or agent; a new one where the last has ended.

        Its first water makes all that stands there untreated, and so does agent given first:
        it is for the full line. Agent for water that is used as it stands is not.
        """
        label = str(entry.get("batch") or "")
        current = self.open.get(water.name)
        if (
            current is None
            or current.ended is not None
            or current.emptied
            or label not in ("", current.label)
        ):
            label = label or label_for(water.name, self.day(entry.instant), self.by_label)
            current = self.adopt(label, water.name, entry.instant)
        as_it_stands = agent and NO_FILL in current.ticks
        if not current.begun and not as_it_stands:
            current.begun = True
            water.begin_batch()
        return current

    def adopt(self, label: str, barrel: str, instant: int) -> Round:
        """A new batch on this barrel, with the ticks of its label that named no barrel yet."""
        before = self.open.get(barrel)
        new = Round(label, barrel, instant)
        if before is not None and before.ended is None:
            before.ended = instant
            # another label is no other water; but what the agent would still cover ends once any
            # of it was let out
            new.begun = before.begun and not before.emptied and "release" not in before.order
            new.filled = before.filled and not before.emptied
        config = self.config(barrel, instant)
        new.piped = config is None or config.delivery == "piped"
        for what, step, ticked in self.waiting.pop(label, []):
            new.opened = min(new.opened, ticked)
            (new.tick if what == "tick" else new.bypass)(step, ticked)
        self.rounds.append(new)
        self.alive(new)
        self.by_label[label] = new
        self.open[barrel] = new
        return new

    def round_of(self, entry: Entry) -> Round | None:
        """The batch an entry names, else the only open one."""
        label = str(entry.get("batch") or "")
        if label:
            return self.by_label.get(label)
        live = [r for r in self.open.values() if r.ended is None]
        return live[0] if len(live) == 1 else None
