"""A pond whose keeper wrote what breaks careless pages, tables and calendars."""

from __future__ import annotations

from pondtui.pond.away.model import Sheet, Visit
from tests.pond.away.ponds import FIRST, pond, sheet

SCRIPT = "<script>document.title='run'</script>"
IMAGE = "<img src=x onerror=\"document.title='run'\">"
BREAKOUT = "\"><svg onload=document.title='run'>"
CLOSER = "</textarea></style></script><!--"
LINK = "[tap](https://example.org/x) ![p](https://example.org/p.png)"
MARKS = "a|b `c` *d* _e_ ~~f~~ \\g"
NASTY = (SCRIPT, IMAGE, BREAKOUT, CLOSER, LINK, MARKS)


def nasty_sheet() -> Sheet:
    """Every place that a keeper can fill holds one of them."""
    setup = pond()
    house = setup.house._replace(
        gate=SCRIPT, breaker=IMAGE, stop_cock=BREAKOUT, dog=CLOSER, hours=LINK, normal=MARKS,
        food=SCRIPT, late=IMAGE, gate_code=BREAKOUT, emergency_number=SCRIPT,
    )  # fmt: skip
    people = tuple(p._replace(name=IMAGE, phone=BREAKOUT) for p in setup.persons)
    supplies = tuple(s._replace(name=BREAKOUT, place=SCRIPT) for s in setup.supplies)
    marks = tuple(m._replace(name=f"{n} {IMAGE}") for n, m in enumerate(setup.marks))
    (barrel,) = (b._replace(name=BREAKOUT) for b in setup.barrels)
    setup = setup._replace(
        house=house, persons=people, supplies=supplies, marks=marks, barrels=(barrel,),
        pond=setup.pond._replace(name=f"Box {CLOSER}"),
    )  # fmt: skip
    visit = Visit(FIRST, barrel=BREAKOUT, release_l=180, only_below_mm=70, tasks=(SCRIPT, CLOSER))
    return sheet(setup, "", planned=(visit,), sitter="<b>Sam</b>", private=True)
