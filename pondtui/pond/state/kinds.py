"""Every kind of entry and its fields: one table for reading, forms, help and the manual.

The order of the kinds is their rank among entries of one instant.
"""

from __future__ import annotations

from pondtui import units
from pondtui.records import NamedTuple


class Field(NamedTuple):
    """A field of an entry.

    `type` is a units dimension ("volume", "length", "temperature", "time", "rain" ...), or
    "measured:DIMENSION", "dose", "rate", "number", "whole", "yesno", "word", "phrase",
    "date", "stamp", "reference", "level" (a line's name or a depth).
    """

    name: str
    type: str
    help: str
    required: bool = False
    words: tuple[str, ...] = ()


class Kind(NamedTuple):
    """A kind of entry; `one_of` names groups of fields of which one must be there."""

    name: str
    help: str
    fields: tuple[Field, ...] = ()
    one_of: tuple[str, ...] = ()
    note_required: bool = False

    def field(self, name: str) -> Field | None:
        """The field of that name, `by` included."""
        return next((f for f in (*self.fields, BY) if f.name == name), None)


BY = Field("by", "phrase", "who wrote it")
EVENTS = (
    "overflow power-cut pump-off pump-on gate-open gate-shut gauge-moved leak-fixed animal loss "
    "plants-moved new-fish medicine filter-cleaned restriction smoke"
)


def _word(name: str, words: str, text: str, required: bool = False) -> Field:
    return Field(name, "word", text, required, tuple(words.split()))


