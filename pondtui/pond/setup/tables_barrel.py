"""The tables of pond.toml that describe a refill: barrels, water sources, conditioners, limits."""

from __future__ import annotations

from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.model import Barrel, Conditioner, Limits, Roof, Source
from pondtui.pond.setup.tables_pond import FROM, NAME

AGENTS = ("thiosulfate-pentahydrate", "thiosulfate-anhydrous", "bisulfite", "metabisulfite",
          "sulfite", "ascorbic-acid", "sodium-ascorbate")  # fmt: skip
LONGEST = 20e3  # mm: no barrel is larger


def _size(key: str, text: str, example: str, required: bool = False) -> Field:
    return Field(key, f"{key}_mm", "length", text, f'"{example}"', low=1, high=LONGEST,
                 required=required)  # fmt: skip


BARREL = Table(
    "barrel",
    "A vessel that tap, rain or well water stands in before it runs into the pond.",
    (
        NAME._replace(example='"yard"'),
        Field("shape", "shape", "choice", "upright: round, on its end; lying: round, on its side; "
              "straight: any other with upright walls", '"upright"',
              words=("upright", "lying", "straight"), required=True),
        _size("diameter", "inner diameter (upright, lying)", "572 mm"),
        _size("height", "inner height to the brim (upright, straight)", "900 mm"),
        _size("length", "inner length of a lying barrel", "1.1 m"),
        _size("width", "inner width (straight)", "0.5 m"),
        _size("breadth", "inner breadth (straight)", "0.5 m"),
        _size("full_line", "how high it is filled, from the bottom", "856 mm", required=True),
        _size("outlet", "lower edge of the outlet, from the bottom: below it is the heel",
              "70 mm", required=True)._replace(low=0),
        Field("pipe_bore", "pipe_bore_mm", "length", "inner diameter of the pipe or hose to the "
              "pond", '"19 mm"', low=1, high=500),
        Field("pipe_length", "pipe_length_mm", "length", "length of the pipe or hose to the pond",
              '"9 m"', low=1, high=1e6),
        Field("fittings", "fittings", "number", "loss coefficient of bends, tap and exit", "2.5",
              "1.5", low=0, high=1000),
        Field("drop", "drop_mm", "length", "outlet above the pipe's free end, or above the water "
              "where the end is under water", '"350 mm"', "0 mm", high=100e3, signed=True),
        Field("end_under_water", "end_under_water", "yesno", "the pipe ends under water", "false",
              "false"),
        Field("source", "source", "name", "the water that fills it: tap, rain, well or the name "
              "of a [source.NAME]", '"tap"', "tap"),
        Field("into", "into", "name", "the basin it runs into; left out: the one that floats",
              '"filter bay"'),
        Field("leave_at_least", "leave_at_least_l", "volume", "water left in it on purpose, as "
              "ballast against wind", '"0 L"', "0 L", low=0, high=1e5),
        Field("former_content", "former_content", "text", "what it held before it was used for "
              "water", '"food syrup"'),
        Field("retired", "retired", "date", "the day from which it is no longer used",
              "2027-05-01"),
        Field("delivery", "delivery", "choice", "piped, or carried in buckets", '"carried"',
              "piped", words=("piped", "carried")),
        Field("bucket", "bucket_l", "volume", "what one bucket holds", '"10 L"', "10 L", low=0.1,
              high=100),
        FROM,
    ),
    Barrel,
    many="list",
    refill="one [[barrel]]",
)  # fmt: skip

ROOF = Table(
    "roof",
    "The roof that feeds a rain barrel.",
    (
        Field("area", "area_m2", "area", "the roof's area seen from above", '"12 m2"', low=0.01,
              high=1e5, required=True),
        Field("runoff", "runoff", "fraction", "the part of the rain that reaches the barrel",
              "0.85", "0.85", low=0, high=1),
        Field("first_flush", "first_flush_mm", "rain", "rain that is led away first", '"0.5 mm"',
              "0 mm", low=0, high=50),
        Field("material", "material", "text", "what the roof is made of: no copper, zinc, lead, "
              "bitumen or moss treatment", '"tile"'),
    ),
    Roof,
    inside="barrel",
)  # fmt: skip

DOWNPIPE = Table(
    "downpipe",
    "A roof whose rain runs straight into the pond.",
    tuple(
        field._replace(help=field.help.replace("the barrel", "the pond")) for field in ROOF.fields
    ),
    Roof,
)

