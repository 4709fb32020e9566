"""Where mutation begins: real files of the sample, and the signs that break readers."""

from __future__ import annotations

from pathlib import Path

SAMPLE = Path(__file__).parents[2] / "sample"

REPORT = b"""\
> Sheet K7Q2M  from: Sam
1.1 ok
1.2 done 1.3 71 mm, 1.4 18.5
1.5 no: gate shut
[x] 2.1 2.2 ok 2.3 2 7/16 in "calm"
2.4 none. 2.5 180 L out at 18:40
"""
LOG = b"""\
Time,Level [cm],Water [degC],Total [L]
2026-06-01 08:00,6.2,18.0,1200
2026-06-01 12:00,6.25,19.5,1200.5
2026-06-02 08:00,6.65,,1240
2026-06-03T08:00:00+02:00,"6,9",18.4,1290
"""
PROCEDURE = b"""\
[[step]]
id = "own-lid"
after = "outlet-shut"
text = "Lid of the barrel off"
[[step]]
id = "own-wait"
after = "own-lid"
text = "Let it stand"
kind = "wait"
minutes = "5 min"
[[step]]
id = "own-ph"
after = "own-wait"
text = "pH"
kind = "number"
unit = "pH"
"""
SETTINGS = b"""\
device = "desk"
by = "MO"
last_pond = "/home/mo/pond"
ponds = ["/home/mo/pond", "/home/mo/other"]
theme = "dusk"
ascii = true
[keys]
refill = "r"
"""
RECORD = b"""{"format": 1, "code": "K7Q2M", "made": "2026-06-10 08:00:00+02:00",
"from": "2026-06-12", "to": null, "sitter": "Sam", "units": "metric", "tasks": [{"number": "1.1",
"kind": "level", "fields": {"pump": "on"}, "instant": 1780000000, "title": "level", "text": "Read",
"asks": "mm"}]}
"""
UNWRITTEN = rb"""{"pond.toml": {"read": "[pond]\nname = \"a\"\n[[mark]]\nname = \"rim\"\n",
"changed": "[pond]\nname = \"b\"\n[[mark]]\n[[mark]]\nname = \"lip\"\n",
"origins": {"mark": [null, 0]}}, "procedure.toml": {"read": "", "changed": "", "origins": {}}}
"""
QUICK = (
    b"level 62 on 18.5 degC calm", b"rain 4", b"note heron again", b"dip yard 90",
    b"skip feed too cold",
    b"fill yard 150 L", b"test ph 7.6 ammonia 0.1 mg/L as N", b"supply food left 80 g", b"temp 64",
    b"level 2 7/16 in pump=on; by=AB | calm", b"count fish 12", b"event overflow",
)  # fmt: skip
QUANTITIES = (
    b"62 mm", b"2 7/16 in", b"1 h 20 min", b"1 ft 3 1/2 in", b"<0.02 mg/L", b"0.5 mg/L as N",
    b"8 mL per 100 L", b"40 US gal", b"18.5 \xc2\xb0C", b"22 MJ/m\xc2\xb2/day", b"4 \xc2\xb0dH",
    b"1.5e3 g/m3", b"50.4 N", b"40 %", b"1 1/2 US gal/day", b"3 lb 4 oz", b"5' 3\"",
)  # fmt: skip
CALLS = (
    b"add\0level\0reading=62 mm\0-m\0calm", b"status\0--json\0--alarms",
    b"away\0 2026-08-20\0 2026-08-30\0--sitter=Sam",
    b"import\0weather\0x.csv\0--map\0tmin=T [degC]",
    b"sample\0plan\0--to\0rim", b"worksheet\0hose time\0volume=150 L",
)  # fmt: skip

# One of these in the middle of something is what breaks readers.
TOKENS = tuple(
    text.encode("utf-8", "surrogatepass")
    for text in (
        "|", ";", "=", "#", "\n", "\r\n", "\r", "\t", "\0", '"', "'", '"""', "'''", ",", ".", "..",
        " ", "   ", "\u00a0", "\u3000", "\ufeff", "\u200b", "\u202e", "\u2066", "\ud800", "\udfff",
        "\x1b[31m", "\x1b]52;c;QQ==\x07", "\x9b1m", "\x85", "\u2028", "\u0338", "e\u0301", "\ufe0f",
        "-", "+", "-0", "0", "1/0", "1/2", "7/3", "9**9**9", "1e400", "1e99", "nan", "inf", "1_000",
        "1,5", "1,500", "999999999999999", "0x" + "f" * 300, "1" * 400, "٣", "²", "½", "°", "µ",
        "%",
        "mm", "US gal", "gal", "mg/L as N", "degC", "Ml", "m/s/s/s/s", "*", "per", "as", "<", "<<<",
        "[", "]", "[[", "{", "}", "[[[[[[[[", "a.b.c.d", "\\u001b", "\\", "true", "1979-05-27",
        "2026-06-03 07:42:10+02:00", "2026-02-30", "2026-03-29 02:30", "2026-10-25 02:30", "24:00",
        "0001-01-01", "9999-12-31 23:59:59-12:00", "2199-12-31", "+14:01", "Z", "strike", "level",
        "fill", "release", "treat", "start", "tick", "bypass", "giveup", "note", "of=", "reading=",
        "batch=", "barrel=", "step=", "<<<<<<< HEAD", "=======", ">>>>>>> x", "1.1", "2.3", "ok",
        "no", "none", "at 25:99", "12:30", "Sheet K7Q2M", "format = 1", "[pond]", "[[barrel]]",
        "[[mark]]", "name = ", "from = 2026-04-02", "Europe/Nowhere", "-m", "--", "--json", "NaN",
        "null", "-9999", "tr", "Date", "Time", "Rain [mm]", "[0.1 mm]", "(", ")", "(((((((",
    )
)  # fmt: skip


def begun(name: str) -> tuple[bytes, ...]:
    """The inputs that a target's mutation begins with."""
    journal = (SAMPLE / "metric/journal/2026-desk.txt").read_bytes().split(b"\n")
    pieces = tuple(b"\n".join(journal[at : at + 25]) for at in range(0, len(journal), 25))
    pond = (SAMPLE / "metric/pond.toml").read_bytes()
    first, *others = pond.split(b"\n[")
    tables = (first, *(b"\n[" + part for part in others))
    wholes = {
        "journal": pieces,
        "line": tuple(line for line in journal if line)[::7],
        "pond": (b"".join(tables[:9]), b"".join((*tables[:4], *tables[9:20])), *tables),
        "procedure": (PROCEDURE, (SAMPLE / "metric/procedure.toml").read_bytes()),
        "weather": ((SAMPLE / "metric/weather/2026.csv").read_bytes()[:1500], LOG),
        "log": (LOG, LOG.replace(b",", b";").replace(b".", b","), LOG.replace(b",", b"\t")),
        "report": (REPORT, REPORT * 3),
        "settings": (SETTINGS,),
        "record": (RECORD,),
        "unwritten": (UNWRITTEN,),
        "quick": QUICK,
        "quantity": QUANTITIES,
        "call": CALLS,
    }
    return wholes[name]
