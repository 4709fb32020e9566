"""Every key once: the table behind bindings, footer, help, and the keeper's own key map."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from pondtui.records import NamedTuple

if TYPE_CHECKING:
    from textual.binding import BindingType

EVERYWHERE = ""
TICKS = tuple(
    f"{what}_{n}" for what in ("tick", "case") for n in range(2, 10)
)  # told together with the first
# All that a sitter may do; no safety step is passed over.
SITTER = frozenset((
    "refill", "level", "note", "undo", "emergency", "explain", "help", "back", "quit", "step",
    "look", "part", "again", "as_it_stands", "other", "give_up", "do_task", "not_done",
    "visit_before", "visit_after", *(f"case_{n}" for n in range(1, 10)),
))  # fmt: skip
FIRST = ("today", "visits")  # screens that there is no way back from
ROUND = ("level", "tick_1", "note", "test", "refill", "quick", "chores")
# Taken by terminals, tmux, screen or other keyboards: never the only way, and no key of an own map.
_RESERVED = tuple(f"ctrl+{letter}" for letter in "abhijmqsz")


class Key(NamedTuple):
    """One key of one screen."""

    id: str  # as the settings name it
    keys: str  # as Textual names them, joined by commas
    action: str
    label: str  # one word, for the footer
    help: str  # a sentence, for the help
    rooms: str = EVERYWHERE  # ids of the screens, blanks between them
    shown: bool = True  # in the footer


KEYS: tuple[Key, ...] = (
    Key("refill", "r", "open('refill')", "refill", "walk a barrel through fill, treat and release",
        "today visits"),
    Key("level", "l", "level", "level", "write down what the gauge reads",
        "today refill water visits"),
    Key("test", "t", "water_test", "test", "write down a water test", "today refill"),
    Key("tick_1", "1", "tick(1)", "tick (1-9)", "tick off the chore with that number, 1 to 9, in "
        "the line Due", "today"),
    *(Key(f"tick_{n}", str(n), f"tick({n})", "tick", f"tick off chore {n} of the line Due", "today",
          False) for n in range(2, 10)),
    Key("chore", "d", "chore", "done", "tick off any chore, due or not", "today", False),
    Key("chores", "c", "open('chores')", "chores", "all chores and supplies", "today"),
    Key("tests", "s", "open('tests')", "tests", "the latest water tests, judged", "today"),
    Key("alarms", "p", "open('alarms')", "problems", "what is wrong, each with what to do",
        "today"),
    Key("quick", "e", "quick_line", "one line", "write any entry as one line: level 62, rain 4, "
        "note heron again"),
    Key("note", "n", "note", "note", "write a note into the journal"),
    Key("undo", "u", "undo", "undo", "take back the entry that this device wrote last"),
    Key("journal", "j", "open('journal')", "journal", "all entries, newest first", "today"),
    Key("water", "b", "open('water')", "budget", "the season's water: in, out, not explained",
        "today"),
    Key("away", "a", "open('away')", "away", "dates in, plan out: who must let water in, and when",
        "today"),
    Key("worksheets", "w", "open('worksheets')", "worksheets", "every calculation on its own",
        "today"),
    Key("setup", "o", "open('setup')", "setup", "all of the description: basins, barrels, chores, "
        "people", "today"),
    Key("ponds", "y", "app.ponds", "ponds", "another pond: choose, add, or look round the sample",
        "today"),
    Key("looks", "v", "looks", "looks", "colours and plain signs, tried at once", "today"),
    Key("do_task", "enter,space", "do_task", "done", "tick the chosen task, or open its field",
        "visits"),
    Key("not_done", "x", "not_done", "not done", "say why the chosen task was not done", "visits"),
    Key("visit_before", "left", "turn(-1)", "visit before", "look at the visit before", "visits"),
    Key("visit_after", "right", "turn(1)", "next visit", "look at the visit after", "visits"),
    Key("emergency", "s", "open('emergency')", "EMERGENCY", "whom to ring, and what to do when "
        "something is wrong", "visits refill"),
    Key("case_1", "1", "case(1)", "case (1-9)", "what to do in the case of that number",
        "emergency"),
    *(Key(f"case_{n}", str(n), f"case({n})", "case", f"what to do in case {n}", "emergency", False)
      for n in range(2, 10)),
    Key("step", "enter,space", "step", "do it", "tick the step, start it, or open its field",
        "refill"),
    Key("pass_over", "b", "pass_over", "pass over", "pass a safety step over, with a reason",
        "refill"),
    Key("look", "d", "look", "dip", "write down what stands in the barrel", "refill"),
    Key("part", "p", "part", "part", "let out the part that there is room for", "refill"),
    Key("again", "m", "again", "more", "fill or let out more in the same batch", "refill"),
    Key("as_it_stands", "f", "as_it_stands", "no filling", "go on with what the barrel holds",
        "refill"),
    Key("other", "o", "other", "other barrel", "the next barrel", "refill"),
    Key("give_up", "x", "give_up", "give up", "give the batch up; the water stays", "refill"),
    Key("tick_chosen", "space", "tick_chosen", "tick", "tick the chosen chore off now", "chores"),
    Key("skip", "x", "skip", "skip", "skip the chosen chore, with a reason", "chores"),
    Key("late_tick", "o", "late_tick", "other time", "tick it off at another time", "chores"),
    Key("place", "o", "place", "place", "tests of the pond, the tap, or a barrel", "tests"),
    Key("test_there", "t", "water_test", "test", "write down a water test", "tests"),
    Key("put_off", "o", "put_off", "put off", "put the chosen alarm off, with a reason", "alarms"),
    Key("search", "slash,s", "search", "search", "type words that the entries must hold",
        "journal"),
    Key("kind", "k", "kind", "kind", "show one kind of entry only", "journal"),
    Key("problems", "p", "problems", "problems", "lines that could not be read", "journal"),
    Key("strike", "x", "strike", "strike", "take the chosen entry back, or let it count again",
        "journal"),
    Key("correct", "c", "correct", "correct", "strike the chosen entry and write it again",
        "journal"),
    Key("find", "slash,s", "search", "find", "type a word of the worksheet's name", "worksheets"),
    Key("copy", "c", "copy", "to journal", "copy the chosen result into a note", "worksheet"),
    Key("view", "c,space", "view", "chart", "the next view: budget, level, loss, months", "water"),
    Key("earlier", "left", "move(-1)", "earlier", "the cursor one day, week or month back", "water",
        False),
    Key("later", "right", "move(1)", "later", "the cursor one day, week or month on", "water",
        False),
    Key("month_before", "pageup", "turn(-1)", "month back", "the cursor one month back", "water",
        False),
    Key("month_after", "pagedown", "turn(1)", "month on", "the cursor one month on", "water",
        False),
    Key("zoom", "z", "zoom", "zoom", "one month, or the whole season", "water"),
    Key("numbers", "t", "numbers", "numbers", "the same numbers as a table", "water"),
    Key("bucket", "k", "open('bucket')", "bucket test", "is it a leak: the bucket test", "water"),
    Key("dates", "d", "dates", "dates", "the days on which you are away, and who comes", "away"),
    Key("sheet", "s", "sheet", "sheet", "look at the care sheet", "away"),
    Key("print", "p", "print", "print", "write the care sheet into sheets/", "away"),
    Key("report", "r", "report", "report", "take the sitter's report into the journal", "away"),
    Key("begin", "s", "begin", "begin", "begin the bucket test with both levels", "bucket"),
    Key("read", "r", "read", "look", "write down both levels", "bucket"),
    Key("stop", "x", "stop", "give up", "give the bucket test up", "bucket"),
    Key("write", "s", "write", "write", "write what was changed into pond.toml", "setup"),
    Key("add", "a", "add", "add", "one more of the kind under the cursor", "setup"),
    Key("copy_table", "c", "copy", "copy", "a copy of the chosen one: for a change from a day on, "
        "give the copy its own `from`", "setup"),
    Key("remove", "x", "remove", "take out", "take the chosen one out, after a question", "setup"),
    Key("move_up", "i", "move(-1)", "up", "move the chosen one up among its kind", "setup"),
    Key("move_down", "k", "move(1)", "down", "move the chosen one down among its kind", "setup"),
    Key("forget", "f", "forget", "forget", "forget what was changed and not written", "setup"),
    Key("explain", "question_mark", "explain", "explain", "how the chosen figure was computed"),
    Key("help", "h,f1", "help", "help", "the keys of this screen, and all pages of the manual"),
    Key("back", "escape,backspace,q", "back", "back", "back; what was typed is kept"),
    Key("quit", "q", "app.quit", "quit", "close the program; nothing is lost",
        "today visits"),
)  # fmt: skip
_NAMES = {
    "question_mark": "?", "slash": "/", "escape": "Esc", "enter": "Enter", "space": "Space",
    "tab": "Tab", "backspace": "Backspace", "left": "Left", "right": "Right", "down": "Down",
    "up": "Up", "pageup": "Page up", "pagedown": "Page down", "f1": "F1",
}  # fmt: skip


def keys_of(room: str, own: Mapping[str, str], *, sitter: bool = False) -> list[Key]:
    """The keys that work in a room, with the keeper's own map laid over; the room's own first. In
    the sitter's mode only those that a sitter may use."""
    usable, _ = check(own)
    found = [key for key in KEYS if room in key.rooms.split()]
    found.sort(key=lambda key: not key.rooms.startswith(room))
    found += [key for key in KEYS if key.rooms == EVERYWHERE and not _away_from(key, room)]
    if room == "today":  # the daily round stands first in the footer, however narrow it is
        found.sort(key=lambda key: ROUND.index(key.id) if key.id in ROUND else len(ROUND))
    found.sort(key=lambda key: key.id == "quit")  # the last one in the footer
    kept = [key for key in found if key.id in SITTER] if sitter else found
    return [key._replace(keys=usable.get(key.id, key.keys)) for key in kept]


