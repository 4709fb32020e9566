"""What is to be said under every screen: what is not saved, not read, or has just been saved."""

from __future__ import annotations

from pondtui.books.lines import render
from pondtui.tui.session import Session

Notice = tuple[str, str]  # role and sentence
_SAID_S = 120  # how long a saved entry is told of


def notices(session: Session) -> list[Notice]:
    """The gravest first."""
    found: list[Notice] = [*_unsaved(session)]
    loaded = session.loaded
    if session.read_only:
        text = "read-only: a file of the journal cannot be taken"
        text += "; ring the keeper" if session.sitter else "; j, then p shows which"
        found.append(("danger", text))
    if session.partial:
        found.append(("warn", "reading older years: nothing is written until they are in"))
    if loaded.setup is None:
        found.append(("warn", f"the last good description is used: {loaded.problems[0]}"))
    if session.describing is not None and session.describing.changed:
        fault = session.describing.not_kept
        more = f"; not kept if the program is killed: {fault}" if fault else ""
        found.append(("warn", f"Setup: changed, not written yet; o, then s, writes it{more}"))
    if session.unwritten:
        found.append(("warn", "Setup: unwritten changes are kept; o asks about them"))
    last = session.last_saved
    if last is not None and session.now() - last.instant < _SAID_S:
        found.append(("good", f"saved: {render(last)}"))
    return found


def _unsaved(session: Session) -> list[Notice]:
    pending = session.pending
    failed = [each for each in pending if each.reason]
    if failed:
        more = f" (and {len(failed) - 1} more)" if len(failed) > 1 else ""
        return [
            ("danger", f"NOT SAVED{more}, trying again: {failed[0].line}"),
            ("danger", failed[0].reason),
        ]
    return [("warn", f"saving: {pending[0].line}")] if pending else []
