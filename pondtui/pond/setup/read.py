"""From what tomllib gives to a pond: good tables in, every mistake told at once.

A table with a problem is left out and the others stay; [pond], [limits] and the like keep what
could be read of them. What a refill then lacks stands in `Setup.lacks`, in one sentence.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from pondtui.clean import visible
from pondtui.errors import Problem
from pondtui.pond.setup import contradictions
from pondtui.pond.setup.contradictions import Thing
from pondtui.pond.setup.fields import Finding
from pondtui.pond.setup.model import Pond, Season, Setup
from pondtui.pond.setup.reading import TableReader
from pondtui.pond.setup.scalars import near, shown
from pondtui.pond.setup.tables import FORMAT, TABLES
from pondtui.pond.state.kinds import EVENTS, KINDS

TOP = tuple(table for table in TABLES.values() if not table.inside)
_NEEDED = [table.refill for table in TOP if table.refill]
REFILL = f"a refill needs {', '.join(_NEEDED[:-1])} and {_NEEDED[-1]}"
SOUTHERN_SEASON = Season((10, 1), (4, 30))


def read_setup(data: Mapping[str, object], path: str) -> tuple[Setup | None, list[Problem]]:
    """The pond of a pond.toml, as far as it can be read, and everything wrong with the file.

    None where there is no [pond]. The problems name fields, not lines: `books.pondfile` adds them.
    """
    setup, findings = read_findings(data)
    return setup, [Problem(path, 0, 0, f.message, "", f.severity) for f in findings]


def read_findings(data: Mapping[str, object]) -> tuple[Setup | None, list[Finding]]:
    """As `read_setup`, with the place of every finding."""
    reading = _Reading(data)
    setup = reading.setup()
    cleaned = [f._replace(message=visible(f.message).replace("\n", " ")) for f in reading.findings]
    return setup, cleaned


class _Reading(TableReader):
    """One pass over the whole file."""

    def __init__(self, data: Mapping[str, object]) -> None:
        super().__init__(data)
        self.things: dict[str, list[Thing]] = {}

    def setup(self) -> Setup | None:
        """The pond, or None without a [pond]."""
        self._top_level()
        pond = self.single(TABLES["pond"])
        if pond is None:
            self.tell("pond", 0, "", f'{REFILL}: write [pond] with name = "..." first')
            return None
        self.system = pond.units
        singles = {table.name: self.single(table) for table in TOP[1:] if not table.many}
        for table in TOP:
            if table.many:
                self.things[table.name] = list(self.several(table))
        gauge = singles["gauge"]
        if gauge is not None:
            self._weigh(contradictions.marks_in_order(self.things, gauge, self.say))
            self._weigh(contradictions.marks_in_pond(self.things, gauge, self.say))
        self._weigh(contradictions.doubles(self.things))
        self._weigh(contradictions.floating(self.things))
        self._weigh(contradictions.barrels_and_pond(self.things, self.spoilt))
        occasions = (*KINDS, *EVENTS.split())
        self._weigh(contradictions.chores_and_others(self.things, occasions))
        self._drop_namesakes()
        return self._assemble(pond, singles)

    def _assemble(self, pond: Pond, singles: Mapping[str, Any]) -> Setup:
        found = {table: tuple(thing.value for thing in things)
                 for table, things in self.things.items()}  # fmt: skip
        south = pond.latitude is not None and pond.latitude < 0
        season = singles["season"] or (SOUTHERN_SEASON if south else Season())
        setup = Setup(
            pond,
            basins=found["basin"],
            marks=found["mark"],
            barrels=found["barrel"],
            sources={source.name: source for source in found["source"]},
            conditioners=found["conditioner"],
            season=season,
            chores=found["chore"],
            supplies=found["supply"],
            persons=found["person"],
            lacks=self._lacks(singles["gauge"] is not None),
        )
        for name in ("gauge", "limits", "kit", "readings", "house", "weather", "downpipe"):
            if singles[name] is not None:
                setup = setup._replace(**{name: singles[name]})
        return setup

    def _lacks(self, has_gauge: bool) -> tuple[str, ...]:
        """What a refill needs and is not there, told in one sentence."""
        things = self.things
        only_rain = bool(things["barrel"]) and all(
            thing.value.source == contradictions.WITHOUT_TABLE for thing in things["barrel"]
        )
        there = {
            "pond": True,
            "gauge": has_gauge,
            "basin": any(thing.value.floats for thing in things["basin"]),
            "barrel": bool(things["barrel"]),
            "source": bool(things["source"]) or only_rain,
            "conditioner": bool(things["conditioner"]) or only_rain,
        }
        lacks = tuple(TABLES[name].refill for name, is_there in there.items() if not is_there)
        if lacks:
            wrong = {TABLES[table].refill for table, _ in self.spoilt}
            told = (f"{lack} without a mistake" if lack in wrong else lack for lack in lacks)
            self.tell("", 0, "", f"{REFILL}; missing: {', '.join(told)}")
        return lacks

    def _top_level(self) -> None:
        version = self.data.get("format", FORMAT)
        if version != FORMAT or isinstance(version, bool):
            self.tell("", 0, "format", f"format: this program reads format {FORMAT}, not "
                       f"{shown(version)}")  # fmt: skip
        names = tuple(table.name for table in TOP)
        for key, value in self.data.items():
            if key != "format" and key not in names:
                what = "table" if isinstance(value, dict | list) else "key"
                table = key if isinstance(value, dict | list) else ""
                self.tell(table, 0, "" if table else key, f"unknown {what} {shown(key)}, kept but "
                           f"not read{near(key, names)}", "remark")  # fmt: skip

    def _weigh(self, findings: Iterator[Finding]) -> None:
        """Tell what contradicts, and leave out what cannot stand."""
        found = list(findings)
        self.findings += found
        out = {(f.table, f.nth) for f in found if f.leave_out}
        for table, things in self.things.items():
            gone = [thing for thing in things if (thing.table, thing.nth) in out]
            self.things[table] = [thing for thing in things if thing not in gone]
            self.spoilt |= {(table, getattr(thing.value, "name", "")) for thing in gone}

    def _drop_namesakes(self) -> None:
        """Where one of several dated tables is wrong, an older one must not speak in its place."""
        for table in ("basin", "barrel", "conditioner"):
            for thing in list(self.things[table]):
                name = getattr(thing.value, "name", "")
                if (table, name) in self.spoilt:
                    self.things[table].remove(thing)
                    self.findings.append(thing.finding("", "left out until the other table of "
                                                       "this name is right", "remark"))  # fmt: skip
