"""What is typed at a step, as the entry it means.

A fact is never refused: an amount that is too little or too much is taken with a `warning`, which
the screen shows and asks about once. Only what cannot be read raises InputError.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from pondtui import units
from pondtui.errors import InputError, QuantityError
from pondtui.pond.refill.case import Case
from pondtui.pond.refill.pouring import dose_needed, poured
from pondtui.pond.refill.procedure import NO_FILL, Step
from pondtui.pond.refill.typed import (
    Answer,
    amount_text,
    batch_fields,
    plain,
    read_amount,
    split_meter,
    try_amount,
    volume_text,
    with_unit,
)
from pondtui.pond.setup.barrels import brim_l, full_line_l, volume_l
from pondtui.records import NamedTuple

LINE = "line"
ALL = ("all", "outlet")
ELSEWHERE = "elsewhere"
_PUMP = re.compile(r"\s+(?:pump\s+)?(on|off)$", re.IGNORECASE)
_TEMP = re.compile(r"[,;]?\s+(\S+\s*(?:degC|degF|°C|°F))$", re.IGNORECASE)
_BUCKETS = re.compile(r"(.+?)\s*buckets?$", re.IGNORECASE)


class Prompt(NamedTuple):
    """What a step asks for."""

    label: str
    example: str
    suggested: str = ""  # what Enter alone would mean; "" where the keeper has to type


def answer(case: Case, step: Step, typed: str) -> Answer:
    """The entry that a step's answer means. Raises InputError with one sentence."""
    if step.kind == "start":
        what = "fill" if step.id == "hose-on" else "release"
        return Answer("start", {"what": what, **batch_fields(case)})
    if step.own:
        number = typed.strip().removesuffix(step.asks).strip() if step.kind == "number" else ""
        if step.kind == "number":
            units.read_number(number, step.title)
        note = f"{number} {step.asks}".strip() if number else ""
        return Answer("tick", {"step": step.id, "batch": case.batch.label}, note)
    reader = _READERS.get(step.asks)
    if reader is None:
        return Answer("tick", {"step": step.id, "batch": case.batch.label})
    if not typed.strip():
        raise InputError(f"{step.title}: type {prompt(case, step).example}")
    try:
        return reader(case, typed.strip())
    except QuantityError as error:
        if " such as " not in str(error):
            raise
        asks = prompt(case, step)  # it has an example of this very step
        raise InputError(f"{asks.label}: type {asks.example}, not {typed.strip()}") from error


def prompt(case: Case, step: Step) -> Prompt:
    """What to type at a step, with an example in the pond's units."""
    metric = case.setup.pond.units == "metric"
    if step.own:
        return Prompt(step.title, f"a number in {step.asks}" if step.asks else "a number")
    if step.asks == "level":
        example = "62, or 62 off when the pump stands" if metric else "2 7/16 in"
        return Prompt("gauge reads", example)
    if step.asks == "fill":
        example = (
            "150 L, line (the full line), 700 mm (deep), meter 1250 L"
            if metric
            else ("40, line (the full line), 20 in (deep), meter 330")
        )
        return Prompt("went in", example)
    if step.asks == "dose":
        amount = dose_needed(case)
        suggested = "" if amount is None else plain(amount[1], amount[2])
        return Prompt("poured in", suggested or "13.5 mL", suggested)
    if step.asks == "chlorine":
        return Prompt("total chlorine", "0 for no colour, or 0.5 mg/L")
    if step.asks == "temperature":
        return Prompt("barrel", "18.5" if metric else "64 (°F)")
    if step.asks == "release":
        example = "all, 150 L, left 30 L" if metric else "all, 40, left 8"
        return Prompt("let out", "3 buckets" if case.barrel.delivery == "carried" else example)
    return Prompt("", "")


def bypass(case: Case, step: Step, reason: str) -> Answer:
    """The step passed over; the reason may not be empty. Raises InputError."""
    if not reason.strip():
        raise InputError("say why: a step is passed over only with a reason")
    fields = {"step": step.id, "batch": case.batch.label}
    return Answer("bypass", fields, reason.strip())


