"""Chlorine in tap water: how much there is, what takes it away, and what is left for the pond.

All concentrations of chlorine are total chlorine as Cl2. Amounts that cannot be (a negative volume,
an unknown agent) raise `ValueError` with one sentence.
"""

from __future__ import annotations

from math import ceil, log2

from pondtui.records import NamedTuple
from pondtui.science import weights as w
from pondtui.science.ranges import not_negative, positive

CHRONIC_MG_L = 0.011  # fresh water life, mean of four days: EPA 440/5-84-030 (1984), from memory
ACUTE_MG_L = 0.019  # fresh water life, mean of one hour: EPA 440/5-84-030 (1984), from memory
MRDL_MG_L = 4.0  # allowed in US tap water, chlorine or chloramine, yearly mean: 40 CFR 141.65
CEILING_MULTIPLE = 3.0  # most label doses in one litre where the label is silent: common practice
CARBON_FREE_MIN = 2.0  # contact that takes free chlorine: dialysis practice
CARBON_CHLORAMINE_MIN = 10.0  # contact that takes chloramine: dialysis practice

END_POINTS = ("tetrathionate", "sulfur", "sulfate")
_THIOSULFATE_PER_CL2 = {"tetrathionate": 2.0, "sulfur": 1.0, "sulfate": 0.25}  # mol per mol


class Agent(NamedTuple):
    """A dry dechlorinating agent."""

    molar_g: float  # molar mass [g/mol]
    per_cl2: float | None  # mol of agent per mol Cl2; None where it depends on the end point
    o2_per_mol: float  # mol O2 that one mol takes when it is oxidised fully


_THIOSULFATE = 2 * w.NA + 2 * w.S + 3 * w.O
AGENTS: dict[str, Agent] = {
    "thiosulfate-pentahydrate": Agent(_THIOSULFATE + 5 * w.WATER, None, 2.0),
    "thiosulfate-anhydrous": Agent(_THIOSULFATE, None, 2.0),
    "bisulfite": Agent(w.NA + w.H + w.S + 3 * w.O, 1.0, 0.5),
    "metabisulfite": Agent(2 * w.NA + 2 * w.S + 5 * w.O, 0.5, 1.0),
    "sulfite": Agent(2 * w.NA + w.S + 3 * w.O, 1.0, 0.5),
    "ascorbic-acid": Agent(6 * w.C + 8 * w.H + 6 * w.O, 1.0, 5.0),
    "sodium-ascorbate": Agent(6 * w.C + 7 * w.H + 6 * w.O + w.NA, 1.0, 5.0),
}


def _agent(name: str) -> Agent:
    if name not in AGENTS:
        raise ValueError(f"agent {name!r} is not known: use one of {', '.join(AGENTS)}")
    return AGENTS[name]


def agent_ratio(agent: str, end_point: str = "tetrathionate") -> float:
    """Mass of a dry agent that takes up one mass of chlorine, r.

    Source: stoichiometry with IUPAC standard atomic weights (2021); the tetrathionate end point
        gives the 7.0 of laboratory practice; AWWA Field Guide (2006) Table 7-2 lists the others.
    Arguments: agent, a name in `AGENTS`; end_point, "tetrathionate", "sulfur" or "sulfate" (only
        thiosulfate has a choice; the other agents have one reaction each).
    Returns: r [mg agent per mg Cl2].
    Formula: r = (mol agent per mol Cl2) x M(agent) / M(Cl2).
    Limits: tetrathionate is the largest need and the safe one for fish; tables for flushing mains
        (AWWA C651) print 1.44 for pentahydrate, far below it. Raises ValueError for unknown words.
    """
    if end_point not in END_POINTS:
        raise ValueError(f"end point {end_point!r} is not known: use {', '.join(END_POINTS)}")
    chosen = _agent(agent)
    moles = _THIOSULFATE_PER_CL2[end_point] if chosen.per_cl2 is None else chosen.per_cl2
    return moles * chosen.molar_g / w.CL2


