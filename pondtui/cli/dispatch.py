"""From a call to its verb; the verb's module is imported only when it is called."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

from pondtui.cli.context import Context
from pondtui.cli.verbs import VERBS
from pondtui.cli.words import Call


def dispatch(call: Call, context: Context) -> int:
    """Do what the call says, or show the verb's help where it asks for that."""
    if call.has("help"):
        topic = call.verb.name
        call = Call(VERBS["help"], (topic,) if topic else ())
    module, _, function = call.verb.place.partition(":")
    run: Callable[[Call, Context], int] = getattr(import_module(module), function)
    return run(call, context)
