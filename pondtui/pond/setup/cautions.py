"""What a barrel held before and what its roof is made of: refused, or told with a caution.

Common practice of keepers, no published source: what cannot be rinsed out of plastic or what
poisons fish in traces is refused.
"""

from __future__ import annotations

import re

_REFUSED = {
    "pesticide": "pesticid|herbicid|insecticid|fungicid|weed ?killer|slug|poison|biocid",
    "solvent": "solvent|thinner|turpentine|acetone|paint|varnish|glue|preservative|creosote",
    "oil or fuel": "oils?\\b|diesel|petrol|gasoline|fuel|kerosene|paraffin|grease|lubricant",
    "antifreeze": "anti-?freeze|coolant|glycol|de-?icer|brake fluid|screen ?wash",
    "something unknown": "unknown|not known|unsure|no idea|don.?t know|\\?",
}
_RINSE = (
    ("syrup|sugar|juice|honey|molasses|sweet|jam", "sugar left in it feeds bacteria that use up "
     "the pond's oxygen: rinse with warm water until nothing is sticky"),
    ("vinegar|pickle|acid|lemon|citr", "acid left in it lowers the pH: rinse until the rinsing "
     "water has the pH of the tap"),
    ("salt|brine|olive|fish|soy", "salt left in it harms plants: rinse until the water tastes of "
     "nothing to a salt test"),
    ("soap|detergent|shampoo|cleaner|surfactant", "soap harms gills in traces: rinse until shaken "
     "water does not foam at all, and rather use another barrel"),
    ("bleach|chlorine|hypochlorite|disinfectant", "rinse until a total-chlorine test of water that "
     "stood in it for a day reads nothing"),
    ("wine|beer|spirit|alcohol|whisk", "rinse with warm water until nothing smells"),
)  # fmt: skip
_CLEAN = "|none|nothing|new|water|drinking water|rain|rain water|rainwater|tap water"
_ROOFS = {
    "copper": "copper|verdigris|brass|bronze",
    "zinc": "zinc|galvani",
    "lead": "lead\\b|leaded",
    "bitumen": "bitum|asphalt|tar\\b|tarred|roofing felt|felt\\b|shingle",
    "moss treatment": "moss|algicid|biocid",
}


def former_content(text: str) -> tuple[str, str] | None:
    """(severity, sentence) for what a barrel held; None where nothing need be said."""
    plain = text.casefold().strip()
    if plain in _CLEAN.split("|"):
        return None
    for what, words in _REFUSED.items():
        if re.search(rf"(?:^|\b)(?:{words})", plain):
            return "problem", (
                f"a barrel that held {what} ({text}) cannot be rinsed clean enough for fish: "
                "use another one"
            )
    for words, caution in _RINSE:
        if re.search(rf"\b(?:{words})", plain):
            return "remark", f"it held {text}: {caution}"
    return "remark", f"it held {text}: rinse it until the water stays clear and has no smell"


def roof_material(text: str) -> tuple[str, str] | None:
    """(severity, sentence) for a roof's material; None where its water may go to the pond."""
    for what, words in _ROOFS.items():
        if re.search(rf"\b(?:{words})", text.casefold()):
            return "problem", (
                f"rain from a roof with {what} ({text}) is not for the pond: it harms fish, "
                "snails and plants; plastic, glass, tile and slate are good"
            )
    return None