RATIOS: dict[str, float] = {name: agent_ratio(name) for name in AGENTS}  # mg per mg, safe end point


def dechlorinator_g(
    volume_l: float,
    chlorine_mg_l: float,
    agent: str,
    *,
    margin: float = 0.10,
    purity: float = 1.0,
    end_point: str = "tetrathionate",
) -> float:
    """Mass of dry agent for a volume of tap water, m.

    Source: mass balance on `agent_ratio`; the margin of a tenth as in AWWA Field Guide (2006)
        Table 7-2.
    Arguments: volume_l [L] >= 0; chlorine_mg_l, total chlorine [mg/L as Cl2] >= 0; agent; margin
        [fraction] >= 0; purity [fraction] above 0 to 1; end_point as in `agent_ratio`.
    Returns: m [g].
    Formula: m = V C r / 1000 x (1 + margin) / purity.
    Limits: chlorine must be TOTAL chlorine; a free-chlorine test reads near zero on chloramine.
        Raises ValueError for values outside the ranges.
    """
    not_negative(volume_l, "volume")
    not_negative(chlorine_mg_l, "chlorine")
    not_negative(margin, "margin")
    if not 0 < purity <= 1:
        raise ValueError(f"purity must be above 0 % and not over 100 %, not {purity * 100:g} %")
    ratio = agent_ratio(agent, end_point)
    return volume_l * chlorine_mg_l * ratio / 1000 * (1 + margin) / purity


def agent_per_oxygen(agent: str) -> float:
    """Mass of agent that one mass of oxygen oxidises fully, q.

    Source: stoichiometry with IUPAC standard atomic weights (2021); boiler practice prints 7.88 for
        sodium sulfite.
    Arguments: agent, a name in `AGENTS`.
    Returns: q [mg agent per mg O2].
    Formula: q = M(agent) / (mol O2 per mol agent x M(O2)).
    Limits: full oxidation, to sulfate or to carbon dioxide. Sulfites take oxygen within minutes,
        thiosulfate slowly through microbes, ascorbates more slowly still (their first step, to
        dehydroascorbate, needs only a tenth). Raises ValueError for an unknown agent.
    """
    chosen = _agent(agent)
    return chosen.molar_g / (chosen.o2_per_mol * w.O2)


def oxygen_demand_mg_l(agent: str, excess_mg_l: float) -> float:
    """Oxygen that agent left over after dechlorination can take, D.

    Source: stoichiometry, see `agent_per_oxygen`.
    Arguments: agent; excess_mg_l, agent left over [mg/L] >= 0.
    Returns: D [mg/L O2].
    Formula: D = excess / q.
    Limits: an upper bound, see `agent_per_oxygen`. Raises ValueError for a negative excess.
    """
    not_negative(excess_mg_l, "excess")
    return excess_mg_l / agent_per_oxygen(agent)


def dose_factor(
    tap_chlorine_mg_l: float | None, label_chlorine_mg_l: float | None, multiplier: float = 1.0
) -> float:
    """How many label doses this tap water needs, F.

    Source: label-rate arithmetic.
    Arguments: tap_chlorine_mg_l, total chlorine of the tap [mg/L] or None; label_chlorine_mg_l, the
        strength the label is rated for [mg/L] > 0 or None; multiplier, the label's own for
        chloramine [1] > 0.
    Returns: F [1], at least 1.
    Formula: F = max(1, multiplier, tap / label).
    Limits: one weak reading never lowers the dose. Raises ValueError for values out of range.
    """
    positive(multiplier, "multiplier")
    factor = max(1.0, multiplier)
    if tap_chlorine_mg_l is None or label_chlorine_mg_l is None:
        return factor
    not_negative(tap_chlorine_mg_l, "tap chlorine")
    positive(label_chlorine_mg_l, "the label's chlorine")
    return max(factor, tap_chlorine_mg_l / label_chlorine_mg_l)