def give_up(case: Case, reason: str = "") -> Answer:
    """The batch given up; what stands in the barrel stays as it is."""
    return Answer("giveup", {"batch": case.batch.label}, reason.strip())


def use_as_it_stands(case: Case) -> Answer:
    """No filling: the batch goes on with what the barrel holds."""
    return Answer("tick", {"step": NO_FILL, "batch": case.batch.label})


def more(case: Case) -> Answer | None:
    """The hose on again after a filling, or agreeing anew to let out more; None where neither."""
    order = case.batch.order
    if case.water.running is not None:
        return None
    if order.get("release", 0) > order.get("fill", 0):
        if case.can_leave_l < 1:
            return None
        return Answer("tick", {"step": "agree", "batch": case.batch.label})
    if "fill" in order:
        return Answer("start", {"what": "fill", **batch_fields(case)})
    return None


def look_example(system: str) -> str:
    """What may be typed for a look into a barrel."""
    metric = system == "metric"
    return "90 L, or a depth such as 400 mm" if metric else "24 gal, or a depth such as 16 in"


def look(case: Case, typed: str) -> Answer:
    """A dip: litres that stand in the barrel, or the depth of water. Raises InputError."""
    text = typed.strip()
    if not text:
        raise InputError(f"type what stands in it: {look_example(case.setup.pond.units)}")
    litres = amount_text(text, case, "volume")
    volume = try_amount(litres, "volume", case)
    if volume is not None:
        _fits(case, volume.value, "that")
        return Answer("dip", {"barrel": case.barrel.name, "left": litres})
    depth = read_amount(text, "length", case, "left")
    _fits(case, volume_l(case.barrel, depth.value), "that")
    return Answer("dip", {"barrel": case.barrel.name, "depth": amount_text(text, case, "length")})


def level_answer(case_units: str, gallon: str | None, typed: str) -> Answer:
    """A gauge reading such as `62`, `62 mm 18.5 degC off`. Raises InputError."""
    text, fields = typed.strip(), {}
    pump = _PUMP.search(text)
    if pump:
        fields["pump"] = pump[1].lower()
        text = text[: pump.start()]
    temp = _TEMP.search(text)
    if temp:
        units.read(temp[1], "temperature", what="temp")
        fields["temp"] = temp[1]
        text = text[: temp.start()]
    text = with_unit(text, "mm" if case_units == "metric" else "in")
    units.read(text, "length", gallon=gallon, what="reading")
    return Answer("level", {"reading": text, **fields})


def _level(case: Case, typed: str) -> Answer:
    return level_answer(case.setup.pond.units, case.setup.gallon, typed)


def _fill(case: Case, typed: str) -> Answer:
    fields = batch_fields(case)
    source = case.barrel.source
    text, meter = split_meter(typed, case)
    if meter is not None:
        before = case.state.meters.get(source)
        if not text:
            if before is None:
                raise InputError(
                    "no earlier meter reading is written: enter the litres too, "
                    f"such as `{case.litres(150)} meter {meter[0]}`"
                )
            if meter[1] <= before:
                raise InputError(
                    f"the meter read {volume_text(before, case)} before: it cannot read less now"
                )
            text = volume_text(meter[1] - before, case)
        fields["meter"] = meter[0]
    if text.lower() == LINE:
        return Answer("fill", {**fields, "to": LINE, "source": source})
    volume = try_amount(text, "volume", case)
    if volume is None and try_amount(text, "length", case) is not None:
        depth = read_amount(text, "length", case, "filled to")
        warning = _fits(case, volume_l(case.barrel, depth.value), "that", full=True)
        return Answer("fill", {**fields, "to": text, "source": source}, warning=warning)
    amount = read_amount(amount_text(text, case, "volume"), "volume", case, "went in")
    before_l = case.water.running.held_l if case.water.running else case.water.held_l
    warning = _fits(case, before_l + amount.value, f"{case.litres(before_l)} and that", full=True)
    added = {"added": amount_text(text, case, "volume"), "source": source}
    return Answer("fill", {**fields, **added}, warning=warning)


