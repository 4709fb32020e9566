"""Every verb of the command line once: the table behind parsing, `--help` and the manual."""

from __future__ import annotations

from pondtui.records import NamedTuple


class Option(NamedTuple):
    """An option of a verb; `value` is the word shown for its value, empty for a switch."""

    name: str  # without the dashes
    help: str
    value: str = ""
    letter: str = ""  # the short form's letter
    many: bool = False  # may stand several times; the values are kept on lines of their own


class Verb(NamedTuple):
    """A verb of the command line."""

    name: str  # empty for the app itself
    arguments: str  # as shown in the help, options left out
    help: str
    reads: bool  # only reads, and so answers with --json too
    place: str  # module:function that does it
    options: tuple[Option, ...] = ()
    nested: bool = False  # what follows the first word is a whole call of its own

    @property
    def usage(self) -> str:
        """The call as the help shows it."""
        shown = (f"--{o.name} {o.value}".strip() for o in self.options)
        words = ("pondtui", self.name, *(f"[{option}]" for option in shown), self.arguments)
        return " ".join(word for word in words if word)


GLOBAL_OPTIONS = (
    Option("pond", "the pond folder to work on; else PONDTUI_POND, else the pond used last", "DIR"),
    Option("json", "answer with one JSON object; keys carry their units"),
    Option("help", "what the verb does and takes", letter="h"),
    Option("version", "the version of the program"),
)
_SITTER = Option(
    "sitter",
    "the sitter's mode: visits, refill, level, note, emergencies; entries bear NAME",
    "NAME",
)
_AS = Option("as", "csv or json", "FORMAT")
_OUTPUT = Option("output", "write to this file instead of the screen", "FILE", "o")
_EXIT_CODE = Option("exit-code", "end with 1 when something is to be done or a guard is closed")

