"""The US sample: an open pond where summers are hot and damp, and a liner that begins to leak."""

from __future__ import annotations

from datetime import date

from tests.sample.tale import (
    HAND,
    Climate,
    Happening,
    Nature,
    PassOver,
    Plan,
    Stop,
    Tale,
    Typed,
)

FILLED: Typed = {"dose": [Stop()]}
NO_STRIPS = "the last strip got wet; the dose was measured twice"
TO_THE_BEDS: Typed = {
    "released": ["all elsewhere | a frog had drowned in it: to the flower beds"],
    "level-after": [PassOver("nothing went into the pond")],
}
BATCHES: tuple[Plan, ...] = (
    Plan({"filled": ["52 US gal meter 8152 US gal"]}),
    Plan({"dose": ["6 mL", ""]}),  # too little: the label's rate without the chloramine
    Plan(),
    Plan({"released": ["25 US gal"]}),
    Plan(resume="agree"),
    Plan(FILLED, dip="20 1/4 in"),
    Plan({"chlorine-test": [PassOver(NO_STRIPS)]}, test_pond=True),
    Plan(by_hand=True),
    Plan(FILLED, give_up="thunder: indoors, it lies full and untreated with its bung in"),
    Plan(resume="as it stands"),
    Plan({"filled": ["20 in"]}),
    Plan(TO_THE_BEDS),
)
WRITTEN_LATER = (
    (18, "fill | barrel=drum; to=line; by=LV"),
    (5, "treat | barrel=drum; dose=13 mL; for=55 US gal; by=LV"),
    (15, "test | where=drum; chlorine_total=<0.02 mg/L; temp=75 degF | no color"),
    (14, "release | barrel=drum; left=3.2 US gal; to=bog bed"),
)


def _on(month: int, day: int, at: str, kind: str, note: str = "", by: str = "", /,
        **fields: str) -> Happening:  # fmt: skip
    return Happening(date(2026, month, day), at, kind, fields, note, by)


def _tap(month: int, day: int, total: str, free: str, temp: str) -> Happening:
    return _on(month, day, "18:35", "test", where="tap",
               chlorine_total=f"{total} mg/L", chlorine_free=f"{free} mg/L",
               temp=f"{temp} degF")  # fmt: skip


