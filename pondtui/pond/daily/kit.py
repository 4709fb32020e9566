"""What was read off a test kit, as it is kept: bare numbers in the kit's own unit and basis, and a
0 as less than its first step, since no kit sees nothing."""

from __future__ import annotations

import re

from pondtui.errors import InputError
from pondtui.pond.setup.model import Setup
from pondtui.science.carbonate import from_caco3_mg_l
from pondtui.units import read, show, split_basis

_NUMBER = re.compile(r"(<?\s*)(\d{1,6}(?:\.\d{1,6})?)(.*)", re.DOTALL)
SAMPLES = {
    "ammonia": "0.1 mg/L as N",
    "nitrite": "0.05 mg/L as NO2",
    "nitrate": "5 mg/L as NO3",
    "alkalinity": "1 dH",
    "hardness": "1 dH",
    "oxygen": "0.5 mg/L",
    "chloride": "5 mg/L",
    "chlorine_free": "0.02 mg/L",
}


def first_step(setup: Setup, field: str) -> str:
    """The first step of the kit for a field, with unit and basis; "" where nobody said it."""
    if field == "chlorine_total":
        return f"{setup.limits.kit_first_step_mg_l:g} mg/L"
    return str(getattr(setup.kit, field, ""))


def off_the_kit(setup: Setup, field: str, text: str) -> str:
    """The text to be kept for a value of a test as typed.

    Raises InputError for a 0 where the kit's first step is not known.
    """
    found = _NUMBER.fullmatch(text.strip())
    if not found or (field not in SAMPLES and field != "chlorine_total"):
        return text
    mark, number, unit = (part.strip() for part in found.groups())
    step = first_step(setup, field)
    if not mark and float(number) == 0:
        if step:
            return f"<{step}"
        sample = SAMPLES[field]
        raise InputError(
            f"{field}: 0 on a kit means below its first step: write <{sample}, or once for all "
            f'[kit] {field} = "{sample}" in pond.toml'
        )
    if not step:
        return text
    own = step.partition(" ")[2]
    if not unit:
        return f"{mark}{number} {own}"
    basis = split_basis(step)[1]
    return text if not basis or split_basis(text)[1] else f"{text} as {basis}"


def degrees(setup: Setup, caco3_mg_l: float) -> str:
    """A hardness or alkalinity in the degrees of the keeper's kit, and as CaCO3."""
    kit = setup.kit.alkalinity or setup.kit.hardness
    usual = {"us": "gpg", "imperial": "eH"}.get(setup.pond.units, "dH")
    unit = read(kit, "hardness").unit if kit else usual
    plain = show(caco3_mg_l, "hardness", setup.pond.units)
    if unit == "mg/L CaCO3":
        return plain
    return f"{from_caco3_mg_l(caco3_mg_l, unit):.1f} {unit} ({plain})"
