"""What several verbs of care share: the pond's status, and an entry written for them."""

from __future__ import annotations

from collections.abc import Mapping

from pondtui.cli import add
from pondtui.cli.context import Context
from pondtui.cli.verbs import VERBS
from pondtui.cli.words import Call
from pondtui.pond.state.fold import fold
from pondtui.views.status import Status, look


def status_of(context: Context) -> Status:
    """The pond as it stands, without what needs the weather."""
    setup, live = context.setup, context.journal.live
    return look(setup, fold(setup, live, context.instant), live, context.instant)


def write(call: Call, context: Context, kind: str, fields: Mapping[str, str]) -> int:
    """Write an entry as `add` does, with the call's own --note, --at and --dry-run."""
    words = (kind, *(f"{name}={value}" for name, value in fields.items()))
    return add.run(Call(VERBS["add"], words, call.options), context)
