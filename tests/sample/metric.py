"""The metric sample: a tight pond between walls, in a mild inland place; no real one."""

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
    on,
)

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
WRITTEN_LATER = (  # minutes since the line before, and the line
    (24, "fill | barrel=yard; to=line; by=OF"),
    (6, "treat | barrel=yard; dose=13 mL; for=215 L; by=OF"),
    (16, "test | where=yard; chlorine_total=<0.02 mg/L; temp=16 degC | no colour"),
    (15, "release | barrel=yard; left=18 L; to=filter bay"),
)


def _tap(month: int, day: int, total: str, free: str, temp: str) -> Happening:
    return on(month, day, "18:05", "test", where="tap",
               chlorine_total=f"{total} mg/L", chlorine_free=f"{free} mg/L",
               temp=f"{temp} degC")  # fmt: skip


HAPPENINGS: tuple[Happening, ...] = (
    on(4, 1, "10:05", "supply", "open since Saturday, a little spilt", item="conditioner",
        left="490 mL"),
    on(4, 1, "10:10", "supply", item="ammonia kit", left="30"),
    on(4, 1, "10:12", "supply", "a new bag", item="fish food", left="1200 g"),
    _tap(4, 2, "0.6", "0.5", "9.5"),
    on(4, 3, "18:40", "note", "pump and fall have run for a week, all is clear to the bottom"),
    on(4, 4, "11:20", "event", "half of the mats, in pond water", what="filter-cleaned"),
    on(4, 4, "11:45", "drain", "the dirty water went to the roses", volume="40 L"),
    on(4, 12, "12:30", "count", kind="fish", number="14"),
    on(4, 18, "15:10", "event", "irises down to their shelf", what="plants-moved"),
    _tap(4, 30, "0.6", "0.5", "11"),
    on(5, 16, "09:00", "count", "about; counted from the steps", HAND, kind="tadpoles",
        number="40"),
    on(5, 23, "10:10", "event", "to thin the reed", what="gate-shut", kind="filter bay"),
    on(5, 23, "14:40", "event", what="gate-open", kind="filter bay"),
    on(5, 9, "15:20", "note", "blanket weed on the fall; wound out on a stick, half a bucket"),
    _tap(5, 28, "0.5", "0.4", "13"),
    on(6, 14, "15:20", "event", "the whole street", what="power-cut"),
    on(6, 14, "15:25", "event", what="pump-off"),
    on(6, 14, "17:05", "event", "started by itself, fall runs", what="pump-on"),
    on(6, 20, "09:15", "direct", "over from the tub under the stairs", buckets="2",
        bucket="10 L", source="rain"),
    _tap(6, 25, "0.6", "0.5", "15"),
    on(6, 27, "21:30", "weather", "the station is out; own thermometer", day="2026-06-27"),
    on(7, 16, "20:45", "away", "keys are with Tam", **{"from": "2026-07-18"},
        to="2026-07-25", sitter="Tam Brook"),
    on(7, 21, "06:50", "event", "on the coping, flew off when I came down", "TB",
        what="animal", kind="heron"),
    on(7, 22, "07:50", "note", "they eat as always, water clear", "TB"),
    on(7, 24, "12:40", "count", "one is missing, I looked twice", "TB", kind="fish", number="13"),
    on(7, 26, "10:50", "event", "heron; net mended", what="loss", kind="fish", count="1"),
    _tap(7, 27, "0.6", "0.5", "17"),
    on(8, 8, "10:30", "supply", "less than reckoned: the cap was loose and dripped",
        item="conditioner", left="300 mL"),
    on(8, 8, "20:40", "putoff", "a bottle comes on Monday", alarm="stock", until="2026-08-12"),
    on(8, 10, "17:50", "supply", "second bottle, same label", item="conditioner", got="500 mL",
        best_before="2027-11-30"),
    on(8, 11, "08:20", "event", "the utility asks to save water until Saturday",
        what="restriction"),
    _tap(8, 25, "0.6", "0.5", "17.5"),
    on(8, 28, "09:00", "count", "all gone into the grass", kind="tadpoles", number="0"),
    on(8, 30, "16:00", "note", "a ball fished out, iris leaf broken", HAND),
    on(9, 3, "20:10", "away", "a long weekend; Tam sends a message afterwards",
        **{"from": "2026-09-04"}, to="2026-09-06", sitter="Tam Brook"),
    on(8, 16, "11:30", "count", "thirteen, twice", kind="fish", number="13"),
    on(9, 12, "12:00", "count", kind="ramshorn snails", number="31"),
    _tap(9, 20, "0.5", "0.4", "15.5"),
    on(9, 27, "11:40", "event", "mats, in pond water", what="filter-cleaned"),
    on(10, 3, "15:30", "note", "net over the pond, the plane tree begins to drop its leaves"),
    on(10, 4, "11:10", "supply", item="conditioner", left="counted"),
    on(10, 4, "11:12", "supply", item="ammonia kit", left="8"),
)  # fmt: skip
TALE = Tale(
    name="metric",
    seed=1,  # of several, one whose season ends with a barrelful wanted
    first=date(2026, 4, 1),
    last=date(2026, 10, 9),
    now="2026-10-09 17:40:00+02:00",
    keeper="OF",
    sitter="TB",
    sitter_name="Tam Brook",
    climate=Climate(
        mean_c=10.2,
        swing_c=8.3,
        warmest=112,
        spell_c=1.8,
        wet=(0.16, 0.38),
        rain_mm=5.0,
        most_mm=24.0,
        light=(0.35, 0.9),
        wind_m_s=1.8,
        fixed={date(2026, 5, 30): 31.0, date(2026, 8, 22): 54.0, date(2026, 10, 2): 3.2,
               date(2026, 10, 5): 1.4},
        quiet_from=date(2026, 9, 27),
        station_out=date(2026, 6, 27),
    ),
    nature=Nature(
        site=0.82, steady_mm=0.15, seeps=0.3, reading_mm=66.0, temp_c=8.5, rain_barrel_l=95.0
    ),
    happenings=HAPPENINGS,
    batches=BATCHES,
    written_later=WRITTEN_LATER,
    away=(date(2026, 7, 18), date(2026, 7, 25)),
    reported=(date(2026, 9, 4), date(2026, 9, 6)),
    saving=(date(2026, 8, 11), date(2026, 8, 15)),  # the utility asks not to draw water
    skipped_rinse=date(2026, 5, 30),
    misread=date(2026, 5, 12),
    bucket=(date(2026, 8, 12), date(2026, 8, 15)),
    bucket_note="netted against the birds",
    last_refill=date(2026, 10, 1),
    evenings=("17:26", "19:08"),
    rain_used_from_l=110.0,
    ready_note="the yard barrel is ready for Tam: tested, only to be let out",
    kit={
        "ph": ("7.6", "7.6", "7.8", "7.8", "8.0"),
        "ammonia": ("<0.05 mg/L as N", "<0.05 mg/L as N", "0.1 mg/L as N"),
        "nitrite": ("<0.02 mg/L as NO2", "<0.02 mg/L as NO2", "0.05 mg/L as NO2"),
        "alkalinity": ("5.5 dH", "6 dH", "6 dH", "6.5 dH"),
        "nitrate": ("10 mg/L as NO3", "15 mg/L as NO3", "20 mg/L as NO3"),
    },
    pump_chore="test the pump's breaker",
)  # fmt: skip
