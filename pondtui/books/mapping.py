"""Which column of a table means what: as the keeper says it, else by what headers are called."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from pondtui.books.tables import Table
from pondtui.errors import Problem, QuantityError
from pondtui.pond.setup.columns import Scale, scale_of, split_header
from pondtui.records import NamedTuple

JOIN = " + "  # between the headers of a day and of its time, where they have a column each
_DAYS = ("date", "day", "datum", "yyyymmdd")
_CLOCKS = ("time", "hour", "clock", "hh", "uhrzeit")


class Column(NamedTuple):
    """A column that was found."""

    place: int  # in a row, from 0
    header: str  # with the unit that counts: `Tmin [degC]`; `Date + Time` of two columns
    scale: Scale | None  # None for days and times
    clock: int | None = None  # place of the time of day, where it has a column of its own
    first_hour: int = 0  # 1 where hours are numbered 1 to 24

    def moment(self, cells: Sequence[str]) -> str:
        """The text of a row's day, with its time where that stands in another column."""
        if self.clock is None:
            return cells[self.place]
        time = cells[self.clock].strip()
        if time.isdecimal() and time.isascii() and len(time) <= 2:
            time = f"{int(time) - self.first_hour:02}:00"
        return f"{cells[self.place].strip()} {time}"


class Wanted(NamedTuple):
    """What a column may mean."""

    dimension: str  # of units; "" for days and times
    names: str  # what such columns are called, without capitals, blanks and signs
    example: str


def find_columns(
    table: Table, wanted: Mapping[str, Wanted], given: Mapping[str, str]
) -> tuple[dict[str, Column], list[Problem]]:
    """The columns of the table by meaning. `given` names headers with units (`Rain [mm]`).

    Without `given` headers are guessed by name. A unit in the table's own header goes before the
    one in `given`, with a remark. What is not there is a remark, what cannot be used a problem.
    """
    columns: dict[str, Column] = {}
    problems: list[Problem] = []
    for name, text in (given or guessed(table, wanted)).items():
        dimension = wanted[name].dimension
        try:
            column = _column(table, text, wanted[name]) if dimension else _moment(table, text)
        except QuantityError as error:
            problems.append(Problem(table.name, 0, 0, f"{name}: {error}"))
        except _LackingError as error:
            problems.append(Problem(table.name, 0, 0, f"{name}: {error}", "", "remark"))
        else:
            columns[name] = column
            own, told = (split_header(t)[1] for t in (column.header, text))
            if column.scale and told and scale_of(told, dimension) != column.scale:
                message = f"{name}: counted in {own} as the header says, not in {told}"
                problems.append(Problem(table.name, 0, 0, message, "", "remark"))
    return columns, problems


class _LackingError(Exception):
    """No column has that header; the message is the sentence."""


def guessed(table: Table, wanted: Mapping[str, Wanted]) -> dict[str, str]:
    """Headers by meaning; of several that would do the first name in the table of names wins."""
    headers: dict[str, str] = {}
    for header in table.header:
        headers.setdefault(_plain(split_header(header)[0]), header)
    found = {}
    for name, want in wanted.items():
        joined = "" if want.dimension else _joined(table, headers)
        for plain in (_plain(name), *want.names.split()):
            if joined or plain in headers:
                found[name] = joined or headers[plain]
                break
    return found


def _joined(table: Table, headers: Mapping[str, str]) -> str:
    """`Date + Time` where a table has a column for each; "" else."""
    days = [headers[name] for name in _DAYS if name in headers]
    clocks = [headers[name] for name in _CLOCKS if name in headers]
    if not days or not clocks or not table.rows:
        return ""
    whole = ":" in table.rows[0].cells[table.header.index(days[0])]
    return "" if whole else f"{days[0]}{JOIN}{clocks[0]}"


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.casefold())


def _place(table: Table, text: str) -> int:
    """Where the column of that header stands: by the whole header, else by its name alone.

    Raises _LackingError, or QuantityError where two columns are called so.
    """
    spellings = [[" ".join(header.casefold().split()) for header in table.header]]
    spellings.append([split_header(header)[0] for header in spellings[0]])
    whole = " ".join(text.casefold().split())
    for headers in spellings:
        for sought in (whole, split_header(whole)[0]):
            places = [place for place, header in enumerate(headers) if header == sought]
            if len(places) > 1:
                raise QuantityError(f"more than one column is called {text}")
            if places:
                return places[0]
    known = ", ".join(header for header in table.header if header)
    raise _LackingError(f"no column is called {text}; there are {known}")


def _moment(table: Table, text: str) -> Column:
    """The column of a day or time, or the two columns of `Date + Time`."""
    day, joined, clock = text.partition(JOIN)
    place = _place(table, day)
    if not joined:
        return Column(place, table.header[place], None)
    beside = _place(table, clock)
    last = any(row.cells[beside].strip() == "24" for row in table.rows)
    header = f"{table.header[place]}{JOIN}{table.header[beside]}"
    return Column(place, header, None, beside, int(last))


def _column(table: Table, text: str, want: Wanted) -> Column:
    """The column of a value. Raises QuantityError where no unit is named or one does not fit."""
    place = _place(table, text)
    name, own = split_header(table.header[place])
    unit = own or split_header(text)[1]
    if not unit:
        example = f"{name} [{split_header(want.example)[1]}]"
        raise QuantityError(f"say the unit of {name}: write {example} in the header or the map")
    return Column(place, f"{name} [{unit}]", scale_of(unit, want.dimension))
