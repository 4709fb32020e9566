"""The sitter's report: what each answer means as an entry of the journal, and what is unclear.

Nothing is guessed: an answer that can be read in two ways is handed back to the keeper.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, tzinfo

from pondtui.errors import InputError, QuantityError
from pondtui.pond.away.model import Task
from pondtui.pond.away.report_text import Piece, code_in, pieces, plain
from pondtui.pond.state.entry import Entry
from pondtui.records import NamedTuple
from pondtui.units import dimension_of, read

__all__ = ["Report", "Told", "code_in", "read_report", "standing"]

_EDGE = " :=-.,;)]"
_OK = re.compile(
    r"(?:all )?(?:ok(?:ay|ey)?|yes|yep|yeah|y|done|did|good|fine|well|checked|check|✓|✔|👍)"
    r"(?![a-z])",
    re.IGNORECASE,
)
_NO = re.compile(
    r"(?:no|not|nope|n|none|nothing|could ?n[o']t|couldnt|can'?t|cannot|did ?n[o']t|didnt|skipped"
    r"|✗|✘|❌)(?![a-z])",
    re.IGNORECASE,
)
_CLEAR = re.compile(
    r"(?:no colou?r|none|nil|zero|clear|nothing|no chlorine|0(?:\.0+)?(?: ?(?:mg/?l|ppm))?)"
    r"(?![\w.])",
    re.IGNORECASE,
)
_AMOUNT = re.compile(
    r"(?<![\w.,])(?P<number><?-?(?:[0-9]{1,4} [0-9]{1,3}/[0-9]{1,3}|[0-9]{1,3}/[0-9]{1,3}"
    r"|[0-9]{1,6}(?:\.[0-9]{1,4})?|\.[0-9]{1,4}))(?P<comma>,[0-9])?"
    r" ?(?P<unit>(?:°? ?[a-z]+(?:/[a-z]+)?(?: (?:gal|fl oz|oz|qt|pt)\b)?|[\"'°%]))?",
    re.IGNORECASE,
)
_AT = re.compile(r"(?:\bat +)?\b([01]?[0-9]|2[0-3]):([0-5][0-9])\b", re.IGNORECASE)
_GALLONS = ("gal", "gals", "gallon", "gallons")
_LONGEST_WORDS = 300
_LONGEST_ANSWER = 4000


class Told(NamedTuple):
    """An entry that an answer means; `instant` is the visit's, or the time that was written."""

    number: str
    kind: str
    fields: Mapping[str, str]
    note: str
    instant: int


class Report(NamedTuple):
    """What a report says."""

    entries: tuple[Told, ...]
    not_understood: tuple[str, ...]
    missing: tuple[str, ...]  # numbers without an answer, of the visits that were answered at all


class _Kit(NamedTuple):
    """What answers are read with."""

    sitter: str
    zone: tzinfo
    gallon: str | None
    first_step: float  # mg/L: what "no colour" means


class _UnclearError(Exception):
    """An answer that cannot be taken; the message says why."""


def read_report(
    text: str,
    tasks: Sequence[Task],
    *,
    sitter: str,
    zone: tzinfo,
    gallon: str | None = None,
    first_step_mg_l: float = 0.02,
) -> Report:
    """The entries that a message means, in the order of the tasks, each once."""
    known = {task.number: task for task in tasks}
    kit = _Kit(sitter, zone, gallon, first_step_mg_l)
    found: dict[str, Told] = {}
    spoilt: dict[str, str] = {}
    unclear: list[str] = []
    for piece in pieces(text, tasks):
        if piece.number not in known:
            what = f"{piece.number}: no such task" if piece.number else "no number"
            if piece.number or re.search(r"\w", piece.text):
                unclear.append(f"{what}: {piece.text[:_LONGEST_WORDS]}")
            continue
        try:
            told = _answer(known[piece.number], piece, kit)
        except _UnclearError as reason:
            spoilt[piece.number] = f"{piece.number}: {reason}"
            continue
        if told is None:
            continue
        if found.setdefault(piece.number, told) != told:
            spoilt[piece.number] = f"{piece.number}: answered twice and differently, none is taken"
    entries = tuple(found[n] for n in known if n in found and n not in spoilt)
    seen = {number.split(".")[0] for number in (*found, *spoilt)}
    missing = tuple(
        n for n in known if n.split(".")[0] in seen and n not in found and n not in spoilt
    )
    once = tuple(dict.fromkeys((*spoilt.values(), *unclear)))
    return Report(entries, once, missing)


