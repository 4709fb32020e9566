"""`pondtui help`: all verbs, one verb, or one kind of entry, from the tables themselves."""

from __future__ import annotations

from textwrap import wrap

from pondtui.books.values import example
from pondtui.cli.context import Context
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS, Option, Verb
from pondtui.cli.words import Call, nearest
from pondtui.errors import UsageError
from pondtui.pond.state.kinds import BY, KINDS, Field, Kind

_WIDE = 80
TOPICS = ("entries", "values", "exit-codes")
VALUES = """\
A value is written with its unit: 150 L, 40 US gal, 9 imp gal, 62 mm, 2 7/16 in,
18.5 degC, 64 degF, 11 mL, 2 tsp, 1 h 20 min, 0.6 mg/L, 0.6 ppm. A bare gal is
the gallon of the pond's own units. A decimal comma is refused: write 12.5 L.
A test value may carry its basis (0.5 mg/L as N) or stand under the kit's first
step (<0.02 mg/L). In a shell, quote what holds such a sign: "<0.02 mg/L"."""
EXIT_CODES = """\
0    done
1    check found problems; with --exit-code: something to do, or a guard closed
2    the words of the call are wrong
3    a file cannot be read or written
70   a fault of pondtui itself
128+ a signal, such as 130 for Ctrl+C"""


def run(call: Call, context: Context) -> int:
    """Print the help asked for."""
    topic = " ".join(call.words)
    text = "\n".join(_lines(topic))
    context.answer({"topic": topic, "text": text}, text.split("\n"))
    return 0


def _lines(topic: str) -> list[str]:
    if not topic:
        return _everything()
    if topic in VERBS:
        return _verb(VERBS[topic])
    if topic in KINDS:
        return _kind(KINDS[topic])
    texts = {"entries": _entries, "values": VALUES.splitlines, "exit-codes": EXIT_CODES.splitlines}
    if topic in texts:
        return texts[topic]()
    hint = nearest(topic, [*VERBS, *KINDS, *TOPICS])
    raise UsageError(f"there is no help on '{topic}'{hint}; `pondtui help` lists all")


def _everything() -> list[str]:
    verbs = [(f"pondtui {v.name} {v.arguments}".rstrip(), v.help) for v in VERBS.values()]
    return [
        "pondtui: logbook and checklist for a small garden pond",
        "",
        *columns(verbs),
        "",
        "options of every verb",
        *_options(GLOBAL_OPTIONS),
        "",
        "pondtui help VERB      one verb and its options",
        "pondtui help entries   the kinds of entries; pondtui help KIND for one of them",
        "pondtui help values    how values and units are written",
        "pondtui help exit-codes",
        "pondtui worksheet      every calculation on its own",
    ]


def _verb(verb: Verb) -> list[str]:
    usage = wrap(verb.usage, _WIDE, subsequent_indent="    ", break_on_hyphens=False)
    return [*usage, "", verb.help, *([""] if verb.options else []), *_options(verb.options)]


def _entries() -> list[str]:
    return [
        "pondtui add KIND [NAME=VALUE ...]",
        "",
        *columns([(k.name, k.help) for k in KINDS.values()]),
    ]


def _kind(kind: Kind) -> list[str]:
    wanted = [f for f in kind.fields if f.required or f.name in kind.one_of[:1]]
    lines = [" ".join(["pondtui add", kind.name, *map(_sample, wanted)]), "", kind.help]
    if kind.one_of:
        lines.append(f"one of these must be there: {', '.join(kind.one_of)}")
    if kind.note_required:
        lines.append("the note (-m) may not be empty")
    return [*lines, "", *columns([_field(field) for field in (*kind.fields, BY)])]


def _sample(field: Field) -> str:
    if field.type == "phrase":
        return f"{field.name}={field.name.upper()}"
    return f'{field.name}="{"150 L" if field.type == "volume" else example(field)}"'


def _field(field: Field) -> tuple[str, str]:
    words = f": {', '.join(field.words)}" if field.words else ""
    return (field.name + ("*" if field.required else ""), field.help + words)


def _options(options: tuple[Option, ...]) -> list[str]:
    rows = []
    for option in options:
        short = f", -{option.letter}" if option.letter else ""
        rows.append((f"--{option.name}{short} {option.value}".rstrip(), option.help))
    return columns(rows)


def columns(rows: list[tuple[str, str]]) -> list[str]:
    """Two columns; a long left side takes a line of its own, a long right side is folded."""
    width = max((len(left) for left, _ in rows if len(left) <= 26), default=0)
    lines = []
    for left, right in rows:
        folded = wrap(right, _WIDE - width - 4, break_long_words=False, break_on_hyphens=False)
        if len(left) > width:
            lines.append(f"  {left}")
            left = ""
        for part in folded or [""]:
            lines.append(f"  {left:{width}}  {part}".rstrip())
            left = ""
    return lines
