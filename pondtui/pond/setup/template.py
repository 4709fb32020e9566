"""A new pond from a few answers: enough for a refill, the rest by the defaults."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.pond.setup.chores import BEGIN, CHORES, chosen
from pondtui.pond.setup.fields import Field
from pondtui.pond.setup.forms import as_raw
from pondtui.pond.setup.tables import FORMAT, TABLES
from pondtui.records import NamedTuple


class Question(NamedTuple):
    """One question of `pondtui new`; asked only where the answer to `only_if[0]` is in the rest."""

    id: str
    question: str
    help: str
    table: str  # of pond.toml, where the answer goes
    field: Field  # that it fills: the same reader and limits
    default: str = ""
    words: tuple[str, ...] = ()  # of a choice; may be fewer than the field's
    only_if: tuple[str, ...] = ()
    required: bool = True

    @property
    def type(self) -> str:
        """A dimension, or a type of field such as "choice", "zone", "name"."""
        return self.field.type


def _ask(
    place: str,
    question: str,
    help_text: str,
    default: str = "",
    *,
    id_: str = "",
    only_if: tuple[str, ...] = (),
    words: tuple[str, ...] = (),
    required: bool = True,
) -> Question:
    """A question about a field of pond.toml, `table.key`."""
    table, _, key = place.partition(".")
    field = next(field for field in TABLES[table].fields if field.key == key)
    return Question(id_ or f"{table}_{key}", question, help_text, table, field, default,
                    words or field.words, only_if, required)  # fmt: skip


_ROUND = ("barrel_shape", "upright", "lying")
QUESTIONS: tuple[Question, ...] = (
    _ask("pond.name", "What is the pond called?", "any name", "my pond"),
    _ask("pond.time_zone", "In which time zone?", "such as Europe/Brussels", "UTC"),
    _ask("pond.latitude", "At which latitude?", "degrees, negative in the south; for seasons and "
         "evaporation", required=False),
    _ask("pond.units", "Which units?", "how amounts are shown; each may be typed in any unit",
         "metric"),
    _ask("gauge.reads", "How is the level read?", "down: from a fixed edge to the water; up: a "
         "rule standing in the water", "down"),
    _ask("basin.shape", "Which shape is the pond?", "battered: a rectangle with sloping sides; "
         "table: any other, measured at several depths",
         "box", words=("box", "cylinder", "ellipse", "bowl", "battered", "table")),
    _ask("basin.length", "How long is it?", "at the waterline",
         only_if=("basin_shape", "box", "ellipse", "bowl", "battered")),
    _ask("basin.width", "How wide is it?", "at the waterline",
         only_if=("basin_shape", "box", "ellipse", "bowl", "battered")),
    _ask("basin.diameter", "What is its diameter?", "at the waterline",
         only_if=("basin_shape", "cylinder")),
    _ask("basin.depth", "How deep is it?", "from the waterline to the deepest point",
         only_if=("basin_shape", "box", "cylinder", "ellipse", "bowl", "battered")),
    _ask("basin.areas", "How large is its surface at several depths?", "rows of depth and area "
         "from the waterline down, parted by ;", only_if=("basin_shape", "table")),
    _ask("basin.side_slope", "How flat are the sides?", "horizontal per vertical; 0 is upright",
         "0.15", only_if=("basin_shape", "battered")),
    _ask("mark.reading", "What does the gauge read when the pond is brimful?", "where it begins "
         "to run over; the sizes above hold there", "0 mm", id_="spill"),
    _ask("mark.reading", "To which reading do you refill?", "below the edge, with room for rain",
         "30 mm", id_="target"),
    _ask("mark.reading", "At which reading is it too low?", "such as the pump's intake", "240 mm",
         id_="danger"),
    _ask("barrel.name", "What is the barrel called?", "any name", "barrel"),
    _ask("barrel.shape", "How does the barrel stand?", "upright and lying are round; straight is "
         "any other with upright walls", "upright"),
    _ask("barrel.diameter", "What is its inner diameter?", "at half height", only_if=_ROUND),
    _ask("barrel.width", "How wide is it inside?", "inner width",
         only_if=("barrel_shape", "straight")),
    _ask("barrel.breadth", "How broad is it inside?", "the other way across",
         only_if=("barrel_shape", "straight")),
    _ask("barrel.height", "How high is it inside?", "to the brim",
         only_if=("barrel_shape", "upright", "straight")),
    _ask("barrel.length", "How long is it inside?", "end to end",
         only_if=("barrel_shape", "lying")),
    _ask("barrel.full_line", "How high do you fill it?", "from the bottom, below the brim"),
    _ask("barrel.outlet", "How high is its outlet?", "lower edge, from the bottom"),
    _ask("source.flow", "What does the hose give?", "for filling times; a bucket and a stopwatch "
         "tell it", required=False),
    _ask("conditioner.label_dose", "How much conditioner does the label ask for?", "the dose only"),
    _ask("conditioner.label_volume", "For how much water is that dose?", "as the "
         "label says"),
)  # fmt: skip

DEFAULT_CHORES = CHORES[:BEGIN]
_IN_INCHES = {"spill": "0 in", "target": "1 1/4 in", "danger": "9 1/2 in"}
_EXAMPLES = {
    "pond_latitude": ("51.0", "41.9"),
    "basin_length": ("3.2 m", "10 ft"),
    "basin_width": ("2.1 m", "7 ft"),
    "basin_diameter": ("2.4 m", "8 ft"),
    "basin_depth": ("75 cm", "30 in"),
    "basin_areas": ("0 cm, 5.2 m2; 40 cm, 3.1 m2; 75 cm, 0.8 m2",
                    "0 in, 56 ft2; 16 in, 33 ft2; 30 in, 9 ft2"),
    "spill": ("0 mm", "0 in"),
    "target": ("30 mm", "1 1/4 in"),
    "danger": ("240 mm", "9 1/2 in"),
    "barrel_diameter": ("572 mm", "22 1/2 in"),
    "barrel_width": ("50 cm", "20 in"),
    "barrel_breadth": ("50 cm", "20 in"),
    "barrel_height": ("90 cm", "35 in"),
    "barrel_length": ("1.1 m", "43 in"),
    "barrel_full_line": ("85 cm", "33 in"),
    "barrel_outlet": ("7 cm", "2 3/4 in"),
    "source_flow": ("11 L/min", "3 US gal/min"),
    "conditioner_label_dose": ("8 mL", "1 US fl oz"),
    "conditioner_label_volume": ("100 L", "300 US gal"),
}  # fmt: skip
_ON_A_RULE = {
    "spill": ("750 mm", "30 in"),
    "target": ("720 mm", "28 3/4 in"),
    "danger": ("510 mm", "20 1/2 in"),
}
_MARKS = {"spill": "edge", "target": "full", "danger": "too low"}


def asked(question: Question, answers: Mapping[str, str]) -> bool:
    """Whether a question applies after the answers so far."""
    if not question.only_if:
        return True
    which, *wanted = question.only_if
    return answers.get(which, _default(which)) in wanted


def default_of(question: Question, answers: Mapping[str, str]) -> str:
    """What an empty answer means, in round numbers of the keeper's own units."""
    if question.id in _MARKS and answers.get("gauge_reads") == "up":
        return ""  # on a rule that stands in the water no reading is likelier than another
    metric = answers.get("pond_units", "metric") == "metric"
    return question.default if metric else _IN_INCHES.get(question.id, question.default)


