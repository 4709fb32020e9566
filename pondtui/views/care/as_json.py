"""The visits by the keys that scripts rely on."""

from __future__ import annotations

from typing import Any

from pondtui.pond.away.model import Planned, Sheet


def sheet_json(sheet: Sheet) -> dict[str, Any]:
    """The sheet's dates and visits."""
    return {
        "sheet": sheet.code,
        "from": None if sheet.first is None else sheet.first.isoformat(),
        "to": None if sheet.last is None else sheet.last.isoformat(),
        "sitter": sheet.sitter or None,
        "visits": [visit_json(planned) for planned in sheet.visits],
        "remarks": list(sheet.remarks),
    }


def visit_json(planned: Planned) -> dict[str, Any]:
    """One visit; `dose_g` instead of `dose_ml` where the product is weighed."""
    visit = planned.visit
    return {
        "number": planned.number,
        "date": visit.date.isoformat(),
        "hour": visit.hour,
        "barrel": visit.barrel or None,
        "add_l": visit.add_l,
        f"dose_{visit.unit.lower()}": visit.dose,
        f"measured_{visit.unit.lower()}": visit.measured,
        "release_l": visit.release_l,
        "tasks": [{"number": task.number, "text": task.text} for task in planned.tasks],
    }
