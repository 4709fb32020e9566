"""Changing water and topping up: what becomes of dissolved things."""

from __future__ import annotations

from math import exp, inf, log, log1p

from pondtui.science.ranges import not_negative, positive


def _share(fraction: float, flow_through: bool) -> None:
    positive(fraction, "changed fraction")
    if not flow_through and fraction > 1:
        raise ValueError(
            f"a change cannot be over 100 % of the pond, not {fraction * 100:g} %; "
            "water that flows through while the pond overflows can"
        )


def after_change_mg_l(
    pond_mg_l: float,
    tap_mg_l: float,
    fraction: float,
    times: float = 1.0,
    *,
    flow_through: bool = False,
) -> float:
    """Concentration after changing water, C.

    Source: mass balance; for an overflowing pond the stirred tank of chemical engineering.
    Arguments: pond_mg_l and tap_mg_l [mg/L] >= 0; fraction of the pond's volume in one change
        [fraction] > 0, at most 1 unless flow_through; times, number of changes [1] >= 0;
        flow_through, True when water runs in while the pond overflows.
    Returns: C [mg/L].
    Formula: C = tap + (pond - tap) (1 - f)^n, or tap + (pond - tap) exp(-f n) where it overflows.
    Limits: well mixed, nothing made or used up meanwhile. Changes multiply, they do not add. Raises
        ValueError outside the ranges.
    """
    not_negative(pond_mg_l, "pond concentration")
    not_negative(tap_mg_l, "tap concentration")
    not_negative(times, "number of changes")
    _share(fraction, flow_through)
    left = exp(-fraction * times) if flow_through else (1 - fraction) ** times
    return float(tap_mg_l + (pond_mg_l - tap_mg_l) * left)


def changes_needed(
    pond_mg_l: float,
    tap_mg_l: float,
    target_mg_l: float,
    fraction: float,
    *,
    flow_through: bool = False,
) -> float:
    """Number of changes until a target is reached, n, the inverse of `after_change_mg_l`.

    Source: as `after_change_mg_l`.
    Arguments: pond_mg_l, tap_mg_l, target_mg_l [mg/L] >= 0; fraction and flow_through as there.
    Returns: n [1], unrounded; whole changes are the next number up.
    Formula: n = ln((target - tap) / (pond - tap)) / ln(1 - f), or over -f where it overflows.
    Limits: the target must lie between pond and tap, and tap itself is never quite reached. Raises
        ValueError outside the ranges.
    """
    for value, what in ((pond_mg_l, "pond"), (tap_mg_l, "tap"), (target_mg_l, "target")):
        not_negative(value, f"{what} concentration")
    _share(fraction, flow_through)
    if pond_mg_l == target_mg_l:
        return 0.0
    span = pond_mg_l - tap_mg_l
    left = (target_mg_l - tap_mg_l) / span if span else -1.0
    whole = fraction == 1 and not flow_through
    if whole and 0 <= left <= 1:
        return 1.0
    if not 0 < left <= 1:
        raise ValueError(
            f"changes with tap water of {tap_mg_l:g} mg/L cannot bring the pond from "
            f"{pond_mg_l:g} to {target_mg_l:g} mg/L: choose a target between the two"
        )
    return log(left) / (-fraction if flow_through else log1p(-fraction))


def top_up_mg_l(pond_mg_l: float, tap_mg_l: float, evaporated_l: float, volume_l: float) -> float:
    """Concentration after evaporation was topped up with tap water, C.

    Source: mass balance: water leaves, salt stays, tap water brings its own.
    Arguments: pond_mg_l at the start and tap_mg_l [mg/L] >= 0; evaporated_l, replaced in all
        [L] >= 0; volume_l of the full pond [L] > 0.
    Returns: C [mg/L].
    Formula: C = pond + tap x evaporated / V: linear, not exponential.
    Limits: things that stay dissolved; nothing overflows. Raises ValueError outside the ranges.
    """
    not_negative(pond_mg_l, "pond concentration")
    not_negative(tap_mg_l, "tap concentration")
    return pond_mg_l + tap_mg_l * (top_up_factor(evaporated_l, volume_l) - 1)


def top_up_factor(evaporated_l: float, volume_l: float) -> float:
    """How strong a pond that began as tap water has become, F.

    Source: mass balance; "cycles of concentration" in cooling practice.
    Arguments: evaporated_l, replaced in all [L] >= 0; volume_l [L] > 0.
    Returns: F [1].
    Formula: F = 1 + evaporated / V.
    Limits: as `top_up_mg_l`. Raises ValueError outside the ranges.
    """
    not_negative(evaporated_l, "evaporated volume")
    positive(volume_l, "volume")
    return 1 + evaporated_l / volume_l


def settled_factor(evaporated_l: float, changed_l: float) -> float:
    """Strength at which a pond settles when as much is changed in the same time, F.

    Source: mass balance; cooling practice (make-up = evaporation + blowdown).
    Arguments: evaporated_l [L] >= 0 and changed_l [L] > 0, both in the same time.
    Returns: F [1] over tap water.
    Formula: F = (evaporated + changed) / changed.
    Limits: the state of rest, reached after several volumes. Raises ValueError outside the ranges.
    """
    not_negative(evaporated_l, "evaporated volume")
    positive(changed_l, "changed volume")
    return (evaporated_l + changed_l) / changed_l


def change_for_factor_l(evaporated_l: float, factor: float) -> float:
    """Water to change so that the pond settles at a strength, V, the inverse of `settled_factor`.

    Source: as `settled_factor`.
    Arguments: evaporated_l [L] >= 0; factor [1] above 1.
    Returns: V [L] in the same time.
    Formula: V = evaporated / (F - 1).
    Limits: as `settled_factor`. Raises ValueError outside the ranges.
    """
    not_negative(evaporated_l, "evaporated volume")
    if not 1 < factor < inf:
        raise ValueError(f"factor must be above 1, not {factor:g}")
    return evaporated_l / (factor - 1)