def example_of(question: Question, answers: Mapping[str, str]) -> str:
    """An answer such as the keeper might type, in the keeper's own units; "" for plain words."""
    metric, inches = _EXAMPLES.get(question.id, ("", ""))
    if question.id in _MARKS and answers.get("gauge_reads") == "up":
        metric, inches = _ON_A_RULE[question.id]
    return metric if answers.get("pond_units", "metric") == "metric" else inches


def skeleton(answers: Mapping[str, str]) -> dict[str, Any]:
    """pond.toml of a new pond, ready for tomli-w, from answers as typed.

    An answer left out or empty takes its default; one without a default leaves its key out, and
    reading the file then says what is missing.
    """
    tables: dict[str, dict[str, Any]] = {
        "pond": {},
        "gauge": {},
        "basin": {"name": "pond", "floats": True},
        "barrel": {},
        "source": {},  # no strength yet: every batch needs a clear test
        "conditioner": {"kind": "liquid"},
    }
    marks: list[dict[str, Any]] = []
    for question in QUESTIONS:
        typed = answers.get(question.id, "").strip() or default_of(question, answers)
        if not typed or not asked(question, answers):
            continue
        value = as_raw(question.field, typed)
        if question.id in _MARKS:
            marks.append({"name": _MARKS[question.id], "reading": value, "role": question.id})
        else:
            tables[question.table][question.field.key] = value
    if marks and marks[0]["role"] == "spill":
        tables["basin"]["top_at"] = marks[0]["reading"]
    tables["barrel"]["source"] = "tap"
    return {
        "format": FORMAT,
        "pond": tables["pond"],
        "gauge": tables["gauge"],
        "basin": [tables["basin"]],
        "mark": marks,
        "barrel": [tables["barrel"]],
        "source": {"tap": tables["source"]},
        "conditioner": [tables["conditioner"]],
        "chore": list(chosen(answers.get("chores", ""))),
    }


def _default(which: str) -> str:
    return next(question.default for question in QUESTIONS if question.id == which)
