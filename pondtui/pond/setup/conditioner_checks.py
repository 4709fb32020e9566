"""What must agree within a [[conditioner]] before a dose may rest on it."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.pond.setup.model import Device
from pondtui.pond.setup.table_checks import Remark, Say, Values

_LIQUID_ONLY = ("label_dose", "label_volume")
_DRY_ONLY = ("agent", "purity", "margin", "stock")
_ATTRS = {"label_dose": "label_dose_ml", "label_volume": "label_volume_l", "stock": "stock_g_l"}


def check_conditioner(values: Values, _say: Say) -> Iterator[Remark]:
    """The label or the agent, by its kind; devices in the unit of its doses; dates in order.

    The amounts lose their units here: `devices` and `bottle_ml` become plain values of the model.
    """
    if "kind" not in values:
        return
    dry = values["kind"] == "dry"
    unit = "g" if dry and "stock_g_l" not in values else "mL"
    for key in _DRY_ONLY if not dry else _LIQUID_ONLY:
        if values.get(_ATTRS.get(key, key)) is not None:
            yield key, f"it does nothing for a {values['kind']} conditioner", "remark"
    if dry and "agent" not in values:
        yield "agent", "a dry conditioner needs the name of its agent", "problem"
    for key in () if dry else _LIQUID_ONLY:
        if _ATTRS[key] not in values:
            yield key, "a liquid conditioner needs label_dose and label_volume", "problem"
    if values.get("opened") and values.get("best_before", values.get("opened")) < values["opened"]:
        yield (
            "best_before",
            (f"{values['best_before']} lies before it was opened, {values['opened']}"),
            "problem",
        )
    multiplier, most = values.get("chloramine_multiplier"), values.get("largest_multiple")
    if multiplier is not None and multiplier > (most or 3.0):
        yield (
            "chloramine_multiplier",
            (
                f"{multiplier:g} times the label's dose is more than largest_multiple allows, "
                f"{most or 3:g}"
            ),
            "problem" if most else "remark",
        )
    yield from _amounts(values, unit)


def _amounts(values: Values, unit: str) -> Iterator[Remark]:
    """Bottle and devices in the unit of the dose."""
    other, bottle = values.get("bottle_ml", (unit, None))
    if other != unit:
        yield "bottle", f"its doses are counted in {unit}, the bottle in {other}", "problem"
    values["bottle_ml"] = bottle
    devices: list[Device] = []
    for other, device in values.get("devices", ()):
        devices.append(device)
        if other != unit:
            yield (
                "devices",
                (f"its doses are counted in {unit}, the {device.name} has marks in {other}"),
                "problem",
            )
        elif bottle is not None and device.holds > bottle:
            yield (
                "devices",
                (
                    f"the {device.name} holds {device.holds:g} {unit}, more than a full bottle of "
                    f"{bottle:g} {unit}: is that so?"
                ),
                "remark",
            )
    values["devices"] = tuple(devices)
    dose = values.get("label_dose_ml")
    if unit == "mL" and bottle is not None and dose is not None and dose > bottle:
        yield (
            "label_dose",
            (f"{dose:g} mL is more than a full bottle of {bottle:g} mL: is that so?"),
            "remark",
        )
