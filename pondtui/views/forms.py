"""Quick entries: which fields a form asks for, and what a hurried text in one of them means."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from pondtui.pond.daily.due import Due
from pondtui.pond.daily.kit import SAMPLES, first_step
from pondtui.pond.daily.quick_amounts import with_unit
from pondtui.pond.setup.model import Setup
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.kinds import KINDS
from pondtui.pond.state.model import PondState
from pondtui.pond.water.levels import reading_up
from pondtui.records import NamedTuple
from pondtui.units import show
from pondtui.views.words import ago, count, reading

_MORE = re.compile(r"\s*;\s*")
JUMP_MM = 60.0  # a step between two readings that is worth a second look: common practice


class Blank(NamedTuple):
    """One line of a form."""

    name: str  # of the field; "note", "when", or "more" for further NAME=VALUE
    label: str
    example: str
    words: tuple[str, ...] = ()  # the only ones that may be typed


WHEN = Blank("when", "when", "empty means now; 07:42, yesterday 07:42")


class Form(NamedTuple):
    """What a quick entry asks."""

    kind: str
    title: str
    blanks: tuple[Blank, ...]
    key: str = ""  # under which what was typed is kept; "" = the kind
    why: bool = False  # the note is the reason, and may not be empty


def level_form(setup: Setup) -> Form:
    """The gauge, with the pump and the water's temperature where they are known."""
    metric = setup.pond.units == "metric"
    return Form(
        "level",
        "Level reading",
        (
            Blank("reading", "gauge reads", "such as 62 (mm)" if metric else "such as 2 7/16 (in)"),
            Blank("pump", "pump", "on or off", ("on", "off")),
            Blank("temp", "water temp", "such as 18.5 (°C)" if metric else "such as 64 (°F)"),
            Blank("note", "note", "such as calm, before feeding"),
            WHEN,
        ),
    )


def note_form() -> Form:
    """Words only."""
    return Form("note", "Note", (Blank("note", "note", "such as heron at dawn"), WHEN))


def strike_form(line: str) -> Form:
    """The reason for taking an entry back."""
    return Form("strike", f"Take back: {line}", (Blank("note", "why", "such as misread the rule"),))


def chores(setup: Setup, due: Sequence[Due]) -> list[tuple[str, str]]:
    """The chores by name with what is said of them, those that are due first."""
    late = {each.name: each for each in due}
    named = [*late, *(chore.name for chore in setup.chores if chore.name not in late)]
    return [(name, f"{name}{_when_due(late.get(name))}") for name in named]


def _when_due(due: Due | None) -> str:
    if due is None:
        return ""
    return f" - due since {count(due.days_late, 'day')}" if due.days_late else " - due today"


def skip_form(name: str) -> Form:
    """Why a chore is not done."""
    blank = Blank("note", "why", "such as too cold")
    return Form("chore", f"Skip: {name}", (blank,), f"skip {name}", why=True)


def late_form(name: str) -> Form:
    """A chore done at another time."""
    blanks = (WHEN, Blank("note", "note", "such as all well"))
    return Form("chore", f"Done: {name}", blanks, f"late {name}")


def supply_form(name: str) -> Form:
    """A supply counted or bought."""
    blanks = (
        Blank("left", "left", "such as 200 mL, 80 g, 2 - what you count"),
        Blank("got", "bought", "such as 500 mL, 1 kg, 3"),
        Blank("best_before", "best before", "such as 2027-10-01"),
        Blank("note", "note", "such as a new bottle"),
    )
    return Form("supply", f"Supply: {name}", blanks, f"supply {name}")


def putoff_form(alarm: str) -> Form:
    """An alarm put off, with the reason and the day on which it comes back."""
    blanks = (
        Blank("until", "comes back on", "such as 2026-08-20"),
        Blank("note", "why", "such as kit is ordered"),
    )
    return Form("putoff", f"Put off: {alarm}", blanks, f"putoff {alarm}", why=True)