VERBS: dict[str, Verb] = {
    verb.name: verb
    for verb in (
        Verb(
            "",
            "",
            "open the pond used last on the screen",
            False,
            "pondtui.cli.app:run",
            (_SITTER,),
        ),
        Verb(
            "sample",
            "[VERB ...]",
            "try the invented pond: one copy of your own, kept until --fresh",
            False,
            "pondtui.cli.sample:run",
            (
                Option("us", "the pond kept in US units"),
                Option("fresh", "begin a new copy"),
                _SITTER,
            ),
            nested=True,
        ),
        Verb(
            "new",
            "DIR",
            "describe your pond and make its folder",
            False,
            "pondtui.cli.new:run",
            (Option("from", "take the description from this file, ask nothing", "FILE"),),
        ),
        Verb(
            "status",
            "",
            "how the pond stands: level, barrels, alarms, what is due",
            True,
            "pondtui.cli.status:run",
            (Option("alarms", "only what is wrong"), _EXIT_CODE),
        ),
        Verb(
            "plan",
            "",
            "what a refill needs now: batches, fill, dose, wait, release",
            True,
            "pondtui.cli.plan:run",
            (
                Option("to", "the mark to fill up to", "MARK"),
                Option("from", "a level read just now, instead of the last reading", "READING"),
                _EXIT_CODE,
            ),
        ),
        Verb(
            "water",
            "",
            "the water budget: where the water came from and where it went",
            True,
            "pondtui.cli.water:run",
            (
                Option("from", "the first day, such as 2026-04-01; else the season's first", "DAY"),
                Option("to", "the last day; else today, or the season's last", "DAY"),
                Option("by", "day, month or season", "PERIOD"),
                Option("as", "html: one page to print, with charts; needs -o", "FORMAT"),
                _OUTPUT,
            ),
        ),
        Verb(
            "bucket-test",
            "[start|read|stop|status] [NAME=VALUE ...]",
            "is it a leak: a bucket of pond water beside the pond's own level, over days",
            True,
            "pondtui.cli.bucket:run",
            (Option("note", "words kept with the look", "NOTE", "m"),),
        ),
        Verb(
            "loss",
            "",
            "what of the falling level follows the weather, and what does not",
            True,
            "pondtui.cli.loss:run",
            (
                Option("from", "the first day, such as 2026-06-01; else 120 days back", "DAY"),
                Option("to", "the last day; else today", "DAY"),
                Option("around", "compare before and after a moment, such as a patch", "STAMP"),
            ),
        ),
        Verb(
            "outlook",
            "",
            "when the falling level reaches each mark",
            True,
            "pondtui.cli.outlook:run",
            (Option("days", "how many days ahead; else 14", "N"),),
        ),
        Verb(
            "away",
            "FROM TO",
            "what happens meanwhile, and what must be released when",
            True,
            "pondtui.cli.away:run",
            (
                Option("sitter", "who comes; days on which they can are in pond.toml", "NAME"),
                Option("mark", "the mark to stay above; else the one that warns", "MARK"),
                Option("chance", "the chance to promise; else 90 %", "PERCENT"),
            ),
        ),
        Verb(
            "add",
            "KIND [NAME=VALUE ...]",
            "write one entry into the journal",
            False,
            "pondtui.cli.add:run",
            (
                Option("note", "words kept with the entry", "NOTE", "m"),
                Option("at", "when it happened, such as '2026-06-03 07:42'", "STAMP"),
                Option("dry-run", "show the line, write nothing"),
            ),
        ),
        Verb(
            "chores",
            "[tick|skip|history NAME]",
            "what is due, late and done; tick one off, skip it with a reason, see its history",
            True,
            "pondtui.cli.chores:run",
            (
                Option("note", "words kept with it; the reason of a skip", "NOTE", "m"),
                Option("at", "when it was done, such as '2026-06-03 07:42'", "STAMP"),
                Option("dry-run", "show the line, write nothing"),
                Option("as", "ics: all of them as a calendar", "FORMAT"),
                _OUTPUT,
            ),
        ),
        Verb(
            "tests",
            "[WHERE]",
            "the latest water tests, what they mean and what to do",
            True,
            "pondtui.cli.water_tests:run",
        ),
        Verb(
            "supplies",
            "",
            "what is left of each supply, for how long, and what is kept back",
            True,
            "pondtui.cli.supplies:run",
        ),
        Verb(
            "automation",
            "",
            "float valve, carbon filter and doser on this pond, beside the barrel by hand",
            True,
            "pondtui.cli.automation:run",
        ),
        Verb("undo", "", "strike the last entry of this device", False, "pondtui.cli.undo:run"),
        Verb(
            "journal",
            "[WORDS]",
            "entries, newest first; WORDS keep those that hold them all",
            True,
            "pondtui.cli.journal:run",
            (Option("last", "at most this many", "N"),),
        ),
        Verb(
            "check",
            "",
            "everything wrong in the pond's files: problems end with 1, remarks with 0",
            True,
            "pondtui.cli.check:run",
        ),
        Verb(
            "sheet",
            "[FROM TO]",
            "the care sheet for whoever looks after the pond meanwhile",
            True,
            "pondtui.cli.sheet:run",
            (
                Option("sitter", "who looks after the pond; entries of the report bear it", "NAME"),
                Option("as", "text, markdown, html or ics", "FORMAT"),
                _OUTPUT,
                Option("private", "with phone numbers and the gate code; the file is yours alone"),
                Option("units", "the sitter's own: metric, us or imperial", "UNITS"),
            ),
        ),
        Verb(
            "import",
            "weather|log|report FILE [NAME=COLUMN ...]",
            "take in a weather table, a log of readings, or a sitter's report",
            False,
            "pondtui.cli.imports:run",
            (
                Option(
                    "map",
                    "which column is what, with its unit: date=Day, 'date=Date + Time', "
                    "'tmin=Tmin [degC]', 'rain=RH [0.1 mm]'. Of a log: time, level, temp, "
                    "'meter=Count [0.5 L]'; also where=pond, barrel=yard, source=tap, by=NAME, "
                    "'offset=12 mm', turned=yes. Each pouring past a meter becomes a fill of "
                    "the barrel, or with into=pond water put straight into the pond",
                    "NAME=COLUMN",
                    many=True,
                ),
                Option("yes", "do it without asking"),
            ),
        ),
        Verb(
            "export",
            "entries|water",
            "the journal, or the water budget by day, for other programs",
            True,
            "pondtui.cli.export:run",
            (_AS, _OUTPUT),
        ),
        Verb(
            "where",
            "",
            "which folders and files are in use, and what they can do",
            True,
            "pondtui.cli.where:run",
        ),
        Verb(
            "worksheet",
            "[NAME [NAME=VALUE ...]]",
            "list the worksheets; show one; work one out",
            True,
            "pondtui.cli.worksheet:verb",
        ),
        Verb(
            "completion",
            "bash|zsh|fish",
            "print a script that lets the shell complete verbs, options, kinds and names",
            False,
            "pondtui.cli.completion:run",
        ),
        Verb(
            "help",
            "[TOPIC]",
            "the manual: its topics, one of them, a verb, a kind of entry, a worksheet",
            False,
            "pondtui.cli.help:run",
        ),
    )
}
