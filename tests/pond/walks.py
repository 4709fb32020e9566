"""What the walks through a batch share, on the screen and without it: barrels to audit, answers."""

from __future__ import annotations

from pondtui.pond.setup.barrels import full_line_l, heel_l, volume_l
from pondtui.pond.setup.model import Barrel
from tests.pond.auditor import Vessel

ANSWERS = {
    "fill": ["line", "150", "60 L", "20", "700 mm", "9999", "twelve"],
    "chlorine": ["0", "0", "0", "0", "<0.02", "0.5", "-1"],
    "temperature": ["17", "18.5", "19", "9", "300"],
    "release": ["all", "all", "40", "left 60 L", "500", "all elsewhere", "-3"],
}
"""Sound, wrong and nonsense, by what a step asks for."""


def vessel(barrel: Barrel) -> Vessel:
    """What the audit has to know of a barrel."""
    return Vessel(
        barrel.name,
        heel_l(barrel),
        full_line_l(barrel),
        lambda depth: volume_l(barrel, depth),
        rain=barrel.source == "rain",
        piped=barrel.delivery == "piped",
    )
