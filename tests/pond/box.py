"""A constructed box pond whose litres can be worked out by head, and its state from lines.

The pond is 3 m x 2 m: 6 L a mm. The barrel stands on 0.5 m x 0.5 m: 0.25 L a mm, a heel of 20 L
under its outlet at 80 mm, 200 L up to its full line at 800 mm, so 180 L a batch.
"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from pondtui.books.lines import parse_line
from pondtui.books.pondfile import parse
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.pond.state.model import PondState

ZONE = ZoneInfo("Europe/Brussels")
POND = """\
format = 1
[pond]
name = "Box"
time_zone = "Europe/Brussels"
latitude = 51.0
currency = "EUR"
[gauge]
reads = "down"
error = "2 mm"
[[basin]]
name = "main pond"
floats = true
shape = "box"
length = "3 m"
width = "2 m"
depth = "0.8 m"
[[mark]]
name = "rim"
reading = "10 mm"
role = "spill"
[[mark]]
name = "full"
reading = "40 mm"
role = "target"
[[mark]]
name = "shelf"
reading = "110 mm"
role = "warn"
[[mark]]
name = "intake"
reading = "240 mm"
role = "danger"
[[barrel]]
name = "yard"
shape = "straight"
width = "0.5 m"
breadth = "0.5 m"
height = "0.9 m"
full_line = "0.8 m"
outlet = "80 mm"
pipe_bore = "19 mm"
pipe_length = "9 m"
drop = "350 mm"
source = "tap"
[source.tap]
total_chlorine = "0.5 mg/L"
measured = 2026-06-01
chloramine = false
temperature = "12 degC"
flow = "10 L/min"
price = 4.0
price_per = "1 m3"
[[conditioner]]
from = 2026-04-02
kind = "liquid"
label_dose = "8 mL"
label_volume = "100 L"
rated_for = "1 mg/L"
wait = "10 min"
devices = [["syringe", "20 mL", "0.5 mL"]]
bottle = "1000 mL"
opened = 2026-04-02
"""
SHED = """\
[[barrel]]
name = "shed"
shape = "straight"
width = "0.5 m"
breadth = "0.5 m"
height = "1.0 m"
full_line = "0.95 m"
outlet = "80 mm"
source = "rain"
delivery = "carried"
bucket = "10 L"
"""


def setup_of(text: str = POND) -> Setup:
    """The pond that a text describes; nothing in it may be wrong."""
    loaded = parse(text)
    assert loaded.setup is not None
    assert [p for p in loaded.problems if p.severity == "problem"] == []
    return loaded.setup


def at(text: str) -> int:
    """An instant by the pond's clock: `2026-06-10 08:00`."""
    return int(datetime.fromisoformat(text).replace(tzinfo=ZONE).timestamp())


def entries_of(lines: str) -> list[Entry]:
    """The live entries of journal lines."""
    found = []
    for number, line in enumerate(lines.strip().splitlines(), 1):
        if not line.strip():
            continue
        entry, problems = parse_line(line.strip(), "journal/2026-desk.txt", number, ZONE, None)
        assert entry is not None, problems
        found.append(entry)
    return list(merge(found).live)


def state_of(setup: Setup, lines: str, now: str) -> PondState:
    """What journal lines say at a moment."""
    return fold(setup, entries_of(lines), at(now))
