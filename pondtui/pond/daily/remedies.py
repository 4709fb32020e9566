"""What to do about a reading that is not as it should be."""

from __future__ import annotations

AGAIN = (
    "measure it again first, with fresh reagents (not if fish gasp, dart or lie over: then act "
    "at once)"
)
TOMORROW = "measure it again tomorrow"
_DILUTE = "stop feeding, aerate, exchange a quarter of the water with treated water"
# of a reading in act, after it was measured again: common practice, no source
ACT = {
    "ammonia_un_ionised": _DILUTE,
    "ammonia_limits": _DILUTE,
    "nitrite": "stop feeding, aerate, and add plain salt: `pondtui worksheet salt-for-nitrite`",
    "nitrate": "exchange a part of the water, thin the plants out, feed less",
    "ph": "do not chase it with chemicals: see alkalinity, and what came into the water",
    "ph_change": "see alkalinity: water that holds little of it swings",
    "alkalinity": "raise it slowly with bicarbonate: `pondtui worksheet bicarbonate`",
    "oxygen": "aerate now, stop feeding, let no one stir the mud",
    "temp": "shade and air; let cooler treated water in slowly, a little at a time",
    "temp_change": "shade and air; add nothing that changes it further",
    "chlorine_total": "dose the whole pond with conditioner and aerate, then test again",
}
WATCH = {
    "ammonia_un_ionised": "feed less and look at the filter",
    "ammonia_limits": "feed less and look at the filter",
    "nitrite": "feed less; keep chloride at ten times the nitrite",
    "nitrate": "thin the plants out, feed less",
    "ph": "measure at dawn, and alkalinity with it",
    "ph_change": "measure alkalinity too",
    "alkalinity": "rain and soft top-ups lower it: measure it each week",
    "oxygen": "measure it at dawn, when it is lowest; more air",
    "temp": "shade and air, feed less",
}


def remedy(name: str, verdict: str, *, confirmed: bool = False) -> str:
    """What to do; a reading in act that was not measured twice is measured again first."""
    if verdict == "act":
        then = ACT.get(name, "")
        return then if confirmed else f"{AGAIN}; then {then}"
    if verdict == "watch":
        return f"{TOMORROW}; {WATCH.get(name, 'see what changed')}"
    return ""
