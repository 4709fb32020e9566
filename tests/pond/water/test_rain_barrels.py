"""What a roof should have brought into a rain barrel; constructed, 0.25 L a mm of depth.

Shed: heel 20 L, full line 237.5 L. The roof has 12 m2, runoff 0.85, first flush 0.5 mm: a rain of
10.5 mm brings 12 x 10 x 0.85 = 102 L (1 L/m2/mm, Texas Manual on Rainwater Harvesting ch. 4).
"""

from __future__ import annotations

import pytest

from pondtui.pond.water.rain_barrels import RainBarrel, rain_barrels, worth_a_look
from tests.pond.box import POND, SHED, at, setup_of, state_of

ROOF = """\
[barrel.roof]
area = "12 m2"
runoff = 0.85
first_flush = "0.5 mm"
"""
NOW = "2026-06-10 09:00"


def shed(lines: str, pond: str = POND + SHED + ROOF) -> RainBarrel:
    setup = setup_of(pond)
    (found,) = rain_barrels(setup, state_of(setup, lines, NOW), at(NOW))
    return found


def test_the_roof_brings_the_rain_less_its_first_flush() -> None:
    found = shed("2026-06-09 08:00 | rain | depth=10.5 mm")
    assert found.known_l == 20
    assert found.caught_l == pytest.approx(102)
    assert found.expected_l == pytest.approx(122)
    assert worth_a_look(found)


def test_each_rain_has_its_own_first_flush() -> None:
    two = "2026-06-08 08:00 | rain | depth=5.5 mm\n2026-06-09 08:00 | rain | depth=5.5 mm"
    assert shed(two).caught_l == pytest.approx(102)
    assert shed("2026-06-09 08:00 | rain | depth=0.5 mm").caught_l == 0


def test_no_more_than_to_the_full_line_is_expected() -> None:
    found = shed("2026-06-09 08:00 | rain | depth=40 mm")
    assert found.expected_l == pytest.approx(237.5)
    assert found.spilled_l == pytest.approx(20 + 12 * 39.5 * 0.85 - 237.5)


def test_a_dip_corrects_and_only_rain_after_it_counts() -> None:
    lines = """
    2026-06-08 08:00 | rain | depth=10.5 mm
    2026-06-08 09:00 | dip | barrel=shed; left=90 L
    2026-06-09 08:00 | rain | depth=5.5 mm
    """
    found = shed(lines)
    assert (found.known_l, found.rain_mm) == (90, 5.5)
    assert found.expected_l == pytest.approx(90 + 51)


def test_what_was_drawn_is_gone() -> None:
    lines = """
    2026-06-08 09:00 | dip | barrel=shed; left=200 L
    2026-06-09 08:00 | release | barrel=shed; out=120 L
    """
    assert shed(lines).expected_l == pytest.approx(80)


def test_dry_days_make_nothing_worth_a_look() -> None:
    assert not worth_a_look(shed("2026-06-09 08:00 | rain | depth=0.4 mm"))


def test_a_barrel_without_a_roof_expects_nothing() -> None:
    setup = setup_of(POND + SHED)
    lines = "2026-06-09 08:00 | rain | depth=10 mm"
    assert rain_barrels(setup, state_of(setup, lines, NOW), at(NOW)) == ()
