"""A line of the journal and the entry it holds: reading, writing, and making one from a form.

`STAMP | KIND | name=value; name=value | NOTE`. Reading never raises and writing never loses:
what `render` writes, `parse_line` reads as the same entry.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import tzinfo
from functools import lru_cache
from typing import Any
from unicodedata import normalize

from pondtui.books.stamps import parse_stamp, render_stamp
from pondtui.books.values import did_you_mean, read_value
from pondtui.clean import visible
from pondtui.errors import InputError, Problem
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.kinds import KINDS, Field, Kind, example
from pondtui.records import NamedTuple

LONGEST = 8192  # bytes of a line; longer ones are no line of a journal
MOST_FIELDS = 64  # of a line; a kind has a dozen
_SPACES = " \u00a0"
_WORD = re.compile(r"[a-z][a-z0-9_-]*")
_CONFLICT = ("<<<<<<<", "=======", ">>>>>>>", "|||||||")
_REQUIRED = {
    kind.name: frozenset(field.name for field in kind.fields if field.required)
    for kind in KINDS.values()
}


class _Fault(NamedTuple):
    column: int
    message: str
    severity: str = "problem"


class _Piece(NamedTuple):
    """One `name=value`; an empty name where there is nothing to keep."""

    name: str
    text: str
    value: Any = None
    message: str = ""
    severity: str = "problem"
    known: bool = True  # else nobody knows what it means: the words are kept, and are no value


def parse_line(
    raw: bytes | str, path: str, line: int, tz: tzinfo, gallon: str | None
) -> tuple[Entry | None, list[Problem]]:
    """The entry of a line, and what is wrong or worth a look in it.

    Comments and blank lines give nothing. With a problem there is no entry, with remarks there is.
    """
    too_long = (
        len(raw) > LONGEST
    )  # told first: to compose signs may cost the square of their number
    text = _text(raw[:200] if too_long else raw)
    begin = text.lstrip(_SPACES)
    if begin[:1] == "#" or not (begin or too_long):
        return None, []
    if too_long:
        message = f"the line is longer than {LONGEST} bytes: shorten its note"
        return None, [Problem(path, line, 0, message, text)]
    entry, faults = _read(text, path, line, tz, gallon)
    if not faults:
        return entry, []
    problems = [Problem(path, line, at, message, text, kind) for at, message, kind in faults]
    broken = any(fault.severity == "problem" for fault in faults)
    return (None if broken else entry), problems


def render(entry: Entry) -> str:
    """The entry as one line, without the newline; the fields stand in their written order."""
    fields = render_fields(entry.fields)
    return f"{entry.stamp} | {entry.kind:<7} |{fields and ' ' + fields} | {entry.note}".rstrip(" ")


def render_fields(fields: Mapping[str, str]) -> str:
    """`name=value; name=value`."""
    return "; ".join([f"{name}={value}" for name, value in fields.items()])


def make(
    kind: str,
    fields: Mapping[str, str],
    note: str,
    instant: int,
    tz: tzinfo,
    gallon: str | None,
) -> Entry:
    """The entry that a form or a command means; empty fields are left out.

    A bare gallon is written out, so that the line means the same when the pond's units change.
    Raises InputError with all the mistakes in one sentence.
    """
    spec = KINDS.get(kind)
    if spec is None:
        hint = did_you_mean(kind, KINDS) or f"; known are {', '.join(KINDS)}"
        raise InputError(f"there is no kind of entry named {kind}{hint}")
    texts: dict[str, str] = {}
    values: dict[str, Any] = {}
    mistakes = []
    for name, typed in fields.items():
        text = one_line(typed)
        if text:
            try:
                texts[name], values[name] = _take(spec, name, text, tz, gallon)
            except InputError as error:
                mistakes.append(str(error))
    note = one_line(note)
    mistakes += _missing(spec, {name for name in fields if one_line(fields[name])}, note)
    entry = Entry(instant, render_stamp(instant, tz), kind, texts, values, note)
    if not mistakes and len(render(entry).encode()) >= LONGEST:
        mistakes.append(f"the entry is longer than {LONGEST} bytes: shorten its note")
    if mistakes:
        raise InputError("; ".join(mistakes))
    return entry


def strike_of(entry: Entry, tz: tzinfo) -> str:
    """The `of` of a strike that takes this entry back."""
    return f"{render_stamp(entry.instant, tz)} {entry.kind}"


def one_line(text: str) -> str:
    """Typed text as it may stand in a line: newlines become spaces, hidden signs visible."""
    text = visible(re.sub(r"(?<![ \t])[ \t]*[\r\n]+[ \t]*", " ", text).replace("\t", " ")).strip(
        _SPACES
    )
    return text if len(text) > LONGEST else normalize("NFC", text).strip(_SPACES)


# --- reading --------------------------------------------------------------------------------------


def _text(raw: bytes | str) -> str:
    """The line without its end, hidden characters visible, in NFC; tabs count as spaces."""
    text = raw if isinstance(raw, str) else raw.decode("utf-8", "replace")
    if text.isascii() and text.isprintable():
        return text
    text = text.removesuffix("\n").removesuffix("\r").lstrip("\ufeff").replace("\t", " ")
    return normalize("NFC", visible(text).replace("\n", "\u240a"))


def _read(
    text: str, path: str, line: int, tz: tzinfo, gallon: str | None
) -> tuple[Entry | None, list[_Fault]]:
    parts = text.split("|", 3)
    stamp = parts[0].strip(_SPACES)
    if len(parts) < 2 or not stamp:
        return None, [_no_line(text)]
    faults: list[_Fault] = []
    instant = 0
    try:
        instant, remark = parse_stamp(stamp, tz)
        if remark:
            faults.append(_Fault(_column(parts, 0), remark, "remark"))
    except InputError as error:
        if text.startswith(_CONFLICT):
            return None, [_no_line(text)]
        faults.append(_Fault(_column(parts, 0), str(error)))
    kind = parts[1].strip(_SPACES)
    spec = KINDS.get(kind)
    if spec is None:
        faults.append(_unknown_kind(kind, _column(parts, 1)))
    fields: dict[str, str] = {}
    values: dict[str, Any] = {}
    if len(parts) > 2:
        faults += _read_fields(kind, parts, fields, values, tz, gallon)
    note = parts[3].strip(_SPACES) if len(parts) > 3 else ""
    if spec and (spec.one_of or spec.note_required or not _REQUIRED[kind] <= values.keys()):
        faults += [_Fault(_column(parts, 1), each) for each in _missing(spec, values, note)]
    return Entry(instant, stamp, kind, fields, values, note, path, line), faults


def _read_fields(
    kind: str,
    parts: list[str],
    fields: dict[str, str],
    values: dict[str, Any],
    tz: tzinfo,
    gallon: str | None,
) -> list[_Fault]:
    """Fill `fields` and `values` from the third part of a line."""
    faults = []
    pieces = parts[2].split(";")
    column = len(parts[0]) + len(parts[1]) + 3
    if len(pieces) > MOST_FIELDS:
        return [_Fault(column, f"more than {MOST_FIELDS} fields: words go behind a further |")]
    for piece in pieces:
        name, text, value, message, severity, known = _read_piece(kind, piece, tz, gallon)
        if name in fields:
            message, severity = f"{name} stands twice: keep one of them", "problem"
        elif name:
            fields[name] = text
            if text and known:
                values[name] = value
        if message:
            begins = column + len(piece) - len(piece.lstrip(_SPACES))
            faults.append(_Fault(begins, message, severity))
        column += len(piece) + 1
    return faults


@lru_cache(maxsize=1 << 16)
def _read_piece(kind: str, piece: str, tz: tzinfo, gallon: str | None) -> _Piece:
    """One `name=value`. Remembered: a journal repeats itself in all but its stamps."""
    name, equals, text = (part.strip(_SPACES) for part in piece.partition("="))
    if not equals:
        if not name:
            return _Piece("", "")
        return _Piece("", "", None, f"{name}: a field is name=value; words go behind a further |")
    if not _WORD.fullmatch(name) or "-" in name:
        near = re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_") or "name"
        return _Piece("", "", None, f"{name} is no name of a field: write {near}={text}")
    spec = KINDS.get(kind)
    if spec is None:
        return _Piece(name, text, known=False)
    field = spec.field(name)
    if field is None:
        hint = did_you_mean(name, [known.name for known in spec.fields])
        message = f"{kind} knows no field {name}{hint}"
        return _Piece(name, text, None, message, "remark", known=False)
    if not text and field.type in ("phrase", "word"):
        return _Piece(name, text, None, f"{name} is empty: leave it out", "remark")
    try:
        value, remark = read_value(field, text, tz, gallon)
    except InputError as error:
        return _Piece(name, text, None, str(error))
    return _Piece(name, text, value, remark, "remark")


def _missing(spec: Kind, names: Collection[str], note: str) -> list[str]:
    """What an entry of this kind with fields of these names lacks."""
    lacking = [
        f"{spec.name} needs {field.name}: write {field.name}={example(field)}"
        for field in spec.fields
        if field.required and field.name not in names
    ]
    if spec.one_of and not any(name in names for name in spec.one_of):
        lacking.append(f"{spec.name} needs {' or '.join(spec.one_of)}")
    if spec.note_required and not note:
        lacking.append(f"{spec.name} needs a note: the reason why")
    return lacking


def _column(parts: list[str], place: int) -> int:
    """Where the text of a part begins, counted from 1."""
    before = sum(len(part) + 1 for part in parts[:place])
    return before + len(parts[place]) - len(parts[place].lstrip(_SPACES)) + 1


def _no_line(text: str) -> _Fault:
    if text.startswith(_CONFLICT):
        return _Fault(1, "a mark left by a merge: delete this line, keep the entries around it")
    loose = re.match(r"\s*(\d{4}-\d\d-\d\d[ T][0-9:]+(?:Z|[+-][0-9:]+)?)\s+([a-z]+)\b\s*", text)
    if loose:
        near = f"{loose[1]} | {loose[2]} | {text[loose.end() :]}".strip()
        return _Fault(1, f"put a | between the parts: write {near}")
    return _Fault(1, "this is no entry: write STAMP | KIND | name=value | note, or # before it")


def _unknown_kind(kind: str, column: int) -> _Fault:
    if not _WORD.fullmatch(kind):
        near = re.sub(r"[^a-z0-9]+", "-", kind.lower()).strip("-") or "note"
        return _Fault(column, f"a kind is one word in small letters: write {near}")
    return _Fault(column, f"there is no kind {kind}{did_you_mean(kind, KINDS)}", "remark")


# --- making ---------------------------------------------------------------------------------------

_BARE_GALLON = (  # compiled where it is first used
    r"(?i)(?<!\s)\s*(?<![A-Za-z.])(gal\b\.?|gals\b|gallons?\b|fl\.? ?oz\b\.?|fluid ounces?\b"
    r"|qt\b|quarts?\b|pt\b|pints?\b)"
)


def _take(spec: Kind, name: str, text: str, tz: tzinfo, gallon: str | None) -> tuple[str, Any]:
    """A typed value as it will be written, and as read. Raises InputError."""
    field = spec.field(name)
    if field is None:
        known = [each.name for each in spec.fields]
        hint = did_you_mean(name, known) or f"; it knows {', '.join([*known, 'by'])}"
        raise InputError(f"{spec.name} knows no field {name}{hint}")
    if ";" in text or "|" in text:
        raise InputError(f"{name}: a value holds no ; and no |: use a comma, or say it in the note")
    if text[0] == "\u0338":  # the one sign that would melt into the = before it
        raise InputError(f"{name}: begin with a letter or a digit")
    if gallon and field.type in ("volume", "dose", "rate"):
        text = _name_gallon(field, text, tz, gallon)
    value, remark = read_value(field, text, tz, gallon)
    if field.type == "reference":
        return f"{render_stamp(value.instant, tz)} {value.kind}", value
    if remark:
        raise InputError(remark)
    return text, value


def _name_gallon(field: Field, text: str, tz: tzinfo, gallon: str) -> str:
    """`40 gal` as `40 US gal` where the gallon was left open."""
    try:
        read_value(field, text, tz, None)
    except InputError:
        sign = "US" if gallon == "us" else "imp"
        return re.sub(_BARE_GALLON, rf" {sign} \1", text)
    return text
