"""`pondtui add KIND [NAME=VALUE ...]`: one entry, acknowledged only when it is on the disk."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.books.journal import Journal
from pondtui.books.lines import make, render
from pondtui.books.stamps import parse_stamp
from pondtui.books.store import move_on, stamp_for
from pondtui.cli.context import Context
from pondtui.cli.words import Call
from pondtui.cli.worksheet import pairs
from pondtui.errors import InputError, PondError, UsageError
from pondtui.pond.daily.alarm_look import Look
from pondtui.pond.daily.alarms_barrel import untested
from pondtui.pond.daily.kit import off_the_kit
from pondtui.pond.daily.possible import impossible
from pondtui.pond.daily.quick import starts, understand
from pondtui.pond.daily.times import local_day
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.kinds import KINDS


def run(call: Call, context: Context) -> int:
    """Write the entry that the words mean, show its line and what it raises."""
    entry = move_on(_entry(call, context), context.journal.taken())
    if call.has("dry-run"):
        line = render(entry)
        context.answer({"line": line, "written": False}, [line, "(not written)"])
        return 0
    saved = context.append(entry)
    said = _consequences(context, entry)
    data = {"line": saved.line, "written": True, "file": str(saved.path), "raised": said}
    context.answer(data, [saved.line, *said])
    return 0


def _entry(call: Call, context: Context) -> Entry:
    """The entry, with the time and the writer filled in. Raises UsageError."""
    if not call.words:
        raise UsageError(f"say what to add: pondtui add KIND; kinds are {', '.join(KINDS)}")
    kind, fields, said = _meant(call.words, context)
    note = " ".join(word for word in (said, call.get("note") or "") if word)
    if context.by:
        fields.setdefault("by", context.by)
    zone = context.zone
    instant = _instant(call, context, fields.get("batch", ""), kind)
    entry = make(kind, fields, note, instant, zone, context.gallon)
    if not entry.note and not entry.fields.keys() - {"by"}:
        raise UsageError(f"an empty {kind} says nothing: give it words with -m")
    _refuse_impossible(entry, context)
    return entry


def _meant(words: Sequence[str], context: Context) -> tuple[str, dict[str, str], str]:
    """Kind, fields and note: of NAME=VALUE words, or of a hurried line such as `level 62`."""
    kind, *rest = " ".join(words).split(" ") if " " in words[0] else words
    hurried = (bool(rest) and "=" not in rest[0]) or (kind not in KINDS and kind in starts())
    setup = context.loaded_or_none
    if hurried and setup is not None:
        quick = understand(" ".join(words), setup)
        return quick.kind, quick.fields, quick.note
    fields = pairs(rest)
    empty = next((name for name, text in fields.items() if not text.strip()), None)
    if empty is not None:
        raise UsageError(f"{empty}: a value is missing behind the =")
    if kind == "test" and setup is not None:
        fields = {name: off_the_kit(setup, name, text) for name, text in fields.items()}
    return kind, fields, ""


def _instant(call: Call, context: Context, batch: str, kind: str) -> int:
    text = call.get("at")
    if text is None:
        last = _last_of_batch(context.journal, batch, context.device) if batch else None
        return stamp_for(context.instant, last, kind)
    try:
        return parse_stamp(text, context.zone)[0]
    except InputError as error:
        raise InputError(f"--at: {error}") from None


def _last_of_batch(journal: Journal, batch: str, device: str) -> Entry | None:
    """What this device last wrote about the batch."""
    ending = f"-{device}.txt"
    ours = (e for e in journal.entries if e.path.endswith(ending) and e.get("batch") == batch)
    return max(ours, key=lambda entry: entry.order, default=None)


def _refuse_impossible(entry: Entry, context: Context) -> None:
    """Without a description everything is taken."""
    try:
        setup = context.setup
    except PondError:
        return
    wrong = impossible(setup, entry, local_day(setup, entry.instant))
    if wrong:
        raise InputError(wrong)


def _consequences(context: Context, entry: Entry) -> list[str]:
    """The alarms and remarks that the entry raised; a fact is taken all the same."""
    try:
        setup = context.setup
    except PondError:
        return []
    before = _said(setup, context.journal, context.instant)
    after = _said(setup, context.read_again(), max(context.instant, entry.instant))
    return [text for text in after if text not in before]


def _said(setup: Setup, journal: Journal, instant: int) -> list[str]:
    state = fold(setup, journal.live, instant)
    raised = [*state.alarms, *untested(Look(setup, state, instant))]
    alarms = [f"alarm: {alarm.text}; {alarm.remedy}" for alarm in raised]
    return [*alarms, *(f"remark: {text}" for text in state.remarks)]
