"""All tables of pond.toml; those of daily care and weather stand here."""

from __future__ import annotations

from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.model import Chore, House, Person, Season, Supply, WeatherFiles
from pondtui.pond.setup.tables_barrel import BARREL, CONDITIONER, DOWNPIPE, LIMITS, ROOF, SOURCE
from pondtui.pond.setup.tables_pond import BASIN, GAUGE, MARK, NAME, POND
from pondtui.pond.setup.tables_tests import KIT, READINGS

SEASON = Table(
    "season",
    "The part of the year in which the pond is in full care.",
    (
        Field("start", "start", "monthday", "its first day, month-day", '"04-01"', "04-01"),
        Field("end", "end", "monthday", "its last day, month-day", '"10-31"', "10-31"),
    ),
    Season,
)

CHORE = Table(
    "chore",
    "Something done again and again.",
    (
        NAME._replace(example='"rinse filter sponge"'),
        Field("every", "every_days", "time", "how often", '"7 d"', low=60, high=3660 * 1440.0,
              scale=1 / 1440),
        Field("weekdays", "weekdays", "weekdays", "on these days of the week", '["sat"]'),
        Field("monthly", "monthly", "whole", "on this day of the month", "1", low=1, high=31),
        Field("after", "after", "text", "after these events, kinds of entry or chores; with "
              "`every` again and again for as long as `lasts`", '"new-fish, medicine"'),
        Field("lasts", "lasts_days", "time", "with `after` and `every`: for how long", '"42 d"',
              "42 d", low=1440, high=3660 * 1440.0, scale=1 / 1440),
        Field("window", "window", "span", "only between these days of the year",
              '["04-01", "10-31"]'),
        Field("water", "water", "feeding", "rows of water temperature from, to, and how often",
              '[["10 degC", "15 degC", "3 d"], ["15 degC", "20 degC", "1 d"]]'),
        Field("person", "person", "text", "who does it", '"Mo"'),
    ),
    Chore,
    many="list",
)  # fmt: skip

SUPPLY = Table(
    "supply",
    "A thing that runs out.",
    (
        NAME._replace(example='"conditioner"'),
        Field("reorder_at", "reorder_at", "reorder", "buy when no more than this is left",
              '"150 mL"'),
        Field("place", "place", "text", "where it stands", '"shelf by the door"'),
        Field("thread", "thread", "text", "of a fitting", '"3/4 in, outer"'),
        Field("used_by", "used_by", "text", "the chore or kind of entry that uses some of it",
              '"feed"'),
        Field("each", "each", "reorder", "how much of it each time", '"5 g"'),
        Field("best_before", "best_before", "date", "the last day it is good", "2027-10-01"),
    ),
    Supply,
    many="list",
)  # fmt: skip

PERSON = Table(
    "person",
    "Who does what.",
    (
        NAME._replace(example='"Mo"'),
        Field("initials", "initials", "text", "short form for the journal", '"MO"'),
        Field("role", "role", "choice", "what they are to the pond", '"keeper"',
              words=("keeper", "sitter", "neighbour", "vet", "utility", "plumber")),
        Field("phone", "phone", "text", "shown on a sheet only when asked for", '"private"'),
        Field("free", "free", "weekdays", "days on which a sitter can come; left out: every day",
              '["sat", "sun"]'),
    ),
    Person,
    many="list",
)  # fmt: skip

HOUSE = Table(
    "house",
    "What a house-sitter has to find or to know, in your own words; it stands on the care sheet.",
    (
        Field("emergency_number", "emergency_number", "text", "of the emergency services where the "
              "pond is", '"112"'),
        Field("stop_cock", "stop_cock", "text", "where the water is shut off", '"under the sink"'),
        Field("breaker", "breaker", "text", "where the pond's breaker and its RCD or GFCI are",
              '"hall cupboard, second from the left"'),
        Field("gate", "gate", "text", "how to get to the pond", '"side gate, lift and push"'),
        Field("gate_code", "gate_code", "text", "shown on a sheet only when asked for",
              '"private"'),
        Field("dog", "dog", "text", "animals that a visitor meets", '"friendly, stays in"'),
        Field("hours", "hours", "text", "when to come and when not", '"not before 7"'),
        Field("normal", "normal", "text", "how pond and fish look when all is well",
              '"five orange fish, one white; the fall a hand wide"'),
        Field("food", "food", "text", "what is fed and where it is",
              '"one folded packet a day, in the tin"'),
        Field("late", "late", "text", "what if you come back later than planned",
              '"Ann at number 4 takes over"'),
    ),
    House,
)  # fmt: skip

WEATHER = Table(
    "weather",
    "The daily weather tables and how to read them.",
    (
        Field("files", "files", "texts", "where the tables are, within the pond's folder",
              '["weather/*.csv"]', '["weather/*.csv"]'),
        Field("wind_height", "wind_height_m", "length", "height of the wind meter", '"2 m"', "2 m",
              low=200, high=200e3, scale=1e-3),
        Field("day_starts", "day_starts", "clock", "when a day of the table begins", '"00:00"',
              "00:00"),
        Field("rain_day_starts", "rain_day_starts", "clock", "when a rain day begins, often 08:00 "
              "or 09:00", '"09:00"', "00:00"),
        Field("missing", "missing", "texts", "what stands where there is no value",
              '["", "-9999"]', '[""]'),
        Field("monthly_evaporation_mm", "monthly_evaporation_mm", "twelve", "open-water "
              "evaporation of each month in mm, used where there is no weather",
              "[10, 18, 40, 65, 95, 110, 115, 95, 60, 32, 14, 8]", low=0, high=1000),
    ),
    WeatherFiles,
)  # fmt: skip


def _column(key: str, dimension: str, text: str, example: str) -> Field:
    return Field(key, key, f"column:{dimension}", text, f'"{example}"')


COLUMNS = Table(
    "columns",
    "Which column of the weather tables means what: column header [unit].",
    (
        _column("date", "", "the day", "Date"),
        _column("tmin", "temperature", "lowest air temperature", "Tmin [degC]"),
        _column("tmax", "temperature", "highest air temperature", "Tmax [degC]"),
        _column("rhmax", "fraction", "highest relative humidity", "RHmax [%]"),
        _column("rhmin", "fraction", "lowest relative humidity", "RHmin [%]"),
        _column("rhmean", "fraction", "mean relative humidity", "RH [%]"),
        _column("tdew", "temperature", "dew point", "Dew point [degC]"),
        _column("vapour_pressure", "vapour_pressure", "actual vapour pressure", "e [kPa]"),
        _column("wind", "speed", "mean wind", "Wind [m/s]"),
        _column("sun", "time", "hours of sunshine", "Sun [h]"),
        _column("radiation", "radiation", "solar radiation", "Rs [MJ/m2/day]"),
        _column("rain", "rain", "rain", "Rain [mm]"),
    ),
    dict,
    inside="weather",
)

TABLES: dict[str, Table] = {
    table.name: table
    for table in (POND, GAUGE, BASIN, MARK, BARREL, ROOF, DOWNPIPE, SOURCE, CONDITIONER, LIMITS,
                  KIT, READINGS, SEASON, CHORE, SUPPLY, PERSON, HOUSE, WEATHER, COLUMNS)
}  # fmt: skip
FORMAT = 1  # the version of the file that this program reads and writes


def inner(name: str) -> list[Table]:
    """The tables that stand inside the table of that name."""
    return [table for table in TABLES.values() if table.inside == name]
