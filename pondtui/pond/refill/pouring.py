"""The dose step: what has to be poured in, and what was."""

from __future__ import annotations

from pondtui.pond.refill.case import Case
from pondtui.pond.refill.doses import in_devices, to_tenth
from pondtui.pond.refill.rates import AgentRate
from pondtui.pond.refill.typed import (
    Answer,
    batch_fields,
    plain,
    read_amount,
    volume_text,
    with_unit,
)


def poured(case: Case, typed: str) -> Answer:
    """What was poured in, judged by what is needed. Raises InputError."""
    conditioner = case.conditioner
    unit = conditioner.unit if conditioner is not None else "mL"
    text = with_unit(typed, unit)
    dimension = "volume" if unit == "mL" else "mass"
    read = read_amount(text, dimension, case, "dose")
    amount = read.value * 1000 if unit == "mL" else read.value
    fields = {**batch_fields(case), "dose": text}
    needed = dose_needed(case)
    if needed is None:
        return Answer("treat", fields, warning="whether it is enough cannot be worked out")
    wanted, measured, _, _ = needed
    fields["for"] = volume_text(case.to_treat_l, case)
    if case.rate is not None:
        fields["rate"] = _rate(case.rate, case)
    fields["needed"] = plain(wanted, unit)
    return Answer("treat", fields, warning=_judge_dose(case, amount, wanted, measured, unit))


def _rate(rate: AgentRate, case: Case) -> str:
    """The rate that applies, so that the dose is judged by it for ever."""
    conditioner, litres = case.conditioner, 100.0
    if conditioner is not None and conditioner.kind == "liquid":
        litres = conditioner.label_volume_l
    number = f"{rate.per_l * litres:.6f}".rstrip("0").rstrip(".")
    return f"{number} {rate.unit} per {volume_text(litres, case)}"


def _judge_dose(case: Case, amount: float, wanted: float, measured: float, unit: str) -> str:
    if wanted <= 0:
        return "nothing in the barrel needs conditioner"
    if amount < wanted * 0.99:
        return f"too little: {plain(measured, unit)} are needed, pour the rest after this"
    rate, conditioner = case.rate, case.conditioner
    litres = max(case.water.held_l, case.to_treat_l, 1.0)
    if rate is not None and conditioner is not None:
        most = rate.label_per_l * conditioner.largest_multiple * litres
        if amount > max(most, measured):
            return (
                f"more than the label allows ({plain(most, unit)}): if it is in already, hold the "
                "water, aerate, and throw it away if far over"
            )
    if amount > measured * 1.5:
        return f"{amount / wanted:.1f} x what is needed"
    return ""


def dose_needed(case: Case) -> tuple[float, float, str, str] | None:
    """(needed, measured up to the mark, unit, in devices) for the next dose; None if unknown."""
    rate, conditioner = case.rate, case.conditioner
    if rate is None or conditioner is None:
        return None
    wanted = rate.per_l * case.to_treat_l
    measured, told = in_devices(wanted, conditioner.devices, rate.unit)
    if not conditioner.devices:
        measured = to_tenth(wanted)
    return wanted, measured, rate.unit, told