def label_dose_ml(
    volume_l: float,
    label_dose_ml: float,
    label_volume_l: float,
    *,
    tap_chlorine_mg_l: float | None = None,
    label_chlorine_mg_l: float | None = None,
    multiplier: float = 1.0,
) -> float:
    """Liquid conditioner for a volume of tap water by the label's rate, d.

    Source: label-rate arithmetic.
    Arguments: volume_l, volume to treat [L] >= 0; label_dose_ml [mL] > 0 for label_volume_l
        [L] > 0; the rest as in `dose_factor`.
    Returns: d [mL], not rounded.
    Formula: d = V x label dose / label volume x F.
    Limits: never less than the plain label dose. Raises ValueError for values out of range.
    """
    not_negative(volume_l, "volume to treat")
    positive(label_dose_ml, "the label's dose")
    positive(label_volume_l, "the label's volume")
    factor = dose_factor(tap_chlorine_mg_l, label_chlorine_mg_l, multiplier)
    return volume_l * label_dose_ml / label_volume_l * factor


def volume_to_treat_l(fill_l: float, heel_l: float, heel_clear: bool) -> float:
    """Water in the barrel that still holds chlorine, V.

    Source: volume balance.
    Arguments: fill_l, what is in the barrel [L] >= 0; heel_l, what lay in it before filling [L],
        0 to fill_l; heel_clear, True only when the heel was treated and a TOTAL test on it read
        nothing.
    Returns: V [L].
    Formula: V = fill - heel where the heel is clear, else fill.
    Limits: fill is the measured level, not the nominal size. Raises ValueError for a heel above it.
    """
    not_negative(fill_l, "fill level")
    not_negative(heel_l, "heel")
    if heel_l > fill_l:
        raise ValueError(f"the heel ({heel_l:g} L) cannot be more than the fill ({fill_l:g} L)")
    return fill_l - heel_l if heel_clear else fill_l


def round_up(dose_ml: float, graduation_ml: float) -> float:
    """Dose at the next mark of the measuring device, never below the dose.

    Source: arithmetic.
    Arguments: dose_ml [mL] >= 0; graduation_ml, the step between marks [mL] > 0.
    Returns: dose [mL].
    Formula: ceil(dose / step) x step.
    Limits: a dose that lies on a mark but for the last binary digit stays on it. Raises ValueError
        for values out of range.
    """
    not_negative(dose_ml, "dose")
    positive(graduation_ml, "graduation")
    marks = ceil(dose_ml / graduation_ml - 1e-9)
    return max(0, marks) * graduation_ml


def chloramine_ammonia_n_mg_l(combined_mg_l: float) -> float:
    """Ammonia that stays behind when chloramine is broken, as nitrogen, A.

    Source: stoichiometry of monochloramine with IUPAC standard atomic weights (2021).
    Arguments: combined_mg_l, combined chlorine (total less free) [mg/L as Cl2] >= 0.
    Returns: A [mg/L as N].
    Formula: A = combined x M(N) / M(Cl2) = 0.1976 x combined.
    Limits: one N for each Cl2; dichloramine would hold half. Raises ValueError if negative.
    """
    not_negative(combined_mg_l, "combined chlorine")
    return combined_mg_l * w.N / w.CL2


def pond_chlorine_mg_l(chlorine_mg_l: float, released_l: float, pond_l: float) -> float:
    """Chlorine in the pond after untreated water ran in, C.

    Source: mass balance.
    Arguments: chlorine_mg_l of the water that ran in [mg/L as Cl2] >= 0; released_l [L] >= 0;
        pond_l, the pond before [L] > 0.
    Returns: C [mg/L as Cl2].
    Formula: C = chlorine x released / (pond + released): added water counts in the final volume.
    Limits: upper bound, mixed at once; the pond's own demand lowers it, a badly mixed corner does
        not. Raises ValueError for values out of range.
    """
    not_negative(chlorine_mg_l, "chlorine")
    not_negative(released_l, "released volume")
    positive(pond_l, "pond volume")
    return chlorine_mg_l * released_l / (pond_l + released_l)


