"""Every drawing in one place: rows of spans, each row exactly as wide as asked. No colour here."""

from __future__ import annotations

from pondtui.views.barrel_drawing import WATERS, barrel
from pondtui.views.canvas import Rows, Span, plain
from pondtui.views.digits import big_digits, gauge_bar, progress
from pondtui.views.pond_drawing import pond_section

__all__ = [
    "WATERS",
    "Rows",
    "Span",
    "barrel",
    "big_digits",
    "gauge_bar",
    "plain",
    "pond_section",
    "progress",
]
