"""How a figure came about: one shape for every figure on every screen."""

from __future__ import annotations

from pondtui.records import NamedTuple

JOURNAL = "the journal"


class Explanation(NamedTuple):
    """A figure with all that it rests on."""

    title: str
    value: str
    inputs: tuple[tuple[str, str], ...] = ()  # what went in, by name
    formula: str = ""  # one line
    source: str = ""  # several joined by "; "
    cautions: tuple[str, ...] = ()


def lines(found: Explanation) -> list[str]:
    """The explanation as lines of words, the figure first."""
    wide = max((len(name) for name, _ in found.inputs), default=0)
    told = [found.value, ""]
    told += [f"{name:<{wide}}  {value}" for name, value in found.inputs]
    if found.formula:
        told += ["", f"Formula: {found.formula}"]
    told += [f"Source: {source}" for source in found.source.split("; ") if source]
    if found.cautions:
        told += ["", *(f"Caution: {caution}" for caution in found.cautions)]
    return told
