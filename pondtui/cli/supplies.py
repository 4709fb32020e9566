"""`pondtui supplies`: what is left of each, for how long, and what is kept back."""

from __future__ import annotations

from pondtui.cli.care import status_of
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.views import supplies as view


def run(call: Call, context: Context) -> int:
    """List them."""
    context.take_no_words(call)
    status = status_of(context)
    context.answer(view.as_json(status), view.lines(status))
    context.warn_unread()
    return 0