def standing(told: Told, entries: Iterable[Entry], zone: tzinfo) -> Entry | None:
    """The entry that an earlier import of this answer left in the journal."""
    day = datetime.fromtimestamp(told.instant, UTC).astimezone(zone).date()
    mark = re.compile(rf"task {re.escape(told.number)}(?![0-9.])")
    for entry in entries:
        if mark.match(entry.note) and entry.fields.get("by", "") == told.fields.get("by", ""):
            when = datetime.fromtimestamp(entry.instant, UTC).astimezone(zone).date()
            if when == day:
                return entry
    return None


def _answer(task: Task, piece: Piece, kit: _Kit) -> Told | None:
    """What the piece says to the task; None where nothing is said. Raises _UnclearError."""
    if len(piece.text) > _LONGEST_ANSWER:
        raise _UnclearError(f"an answer of {len(piece.text)} characters: write a shorter one")
    words = _without_own(task, piece.text)
    if not words:
        if not piece.ticked:
            return None
        words = "ok"
    words, instant = _time(task, words, kit.zone)
    if task.dimension == "chlorine" and (clear := _CLEAR.match(_after_ok(words))):
        rest = _after_ok(words)[clear.end() :]
        return _told(task, f"<{kit.first_step:g} mg/L", rest, instant, kit)
    if no := _NO.match(words):
        return _no(task, words[no.end() :].strip(_EDGE), instant, kit)
    if task.field:
        amount, rest = _amount(task, words, kit)
        if amount:
            return _told(task, amount, rest, instant, kit)
        if _OK.match(words) and task.planned:
            return _told(task, task.planned, _after_ok(words), instant, kit)
        asked = {"chlorine": "none, or mg/L"}.get(task.dimension, f"a number of {task.unit}")
        raise _UnclearError(f"asks for {asked}, not {_short(words)}")
    if _OK.match(words):
        return _told(task, "", _after_ok(words), instant, kit)
    raise _UnclearError(f"neither ok nor no: {_short(words)}")


def _without_own(task: Task, text: str) -> str:
    """The answer without the sheet's own words, where the whole sheet was quoted."""
    words = " ".join(text.split()).lstrip(_EDGE)
    for own in (task.text, f"({task.asks})", task.title, f"({task.asks})"):
        mine = " ".join(plain(own).split())
        if mine and words.casefold().startswith(mine.casefold()):
            words = words[len(mine) :].lstrip(_EDGE)
    return words.strip(" \"'").rstrip(" .,;")


def _time(task: Task, words: str, zone: tzinfo) -> tuple[str, int]:
    """The answer without its time of day, and the instant that it means."""
    found = _AT.search(words)
    if not found:
        return words, task.instant
    local = datetime.fromtimestamp(task.instant, UTC).astimezone(zone)
    moment = local.replace(hour=int(found[1]), minute=int(found[2]), second=0)
    rest = f"{words[: found.start()]} {words[found.end() :]}"
    return " ".join(rest.split()) or "ok", int(moment.timestamp())


def _after_ok(words: str) -> str:
    found = _OK.match(words)
    return words[found.end() :].strip(_EDGE) if found else words


def _no(task: Task, reason: str, instant: int, kit: _Kit) -> Told:
    """Not done, or not as it should be: a chore skipped, else a note."""
    if task.field and task.dimension != "length" and _amount(task, reason, kit, bare=False)[0]:
        raise _UnclearError(f"no, and yet an amount: {_short(reason)}; write by hand what happened")
    if task.dimension == "chlorine" and not reason:
        raise _UnclearError('"no" may mean no colour or no test: ask')
    if task.kind == "chore" and not task.text.endswith("?"):
        note = f"task {task.number}: {reason or 'no reason given'}"
        fields = {**task.fields, "skipped": "yes"}
        return Told(task.number, "chore", _by(fields, kit), _note(note), instant)
    told = f"task {task.number} {task.title}: no" + (f": {reason}" if reason else "")
    return Told(task.number, "note", _by({}, kit), _note(told), instant)