HAPPENINGS: tuple[Happening, ...] = (
    _on(3, 15, "10:05", "supply", "open for a week", item="conditioner", left="465 mL"),
    _on(3, 15, "10:10", "supply", item="chlorine test strips", left="50"),
    _on(3, 15, "10:12", "supply", "a new bag", item="fish food", left="1200 g"),
    _tap(3, 16, "2.0", "0.2", "64"),
    _on(3, 17, "18:10", "note", "azaleas out, pump and fall have run for two weeks"),
    _on(3, 21, "11:20", "event", "one mat of three, in pond water", what="filter-cleaned"),
    _on(3, 21, "11:50", "drain", "the dirty water went to the ferns", volume="12 US gal"),
    _on(4, 4, "12:30", "count", kind="fish", number="7"),
    _tap(4, 14, "2.0", "0.2", "68"),
    _on(4, 25, "16:10", "event", "two white comets, after three weeks in the tub",
        what="new-fish", count="2"),
    _on(4, 26, "08:40", "chore", "both feed with the others", name="look over the new fish"),
    _on(5, 9, "15:20", "note", "string algae on the fall; twisted out by hand, a bucketful"),
    _tap(5, 12, "2.2", "0.2", "73"),
    _on(5, 16, "09:00", "count", "about; from the bench", HAND, kind="tadpoles", number="200"),
    _on(5, 23, "09:10", "event", "to thin the pickerel weed", what="gate-shut", kind="bog bed"),
    _on(5, 23, "12:40", "event", what="gate-open", kind="bog bed"),
    _tap(6, 9, "2.0", "0.2", "77"),
    _on(6, 6, "17:20", "event", "a thunderstorm, the whole block", what="power-cut"),
    _on(6, 6, "17:25", "event", what="pump-off"),
    _on(6, 6, "18:35", "event", "runs again, fall even", what="pump-on"),
    _on(6, 13, "09:15", "direct", "over from the quarantine tub, rain water", buckets="3",
        bucket="4 US gal", source="rain"),
    _on(7, 23, "20:45", "away", "keys are with Dell", **{"from": "2026-07-25"},
        to="2026-07-30", sitter="Dell Arroway"),
    _on(7, 27, "06:50", "event", "stood in the shallows, flew off when the door went", "DA",
        what="animal", kind="heron"),
    _on(7, 28, "07:50", "note", "all nine at the packet, water a little green", "DA"),
    _on(7, 3, "21:00", "weather", "the station is out; own thermometer", day="2026-07-03"),
    _tap(7, 7, "2.2", "0.2", "81"),
    _on(7, 18, "10:50", "note", "the drum is wanted twice as often as in June: only the heat?"),
    _tap(8, 4, "2.0", "0.2", "83"),
    _on(8, 9, "10:30", "supply", "less than reckoned: the cap was loose and dripped",
        item="conditioner", left="215 mL"),
    _on(8, 9, "10:40", "putoff", "a bottle comes on Wednesday", alarm="stock",
        until="2026-08-13"),
    _on(8, 12, "17:30", "supply", "second bottle, same label", item="conditioner",
        got="16 US fl oz", best_before="2027-11-30"),
    _on(8, 12, "17:33", "supply", item="chlorine test strips", got="50"),
    _on(8, 15, "10:00", "event", "salt against flukes, in the tub only", what="medicine",
        kind="salt"),
    _on(8, 18, "08:20", "event", "the utility asks to save water until Friday",
        what="restriction"),
    _on(8, 22, "09:20", "event", "raccoon; the net was open at one corner", what="loss",
        kind="fish", count="1"),
    _on(8, 23, "09:00", "count", kind="fish", number="8"),
    _on(8, 30, "16:00", "note", "wet ground below the north edge, also on dry days", HAND),
    _tap(9, 1, "2.0", "0.2", "81"),
    _tap(9, 28, "2.0", "0.2", "77"),
    _on(8, 29, "09:00", "count", "all gone into the grass", kind="tadpoles", number="0"),
    _on(9, 10, "19:45", "away", "a long weekend; Dell sends a message afterwards",
        **{"from": "2026-09-11"}, to="2026-09-13", sitter="Dell Arroway"),
    _on(9, 20, "12:00", "event", "mats, in pond water", what="filter-cleaned"),
    _on(10, 17, "11:10", "supply", item="conditioner", left="counted"),
    _on(10, 17, "11:12", "supply", item="chlorine test strips", left="22"),
)  # fmt: skip
TALE = Tale(
    name="us",
    seed=19,  # of several, one whose season ends with a barrelful wanted
    first=date(2026, 3, 15),
    last=date(2026, 10, 18),
    now="2026-10-18 18:40:00-05:00",
    keeper="LV",
    sitter="DA",
    sitter_name="Dell Arroway",
    climate=Climate(
        mean_c=19.5,
        swing_c=8.6,
        warmest=110,
        spell_c=1.2,
        wet=(0.2, 0.36),
        rain_mm=9.0,
        most_mm=40.0,
        light=(0.5, 0.92),
        wind_m_s=1.9,
        fixed={date(2026, 4, 25): 38.0, date(2026, 8, 28): 62.0, date(2026, 10, 11): 6.0},
        quiet_from=date(2026, 10, 8),
        station_out=date(2026, 7, 3),
        dry=(date(2026, 7, 24), date(2026, 8, 16)),
        humidity=(70.0, 12.0),
    ),
    nature=Nature(
        site=0.97,
        steady_mm=0.2,
        leak_mm=4.2,
        leak_from=date(2026, 7, 5),
        reading_mm=405.0,
        temp_c=17.5,
        warmer_c=0.8,
        rain_barrel_l=120.0,
        mains_c=(15.0, 0.6),
    ),
    happenings=HAPPENINGS,
    batches=BATCHES,
    written_later=WRITTEN_LATER,
    away=(date(2026, 7, 25), date(2026, 7, 30)),
    reported=(date(2026, 9, 11), date(2026, 9, 13)),
    saving=(date(2026, 8, 18), date(2026, 8, 21)),  # the utility asks not to draw water
    skipped_rinse=date(2026, 4, 25),
    misread=date(2026, 5, 5),
    bucket=(date(2026, 8, 10), date(2026, 8, 13)),
    bucket_note="netted against the raccoons",
    last_refill=date(2026, 10, 15),
    evenings=("18:36", "19:38"),
    rain_used_from_l=120.0,
    ready_note="the drum is ready for Dell: tested, only to be let out",
    kit={
        "ph": ("7.6", "7.8", "7.8", "8.0"),
        "ammonia": ("<0.25 mg/L as N",),
        "nitrite": ("<0.05 mg/L as NO2", "<0.05 mg/L as NO2", "0.08 mg/L as NO2"),
        "alkalinity": ("100 mg/L CaCO3", "120 mg/L CaCO3", "120 mg/L CaCO3"),
        "oxygen": ("6 mg/L", "6.5 mg/L", "7 mg/L"),
        "nitrate": ("10 mg/L as NO3", "20 mg/L as NO3"),
    },
    pump_chore="test the pump's GFCI",
)  # fmt: skip
