"""The water between two readings of the gauge, cut into pieces and counted into days."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import hypot

from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import Level, PondState
from pondtui.pond.water.held import Switch
from pondtui.pond.water.levels import area_m2_at, open_area_m2, pond_volume_l
from pondtui.pond.water.rain_spans import DAY_S, Rain
from pondtui.records import NamedTuple
from pondtui.science.trends import SURE

HAND_ERROR = 0.10  # of rain in a garden's gauge: it catches too little, common practice, no source
TABLE_ERROR = 0.25  # of rain measured elsewhere: common practice, no source
DOWNPIPE = "downpipe"


class Rates(NamedTuple):
    """What the readings and the weather say is lost: unknown parts are 0 and stay in the rest."""

    factor: float  # of computed evaporation
    steady_mm: float  # a day


class Cell:
    """Terms of one local day, all in litres; a part of a day where the readings begin or end."""

    __slots__ = (
        "area_days", "area_m2", "day", "direct_l", "downpipe_l", "drained_l", "end_apart",
        "end_l", "evaporation_mm", "hand_rain_l", "length", "open_l", "over_error2",
        "overflow_l", "rain_mm", "released_l", "residual_l", "start_apart", "start_l",
        "surface_days", "table_rain_l", "without_weather",
    )  # fmt: skip

    def __init__(self, day: date, start_l: float, start_apart: float) -> None:
        self.day = day
        self.start_apart = self.end_apart = start_apart  # days to the nearest reading
        self.start_l = self.end_l = start_l
        self.length = 0.0  # days
        self.area_m2 = 0.0  # litres per mm of level, the latest
        self.area_days = self.surface_days = 0.0  # m2 x day: of the level, of all surfaces
        self.evaporation_mm = self.open_l = 0.0  # computed, without the site factor
        self.rain_mm = self.hand_rain_l = self.table_rain_l = self.downpipe_l = 0.0
        self.released_l = self.direct_l = self.drained_l = 0.0
        self.overflow_l = self.over_error2 = self.residual_l = 0.0
        self.without_weather = 0.0  # days


class Piece(NamedTuple):
    """A stretch between two cuts: a reading, a midnight, or a switch of pump or gate."""

    start: int
    end: int
    day: date
    days: float
    evaporation_mm: float
    known: bool  # its evaporation could be computed
    rains: tuple[tuple[Rain, float], ...]  # with the share that falls in it
    switch: Switch

    @property
    def rain_mm(self) -> float:
        """Rain that falls in it."""
        return sum(rain.mm * share for rain, share in self.rains)


class Flow(NamedTuple):
    """Litres of one piece."""

    hand_l: float
    table_l: float
    downpipe_l: float
    released_l: float
    direct_l: float
    evaporated_l: float
    steady_l: float
    drained_l: float

    @property
    def comes(self) -> float:
        """All that comes in."""
        return self.hand_l + self.table_l + self.downpipe_l + self.released_l + self.direct_l

    @property
    def goes(self) -> float:
        """All that leaves by known ways."""
        return self.evaporated_l + self.steady_l + self.drained_l


class Stretch:
    """The water between two readings, piece by piece."""

    def __init__(
        self, setup: Setup, state: PondState, a: Level, b: Level, day: date, rates: Rates
    ) -> None:
        self.setup, self.rates = setup, rates
        self.area = (
            area_m2_at(setup, a.reading_mm, day) + area_m2_at(setup, b.reading_mm, day)
        ) / 2
        self.surfaces = (
            open_area_m2(setup, a.reading_mm, day) + open_area_m2(setup, b.reading_mm, day)
        ) / 2
        self.put_in = [x for x in state.additions if a.instant < x.instant <= b.instant]
        self.taken = [(t, v) for t, v in state.drained if a.instant < t <= b.instant]
        self.told = any(
            what == "overflow" and a.instant < t <= b.instant for t, what in state.disturbances
        )

    def go(
        self, pieces: Sequence[Piece], before: float, after: float, cells: dict[date, Cell]
    ) -> None:
        """Add the stretch to the days' cells: it begins with `before` litres, ends with `after`."""
        spills, water, net, rained = [], before, 0.0, 0.0
        flows = [self._flow(piece) for piece in pieces]
        for piece, flow in zip(pieces, flows, strict=True):
            change = flow.comes - flow.goes
            net += change
            rained += flow.hand_l * HAND_ERROR + flow.table_l * TABLE_ERROR
            water += change
            full = change <= 0 or max(before, after) >= water  # then nothing can run over
            brim = water if full else max(self._brim(piece), before, after)
            spill = max(water - brim, 0.0)
            water -= spill
            spills.append(spill)
        unexplained = before + net - after
        reach = hypot(SURE * self.setup.gauge.error_mm * self.area * 2**0.5, rained)
        over = self._overflow(sum(spills), unexplained, reach)
        rest = unexplained - over
        whole = sum(piece.days for piece in pieces)
        water = before
        for piece, flow, spill in zip(pieces, flows, spills, strict=True):
            share = spill / sum(spills) if sum(spills) > 0 else piece.days / whole
            begun, left = piece.start - pieces[0].start, pieces[-1].end - piece.end
            cell = cells.setdefault(
                piece.day, Cell(piece.day, water, min(begun, pieces[-1].end - piece.start) / DAY_S)
            )
            cell.end_apart = min(left, piece.end - pieces[0].start) / DAY_S
            cell.overflow_l += over * share
            cell.over_error2 += (reach * share) ** 2 if over > 0 else 0.0
            cell.residual_l += rest * piece.days / whole
            water += flow.comes - flow.goes - over * share - rest * piece.days / whole
            self._count(cell, piece, flow)
            cell.end_l = water
        cell.end_l = after  # to the last bit

    def _flow(self, piece: Piece) -> Flow:
        """What comes and goes in a piece."""
        inside = [x for x in self.put_in if piece.start < x.instant <= piece.end]
        poured = sum(x.litres for x in inside if x.source == DOWNPIPE)
        return Flow(
            sum(rain.mm * share for rain, share in piece.rains if rain.by_hand) * self.surfaces,
            sum(rain.mm * share for rain, share in piece.rains if not rain.by_hand) * self.surfaces,
            poured + self._from_roof(piece),
            sum(x.litres for x in inside if x.barrel),
            sum(x.litres for x in inside if not x.barrel and x.source != DOWNPIPE),
            piece.evaporation_mm * self.surfaces * self.rates.factor,
            self.rates.steady_mm * piece.days * self.area,
            sum(v for t, v in self.taken if piece.start < t <= piece.end),
        )

    def _from_roof(self, piece: Piece) -> float:
        """What a roof's downpipe brings, its first flush led away."""
        roof = self.setup.downpipe
        if roof is None:
            return 0.0
        flush = roof.first_flush_mm
        mm = sum(rain.after_flush_mm(flush) * share for rain, share in piece.rains)
        return roof.area_m2 * roof.runoff * mm

    def _brim(self, piece: Piece) -> float:
        """Litres at which the water begins to run over; infinite without a spill mark."""
        spills = self.setup.marks_of("spill")
        if not spills:
            return float("inf")
        volumes = (
            pond_volume_l(
                self.setup, mark.reading_mm, piece.day,
                pump_on=piece.switch.pump_on, gate_shut=piece.switch.gates_shut,
            )
            for mark in spills
        )  # fmt: skip
        return min(volumes)

    def _overflow(self, computed: float, unexplained: float, reach: float) -> float:
        """What ran over: as computed, moved towards what the readings want within its errors; the
        keeper's word that it ran over goes before the computation."""
        if self.told:
            return max(unexplained, 0.0)
        if computed <= 0:
            return 0.0
        return min(max(unexplained, computed - reach, 0.0), computed + reach)

    def _count(self, cell: Cell, piece: Piece, flow: Flow) -> None:
        cell.length += piece.days
        cell.area_m2 = self.area
        cell.area_days += self.area * piece.days
        cell.surface_days += self.surfaces * piece.days
        cell.evaporation_mm += piece.evaporation_mm
        cell.open_l += piece.evaporation_mm * self.surfaces
        cell.rain_mm += piece.rain_mm
        cell.hand_rain_l += flow.hand_l
        cell.table_rain_l += flow.table_l
        cell.downpipe_l += flow.downpipe_l
        cell.released_l += flow.released_l
        cell.direct_l += flow.direct_l
        cell.drained_l += flow.drained_l
        cell.without_weather += 0.0 if piece.known else piece.days
