"""Worksheets of chlorine: doses, dry agents, chloramine's ammonia, and water let in untreated."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pondtui.errors import InputError
from pondtui.science import chlorine as cl
from pondtui.science.nitrogen import convert
from pondtui.worksheets.registry import Input, Result, Worksheet

GROUP = "Chlorine"
TEASPOON_ML = 5.0  # the spoon a label means: 21 CFR 101.9(b)(5)(viii)
TOTAL = (
    "Test TOTAL chlorine: a free-chlorine test reads near zero on chloramine, and 0 on a kit only "
    "means below its first step."
)
POWDER = "Gloves and eye protection for powders; keep them locked away, in their own jar, unmixed."


def _conditioner_dose(v: Mapping[str, Any]) -> dict[str, float | str]:
    tap, label, multiplier = v.get("tap_chlorine"), v.get("label_chlorine"), v["multiplier"]
    if tap is not None and label is None:
        raise InputError(
            "label_chlorine is needed with tap_chlorine: the strength the label's dose is rated "
            "for; where the label names none, leave both out and test after dosing"
        )
    ceiling = max(cl.CEILING_MULTIPLE, multiplier)
    factor = cl.dose_factor(tap, label, multiplier)
    if factor > ceiling:
        raise InputError(
            f"this water needs {factor:.3g} label doses and more than {ceiling:.3g} are not safe: "
            "this product cannot do it, use a stronger one or a dry agent"
        )
    volume_l = cl.volume_to_treat_l(v["fill_level"], v["heel"], v["heel_clear"])
    dose_ml = cl.label_dose_ml(
        volume_l,
        v["label_dose"] * 1000,
        v["label_volume"],
        tap_chlorine_mg_l=tap,
        label_chlorine_mg_l=label,
        multiplier=multiplier,
    )
    step_ml = v["graduation"] * 1000 if "graduation" in v else None
    measured_ml = cl.round_up(dose_ml, step_ml) if step_ml is not None else dose_ml
    return {"dose_ml": dose_ml, "measured_ml": measured_ml, "teaspoons": dose_ml / TEASPOON_ML}


def _dechlorinator_mass(v: Mapping[str, Any]) -> dict[str, float | str]:
    agent, end_point = v["agent"], v["end_point"]
    ratio = cl.agent_ratio(agent, end_point)
    mass_g = cl.dechlorinator_g(
        v["volume"],
        v["chlorine"],
        agent,
        margin=v["margin"],
        purity=v["purity"],
        end_point=end_point,
    )
    excess_mg_l = v.get("excess", v["chlorine"] * ratio * v["margin"])
    results: dict[str, float | str] = {"ratio": ratio, "mass_g": mass_g}
    if "stock" in v:
        results["stock_ml"] = mass_g / (v["stock"] / 1000) * 1000
    results["oxygen_demand_mg_per_l"] = cl.oxygen_demand_mg_l(agent, excess_mg_l)
    results["agent_per_oxygen"] = cl.agent_per_oxygen(agent)
    return results


def _combined_mg_l(v: Mapping[str, Any]) -> float:
    if "combined" in v and not {"total", "free"} & v.keys():
        return float(v["combined"])
    if "combined" not in v and {"total", "free"} <= v.keys():
        if v["free"] > v["total"]:
            raise InputError("free chlorine cannot be more than total chlorine: measure both again")
        return float(v["total"] - v["free"])
    raise InputError("give combined, or total and free, and not both")


def _chloramine_ammonia(v: Mapping[str, Any]) -> dict[str, float | str]:
    combined = _combined_mg_l(v)
    ammonia_n = cl.chloramine_ammonia_n_mg_l(combined)
    results: dict[str, float | str] = {
        "combined_mg_per_l": combined,
        "ammonia_n_mg_per_l": ammonia_n,
        "ammonia_nh3_mg_per_l": convert(ammonia_n, "N", "NH3"),
    }
    if ("released" in v) != ("pond" in v):
        raise InputError("released and pond go together: give both volumes or neither")
    if "released" in v:
        # chlorine and its ammonia are thinned alike
        results["pond_rise_n_mg_per_l"] = cl.pond_chlorine_mg_l(ammonia_n, v["released"], v["pond"])
    return results


def _untreated_release(v: Mapping[str, Any]) -> dict[str, float | str]:
    pond_mg_l = cl.pond_chlorine_mg_l(v["chlorine"], v["released"], v["pond"])
    return {
        "pond_mg_per_l": pond_mg_l,
        "times_chronic_limit": pond_mg_l / cl.CHRONIC_MG_L,
        "dechlorinator_g": cl.dechlorinator_g(
            v["released"], v["chlorine"], "thiosulfate-pentahydrate"
        ),
    }


def _chlorine_airing(v: Mapping[str, Any]) -> dict[str, float | str]:
    if ("time" in v) == ("target" in v):
        raise InputError("give time or target, one of the two")
    if "time" in v:
        time_min = v["time"]
    else:
        time_min = cl.airing_time_min(v["chlorine"], v["half_life"], v["target"])
    left = cl.aired_mg_l(v["chlorine"], v["half_life"], time_min)
    return {"left_mg_per_l": left, "time_h": time_min / 60}


SHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        name="conditioner-dose",
        group=GROUP,
        title="Liquid conditioner for a barrel",
        inputs=(
            Input("label_dose", "volume", "the label's dose"),
            Input("label_volume", "volume", "the water that this dose is for"),
            Input("fill_level", "volume", "what is in the barrel, by its level"),
            Input("heel", "volume", "what lay in it before filling", "0 L"),
            Input(
                "heel_clear",
                "yesno",
                "heel was treated and a total chlorine test on it read nothing since",
                "no",
            ),
            Input("tap_chlorine", "concentration", "total chlorine of the tap", required=False),
            Input(
                "label_chlorine",
                "concentration",
                "strength that the label's dose is rated for",
                required=False,
            ),
            Input("multiplier", "number", "the label's own for chloramine", "1", low=0.01, high=20),
            Input("graduation", "volume", "step between marks of the measure", required=False),
        ),
        results=(
            Result("dose_ml", "mL", "dose, unrounded"),
            Result("measured_ml", "mL", "dose rounded up to the next mark"),
            Result("teaspoons", "", "dose in spoons of 5 mL"),
        ),
        formula="volume to treat x label dose / label volume x max(1, multiplier, tap / label)",
        source="label-rate arithmetic; teaspoon of 5 mL: 21 CFR 101.9(b)(5)(viii)",
        cautions=(
            "The label stands above this sheet; double only where it says so for chloramine.",
            "More than 3 label doses in one litre are refused, unless the label itself names more.",
            TOTAL,
            "Kitchen spoons differ by a third: use a syringe.",
            "Conditioner leaves the ammonia of chloramine behind and can make ammonia kits read "
            "high; it destroys many medicines.",
        ),
        example={
            "label_dose": "5 mL",
            "label_volume": "40 L",
            "fill_level": "200 L",
            "heel": "60 L",
            "heel_clear": "yes",
            "multiplier": "2",
            "graduation": "1 mL",
        },
        compute=_conditioner_dose,
    ),
    Worksheet(
        name="dechlorinator-mass",
        group=GROUP,
        title="Dry agent by weight",
        inputs=(
            Input("agent", "choice", "what is in the jar", words=tuple(cl.AGENTS)),
            Input("volume", "volume", "water to treat"),
            Input("chlorine", "concentration", "total chlorine as Cl2"),
            Input("margin", "fraction", "more than the bare need", "10 %", low=0, high=10),
            Input("purity", "fraction", "share of agent in the jar", "100 %", low=0.01, high=1),
            Input(
                "end_point",
                "choice",
                "what thiosulfate turns into",
                "tetrathionate",
                words=cl.END_POINTS,
            ),
            Input(
                "stock", "concentration", "strength of a home-made solution", low=1, required=False
            ),
            Input(
                "excess",
                "concentration",
                "agent left over in the water, the margin when left out",
                required=False,
            ),
        ),
        results=(
            Result("ratio", "", "mg of pure agent for one mg of chlorine"),
            Result("mass_g", "g", "to weigh out, margin and purity included"),
            Result("stock_ml", "mL", "the same as solution"),
            Result("oxygen_demand_mg_per_l", "mg/L", "oxygen the excess takes if fully oxidised"),
            Result("agent_per_oxygen", "", "mg of agent that take one mg of oxygen"),
        ),
        formula="mass = volume x chlorine x ratio x (1 + margin) / purity",
        source="stoichiometry, IUPAC standard atomic weights (2021); "
        "AWWA Field Guide (2006) Table 7-2",
        cautions=(
            TOTAL,
            "For fish keep the tetrathionate end point; tables for flushing water mains give a "
            "fifth of it.",
            "Bisulfite and metabisulfite take oxygen fast, thiosulfate slowly: aerate.",
            "Ascorbic acid is reported not to remove chloramine: test.",
            POWDER,
        ),
        example={
            "agent": "thiosulfate-pentahydrate",
            "volume": "50 US gal",
            "chlorine": "2.5 mg/L",
            "stock": "100 g/L",
        },
        compute=_dechlorinator_mass,
    ),
    Worksheet(
        name="chloramine-ammonia",
        group=GROUP,
        title="Ammonia that chloramine leaves behind",
        inputs=(
            Input("combined", "concentration", "combined chlorine as Cl2", required=False),
            Input("total", "concentration", "total chlorine as Cl2", required=False),
            Input("free", "concentration", "free chlorine as Cl2", required=False),
            Input("released", "volume", "water let into the pond", required=False),
            Input("pond", "volume", "pond before that", required=False),
        ),
        results=(
            Result("combined_mg_per_l", "mg/L", "combined chlorine, total less free"),
            Result("ammonia_n_mg_per_l", "mg/L", "ammonia in the treated water, as N"),
            Result("ammonia_nh3_mg_per_l", "mg/L", "the same, as NH3"),
            Result("pond_rise_n_mg_per_l", "mg/L", "rise of total ammonia in the pond, as N"),
        ),
        formula="N = combined x 14.007 / 70.90; rise = N x released / (pond + released)",
        source="stoichiometry of monochloramine, IUPAC standard atomic weights (2021)",
        cautions=(
            "Conditioner does not remove this ammonia, and can make ammonia kits read high.",
            "Utilities switch disinfectant for weeks: ring them.",
        ),
        example={
            "total": "2.5 mg/L",
            "free": "0.1 mg/L",
            "released": "200 L",
            "pond": "4000 L",
        },
        compute=_chloramine_ammonia,
    ),
    Worksheet(
        name="untreated-release",
        group=GROUP,
        title="Tap water got in untreated",
        inputs=(
            Input("chlorine", "concentration", "total chlorine of the tap as Cl2"),
            Input("released", "volume", "what ran in"),
            Input("pond", "volume", "pond before that", low=0.001),
        ),
        results=(
            Result("pond_mg_per_l", "mg/L", "chlorine in the pond, mixed"),
            Result("times_chronic_limit", "", "times the limit for water life, 0.011 mg/L"),
            Result("dechlorinator_g", "g", "thiosulfate pentahydrate for all of it, 10 % more"),
        ),
        formula="chlorine x released / (pond + released); grams as dechlorinator-mass",
        source="mass balance; EPA 440/5-84-030 (1984) chronic limit 0.011 mg/L, from memory",
        cautions=(
            "Dilution is not treatment: dose first, then aerate, then test TOTAL chlorine.",
            "Mixed at once it would be this much; near the inflow it is far more.",
            "Call a fish vet and the utility when unsure.",
        ),
        example={"chlorine": "2 mg/L", "released": "400 L", "pond": "3600 L"},
        compute=_untreated_release,
    ),
    Worksheet(
        name="chlorine-airing",
        group=GROUP,
        title="Chlorine left after standing",
        inputs=(
            Input("chlorine", "concentration", "chlorine at the start"),
            Input("half_life", "time", "time in which half of it goes"),
            Input("time", "time", "time of standing", required=False),
            Input("target", "concentration", "chlorine to reach", required=False),
        ),
        results=(
            Result("left_mg_per_l", "mg/L", "chlorine left"),
            Result("time_h", "h", "time of standing"),
        ),
        formula="left = chlorine x 2^(-time / half-life)",
        source="first-order decay",
        cautions=(
            "Standing is not treatment: half-lives are unknown in practice, from hours for free "
            "chlorine to weeks for chloramine.",
            TOTAL,
        ),
        example={"chlorine": "2 mg/L", "half_life": "12 h", "target": "0.011 mg/L"},
        compute=_chlorine_airing,
    ),
)
