"""The reference of the journal: its form, and every kind of entry from the table of kinds."""

from __future__ import annotations

from collections.abc import Iterator

from pondtui.pond.state.kinds import BY, KINDS, Field, Kind, example
from pondtui.units import NOUNS
from pondtui.views.pages.page import Page, row

NAME = "journal-format"
INTRO = """\
The journal is plain text in the folder journal/ of your pond: one file for each
year and each device that writes. All that the program shows is worked out from
these lines and from pond.toml. It only ever adds lines; it never rewrites,
sorts or takes away what stands there.

# A line
    2026-06-03 07:42:10+02:00 | level | reading=62 mm; pump=on; by=MO | calm

Its four parts are the stamp, the kind, the fields and the note, with | between.

- The stamp is day, time and the offset from UTC (+02:00, or Z). Seconds may be
  left out by hand. Without an offset the line is read in the pond's own time
  zone, and `pondtui check` remarks on it. The stamp of a fill or a release is
  the end of the pouring; a start marks its beginning.
- The kind is one word of the list below.
- Fields are name=value with ; between. A value holds no ; and no |.
- The note is the rest of the line. It may be left out, and so may the fields.
- A line that begins with # is a comment, never read.

# Values
A quantity has its unit: 62 mm, 2 7/16 in, 40 US gal, 18.5 degC. A test may stand
under its first step (<0.02 mg/L) and carry a basis (0.5 mg/L as N). See
`pondtui help values`.

# How lines are read
Entries are ordered by their instant, then by kind in the order of the list
below. File and place in the file do not matter. The same entry counts once,
however often it stands there, so a synchroniser's second copy changes nothing.

Every *.txt in journal/ is read. A line that cannot be read stops nothing and is
never dropped: `pondtui check` lists it with file, line, column and reason. A
kind or field that this program does not know is kept and remarked on.

# Corrections
A wrong entry is struck and written again. The line stays. A strike names the
stamp and the kind:
    2026-06-03 08:32:00+02:00 | strike | of=2026-06-03 07:42:10+02:00 level
A strike may itself be struck: then the entry counts again. On the screen the
journal does it for you, and so does `pondtui undo` for the last entry.

Late entries are always taken, also a whole batch of last week. What happened is
written down and judged; the program never refuses a fact.

# The kinds, in their order
"""
_TYPES = {
    "dose": "a volume, or a mass of a dry product", "rate": "a dose for a volume",
    "number": "a number", "whole": "a whole number", "yesno": "yes or no", "phrase": "words",
    "date": "a day", "reference": "stamp and kind of an entry", "level": "line, or a length",
    "fraction": "a share",
}  # fmt: skip
_PHRASES = {
    "barrel": "yard", "batch": "yard-260603", "where": "pond", "item": "conditioner",
    "name": "feed", "alarm": "level-warn", "step": "mix", "kind": "frogs",
}  # fmt: skip
_MORE = {  # so that the example says something
    "note": ('-m "heron at dawn"',), "test": ('chlorine_total="<0.02 mg/L"',),
    "weather": ('tmax="24 degC"',), "supply": ('got="500 mL"',),
    "bucket": ('pond="62 mm"', 'bucket="21 mm"'),
}  # fmt: skip


def pages() -> Iterator[Page]:
    """The form of the journal, then one page a kind."""
    kinds = "\n".join(row(kind.name, kind.help) for kind in KINDS.values())
    end = "\nEvery kind takes `by`, who wrote it. `pondtui help KIND` tells the fields of a kind.\n"
    yield Page(NAME, "the journal: its form and every kind of entry", f"{INTRO}{kinds}\n{end}")
    for kind in KINDS.values():
        yield Page(f"{NAME} {kind.name}", f"entry: {kind.name}", kind_text(kind))


def kind_text(kind: Kind) -> str:
    """One kind: what it is, how it is written, its fields."""
    wanted = [f for f in kind.fields if f.required or f.name in kind.one_of[:1]]
    call = " ".join(["pondtui add", kind.name, *map(_sample, wanted), *_MORE.get(kind.name, ())])
    more = []
    if kind.one_of:
        more.append(f"One of these must be there: {', '.join(kind.one_of)}.")
    if kind.note_required:
        more.append("The note may not be empty: -m NOTE.")
        call += ' -m "the reason"'
    rows = "\n".join(row(f.name, told(f)) for f in (*kind.fields, BY))
    help = f"{kind.help[:1].upper()}{kind.help[1:]}."
    return "\n".join([help, *more, f"    {call}", "", rows, ""])


def told(field: Field) -> str:
    """What a field is, and what it takes."""
    if field.words:
        kind = f"one of {', '.join(field.words)}"
    else:
        head, _, dimension = field.type.partition(":")
        kind = _TYPES.get(head) or NOUNS[dimension or head][0]
        kind += f" such as {example(field)}" if head != "phrase" else ""
    must = "; required" if field.required else ""
    return f"{field.help}. {kind[:1].upper()}{kind[1:]}{must}."


def _sample(field: Field) -> str:
    if field.type == "phrase":
        return f"{field.name}={_PHRASES.get(field.name, field.name.upper())}"
    return f'{field.name}="{"150 L" if field.type == "volume" else example(field)}"'
