"""What follows from the description as it stands: volumes, heel, doses, minutes, room."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from types import MappingProxyType

from pondtui.errors import InputError
from pondtui.pond.refill.rates import TapTest, rate_per_l
from pondtui.pond.refill.running import release_min
from pondtui.pond.setup import barrels
from pondtui.pond.setup.model import Barrel, Basin, Setup
from pondtui.pond.setup.shapes import area_at_edge_m2, full_l
from pondtui.pond.state.model import TimedRelease
from pondtui.pond.water.levels import area_m2_at, litres_between, pond_volume_l
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views import setup_pictures as pictures
from pondtui.views.canvas import Rows
from pondtui.views.words import litres, reading


class Known(NamedTuple):
    """What the journal knows that figures rest on."""

    timed: Mapping[str, Sequence[TimedRelease]] = MappingProxyType({})  # by barrel
    tap_test: TapTest = None


_NOT_YET = "figures come when what is needed stands here without a mistake"


def figures(
    setup: Setup | None, table: str, texts: Mapping[str, str], day: date, known: Known
) -> list[str]:
    """Sentences about one table of the description; none where nothing follows from it."""
    tell = _TELL.get(table)
    if tell is None:
        return []
    if setup is None:
        return [_NOT_YET]
    try:
        return tell(setup, texts, day, known) or [_NOT_YET]
    except (InputError, ValueError):
        return [_NOT_YET]


def picture(
    setup: Setup | None, table: str, texts: Mapping[str, str], day: date, size: tuple[int, int],
    *, ascii: bool,
) -> Rows:  # fmt: skip
    """The basin that floats, or a barrel, to scale; nothing where there is none to draw."""
    width, height = size
    if setup is None or height < 4 or width < 40:
        return ()
    if table in ("pond", "gauge", "basin", "mark"):
        outline = pictures.pond_outline(setup, day)
        return pictures.to_scale(width, height, outline, ascii=ascii) if outline else ()
    barrel = _barrel(setup, texts) if table == "barrel" else None
    if barrel is None:
        return ()
    drawn = pictures.barrel_outline(setup, barrel, high_known=True, full=True, outlet=True)
    return pictures.to_scale(width, height, drawn, ascii=ascii)


def _gauge(setup: Setup, _texts: Mapping[str, str], day: date, _known: Known) -> list[str]:
    marks = setup.marks_of("target") or list(setup.marks)
    if not marks:
        return []
    error = setup.gauge.error_mm
    wet = area_m2_at(setup, marks[0].reading_mm, day) * error
    return [f"an error of {reading(setup, error)} is {litres(setup, wet)} of water"]


def _basin(setup: Setup, texts: Mapping[str, str], day: date, _known: Known) -> list[str]:
    basin = next((b for b in setup.basins if _is(b, texts)), None)
    if basin is None:
        return []
    if not basin.floats:
        area, full = area_at_edge_m2(basin), full_l(basin)
        return [f"{show(area, 'area', setup.pond.units)} at the edge, {litres(setup, full)}"]
    alone = setup._replace(basins=(basin, *(b for b in setup.basins if b.held)))
    told = [pictures.pond_figures(alone._replace(basins=(basin,)), day)]
    told.append(f"{litres(setup, area_at_edge_m2(basin) * basin.water_share)} for each mm"
                if setup.pond.units == "metric" else "")  # fmt: skip
    return [*(text for text in told if text), *_spill_room(alone, day)]


def _spill_room(setup: Setup, day: date) -> list[str]:
    """Litres from the target up to where it runs over."""
    targets, spills = setup.marks_of("target"), setup.marks_of("spill")
    if not targets or not spills:
        return []
    room = litres_between(setup, targets[0].reading_mm, spills[0].reading_mm, day)
    return [f"room from {targets[0].name} up to {spills[0].name}: {litres(setup, room)}"]


def _mark(setup: Setup, texts: Mapping[str, str], day: date, _known: Known) -> list[str]:
    mark = setup.mark(texts.get("name", "").strip())
    if mark is None:
        return []
    whole = pond_volume_l(setup, mark.reading_mm, day)
    told = [f"the pond holds {litres(setup, whole)} at {mark.name}"]
    for spill in setup.marks_of("spill"):
        if spill.name != mark.name:
            room = litres_between(setup, mark.reading_mm, spill.reading_mm, day)
            told.append(f"{litres(setup, room)} from here up to {spill.name}")
    return told


def _of_barrel(setup: Setup, texts: Mapping[str, str], day: date, known: Known) -> list[str]:
    barrel = _barrel(setup, texts)
    if barrel is None:
        return []
    told = [pictures.barrel_figures(setup, barrel, day, known.tap_test)]
    full = barrels.full_line_l(barrel)
    minutes, how = release_min(barrel, known.timed.get(barrel.name, ()), full)
    if minutes is not None:
        told.append(f"a full one runs out in {show(minutes, 'time', setup.pond.units)}: {how}")
    elif barrel.delivery == "carried":
        buckets = (full - barrels.heel_l(barrel)) / barrel.bucket_l
        told.append(f"about {buckets:.0f} buckets to carry")
    else:
        told.append("how long a release takes: needs pipe bore and pipe length")
    return told


def _source(setup: Setup, _texts: Mapping[str, str], day: date, known: Known) -> list[str]:
    return [
        f"{barrel.name}: {pictures.barrel_figures(setup, barrel, day, known.tap_test)}"
        for barrel in setup.barrels_on(day)
        if barrel.source != "rain"
    ][:3]


def _conditioner(setup: Setup, _texts: Mapping[str, str], day: date, known: Known) -> list[str]:
    conditioner, told = setup.conditioner_on(day), []
    for barrel in setup.barrels_on(day)[:3]:
        rate = (
            rate_per_l(setup, barrel.source, day, known.tap_test)
            if barrel.source != "rain"
            else None
        )
        if rate is None or conditioner is None:
            continue
        dose = rate.per_l * barrels.full_line_l(barrel)
        lasts = ""
        if conditioner.bottle_ml and dose:
            lasts = f", a bottle lasts {int(conditioner.bottle_ml / dose)} of them"
        told.append(f"{barrel.name}: {dose:.3g} {rate.unit} for a full barrel ({rate.why}){lasts}")
    return told


_TELL: dict[str, Callable[[Setup, Mapping[str, str], date, Known], list[str]]] = {
    "gauge": _gauge,
    "basin": _basin,
    "mark": _mark,
    "barrel": _of_barrel,
    "source": _source,
    "conditioner": _conditioner,
}


def _barrel(setup: Setup, texts: Mapping[str, str]) -> Barrel | None:
    return next((barrel for barrel in setup.barrels if _is(barrel, texts)), None)


def _is(thing: Barrel | Basin, texts: Mapping[str, str]) -> bool:
    """Whether this is the thing of the form: by its name, and its day where it has one."""
    day = texts.get("from", "").strip()
    return thing.name == " ".join(texts.get("name", "").split()) and (
        not day or thing.since.isoformat() == day
    )
