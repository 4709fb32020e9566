"""The water budget as a table or as JSON for other programs: one row a period."""

from __future__ import annotations

import csv
import io
import json

from pondtui.pond.water.budget import Budget
from pondtui.pond.water.budget_terms import Terms
from pondtui.views.water import as_json as _keys

_USED = ("tap_l", "barrels", "cost")


def as_json(found: Budget) -> str:
    """The budget by its keys, as text."""
    return json.dumps(_keys(found), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def as_csv(found: Budget) -> str:
    """A row a period; what is not known is an empty cell. Every cell is a number or a date."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    terms = [f"{name}_l" for name in Terms._fields]
    errors = [f"{name}_uncertainty_l" for name in Terms._fields]
    unit = found.whole.spent.unit.lower()
    agent = f"conditioner_{unit}"
    table.writerow(["from", "to", *terms, *errors, *_USED, agent])
    for period in _keys(found)["periods"]:
        cells = [period["from"], period["to"]]
        cells += [*period["terms_l"].values(), *period["uncertainty_l"].values()]
        cells += [*(period[name] for name in _USED), period.get(agent)]
        table.writerow(["" if cell is None else cell for cell in cells])
    return text.getvalue()