def sitter_may(action: str) -> bool:
    """Whether an action is open in the sitter's mode; those that are no key of ours all are."""
    named = [key for key in KEYS if key.action.partition("(")[0] == action]
    return not named or any(key.id in SITTER for key in named)


def bindings(keys: Iterable[Key]) -> list[BindingType]:
    """The keys as the toolkit wants them."""
    from textual.binding import Binding  # here: the manual prints the table without the toolkit

    return [Binding(key.keys, key.action, key.label, id=key.id, show=False) for key in keys]


def check(own: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """The part of an own key map that can be used, and a sentence for each that cannot."""
    known = {key.id: key for key in KEYS}
    usable: dict[str, str] = {}
    faults = []
    for name, keys in own.items():
        if name not in known:
            faults.append(f"keys: there is no action {name}; there is {', '.join(known)}")
        elif any(part.strip() in ("", *_RESERVED) for part in keys.split(",")):
            faults.append(f"keys: {name} = {keys}: terminals take that key; choose a letter")
        else:
            usable[name] = keys.replace("?", "question_mark").replace(" ", "")
    for name in list(usable):
        clash = _clash(known[name], usable, known)
        if clash:
            kept = names(known[name].keys)
            faults.append(f"keys: {name} = {usable.pop(name)} is the key of {clash} already; "
                          f"{name} stays {kept}")  # fmt: skip
    return usable, faults


def names(keys: str) -> str:
    """Keys as people call them: `/ or s`."""
    return " or ".join(_NAMES.get(key, key) for key in keys.split(","))


def _away_from(key: Key, room: str) -> bool:
    return key.id == "back" and room in FIRST


def _clash(key: Key, own: Mapping[str, str], known: Mapping[str, Key]) -> str:
    """The action that has one of the key's keys in a room where both work."""
    mine = set(own[key.id].split(","))
    for other in known.values():
        together = EVERYWHERE in (key.rooms, other.rooms) or (
            set(key.rooms.split()) & set(other.rooms.split())
        )
        if other.id == key.id or not together or {key.id, other.id} == {"back", "quit"}:
            continue
        if mine & set(own.get(other.id, other.keys).split(",")):
            return other.id
    return ""