def _told(task: Task, amount: str, words: str, instant: int, kit: _Kit) -> Told:
    fields = {**task.fields, **({task.field: amount} if task.field else {})}
    rest = words.strip(_EDGE + "(\"'")
    if task.kind == "note":
        note = f"task {task.number} {task.title}: ok" + (f": {rest}" if rest else "")
    else:
        note = f"task {task.number}" + (f": {rest}" if rest else "")
    return Told(task.number, task.kind, _by(fields, kit), _note(note), instant)


def _by(fields: Mapping[str, str], kit: _Kit) -> dict[str, str]:
    return {**fields, **({"by": kit.sitter} if kit.sitter else {})}


def _note(text: str) -> str:
    return " ".join(text.split())[:_LONGEST_WORDS]


def _short(words: str) -> str:
    return words if len(words) <= 60 else words[:59] + "…"


def _amount(task: Task, words: str, kit: _Kit, *, bare: bool = True) -> tuple[str, str]:
    """The amount as the journal will hold it, and the other words; "" where there is none.

    Raises _UnclearError for a decimal comma, a wrong unit, or two amounts.
    """
    wrong = ""
    taken: list[tuple[str, str]] = []
    for found in _AMOUNT.finditer(words):
        unit, end = _unit_of(task, found, words)
        if not unit and not bare:
            continue
        if found["comma"]:
            raise _UnclearError(f"use a point, not a comma: {_short(words)}")
        text = f"{found['number']} {unit or task.unit}"
        try:
            _check(task, text, kit)
        except InputError as error:
            wrong = wrong or str(error)
            continue
        if not unit and taken:
            continue  # a number among the words behind the amount
        rest = f"{_after_ok(words[: found.start()].strip(_EDGE))} {words[end:].strip(_EDGE)}"
        taken.append((text, rest.strip()))
    if len(taken) > 1:
        raise _UnclearError(f"two amounts: {_short(words)}")
    if wrong and not taken and bare and not (task.planned and _OK.match(words)):
        raise _UnclearError(wrong)
    return taken[0] if taken else ("", words)


def _unit_of(task: Task, found: re.Match[str], words: str) -> tuple[str, int]:
    """The unit behind a number, "" for a bare one, and where the amount ends."""
    unit = (found["unit"] or "").strip()
    if unit == "°":
        return "", found.end()
    if not unit or not _known(unit) or _is_word(unit, words[found.end() :]):
        return "", found.end("number")
    if unit.casefold() in _GALLONS and task.unit.endswith("gal"):
        unit = task.unit
    return unit, found.end()


def _is_word(unit: str, after: str) -> bool:
    """Whether an `in` is no inch: 71 in the morning."""
    return unit.casefold() == "in" and after[:1] == " " and after[1:2].isalpha()


def _known(unit: str) -> bool:
    try:
        dimension_of(unit)
    except QuantityError:
        return unit.casefold() in (*_GALLONS, "fl oz", "qt", "pt")
    return True


def _fits(task: Task, text: str, kit: _Kit) -> bool:
    try:
        _check(task, text, kit)
    except InputError:
        return False
    return True


def _check(task: Task, text: str, kit: _Kit) -> None:
    """Raises InputError where the amount is none of the task's dimension."""
    if task.dimension == "dose":
        try:
            read(text, "volume", gallon=kit.gallon)
        except QuantityError as error:
            try:
                read(text, "mass")
            except QuantityError:
                raise error from None
        return
    dimension = "concentration" if task.dimension == "chlorine" else task.dimension
    read(text.removeprefix("<"), dimension, gallon=kit.gallon, signed=task.dimension == "length")
