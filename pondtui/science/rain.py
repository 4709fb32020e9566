"""Rain from a roof: the catch, the first flush thrown away, the standpipe that holds it."""

from __future__ import annotations

import math

from pondtui.science.ranges import not_negative, positive, within


def plan_area_m2(slope_length_mm: float, width_mm: float, pitch_deg: float) -> float:
    """Plan area A of a sloping roof: what the rain sees from above.

    Source: plane trigonometry; Texas Manual on Rainwater Harvesting (2005) ch. 4 takes the
        footprint.
    Arguments: slope_length_mm s [mm] > 0, measured up the slope; width_mm w [mm] > 0; pitch_deg p
        [deg], 0 to 85.
    Returns: A [m2].
    Formula: A = s w cos(p).
    Limits: rain that falls straight. ValueError outside the ranges.
    """
    positive(slope_length_mm, "the length of the slope")
    positive(width_mm, "the width")
    within(pitch_deg, 0, 85, "the pitch", "deg")
    return slope_length_mm * width_mm * math.cos(math.radians(pitch_deg)) / 1e6


def roof_catch_l(
    area_m2: float, rain_mm: float, runoff: float = 0.85, first_flush_mm: float = 0.0
) -> float:
    """Volume V that a roof yields from a rain.

    Source: Texas Water Development Board, The Texas Manual on Rainwater Harvesting, 3rd ed. (2005)
        ch. 4; exact 1 L/m2/mm (0.6234 US gal/ft2/in, rounded there to 0.62).
    Arguments: area_m2 A [m2] > 0, plan; rain_mm P [mm] >= 0; runoff C [-], 0 to 1;
        first_flush_mm f [mm] >= 0.
    Returns: V [L].
    Formula: V = A max(0, P - f) C.
    Limits: one rain, or many when f is 0. The runoff share is applied after the first flush; the
        other order, A (C P - f), gives up to (1 - C) f A less. ValueError outside the ranges.
    """
    positive(area_m2, "the area")
    not_negative(rain_mm, "the rain")
    within(runoff, 0, 1, "the runoff share")
    not_negative(first_flush_mm, "the first flush")
    return area_m2 * max(0.0, rain_mm - first_flush_mm) * runoff


def standpipe_length_m(volume_l: float, pipe_mm: float) -> float:
    """Length L of a standpipe that holds a volume.

    Source: cylinder; Texas Manual on Rainwater Harvesting (2005) ch. 2 pp. 7-8.
    Arguments: volume_l V [L] >= 0; pipe_mm d [mm] > 0, inner diameter.
    Returns: L [m].
    Formula: L = V/(pi d^2/4).
    Limits: inner, not nominal diameter. ValueError outside the ranges.
    """
    not_negative(volume_l, "the volume")
    positive(pipe_mm, "the diameter of the pipe")
    return volume_l / (math.pi * pipe_mm**2 / 4) * 1000