def _chlorine(case: Case, typed: str) -> Answer:
    text = typed
    first = case.setup.limits.kit_first_step_mg_l
    if re.fullmatch(r"0+(\.0+)?(\s*(mg/L|ppm))?", typed, re.IGNORECASE) or typed.lower() == "none":
        text = f"<{first:g} mg/L"
    text = with_unit(text, "mg/L")
    value, below, _ = units.read_measured(text, "concentration", what="total chlorine")
    if value > 20:
        raise InputError(f"total chlorine: {text} is beyond any tap; type what the kit shows")
    warning = ""
    if not below and value > first:
        warning = "chlorine is left: dose again, wait and test; do not let it out"
    elif below and value > first:
        warning = f"below {value:g} mg/L is not below {first:g} mg/L: use a finer kit"
    fields = {"where": case.barrel.name, "chlorine_total": text}
    return Answer("test", fields, warning=warning)


def _temperature(case: Case, typed: str) -> Answer:
    text = with_unit(typed, "degC" if case.setup.pond.units == "metric" else "degF")
    read = read_amount(text, "temperature", case, "barrel")
    if not -2 <= read.value <= 60:
        raise InputError(f"barrel: {text} is no temperature of water")
    return Answer("test", {"where": case.barrel.name, "temp": text})


def _release(case: Case, typed: str) -> Answer:
    text, to = typed, case.barrel.into or "pond"
    if text.lower().endswith(ELSEWHERE):
        text, to = text[: -len(ELSEWHERE)].strip(), ELSEWHERE
    text, meter = split_meter(text, case)
    fields = {**batch_fields(case), "to": to}
    if meter is not None:
        fields["meter"] = meter[0]
    buckets = _BUCKETS.fullmatch(text)
    held = case.water.running.held_l if case.water.running else case.water.held_l
    if text.lower() in ALL:
        out = max(held - case.heel_l, 0.0)
        return Answer("release", {**fields, "out": volume_text(out, case)})
    if buckets:
        out = units.read_number(buckets[1], "buckets") * case.barrel.bucket_l
        return Answer(
            "release", {**fields, "out": volume_text(out, case)}, warning=_held(case, out)
        )
    if text.lower().startswith("left"):
        return _left(case, text[4:].strip(), fields, held)
    if try_amount(text, "length", case) is not None:
        return _left(case, text, fields, held)
    out_text = amount_text(text, case, "volume")
    out = read_amount(out_text, "volume", case, "let out").value
    return Answer("release", {**fields, "out": out_text}, warning=_held(case, out))


def _left(case: Case, text: str, fields: dict[str, str], held: float) -> Answer:
    depth = try_amount(text, "length", case)
    if depth is not None:
        text = volume_text(volume_l(case.barrel, depth.value), case)
    text = amount_text(text, case, "volume")
    left = read_amount(text, "volume", case, "left").value
    if left > held:
        raise InputError(
            f"left: {text} is more than the {case.litres(held)} that stood there; use a dip"
        )
    return Answer("release", {**fields, "left": text})


def _held(case: Case, out_l: float) -> str:
    held = case.water.running.held_l if case.water.running else case.water.held_l
    if out_l > held + 1:
        return f"{case.barrel.name} was believed to hold {case.litres(held)}: more came out?"
    return ""


def _fits(case: Case, litres: float, what: str, *, full: bool = False) -> str:
    """A warning over the full line, a refusal far over the brim."""
    brim = brim_l(case.barrel)
    if litres > brim * 1.5:
        raise InputError(
            f"{what} would be {case.litres(litres)}: {case.barrel.name} holds {case.litres(brim)}"
        )
    line = full_line_l(case.barrel)
    if full and litres > line * 1.02:
        return f"{case.litres(litres)} is over the full line of {case.litres(line)}"
    return ""


_READERS: dict[str, Callable[[Case, str], Answer]] = {
    "level": _level,
    "fill": _fill,
    "dose": poured,
    "chlorine": _chlorine,
    "temperature": _temperature,
    "release": _release,
}
