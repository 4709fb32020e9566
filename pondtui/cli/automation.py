"""`pondtui automation`: float valve, carbon filter and doser on this pond, beside the barrel."""

from __future__ import annotations

from pondtui.cli.care import status_of
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.views import automation as view


def run(call: Call, context: Context) -> int:
    """Work all of them out."""
    context.take_no_words(call)
    found = view.parts(status_of(context))
    context.answer(view.as_json(found), view.lines(found))
    return 0
