"""Float valve, carbon filter and doser on this pond, in numbers, beside the barrel by hand.

Everything is filled in from pond.toml and worked out by the worksheets.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.pond.refill.case import local_time
from pondtui.pond.refill.consequence import times_chronic
from pondtui.pond.refill.plan import target_mark
from pondtui.pond.refill.rates import strength
from pondtui.pond.refill.running import release_min, tap_flow_l_min
from pondtui.pond.setup.barrels import full_line_l, heel_l
from pondtui.pond.setup.model import Barrel
from pondtui.pond.water.levels import area_m2_at, litres_between, pond_volume_l
from pondtui.pond.water.recent import believed_mm
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.status import Status
from pondtui.worksheets import registry

UNSEEN_MIN = 8 * 60.0  # a night, or a day at work: common practice, no source
FREE_MIN, CHLORAMINE_MIN = 2.0, 10.0  # contact with carbon: dialysis practice
BEDS_L = (1.0, 10.0, 30.0)  # filters as they are sold: common practice, no source
DRIFT = (0.5, 0.8, 1.25)  # of the flow for which a doser was set
BY_HAND_MIN = 10.0  # of the keeper's time a barrel, no waiting: common practice, no source
# what stands in the way whatever the numbers say
VALVE_CAUTIONS = (
    "lift the float by hand: the flow must stop; an overflow at least as wide as the inflow; the "
    "air gap kept",
    "a hose-tap vacuum breaker may not stand under pressure over 12 hours, and nothing may be shut "
    "behind it (ASSE 1011): a float valve needs an air gap or a device made for standing pressure",
    "all that it lets in is untreated",
)
CARBON_CAUTIONS = (
    "carbon is spent after so many litres, which its maker names: count them",
    "a filter sold for taste is not a filter for fish; test TOTAL chlorine behind it",
)
DOSER_CAUTIONS = (
    "injecting into a live hose is a cross-connection with the drinking water: inject after the "
    "air gap, or use an approved device",
    "an empty bottle or a stuck pump lets untreated water in: test TOTAL chlorine",
)


class Part(NamedTuple):
    """One way of doing it: its numbers, its risks, its cautions."""

    name: str
    title: str
    rows: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...] = ()
    numbers: Mapping[str, float | str | None] = {}  # for JSON, units in the keys


class _Site(NamedTuple):
    """What pond.toml and the journal say."""

    status: Status
    barrel: Barrel
    batch_l: float
    flow: float
    chlorine: float | None
    chloramine: bool  # or nobody knows
    pond_l: float
    room_l: float
    a_day_l: float | None

    def volume(self, litres: float) -> str:
        return show(litres, "volume", self.status.setup.pond.units)


def parts(status: Status) -> tuple[Part, ...]:
    """The four ways. Raises InputError that names what pond.toml lacks for it."""
    site = _site(status)
    return (_by_hand(site), _valve(site), _carbon(site), _doser(site))


def _site(status: Status) -> _Site:
    setup, state = status.setup, status.state
    day = local_time(setup, status.now).date()
    barrel = next((b for b in setup.barrels_on(day) if b.source != "rain"), None)
    if barrel is None or setup.floating(day) is None:
        raise InputError(
            "pond.toml needs a [[barrel]] filled from the tap and a [[basin]] that floats"
        )
    flow = tap_flow_l_min(setup, barrel)
    if flow is None:
        raise InputError(f'pond.toml names no flow of {barrel.source}: time a bucket '
                         f'(`pondtui worksheet flow-by-bucket`) and write flow = "..." into '
                         f"[source.{barrel.source}]")  # fmt: skip
    source = setup.sources.get(barrel.source)
    mark = target_mark(setup)
    reading = believed_mm(setup, state, day)
    reading = reading if reading is not None else mark.reading_mm if mark is not None else 0.0
    spill = setup.marks_of("spill")
    room = max(litres_between(setup, reading, spill[0].reading_mm, day), 0.0) if spill else 0.0
    loss = status.recent.loss_mm_per_day
    return _Site(
        status,
        barrel,
        full_line_l(barrel) - heel_l(barrel),
        flow,
        strength(source, day, state.tap_chlorine).total_mg_l,
        source is None or source.chloramine is not False,
        pond_volume_l(setup, reading, day),
        room,
        None if loss is None or loss <= 0 else loss * area_m2_at(setup, reading, day),
    )


def _sheet(name: str, **values: Any) -> dict[str, float | str]:
    return registry.find(name).compute({k: v for k, v in values.items() if v is not None})


def _minutes(value: float) -> str:
    return show(round(value, 1), "time", "metric")


def _by_hand(site: _Site) -> Part:
    """What it is compared with."""
    status = site.status
    fill = site.batch_l / site.flow
    water = status.state.barrels.get(site.barrel.name)
    timed = water.timed if water is not None else ()
    out, _ = release_min(site.barrel, timed, full_line_l(site.barrel), site.batch_l)
    conditioner = status.setup.conditioners[-1] if status.setup.conditioners else None
    wait = conditioner.wait_min if conditioner is not None else 0.0
    whole = fill + wait + (out or 0.0)
    rows = (
        ("a barrel", f"{site.volume(site.batch_l)} at {show(site.flow, 'flow', _system(site))}"),
        ("ready after", f"{_minutes(fill + wait)}, in the pond after {_minutes(whole)}"),
        ("your own time", f"about {_minutes(BY_HAND_MIN)}, and it is tested before it goes in"),
        ("if forgotten", "the hose overfills the barrel: nothing untreated reaches the pond"),
    )
    return Part("by-hand", "The barrel by hand", rows, (), {
        "fill_min": fill, "whole_min": whole, "untreated_l": 0.0,
    })  # fmt: skip


def _valve(site: _Site) -> Part:
    """What it lets in on a good day, and what on a bad one."""
    source = site.status.setup.sources.get(site.barrel.source)
    stuck = _sheet(
        "stuck-valve",
        flow=site.flow,
        time=UNSEEN_MIN,
        price=None if source is None else source.price,
        price_per=1000.0 if source is None else source.price_per_l,
        pond=site.pond_l,
        room=site.room_l,
        chlorine=site.chlorine,
    )
    rows = [("stuck for 8 h", f"{site.volume(_n(stuck, 'volume_l'))} run, "
             f"{site.volume(_n(stuck, 'spilled_l'))} of them over the edge")]  # fmt: skip
    if "cost" in stuck:
        currency = site.status.setup.pond.currency
        rows.append(("the bill", f"{_n(stuck, 'cost'):.2f} {currency}".strip()))
    if "pond_mg_per_l" in stuck:
        rows.append(("chlorine then", _mg(_n(stuck, "pond_mg_per_l"))))
    daily: dict[str, float | str] = {}
    if site.a_day_l is not None:
        text = f"{site.volume(site.a_day_l)} of untreated water, as much as it loses"
        if site.chlorine is not None:
            daily = _sheet("untreated-release", chlorine=site.chlorine, released=site.a_day_l,
                           pond=site.pond_l)  # fmt: skip
            text += f": {_mg(_n(daily, 'pond_mg_per_l'))}"
        rows.append(("every day", text))
    if site.chlorine is None:
        rows.append(("chlorine", "unknown: measure TOTAL chlorine of the tap"))
    return Part("float-valve", "A float valve on the tap", tuple(rows), VALVE_CAUTIONS, {
        "stuck_l": stuck["volume_l"], "spilled_l": stuck["spilled_l"], "cost": stuck.get("cost"),
        "stuck_pond_mg_per_l": stuck.get("pond_mg_per_l"), "untreated_l_per_day": site.a_day_l,
        "day_pond_mg_per_l": daily.get("pond_mg_per_l"),
    })  # fmt: skip


def _carbon(site: _Site) -> Part:
    """How slowly the water must run, and how large a bed the open hose would need."""
    contact = CHLORAMINE_MIN if site.chloramine else FREE_MIN
    what = "chloramine, or nobody knows" if site.chloramine else "free chlorine"
    system = _system(site)
    need = _sheet("carbon-contact", flow=site.flow, contact=contact)
    bed = site.volume(_n(need, "bed_l"))
    rows = [
        ("contact", f"{_minutes(contact)} for {what}"),
        ("at full flow", f"a bed of {bed} for {show(site.flow, 'flow', system)}"),
    ]
    numbers: dict[str, float | str | None] = {
        "contact_min": contact, "bed_at_full_flow_l": need["bed_l"],
    }  # fmt: skip
    for bed_l in BEDS_L:
        limit = _n(_sheet("carbon-contact", bed=bed_l, contact=contact), "flow_l_per_min")
        limit = min(limit, site.flow)
        whole = site.batch_l / limit
        at_hose = bed_l / site.flow * 60
        rows.append((
            f"bed of {site.volume(bed_l)}",
            f"limit {show(limit, 'flow', system, digits=1)}: {_minutes(whole)} a barrel "
            f"(open hose: {at_hose:.0f} s of contact)",
        ))  # fmt: skip
        numbers[f"barrel_min_with_{bed_l:g}_l"] = whole
    batches = 5000.0 / site.batch_l
    rows.append(("spent", f"after so much water: {site.volume(5000.0)} are {batches:.0f} barrels"))
    return Part("carbon-filter", "A carbon filter with a flow limit", tuple(rows), CARBON_CAUTIONS,
                numbers)  # fmt: skip


def _doser(site: _Site) -> Part:
    """The pump's rate for the tap's flow, and the dose when the flow is another one."""
    status = site.status
    day = local_time(status.setup, status.now).date()
    conditioner = status.setup.conditioner_on(day)
    if conditioner is None or conditioner.kind != "liquid":
        rows = (("rate", "only a liquid [[conditioner]] with its label can be dosed by a pump"),)
        return Part("doser", "An automatic doser", rows, DOSER_CAUTIONS)
    rate = _n(_sheet("doser-rate", label_dose=conditioner.label_dose_ml / 1000,
                     label_volume=conditioner.label_volume_l, flow=site.flow, stock_factor=1.0),
              "dose_ml_per_min")  # fmt: skip
    said = [("rate", f"{rate:.2f} mL/min for {show(site.flow, 'flow', _system(site))}")]
    numbers: dict[str, float | str | None] = {"dose_ml_per_min": rate}
    for share in DRIFT:
        dose = 1 / share
        harm = f"{1 - dose:.0%} too little: untreated" if dose < 1 else f"{dose - 1:.0%} too much"
        if dose > conditioner.largest_multiple:
            harm += f", over the label's {conditioner.largest_multiple:g} times"
        flow = show(site.flow * share, "flow", _system(site), digits=1)
        said.append((f"flow {flow}", f"{dose:.2f} times the dose: {harm}"))
        numbers[f"dose_share_at_{share:g}_of_the_flow"] = dose
    return Part("doser", "An automatic doser", tuple(said), DOSER_CAUTIONS, numbers)


def _n(results: Mapping[str, float | str], key: str) -> float:
    return float(results[key])


def _mg(mg_l: float) -> str:
    times = times_chronic(mg_l)
    return f"{mg_l:.3f} mg/L in the pond, {times:.1f} x what water life bears for four days"


def _system(site: _Site) -> str:
    return site.status.setup.pond.units


def lines(found: tuple[Part, ...]) -> list[str]:
    """The comparison for people."""
    said: list[str] = []
    for part in found:
        said.append(part.title)
        width = max(14, *(len(head) for head, _ in part.rows)) + 2
        said += [f"  {head:<{width}}{text}" for head, text in part.rows]
        said += [f"  ! {caution}" for caution in part.cautions]
    return said


def as_json(found: tuple[Part, ...]) -> dict[str, Any]:
    """The numbers of each way and its cautions."""
    return {
        part.name.replace("-", "_"): {**part.numbers, "cautions": list(part.cautions)}
        for part in found
    }
