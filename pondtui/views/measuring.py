"""How to measure a pond and a barrel with what lies about: one short text for each question."""

from __future__ import annotations

_ACROSS = (
    "By its girth: lay a tape around the barrel at half height. The diameter is the girth divided "
    "by 3.14, less twice the wall (2 to 4 mm of plastic).",
    "An open barrel: measure straight across, inside, twice, and take the middle.",
)
_SURVEY = (
    "Lay a straight board or a string across the water, level. Measure length and width at the "
    "waterline, then how long and wide the pond still is at two or three depths.",
    "The area of a depth is about length x width for square corners, 0.785 x length x width for an "
    "oval. Write depth and area in rows from the waterline down.",
)
_ALONG = (
    "From water's edge to water's edge, along the middle, when the pond is brimful. A string with "
    "knots will do. For a free form take a mean length and a mean width.",
)
TEXTS: dict[str, tuple[str, ...]] = {
    "pond_latitude": ("Any map on the telephone shows it: the first number of the place. A whole "
                      "degree is exact enough.",),
    "pond_time_zone": ("Continent and city, as telephones write it: Europe/Brussels, "
                       "America/Chicago, Australia/Perth.",),
    "gauge_reads": ("down: from something that never moves, such as the edge, you measure down to "
                    "the water: a larger number means less water. up: a rule stands in the water, "
                    "and a larger number means more water.",),
    "basin_shape": _SURVEY,
    "basin_areas": _SURVEY,
    "basin_length": _ALONG,
    "basin_width": _ALONG,
    "basin_depth": ("A broom stick with a flat shoe, let down at the deepest place; soft mud is "
                    "not depth.",),
    "basin_side_slope": ("How far the side comes in for each bit that it goes down: 15 cm in for "
                         "1 m down is 0.15.",),
    "spill": ("Read the gauge when the pond is just about to run over: after rain, or with a hand "
              "held where it runs.",),
    "danger": ("What gets into trouble first as the water falls: the pump's intake, a plant shelf, "
               "fish in the sun.",),
    "barrel_diameter": _ACROSS,
    "barrel_height": ("Stand a stick on the bottom inside and mark the brim. From outside take off "
                      "the bottom's thickness.",),
    "barrel_full_line": ("The highest you mean to fill it, a hand below the brim, so that the hose "
                         "end stays above the water.",),
    "barrel_outlet": ("By a dipstick: fill the barrel, open the outlet until nothing runs any "
                      "more, then stand a dry stick on the bottom. As far as it is wet is the "
                      "height of the outlet; what stands below it stays in the barrel.",),
    "source_flow": ("By bucket and stopwatch: 10 L in 55 s is 10 x 60 / 55 = 10.9 L/min. Measure "
                    "with the hose you fill with, lying where it will lie.",
                    "How long a release takes you need not measure: watch the first barrel run out "
                    "in Refill, and the program goes by that from then on."),
    "level": ("In calm water, with the pump as it usually runs. To 2 mm is exact enough.",),
}  # fmt: skip
