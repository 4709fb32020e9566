"""Supplies as lines and JSON: left, for how long, what is kept back, where it stands."""

from __future__ import annotations

from typing import Any

from pondtui.pond.daily.amounts import Amount
from pondtui.pond.daily.supplies import Stock
from pondtui.pond.refill.case import local_time
from pondtui.views.status import Status
from pondtui.views.words import count


def words(stock: Stock, status: Status) -> str:
    """What is to be said of a supply behind its name."""
    day = local_time(status.setup, status.now).date()
    said = ["never counted" if stock.left is None else f"{stock.left} left"]
    if stock.low:
        said[0] = f"LOW: {said[0]}"
    if stock.days_left is not None:
        said.append(f"lasts {count(round(stock.days_left), 'day')}")
    if stock.kept is not None:
        kept = f"{stock.kept.value:.0f} {stock.kept.unit}"
        how = "wanted in hand" if stock.left is None else "of it kept"
        said.append(f"{kept} {how} for an emergency of the whole pond")
    if stock.best_before is not None:
        past = "OUT OF DATE since" if stock.stale(day) else "good until"
        said.append(f"{past} {stock.best_before}")
    said += [word for word in (stock.thread, stock.place, stock.note) if word]
    return "; ".join(said)


def role(stock: Stock, status: Status) -> str:
    """How it is painted."""
    day = local_time(status.setup, status.now).date()
    return "warn" if stock.low or stock.stale(day) else "text"


def lines(status: Status) -> list[str]:
    """All of them for people."""
    if not status.stocks:
        return ["no supply is described or counted: `pondtui add supply item=... left=...`"]
    wide = max(len(stock.name) for stock in status.stocks)
    return [f"{stock.name:<{wide}}  {words(stock, status)}" for stock in status.stocks]


def as_json(status: Status) -> dict[str, Any]:
    """Every supply; amounts with their unit."""
    day = local_time(status.setup, status.now).date()
    return {
        "supplies": [
            {
                "name": stock.name,
                "left": _amount(stock.left),
                "bought": _amount(stock.bought),
                "used": _amount(stock.used),
                "kept": _amount(stock.kept),
                "reorder_at": _amount(stock.reorder_at),
                "days_left": stock.days_left,
                "low": stock.low,
                "out_of_date": stock.stale(day),
                "best_before": stock.best_before.isoformat() if stock.best_before else None,
                "place": stock.place or None,
                "thread": stock.thread or None,
            }
            for stock in status.stocks
        ]
    }


def _amount(amount: Amount | None) -> dict[str, Any] | None:
    return None if amount is None else {"value": amount.value, "unit": amount.unit}
