"""The tables of pond.toml that describe the pond itself: place, gauge, basins and marks."""

from __future__ import annotations

from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.model import Basin, Gauge, Mark, Pond

BASIN_SHAPES = ("box", "cylinder", "ellipse", "bowl", "cone", "battered", "table")
ROLES = ("spill", "seep", "target", "top-up", "warn", "danger")
KM = 1e6  # mm

NAME = Field("name", "name", "name", "the name it goes by", '"main pond"', required=True)
FROM = Field("from", "since", "date", "the first day on which this description holds", "2027-04-01")


def _size(key: str, text: str, example: str, low: float = 1.0) -> Field:
    return Field(key, f"{key}_mm", "length", text, f'"{example}"', low=low, high=KM)


POND = Table(
    "pond",
    "The place.",
    (
        NAME._replace(help="the pond's name", example='"Quince Court"'),
        Field("time_zone", "time_zone", "zone", "the time zone of the pond, by its IANA name",
              '"Europe/Brussels"', "UTC"),
        Field("latitude", "latitude", "angle", "degrees, north positive; the seasons follow its "
              "sign, and evaporation needs it", "51.0", low=-90, high=90, signed=True),
        Field("elevation", "elevation_m", "length", "height above the sea; evaporation and oxygen "
              "need it", '"40 m"', low=-500e3, high=9000e3, scale=1e-3, signed=True),
        Field("units", "units", "choice", "how amounts are shown, and which gallon a bare gal is",
              '"metric"', "metric", words=("metric", "us", "imperial")),
        Field("sheltered", "sheltered", "yesno", "out of the wind: a first guess of how much less "
              "it evaporates, until the readings give a better one", "true", "false"),
        Field("currency", "currency", "text", "the money that prices are in", '"EUR"'),
    ),
    Pond,
    refill="[pond]",
)  # fmt: skip

GAUGE = Table(
    "gauge",
    "How the level is read; a moved gauge is an event in the journal.",
    (
        Field("reads", "reads", "choice", "down: from a fixed edge to the water; up: a rule that "
              "stands in the water", '"down"', "down", words=("down", "up")),
        Field("error", "error_mm", "length", "how far a reading may be off", '"2 mm"', "2 mm",
              low=0, high=100),
    ),
    Gauge,
    refill="[gauge]",
)  # fmt: skip

BASIN = Table(
    "basin",
    "A body of water: exactly one floats (its level moves), the others are held at a spill edge.",
    (
        NAME,
        Field("floats", "floats", "yesno", "its level is the one that the gauge reads", "true",
              "false"),
        Field("held", "held", "yesno", "it stands at its spill edge while the pump runs", "true",
              "false"),
        Field("shape", "shape", "choice", "its form; table is a survey of depths and areas",
              '"battered"', words=BASIN_SHAPES, required=True),
        _size("length", "length at the waterline (box, ellipse, bowl, battered)", "3.2 m"),
        _size("width", "width at the waterline (box, ellipse, bowl, battered)", "2.1 m"),
        _size("depth", "from the waterline to the deepest point (all shapes but table)", "0.75 m"),
        _size("diameter", "diameter of a cylinder", "2.4 m"),
        _size("top_diameter", "diameter of a cone at the waterline", "2.4 m"),
        _size("bottom_diameter", "diameter of a cone at the bottom; 0 mm if pointed", "1.2 m", 0),
        Field("side_slope", "side_slope", "number", "battered sides: horizontal per vertical",
              "0.15", "0", low=0, high=10),
        Field("areas", "areas", "areas", "rows of depth below the waterline or spill edge, and the "
              "area there, from 0 mm down",
              '[["0 mm", "0.84 m2"], ["200 mm", "0.70 m2"], ["350 mm", "0.40 m2"]]'),
        Field("top_at", "top_at_mm", "length", "gauge reading at which these sizes hold",
              '"0 mm"', "0 mm", low=-KM, high=KM, signed=True),
        Field("draindown", "draindown_mm", "length", "how far it falls when the pump stops, its "
              "water running back", '"20 mm"', "0 mm", low=0, high=KM),
        Field("planted", "planted", "yesno", "plants stand in it", "true", "false"),
        Field("water_share", "water_share", "fraction", "the part of its outline that is water: "
              "about 0.4 in gravel and reed", "0.4", "1", low=0.01, high=1),
        Field("gate", "gate", "yesno", "it may be shut off; told by the events gate-shut and "
              "gate-open", "true", "false"),
        Field("gate_level", "gate_level_mm", "length", "how much higher its spill edge is while "
              "shut", '"60 mm"', "0 mm", low=0, high=KM),
        FROM,
    ),
    Basin,
    many="list",
    refill="one [[basin]] that floats",
)  # fmt: skip

MARK = Table(
    "mark",
    "A level that means something.",
    (
        NAME._replace(example='"overflow pipe"'),
        Field("reading", "reading_mm", "length", "the gauge reading when the water stands there",
              '"20 mm"', low=-KM, high=KM, required=True, signed=True),
        Field("role", "role", "choice", "spill: runs over; seep: an edge that leaks above it; "
              "target: where a refill ends; top-up: refill below it; warn; danger", '"spill"',
              words=ROLES, required=True),
        Field("rising", "rising", "text", "a chore for when the level has come back over it",
              '"stand the lilies back"'),
    ),
    Mark,
    many="list",
)  # fmt: skip
