"""Which column of a table means what: as the keeper says it, else by what headers are called."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from pondtui.books.tables import Table
from pondtui.errors import Problem, QuantityError
from pondtui.pond.setup.columns import Scale, scale_of, split_header


class Column(NamedTuple):
    """A column that was found."""

    place: int  # in a row, from 0
    header: str  # with the unit that counts: `Tmin [degC]`
    scale: Scale | None  # None for days and times


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
    texts = given or guessed(table, wanted)
    for name, text in texts.items():
        places = _places(table, text)
        if len(places) == 1:
            try:
                column = _column(table, places[0], text, wanted[name])
            except QuantityError as error:
                problems.append(_fault(table, f"{name}: {error}"))
                continue
            columns[name] = column
            own, told = (split_header(t)[1] for t in (column.header, text))
            if column.scale and told and scale_of(told, wanted[name].dimension) != column.scale:
                message = f"{name}: counted in {own} as the header says, not in {told}"
                problems.append(_fault(table, message)._replace(severity="remark"))
        elif places:
            problems.append(_fault(table, f"{name}: more than one column is called {text}"))
        else:
            known = ", ".join(header for header in table.header if header)
            missing = _fault(table, f"{name}: no column is called {text}; there are {known}")
            problems.append(missing._replace(severity="remark"))
    return columns, problems


def _fault(table: Table, message: str) -> Problem:
    return Problem(table.name, 0, 0, message)


def guessed(table: Table, wanted: Mapping[str, Wanted]) -> dict[str, str]:
    """Headers by meaning; of several that would do the first name in the table of names wins."""
    headers: dict[str, str] = {}
    for header in table.header:
        headers.setdefault(_plain(split_header(header)[0]), header)
    found = {}
    for name, want in wanted.items():
        for plain in (_plain(name), *want.names.split()):
            if plain in headers:
                found[name] = headers[plain]
                break
    return found


def _plain(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.casefold())


def _places(table: Table, text: str) -> list[int]:
    """Where columns of that header stand: the whole header, else its name alone."""
    spellings = [[" ".join(header.casefold().split()) for header in table.header]]
    spellings.append([split_header(header)[0] for header in spellings[0]])
    whole = " ".join(text.casefold().split())
    for headers in spellings:
        for sought in (whole, split_header(whole)[0]):
            places = [place for place, header in enumerate(headers) if header == sought]
            if places:
                return places
    return []


def _column(table: Table, index: int, text: str, want: Wanted) -> Column:
    """Raises QuantityError where no unit is named, or one that does not fit."""
    name, own = split_header(table.header[index])
    if not want.dimension:
        return Column(index, table.header[index], None)
    unit = own or split_header(text)[1]
    if not unit:
        example = f"{name} [{split_header(want.example)[1]}]"
        raise QuantityError(f"say the unit of {name}: write {example} in the header or the map")
    return Column(index, f"{name} [{unit}]", scale_of(unit, want.dimension))
