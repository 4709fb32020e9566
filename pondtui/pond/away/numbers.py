"""Which numbers mean "ring me" and which "act now", from the pond's marks and the limits."""

from __future__ import annotations

from datetime import date

from pondtui.pond.away.amounts import litres_of_fall
from pondtui.pond.away.model import Grid
from pondtui.pond.away.say import Say
from pondtui.pond.daily.readings import limits_of
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.model import PondState
from pondtui.pond.water.recent import recent_loss

FAST_FACTOR, FAST_MM = 3.0, 10.0  # a fall so much faster than usual, and at least that, is none
# of the weather's: common practice, no source


def fast_fall_mm(setup: Setup, state: PondState) -> float:
    """A fall in a day that is no ordinary loss on this pond."""
    usual = recent_loss(setup, state).loss_mm_per_day or 0.0
    return max(FAST_FACTOR * usual, FAST_MM)


def number_grid(setup: Setup, state: PondState, day: date) -> Grid:
    """What is read, when to ring, when to act."""
    say = Say(setup)
    rows = [*_levels(setup, say)]
    hot_c, too_hot_c = limits_of("temp", setup.readings)
    fast = fast_fall_mm(setup, state)
    litres = litres_of_fall(setup, state, day, fast)
    water = f" ({say.litres(litres)})" if litres else ""
    rows += [
        (
            "fall of the level in a day",
            f"{say.gauge(fast)}{water} or more",
            f"{say.gauge(2 * fast)} or more: part 8, level falling fast",
        ),
        (
            "water temperature",
            f"over {say.temp(hot_c)}: shade, more air, less food",
            f"over {say.temp(too_hot_c)}: air on full, no food, ring",
        ),
        ("TOTAL chlorine, barrel", "any colour: open nothing, ring", "-"),
        ("TOTAL chlorine, pond", "-", "any colour: part 8, chlorine got in"),
        ("fish", "one hides or does not eat for two days", "any gasping, lying still, or dead"),
    ]
    return Grid("", ("what you see", "ring me", "act now, then ring"), tuple(rows))


def _levels(setup: Setup, say: Say) -> list[tuple[str, str, str]]:
    """One row for each mark that the water may fall to, or rise to."""
    found = []
    for mark in setup.marks:
        at = say.below(mark.reading_mm)
        if mark.role == "warn":
            found.append((f'gauge, "{mark.name}"', at, "-"))
        elif mark.role == "danger":
            act = f"{at}: unplug the pump so that it does not run dry"
            found.append((f'gauge, "{mark.name}"', "-", act))
        elif mark.role == "spill":
            up = f"{say.gauge(mark.reading_mm)} or {'less' if say.down else 'more'}"
            found.append((f'gauge, "{mark.name}"', f"{up}: let nothing in", "-"))
    return found