def again_form(entry: Entry) -> tuple[Form, dict[str, str]] | None:
    """A form for writing an entry again, with its texts; None for kinds that are not asked."""
    kind = KINDS.get(entry.kind)
    if kind is None or kind.name == "strike":
        return None
    blanks = tuple(
        Blank(field.name, field.name.replace("_", " "), field.help, field.words)
        for field in kind.fields
    )
    blanks = (*blanks, Blank("note", "note", "what was wrong"))
    title = f"Write it again as it should be; the old line is struck: {entry.stamp} {kind.name}"
    typed = {name: text for name, text in entry.fields.items() if kind.field(name) is not None}
    form = Form(kind.name, title, blanks, key=f"again {entry.stamp} {kind.name}")
    return form, {**typed, "note": entry.note}


def test_form(setup: Setup, state: PondState) -> Form:
    """A water test: what is tested most has a line, the rest is typed as NAME=VALUE."""
    places = ("pond", "tap", *state.barrels)
    metric = setup.pond.units == "metric"
    return Form(
        "test",
        "Water test",
        (
            Blank("where", "where", ", ".join(places), places),
            Blank("chlorine_total", "TOTAL chlorine", "0 for no colour, or such as 0.5 (mg/L)"),
            Blank("temp", "water temp", "such as 18.5 (°C)" if metric else "such as 64 (°F)"),
            Blank("ph", "pH", "such as 7.6"),
            Blank("ammonia", "ammonia", _sample(setup, "ammonia")),
            Blank("nitrite", "nitrite", _sample(setup, "nitrite")),
            Blank("alkalinity", "alkalinity, KH", _sample(setup, "alkalinity")),
            Blank("more", "other values", "such as nitrate=20 mg/L as NO3; oxygen=8 mg/L"),
            Blank("note", "note", "such as kit new"),
            WHEN,
        ),
    )


def _sample(setup: Setup, field: str) -> str:
    """An example in the unit and on the basis of the kit."""
    step = first_step(setup, field)
    if not step:
        return f"such as {SAMPLES[field]}"
    return f"in {step.partition(' ')[2]}; 0 is under {step}"


def meant(form: Form, typed: Mapping[str, str], setup: Setup) -> tuple[dict[str, str], str]:
    """Fields and note of the entry that the texts mean; bare numbers get the pond's own unit.

    Raises InputError for a 0 of a kit whose first step nobody said.
    """
    fields: dict[str, str] = {}
    for blank in form.blanks:
        text = typed.get(blank.name, "").strip()
        if blank.name == "more":
            fields |= {name: _kept(form, name, value, setup) for name, value in _pairs(text)}
        elif text and blank.name not in ("note", "when"):
            fields[blank.name] = _whole_word(blank, _kept(form, blank.name, text, setup))
    return fields, typed.get("note", "").strip()


def second_look(setup: Setup, state: PondState, reading_mm: float) -> str:
    """What a new gauge reading says against the last one; "" without one."""
    last = state.level
    if last is None:
        return ""
    rise = reading_up(setup, reading_mm) - reading_up(setup, last.reading_mm)
    since = ago(last.instant, state.now)
    if abs(rise) < 0.5:
        return f"as high as {since}"
    way = "higher" if rise > 0 else "lower"
    told = f"{show(abs(rise), 'length', setup.pond.units, rule=True)} {way} than {since}"
    if abs(rise) > JUMP_MM:
        told = f"{told} ({reading(setup, last.reading_mm)}): typed right?"
    return told


def _pairs(text: str) -> list[tuple[str, str]]:
    """`a=1; b=2`; a piece without = is kept whole, so that the refusal shows it."""
    pieces = [piece.partition("=") for piece in _MORE.split(text) if piece.strip()]
    return [(name.strip().lower(), value.strip()) for name, _, value in pieces]


def _whole_word(blank: Blank, text: str) -> str:
    """The only word of the list that begins so: `y` for yard."""
    fitting = [word for word in blank.words if word.lower().startswith(text.lower())]
    return fitting[0] if len(fitting) == 1 else text


def _kept(form: Form, name: str, text: str, setup: Setup) -> str:
    """A bare number with the unit that this field has on this pond, or on its kit."""
    field = KINDS[form.kind].field(name)
    return text if field is None or not text else with_unit(setup, form.kind, field, text)
