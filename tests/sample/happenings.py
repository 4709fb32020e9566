"""What happens in the sample's season on fixed days, and what is special about its batches."""

from __future__ import annotations

from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from tests.sample.book import PassOver, Stop, Typed


class Happening(NamedTuple):
    """An entry of a fixed day and hour."""

    day: date
    at: str
    kind: str
    fields: dict[str, str]
    note: str = ""
    by: str = "OF"


class Plan(NamedTuple):
    """One batch of tap water; what is not said goes as usual."""

    typed: Typed = MappingProxyType({})
    dip: str = ""  # a look into the barrel once it is filled
    give_up: str = ""  # where it stops, it is given up for this reason
    by_hand: bool = False  # written down afterwards with an editor
    test_pond: bool = False  # the morning after
    resume: str = ""  # the day after: "as it stands", or "agree" to what was left standing


FILLED: Typed = {"dose": [Stop()]}
NO_REAGENT = "the kit's reagent is used up; the dose was measured by both of us"
TO_THE_BEDS: Typed = {
    "released": ["all elsewhere | the lid was off, leaves in it: to the beds"],
    "level-after": [PassOver("nothing went into the pond")],
}
BATCHES: tuple[Plan, ...] = (
    Plan({"filled": ["197 L meter 1197 L"]}),
    Plan(),
    Plan({"dose": ["9 mL", ""]}),  # too little: the mark of the wrong device
    Plan({"released": ["90 L"]}),
    Plan(resume="agree"),
    Plan(FILLED, dip="836 mm"),
    Plan({"chlorine-test": [PassOver(NO_REAGENT)]}, test_pond=True),
    Plan(by_hand=True),
    Plan(FILLED, give_up="thunder: indoors, it stands full and untreated under its lid"),
    Plan(resume="as it stands"),
    Plan({"filled": ["840 mm"]}),
    Plan(TO_THE_BEDS),
)
HAND = "hand"  # written with an editor
SKIPPED_RINSE = date(2026, 5, 30)
MISREAD = date(2026, 5, 12)
AWAY = (date(2026, 7, 18), date(2026, 7, 25))
SAVING = (date(2026, 8, 11), date(2026, 8, 15))  # the utility asks not to draw water
LAST_REFILL = date(2026, 10, 1)
WRITTEN_LATER = (  # minutes since the line before, and the line
    (24, "fill | barrel=yard; to=line; by=OF"),
    (6, "treat | barrel=yard; dose=13 mL; for=215 L; by=OF"),
    (16, "test | where=yard; chlorine_total=<0.02 mg/L; temp=16 degC | no colour"),
    (15, "release | barrel=yard; left=18 L; to=filter bay"),
)


def _on(month: int, day: int, at: str, kind: str, note: str = "", by: str = "OF", /,
        **fields: str) -> Happening:  # fmt: skip
    return Happening(date(2026, month, day), at, kind, fields, note, by)


def _tap(month: int, day: int, total: str, free: str, temp: str) -> Happening:
    return _on(month, day, "18:05", "test", where="tap",
               chlorine_total=f"{total} mg/L", chlorine_free=f"{free} mg/L",
               temp=f"{temp} degC")  # fmt: skip


HAPPENINGS: tuple[Happening, ...] = (
    _on(4, 1, "10:05", "supply", "open since Saturday, a little spilt", item="conditioner",
        left="490 mL"),
    _on(4, 1, "10:10", "supply", item="ammonia kit", left="30"),
    _tap(4, 2, "0.6", "0.5", "9.5"),
    _on(4, 3, "18:40", "note", "pump and fall have run for a week, all is clear to the bottom"),
    _on(4, 4, "11:20", "event", "half of the mats, in pond water", what="filter-cleaned"),
    _on(4, 4, "11:45", "drain", "the dirty water went to the roses", volume="40 L"),
    _on(4, 12, "12:30", "count", kind="fish", number="14"),
    _on(4, 18, "15:10", "event", "irises down to their shelf", what="plants-moved"),
    _tap(4, 30, "0.6", "0.5", "11"),
    _on(5, 16, "09:00", "count", "about; counted from the steps", HAND, kind="tadpoles",
        number="40"),
    _on(5, 23, "10:10", "event", "to thin the reed", what="gate-shut", kind="filter bay"),
    _on(5, 23, "14:40", "event", what="gate-open", kind="filter bay"),
    _tap(5, 28, "0.5", "0.4", "13"),
    _on(6, 14, "15:20", "event", "the whole street", what="power-cut"),
    _on(6, 14, "15:25", "event", what="pump-off"),
    _on(6, 14, "17:05", "event", "started by itself, fall runs", what="pump-on"),
    _on(6, 20, "09:15", "direct", "over from the tub under the stairs", buckets="2",
        bucket="10 L", source="rain"),
    _tap(6, 25, "0.6", "0.5", "15"),
    _on(6, 27, "21:30", "weather", "the station is out; own thermometer", day="2026-06-27"),
    _on(7, 16, "20:45", "away", "keys are with Tam", **{"from": "2026-07-18"},
        to="2026-07-25", sitter="Tam Brook"),
    _on(7, 21, "06:50", "event", "on the coping, flew off when I came down", "TB",
        what="animal", kind="heron"),
    _on(7, 22, "07:50", "note", "they eat as always, water clear", "TB"),
    _on(7, 24, "12:40", "count", "one is missing, I looked twice", "TB", kind="fish", number="13"),
    _on(7, 26, "10:50", "event", "heron; net mended", what="loss", kind="fish", count="1"),
    _tap(7, 27, "0.6", "0.5", "17"),
    _on(8, 3, "19:20", "bucket", "netted against the birds", what="start", pond="51 mm",
        bucket="30 mm", pump="on", lasts="72 h"),
    _on(8, 4, "19:20", "bucket", what="read", pond="56 mm", bucket="34 mm", pump="on"),
    _on(8, 5, "19:20", "bucket", what="read", pond="60 mm", bucket="38 mm", pump="on"),
    _on(8, 6, "19:25", "bucket", what="read", pond="66 mm", bucket="43 mm", pump="on"),
    _on(8, 8, "10:30", "supply", item="conditioner", left="counted"),
    _on(8, 8, "20:40", "putoff", "a bottle comes on Monday", alarm="stock", until="2026-08-12"),
    _on(8, 10, "17:50", "supply", "second bottle, same label", item="conditioner", got="500 mL",
        best_before="2027-11-30"),
    _on(8, 11, "08:20", "event", "the utility asks to save water until Saturday",
        what="restriction"),
    _tap(8, 25, "0.6", "0.5", "17.5"),
    _on(8, 30, "16:00", "note", "a ball fished out, iris leaf broken", HAND),
    _on(9, 12, "12:00", "count", kind="ramshorn snails", number="31"),
    _tap(9, 20, "0.5", "0.4", "15.5"),
    _on(9, 27, "11:40", "event", "mats, in pond water", what="filter-cleaned"),
    _on(10, 3, "15:30", "note", "net over the pond, the plane tree begins to drop its leaves"),
    _on(10, 4, "11:10", "supply", item="conditioner", left="counted"),
    _on(10, 4, "11:12", "supply", item="ammonia kit", left="8"),
)  # fmt: skip