SOURCE = Table(
    "source",
    "The water that fills a barrel.",
    (
        Field("total_chlorine", "total_chlorine_mg_l", "concentration", "total chlorine; left out "
              "if unknown: then every batch needs a clear test", '"0.6 mg/L"', low=0, high=20),
        Field("free_chlorine", "free_chlorine_mg_l", "concentration", "free chlorine",
              '"0.5 mg/L"', low=0, high=20),
        Field("measured", "measured", "date", "when it was measured; stale after 30 days",
              "2026-05-20"),
        Field("chloramine", "chloramine", "yesno", "the utility uses chloramine; left out if "
              "unknown", "false"),
        Field("ph", "ph", "number", "pH of this water", "7.8", low=0, high=14),
        Field("temperature", "temperature_c", "temperature", "its usual temperature; the barrel's "
              "own measured one goes before it", '"12 degC"', low=-2, high=60, signed=True),
        Field("flow", "flow_l_min", "flow", "what the hose gives", '"11 L/min"', low=0.001,
              high=1e4),
        Field("price", "price", "number", "what `price_per` of it costs", "4.20", low=0, high=1e6),
        Field("price_per", "price_per_l", "volume", "the amount that the price is for",
              '"1 m3"', "1 m3", low=1e-3, high=1e9),
        Field("forbidden", "forbidden", "windows", "when it must not be drawn: "
              "[dates] [weekdays | odd days | even days] [hours], local time",
              '["mon-fri 08:00-20:00", "07-01..08-31 odd days"]'),
    ),
    Source,
    many="named",
    refill="one [source.NAME]",
)  # fmt: skip

CONDITIONER = Table(
    "conditioner",
    "What binds the chlorine; the one with the latest `from` not after the day counts.",
    (
        FROM._replace(example="2026-04-02"),
        Field("kind", "kind", "choice", "a liquid dosed by its label, or a dry agent dosed by "
              "weight", '"liquid"', words=("liquid", "dry"), required=True),
        Field("label_dose", "label_dose_ml", "volume", "the label's dose (liquid)", '"8 mL"',
              low=1e-6, high=100, scale=1e3),
        Field("label_volume", "label_volume_l", "volume", "the water that the label's dose is for "
              "(liquid)", '"100 L"', low=1e-3, high=1e7),
        Field("chloramine_multiplier", "chloramine_multiplier", "number", "how many times the dose "
              "the label asks for on chloramine; left out if it names none", "2", low=1, high=20),
        Field("rated_for", "rated_for_mg_l", "concentration", "the chlorine that the label's dose "
              "is for; left out if the label is silent", '"1 mg/L"', low=0.01, high=50),
        Field("largest_multiple", "largest_multiple", "number", "how many times the label's dose "
              "is the most that may be given", "3", "3", low=1, high=50),
        Field("wait", "wait_min", "time", "contact time before the test", '"10 min"', "10 min",
              low=0, high=10080),
        Field("devices", "devices", "devices", "what it is measured with: name, what it holds, its "
              "smallest mark", '[["syringe", "20 mL", "0.5 mL"], ["cap", "5 mL", "5 mL"]]'),
        Field("bottle", "bottle_ml", "amount", "what a full bottle holds", '"500 mL"'),
        Field("opened", "opened", "date", "when the bottle was opened", "2026-04-02"),
        Field("best_before", "best_before", "date", "the last day it is good", "2027-10-01"),
        Field("dose_when", "dose_when", "choice", "before fill mixes better; after fill doses for "
              "the water that is there", '"after fill"', "after fill",
              words=("after fill", "before fill")),
        Field("agent", "agent", "choice", "the dry agent", '"thiosulfate-pentahydrate"',
              words=AGENTS),
        Field("purity", "purity", "fraction", "purity of the dry agent", '"98 %"', "100 %",
              low=0.01, high=1),
        Field("margin", "margin", "fraction", "how much more than the chlorine needs (dry)",
              '"10 %"', "10 %", low=0, high=5),
        Field("stock", "stock_g_l", "concentration", "strength of a home-made stock solution, "
              "which is then dosed by volume (dry)", '"100 g/L"', low=1, high=1e6, scale=1e-3),
    ),
    Conditioner,
    many="list",
    refill="one [[conditioner]]",
)  # fmt: skip

LIMITS = Table(
    "limits",
    "Where the program stops and asks.",
    (
        Field("pond_change", "pond_change_c", "temperature_change", "how much one release may "
              "change the pond's temperature", '"2 degC"', "2 degC", low=0.1, high=20),
        Field("pond_change_per_day", "pond_change_per_day_c", "temperature_change", "how much a "
              "day's releases may change it", '"3 degC"', "3 degC", low=0.1, high=20),
        Field("treated_keeps", "treated_keeps_min", "time", "treated water older than this is "
              "unknown", '"14 d"', "14 d", low=60, high=366 * 1440),
        Field("need_clear_test", "need_clear_test", "choice", "whether every release needs a clear "
              "total-chlorine test", '"always"', "always", words=("always", "unless known")),
        Field("kit_first_step", "kit_first_step_mg_l", "concentration", "what 0 on the "
              "total-chlorine kit means: less than this", '"0.02 mg/L"', "0.02 mg/L", low=0.001,
              high=1),
    ),
    Limits,
)  # fmt: skip