def kit_zero_pond_mg_l(first_step_mg_l: float, released_l: float, pond_l: float) -> float:
    """Most chlorine that a kit's "0" can still bring into the pond, C.

    Source: mass balance, compared with the chronic limit of EPA 440/5-84-030 (1984), from memory.
    Arguments: first_step_mg_l, the first step the kit can show [mg/L] >= 0; released_l [L] >= 0;
        pond_l, the pond before [L] > 0.
    Returns: C [mg/L as Cl2].
    Formula: C = first step x released / (pond + released).
    Limits: "0" means below the first step, not none. Raises ValueError for values out of range.
    """
    return pond_chlorine_mg_l(first_step_mg_l, released_l, pond_l)


def aired_mg_l(chlorine_mg_l: float, half_life_min: float, time_min: float) -> float:
    """Chlorine left after standing, C.

    Source: first-order decay.
    Arguments: chlorine_mg_l at the start [mg/L] >= 0; half_life_min [min] > 0; time_min [min] >= 0.
    Returns: C [mg/L].
    Formula: C = C0 x 2^(-t / half-life).
    Limits: half-lives are unknown in practice: hours for free chlorine in a shallow stirred tub,
        days to weeks for chloramine. Standing is not treatment. Raises ValueError for values out of
        range.
    """
    not_negative(chlorine_mg_l, "chlorine")
    positive(half_life_min, "half-life")
    not_negative(time_min, "time")
    return float(chlorine_mg_l * 2 ** (-time_min / half_life_min))


def airing_time_min(chlorine_mg_l: float, half_life_min: float, target_mg_l: float) -> float:
    """Time of standing until the chlorine has fallen to a target, t.

    Source: first-order decay, the inverse of `aired_mg_l`.
    Arguments: chlorine_mg_l at the start [mg/L] > 0; half_life_min [min] > 0; target_mg_l
        [mg/L] > 0.
    Returns: t [min]; 0 where the start is at or below the target.
    Formula: t = half-life x log2(C0 / target).
    Limits: as `aired_mg_l`; none is never reached. Raises ValueError for values out of range.
    """
    positive(chlorine_mg_l, "chlorine")
    positive(half_life_min, "half-life")
    positive(target_mg_l, "target")
    return max(0.0, half_life_min * log2(chlorine_mg_l / target_mg_l))


def carbon_contact_min(bed_l: float, flow_l_per_min: float) -> float:
    """Empty-bed contact time of a carbon filter, EBCT.

    Source: definition; 2 min for free chlorine and 10 min for chloramine are dialysis practice.
    Arguments: bed_l, volume of the carbon bed [L] > 0; flow_l_per_min [L/min] > 0.
    Returns: EBCT [min].
    Formula: EBCT = V / Q.
    Limits: fresh carbon; contact says nothing of exhaustion. Raises ValueError for values out
        of range.
    """
    positive(bed_l, "carbon bed")
    positive(flow_l_per_min, "flow")
    return bed_l / flow_l_per_min


def doser_ml_per_min(
    label_dose_ml: float, label_volume_l: float, flow_l_per_min: float, stock_factor: float = 1.0
) -> float:
    """Rate at which a doser must feed conditioner into running water, d.

    Source: label-rate arithmetic.
    Arguments: label_dose_ml [mL] > 0 for label_volume_l [L] > 0; flow_l_per_min [L/min] >= 0;
        stock_factor [1] > 0: parts of dosing liquid made from one part of product.
    Returns: d [mL/min].
    Formula: d = Q x label dose / label volume x stock factor.
    Limits: holds for one steady flow; tap flow varies. Raises ValueError for values out of range.
    """
    positive(label_dose_ml, "the label's dose")
    positive(label_volume_l, "the label's volume")
    not_negative(flow_l_per_min, "flow")
    positive(stock_factor, "stock factor")
    return flow_l_per_min * label_dose_ml / label_volume_l * stock_factor