BARREL = Field("barrel", "phrase", "name of the barrel", required=True)
BATCH = Field("batch", "phrase", "label of the batch")
TEMP = Field("temp", "temperature", "water temperature")
METER = Field("meter", "volume", "reading of the flow meter")
SOURCE = Field("source", "phrase", "where the water comes from: tap, rain, well or a source's name")

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("note", "words only"),
        Kind(
            "weather",
            "one day's weather noted by hand",
            (
                Field("day", "date", "the day", True),
                Field("tmin", "temperature", "lowest air temperature"),
                Field("tmax", "temperature", "highest air temperature"),
                Field("rhmean", "fraction", "mean relative humidity"),
                Field("wind", "speed", "mean wind"),
                Field("sun", "time", "hours of sunshine"),
            ),
        ),
        Kind(
            "away",
            "an absence",
            (
                Field("from", "date", "first day", True),
                Field("to", "date", "last day", True),
                Field("sitter", "phrase", "who looks after the pond"),
            ),
        ),
        Kind(
            "supply",
            "stock bought or counted",
            (
                Field("item", "phrase", "what", True),
                Field("got", "phrase", "amount bought"),
                Field("left", "phrase", "amount counted"),
                Field("best_before", "date", "date on the label"),
            ),
        ),
        Kind(
            "chore",
            "a chore done, or skipped with the reason in the note",
            (
                Field("name", "phrase", "which chore", True),
                Field("skipped", "yesno", "not done; say why in the note"),
            ),
        ),
        Kind(
            "putoff",
            "an alarm put off; the note is the reason",
            (
                Field("alarm", "phrase", "which alarm", True),
                Field("until", "date", "when it comes back", True),
            ),
        ),
        Kind(
            "event",
            "something that happened",
            (
                _word("what", EVENTS, "what happened", True),
                Field("kind", "phrase", "which animal, medicine, gate ..."),
                Field("count", "whole", "how many"),
                Field("was", "length", "gauge moved: what it read before"),
                Field("now", "length", "gauge moved: what it reads at the same level"),
            ),
        ),
        Kind(
            "count",
            "fish or snails counted",
            (
                Field("kind", "phrase", "what was counted", True),
                Field("number", "whole", "how many", True),
            ),
        ),
        Kind(
            "rain",
            "rain in the gauge since the last rain entry, or over the hours named",
            (
                Field("depth", "length", "depth of rain", True),
                Field("hours", "time", "over how long"),
            ),
        ),
        Kind(
            "start",
            "hose on, or outlet open",
            (_word("what", "fill release", "what began", True), BARREL, BATCH),
        ),
        Kind(
            "fill",
            "water put into a barrel; the stamp is the end of the pouring",
            (
                BARREL,
                BATCH,
                Field("added", "volume", "litres put in"),
                Field("to", "level", "filled to: `line`, or the depth of water"),
                SOURCE,
                TEMP,
                METER,
            ),
            ("added", "to"),
        ),
        Kind(
            "treat",
            "conditioner given",
            (
                BARREL,
                BATCH,
                Field("dose", "dose", "how much", True),
                Field("for", "volume", "water it was given for"),
                Field("rate", "rate", "what the label asked, such as 8 mL per 100 L"),
                Field("needed", "dose", "what was worked out"),
                Field("product", "phrase", "which product"),
            ),
        ),
        Kind(
            "test",
            "a water test",
            (
                Field("where", "phrase", "pond, tap or a barrel", True),
                TEMP,
                Field("ph", "measured:number", "pH"),
                Field("ammonia", "measured:concentration", "total ammonia, as N or as the ion"),
                Field("nitrite", "measured:concentration", "nitrite, as N or as NO2"),
                Field("nitrate", "measured:concentration", "nitrate, as N or as NO3"),
                Field("alkalinity", "measured:hardness", "alkalinity (KH)"),
                Field("hardness", "measured:hardness", "general hardness (GH)"),
                Field("oxygen", "measured:concentration", "dissolved oxygen"),
                Field("chloride", "measured:concentration", "chloride, which shields from nitrite"),
                Field("chlorine_total", "measured:concentration", "total chlorine as Cl2"),
                Field("chlorine_free", "measured:concentration", "free chlorine as Cl2"),
            ),
        ),
        Kind(
            "tick",
            "a step of the procedure done",
            (Field("step", "phrase", "id of the step", True), BATCH),
        ),
        Kind(
            "bypass",
            "a safety step passed over; the note is the reason",
            (Field("step", "phrase", "id of the step", True), BATCH),
            note_required=True,
        ),
        Kind(
            "release",
            "water let out of a barrel; the stamp is the end of the pouring",
            (
                BARREL,
                BATCH,
                Field("out", "volume", "litres let out"),
                Field("left", "volume", "litres left behind"),
                Field("to", "phrase", "a basin, or elsewhere"),
                TEMP,
                METER,
            ),
            ("out", "left"),
        ),
        Kind(
            "giveup",
            "a batch given up; what stays in the barrel stays as it is",
            (Field("batch", "phrase", "label of the batch", True),),
        ),
        Kind(
            "direct",
            "water put straight into the pond",
            (
                Field("volume", "volume", "how much"),
                Field("buckets", "number", "how many buckets"),
                Field("bucket", "volume", "size of the bucket"),
                SOURCE,
                Field("dose", "dose", "conditioner given to the pond for it"),
            ),
            ("volume", "buckets"),
        ),
        Kind(
            "drain",
            "water taken out of the pond on purpose",
            (Field("volume", "volume", "how much", True),),
        ),
        Kind(
            "dip",
            "a look into a barrel; corrects the running volume",
            (
                BARREL,
                Field("left", "volume", "litres that stand in it"),
                Field("depth", "length", "depth of water above the bottom"),
            ),
            ("left", "depth"),
        ),
        Kind(
            "level",
            "a reading of the pond's gauge",
            (
                Field("reading", "length", "what the gauge reads", True),
                _word("pump", "on off", "whether the pump runs"),
                TEMP,
            ),
        ),
        Kind(
            "bucket",
            "a look at the bucket test: how far pond and bucket stand below their marks",
            (
                _word("what", "start read stop", "begin, look again, or give the test up", True),
                Field("pond", "length", "what the pond's gauge reads"),
                Field("bucket", "length", "from the bucket's rim down to its water"),
                _word("pump", "on off", "whether the pump runs during the test"),
                Field("lasts", "time", "how long it is to last"),
            ),
        ),
        Kind(
            "strike",
            "takes back every entry of one instant and kind",
            (Field("of", "reference", "STAMP KIND of the entry", True),),
        ),
    )
}
EXAMPLES = {
    "dose": "11 mL",
    "rate": "8 mL per 100 L",
    "number": "3",
    "whole": "3",
    "yesno": "yes",
    "date": "2026-06-03",
    "stamp": "2026-06-03 07:42:10+02:00",
    "reference": "2026-06-03 07:42:10+02:00 level",
    "level": "line",
}


def example(field: Field) -> str:
    """A value that the field takes, for messages and forms."""
    kind = field.type.removeprefix("measured:")
    if field.words:
        return field.words[0]
    return EXAMPLES.get(kind) or units.NOUNS.get(kind, ("", "..."))[1]
