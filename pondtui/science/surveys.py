"""A depth-area survey: surface areas measured at several drops below the top."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from pondtui.records import NamedTuple

RULES = ("conic", "prismoidal", "average")
Rows = tuple[tuple[float, float], ...]
Curve = Callable[[float], float]


class Piece(NamedTuple):
    """A stretch of depth in which the area is a + b x + c x^2, x counted from its start."""

    start_mm: float
    end_mm: float
    a: float
    b: float
    c: float
    above_l: float  # water between the top and the start

    def area_m2(self, drop_mm: float) -> float:
        x = drop_mm - self.start_mm
        return self.a + x * (self.b + x * self.c)

    def volume_l(self, drop_mm: float) -> float:
        x = drop_mm - self.start_mm
        return self.above_l + x * (self.a + x * (self.b / 2 + x * self.c / 3))


def curves(rows: Rows, rule: str) -> tuple[Curve, Curve, float]:
    """Area A and volume V above a drop d as functions, and the drop of the lowest row.

    Source: conic, prismoidal and average-end-area rules of reservoir and earthwork survey
        (USDA NRCS Agriculture Handbook 590, 1997, for the prismoidal one, from memory).
    Arguments: rows (drop [mm], area [m2]), at least two (prismoidal: an odd number at equal
        spacing), the first at 0 mm, drops rising, areas 0 or more and the first above 0; rule
        conic, prismoidal or average.
    Returns: A(d) [m2], V(d) [L], depth [mm].
    Formula: conic: sqrt(A) runs straight between rows; average: A runs straight; prismoidal: A is
        the parabola through three rows.
    Limits: see `basins.volume_between_l`. ValueError for rows out of order, too few rows, unequal
        spacing under the prismoidal rule, or an unknown rule.
    """
    _check(rows)
    if rule == "prismoidal":
        pieces = _parabolas(rows)
    elif rule in ("conic", "average"):
        pieces = _pairs(rows, rule)
    else:
        raise ValueError(f"the rule must be conic, prismoidal or average, not {rule!r}")

    def piece_at(drop_mm: float) -> Piece:
        return next((p for p in pieces if drop_mm <= p.end_mm), pieces[-1])

    return (
        lambda drop: max(0.0, piece_at(drop).area_m2(drop)),
        lambda drop: piece_at(drop).volume_l(drop),
        rows[-1][0],
    )


def _check(rows: Rows) -> None:
    if len(rows) < 2:
        raise ValueError("a table of areas needs at least two rows")
    if rows[0][0] != 0 or not 0 < rows[0][1] < math.inf:
        raise ValueError("the first row of areas must stand at 0 mm, the top, with an area above 0")
    for (above, _), (below, area) in pairwise(rows):
        if not above < below < math.inf:
            raise ValueError(f"the drops of the rows must rise: {below:g} mm follows {above:g} mm")
        if not 0 <= area < math.inf:
            raise ValueError(f"the area at {below:g} mm must be 0 m2 or more")


def _pairs(rows: Rows, rule: str) -> list[Piece]:
    pieces: list[Piece] = []
    total = 0.0
    for (start, upper), (end, lower) in pairwise(rows):
        span = end - start
        if rule == "average":
            piece = Piece(start, end, upper, (lower - upper) / span, 0.0, total)
        else:
            side = math.sqrt(upper)
            slope = (math.sqrt(lower) - side) / span
            piece = Piece(start, end, upper, 2 * side * slope, slope * slope, total)
        pieces.append(piece)
        total = piece.volume_l(end)
    return pieces


def _parabolas(rows: Rows) -> list[Piece]:
    step = rows[1][0]
    if len(rows) % 2 == 0:
        raise ValueError("the prismoidal rule needs an odd number of rows; use conic or average")
    if any(not math.isclose(d, step * i, rel_tol=1e-6) for i, (d, _) in enumerate(rows) if i):
        raise ValueError("the prismoidal rule needs equally spaced rows; use conic or average")
    pieces: list[Piece] = []
    total = 0.0
    for i in range(0, len(rows) - 2, 2):
        (start, upper), (_, middle), (end, lower) = rows[i : i + 3]
        bend = (upper - 2 * middle + lower) / (2 * step * step)
        slope = (4 * middle - 3 * upper - lower) / (2 * step)
        piece = Piece(start, end, upper, slope, bend, total)
        pieces.append(piece)
        total = piece.volume_l(end)
    return pieces
