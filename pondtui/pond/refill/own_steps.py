"""procedure.toml: the keeper's own steps around the fixed ones."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from pondtui import units
from pondtui.clean import visible
from pondtui.errors import Problem, QuantityError
from pondtui.pond.refill.procedure import step_ids
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import OwnStep
from pondtui.pond.setup.scalars import shown
from pondtui.pond.setup.tables_steps import STEP

_KEYS = tuple(field.key for field in STEP.fields)
KINDS = next(field.words for field in STEP.fields if field.key == "kind")
MOST_STEPS = 100
LONGEST = 500  # characters of a text
_ID = re.compile(r"[a-z][a-z0-9-]{0,39}")


def read_own_steps(
    data: Mapping[str, object], path: str
) -> tuple[tuple[OwnStep, ...], list[Problem]]:
    """The own steps of a procedure.toml read by tomllib, and everything wrong in it.

    A step with a mistake is left out; the fixed steps always stay.
    """
    steps, findings = own_step_findings(data)
    return steps, [Problem(path, 0, 0, f.message, severity=f.severity) for f in findings]


def own_step_findings(
    data: Mapping[str, object],
) -> tuple[tuple[OwnStep, ...], list[Finding]]:
    """As `read_own_steps`, with the place of every finding."""
    findings: list[Finding] = []

    def wrong(nth: int, key: str, message: str, severity: str = "problem") -> None:
        plain = visible(message).replace("\n", " ")
        findings.append(Finding(STEP.name, nth, visible(key), plain, severity))

    for key in data:
        if key not in ("step", "format"):
            wrong(0, "", f'"{shown(key)}" is not known here: own steps stand in [[step]]', "remark")
    tables = data.get("step", [])
    if not isinstance(tables, list):
        wrong(0, "", "step: write [[step]] with double brackets")
        return (), findings
    if len(tables) > MOST_STEPS:
        wrong(0, "", f"{len(tables)} steps of your own: only the first {MOST_STEPS} are read")
    steps: list[OwnStep] = []
    for nth, table in enumerate(tables[:MOST_STEPS]):
        name = f"step {nth + 1}"
        if not isinstance(table, dict):
            wrong(nth, "", f"{name}: write [[step]] with double brackets")
            continue
        step, faults = _read_step(table, {s.id for s in steps})
        for fault in faults:
            wrong(nth, fault.partition(":")[0], f"{name}: {fault}")
        for key in table:
            if key not in _KEYS:
                near = _near(str(key), _KEYS)
                hint = f", did you mean {near}?" if near else f": the keys are {', '.join(_KEYS)}"
                wrong(nth, key, f"{name}: {shown(key)} is not known{hint}", "remark")
        if step is not None and not faults:
            steps.append(step)
    return tuple(steps), findings


def _near(word: str, known: Iterable[str]) -> str:
    from difflib import get_close_matches  # only a mistake needs it

    return next(iter(get_close_matches(word, list(known), 1)), "")


def _read_step(table: Mapping[str, object], own: set[str]) -> tuple[OwnStep | None, list[str]]:
    faults: list[str] = []
    identity, after = _text(table, "id"), _text(table, "after")
    if not _ID.fullmatch(identity):
        faults.append('id: a word of small letters, digits and hyphens, such as "own-lid"')
    elif identity in step_ids() or identity in own:
        faults.append(f'id: "{identity}" is taken already, choose another')
    anchors = (*step_ids(), *sorted(own))
    if after not in anchors:
        near = _near(after, anchors)
        hint = f', such as "{near}"' if near else f": one of {', '.join(anchors)}"
        faults.append(f"after: the id of the step it stands behind{hint}")
    text = _text(table, "text").strip()
    if not text:
        faults.append("text: say what to do")
    elif len(text) > LONGEST:
        faults.append(f"text: at most {LONGEST} characters, not {len(text)}")
    kind = _text(table, "kind", "tick")
    if kind not in KINDS:
        faults.append(f"kind: {', '.join(KINDS)}, not {kind}")
    minutes, fault = _minutes(table.get("minutes"))
    if fault:
        faults.append(fault)
    elif kind == "wait" and not minutes:
        faults.append('minutes: how long to wait, such as 5 or "5 min"')
    unit = _text(table, "unit")
    return OwnStep(identity, after, text, kind, unit, minutes), faults


def _text(table: Mapping[str, object], key: str, default: str = "") -> str:
    """A key's text, clean and on one line; anything else shortened, to be named as a mistake."""
    value = table.get(key, default)
    return visible(" ".join(value.split())) if isinstance(value, str) else shown(value)


def _minutes(value: object) -> tuple[float, str]:
    if value is None:
        return 0.0, ""
    if isinstance(value, int | float) and not isinstance(value, bool) and 0 < value <= 10_080:
        return float(value), ""
    if isinstance(value, str):
        try:
            return units.read(value, "time", what="minutes").value, ""
        except QuantityError as error:
            return 0.0, str(error)
    return 0.0, 'minutes: how long to wait, such as 5 or "5 min"'
