"""Worksheets on holes, hoses and draining."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import friction, holes, pipes
from pondtui.science.holes import circle_m2
from pondtui.science.pipes import Line, Vessel
from pondtui.worksheets.barrels import VESSEL_INPUTS, vessel_sizes
from pondtui.worksheets.registry import Input, Result, Worksheet
from pondtui.worksheets.sizes import above_zero, discharge, length, one_of
from pondtui.worksheets.sizes import area as area_input

_HOSE_INPUTS = (
    length("roughness", "roughness of the inner wall", "0.0015 mm"),
    Input("fittings", "number", "loss coefficients, entrance and exit included", "1.5", 0, 1e4),
    Input("temp", "temperature", "temperature of the water", "15 degC", 0, 100),
    Input(
        "viscosity",
        "viscosity",
        "kinematic viscosity, in place of the temperature",
        low=0.01,
        high=1000,
        required=False,
    ),
)
_HOSE_CAUTION = (
    "A kinked, curled or dirty hose runs slower; a timed release tells more than a formula."
)
_TORRICELLI = "Torricelli's law with a discharge coefficient; "


def _viscosity(values: Mapping[str, Any]) -> float:
    given: float | None = values.get("viscosity")
    return friction.viscosity_mm2_s(values["temp"]) if given is None else given


def _hole(values: Mapping[str, Any]) -> float:
    if one_of(values, "hole", "hole_area") == "hole":
        return circle_m2(values["hole"])
    return float(values["hole_area"])


def _hole_drain(values: Mapping[str, Any]) -> dict[str, float | str]:
    by_area = one_of(values, "area", "diameter") == "area"
    vessel = values["area"] if by_area else circle_m2(values["diameter"])
    hole, cd = _hole(values), values["cd"]
    start, end = values["depth_start"], values["depth_end"]
    if end > start:
        raise InputError(f"depth_end: must be 0 to {start:g} mm, the depth at the start")
    time = holes.drain_time_s(vessel, hole, start / 1000, end / 1000, cd)
    depth = end
    if "elapsed" in values:
        depth = 1000 * holes.depth_after_m(vessel, hole, start / 1000, values["elapsed"] * 60, cd)
    return {"time_s": time, "depth_mm": depth}


def _level_out(values: Mapping[str, Any]) -> dict[str, float | str]:
    start, end = values["difference_start"], values["difference_end"]
    if end > start:
        raise InputError(f"difference_end: must be 0 to {start:g} mm, the one at the start")
    time = holes.level_out_time_s(
        values["barrel_area"],
        values["pond_area"],
        start / 1000,
        end / 1000,
        values["hole_area"],
        values["cd"],
    )
    return {"time_s": time}


def _hose_flow(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "head", "bore")
    viscosity = _viscosity(values)
    bore = values["bore"]
    line = Line(bore, values["length"], 0.0, values["roughness"], values["fittings"], viscosity)
    velocity = pipes.velocity_m_s(line, values["head"] / 1000)
    reynolds = velocity * bore * 1000 / viscosity
    return {
        "flow_l_per_min": velocity * circle_m2(bore) * 60_000,
        "velocity_m_per_s": velocity,
        "friction_factor": friction.churchill(reynolds, values["roughness"] / bore),
        "reynolds": reynolds,
    }


def _drain_time(values: Mapping[str, Any]) -> dict[str, float | str]:
    above_zero(values, "bore")
    shape, start, end = values["shape"], values["depth_start"], values["depth_end"]
    height = values["diameter"] if shape == "lying" and "diameter" in values else math.inf
    height = values.get("height", height)
    if not end <= start <= height:
        top = "" if math.isinf(height) else f" and at most {height:g} mm"
        raise InputError(f"depth_start: must be at least depth_end, {end:g} mm{top}")
    vessel = Vessel(shape, **vessel_sizes(values))
    line = Line(
        values["bore"],
        values["pipe_length"],
        values["drop"],
        values["roughness"],
        values["fittings"],
        _viscosity(values),
    )
    curve = pipes.drain_curve(vessel, line, start, end)
    return {
        "time_s": curve[-1][0],
        "first_flow_l_per_min": pipes.flow_l_min(line, (start + line.drop_mm) / 1000),
        "last_flow_l_per_min": pipes.flow_l_min(line, (end + line.drop_mm) / 1000),
        "volume_l": vessel.volume_l(start) - vessel.volume_l(end),
    }


def _friction_factor(values: Mapping[str, Any]) -> dict[str, float | str]:
    return {"darcy": friction.darcy(values["reynolds"], values["relative_roughness"])}


def _leak_hole(values: Mapping[str, Any]) -> dict[str, float | str]:
    hole = circle_m2(values["hole"])
    return {"flow_l_per_day": holes.flow_l_per_day(hole, values["head"] / 1000, values["cd"])}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="hole-drain",
        group="hose",
        title="How long a barrel runs out through a hole",
        inputs=(
            area_input("area", "floor area of the barrel"),
            length("diameter", "inner diameter of the barrel, in place of the area"),
            length("hole", "diameter of the hole"),
            area_input("hole_area", "area of the hole, in place of its diameter"),
            length("depth_start", "depth above the hole at the start", required=True),
            length("depth_end", "depth above the hole at the end", "0 mm"),
            discharge(),
            Input("elapsed", "time", "time gone by, for the depth left", low=0, required=False),
        ),
        results=(
            Result("time_s", "s", "time from the depth at the start to the one at the end"),
            Result("depth_mm", "mm", "depth left after the time gone by, or the one at the end"),
        ),
        formula="t = 2 A (√h₀ − √h₁) / (C a √(2 g)); h = (√h₀ − C a √(2 g) t / (2 A))²",
        source=_TORRICELLI + "Cengel & Cimbala, Fluid Mechanics, Example 5-2",
        cautions=("For a bare hole or tap; with a hose on it use drain-time.",),
        example={
            "diameter": "580 mm",
            "hole": "13 mm",
            "depth_start": "850 mm",
            "depth_end": "50 mm",
        },
        compute=_hole_drain,
    ),
    Worksheet(
        name="level-out",
        group="hose",
        title="How long two joined waters take to level out",
        inputs=(
            area_input("barrel_area", "floor area of the barrel", required=True),
            area_input("pond_area", "surface of the pond", required=True),
            length("difference_start", "difference of level at the start", required=True),
            length("difference_end", "difference of level at the end", required=True),
            area_input("hole_area", "area of the opening", required=True),
            discharge(),
        ),
        results=(Result("time_s", "s", "time until the difference has fallen that far"),),
        formula="t = 2 A₁ A₂ (√d₀ − √d₁) / (C a √(2 g) (A₁ + A₂))",
        source=_TORRICELLI + "Choudhary & Prakash, Fluid Mechanics, ch. 6",
        cautions=("Both sides of the opening under water, walls upright.",),
        example={
            "barrel_area": "0.26 m2",
            "pond_area": "8 m2",
            "difference_start": "60 cm",
            "difference_end": "5 cm",
            "hole_area": "2.8 cm2",
        },
        compute=_level_out,
    ),
    Worksheet(
        name="hose-flow",
        group="hose",
        title="What runs through a hose by gravity",
        inputs=(
            length("head", "from the water down to the free end or the pond", required=True),
            length("bore", "inner diameter of the hose", required=True),
            length("length", "length of the hose", required=True),
            *_HOSE_INPUTS,
        ),
        results=(
            Result("flow_l_per_min", "L/min", "flow through the hose"),
            Result("velocity_m_per_s", "m/s", "speed of the water in the hose"),
            Result("friction_factor", "", "Darcy friction factor"),
            Result("reynolds", "", "Reynolds number; smooth flow below about 2000"),
        ),
        formula="g H = v²/2 (K + f L/D), f by Churchill, Q = v π D²/4",
        source="Darcy-Weisbach; Churchill (1977) Chem. Eng. 84(24):91-92; "
        "viscosity IAPWS SR6-08(2011)",
        cautions=(_HOSE_CAUTION, "Measure to the pond's surface where the end is under water."),
        example={"head": "1 m", "bore": "19 mm", "length": "10 m"},
        compute=_hose_flow,
    ),
    Worksheet(
        name="drain-time",
        group="hose",
        title="How long a barrel takes to run out through its hose",
        inputs=(
            *VESSEL_INPUTS,
            length("depth_start", "depth above the outlet at the start", required=True),
            length("depth_end", "depth above the outlet at the end", required=True),
            Input(
                "drop",
                "length",
                "from the outlet down to the free end or the pond's surface",
                low=-1e5,
                high=1e5,
                signed=True,
            ),
            length("bore", "inner diameter of the hose", required=True),
            length("pipe_length", "length of the hose", required=True),
            *_HOSE_INPUTS,
        ),
        results=(
            Result("time_s", "s", "time of the release"),
            Result("first_flow_l_per_min", "L/min", "flow at the start"),
            Result("last_flow_l_per_min", "L/min", "flow at the end"),
            Result("volume_l", "L", "water released"),
        ),
        formula="t = ∫ A(h)/Q(h) dh, g H = v²/2 (K + f L/D), H = h + drop",
        source="Darcy-Weisbach; Churchill (1977) Chem. Eng. 84(24):91-92; "
        "viscosity IAPWS SR6-08(2011)",
        cautions=(
            "An estimate until a release was timed; "
            + _HOSE_CAUTION[0].lower()
            + _HOSE_CAUTION[1:],
            "What stands below the outlet stays in the barrel.",
        ),
        example={
            "shape": "upright",
            "diameter": "580 mm",
            "depth_start": "850 mm",
            "depth_end": "50 mm",
            "drop": "300 mm",
            "bore": "19 mm",
            "pipe_length": "3 m",
        },
        compute=_drain_time,
    ),
    Worksheet(
        name="friction-factor",
        group="hose",
        title="Friction factor of a pipe",
        inputs=(
            Input("reynolds", "number", "Reynolds number", low=1e-6, high=1e10),
            Input("relative_roughness", "number", "roughness over bore", low=0, high=0.05),
        ),
        results=(Result("darcy", "", "Darcy friction factor; Fanning's is a quarter of it"),),
        formula="Re ≤ 2000: f = 64/Re; Re ≥ 4000: 1/√f = −2 log₁₀(e/(3.7 D) + 2.51/(Re √f))",
        source="Hagen-Poiseuille; Colebrook (1939) J. Inst. Civ. Eng. 11:133-156; "
        "between them Churchill (1977) Chem. Eng. 84(24):91-92",
        cautions=("Between 2000 and 4000 the flow itself is unsteady.",),
        example={"reynolds": "100000", "relative_roughness": "0.0001"},
        compute=_friction_factor,
    ),
    Worksheet(
        name="leak-hole",
        group="leak",
        title="What a hole in the liner loses",
        inputs=(
            length("hole", "diameter of the hole", required=True),
            length("head", "water above the hole", required=True),
            discharge(),
        ),
        results=(Result("flow_l_per_day", "L/day", "loss through the hole"),),
        formula="Q = C a √(2 g h)",
        source="Torricelli's law with a discharge coefficient",
        cautions=("Soil behind the liner slows the loss.",),
        example={"hole": "2 mm", "head": "0.5 m"},
        compute=_leak_hole,
    ),
)
