"""Changed values put into the text of a file, which keeps its comments, order and layout.

The text is cut at its headers; a changed key takes a new value on its line, and whole tables
are put in, taken out or moved. What comes out is read again: where that is not the data that was
meant (inline tables, dotted keys, text of several lines), there is no patched text.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from pondtui.books.pondtext import as_toml
from pondtui.pond.setup.changes import Changes

Address = tuple[str | int, ...]  # ("barrel", 0, "roof"), ("source", "tap"), () for the top
_NEW = -1  # stands in the address of a table that the text does not hold yet
# No two parts of it may take the same character: a line of blanks would cost its cube.
_HEADER = re.compile(r"\s*(\[\[?)([^\[\]]+)\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"\\]*\"|'[^']*')\s*=\s*")


class _CannotError(Exception):
    """The text is laid out in a way that is not understood here."""


class _Block:
    """The lines of one header with the comments right above it, and of its own keys."""

    def __init__(self, address: Address, lines: list[str]) -> None:
        self.address = address
        self.lines = lines


def patched(changes: Changes) -> str | None:
    """The file with the changes in it; None where only a new writing will do."""
    if not changes.text.strip():
        return None
    try:
        patch = _Patch(changes)
        patch.table((), changes.base, changes.data)
        lines: list[str] = []
        for block in patch.blocks:
            if lines and lines[-1] and block.address[-1:] == (_NEW,):
                lines.append("")
            lines += block.lines
        text = "\n".join(lines).rstrip("\n") + "\n"
        return text if same(tomllib.loads(text), changes.data) else None
    except (_CannotError, tomllib.TOMLDecodeError):
        return None


def same(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two readings hold the same: `true` is not 1, and 1 is not 1.0."""
    return repr(_sorted(one)) == repr(_sorted(other))


def _sorted(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _sorted(value[key]) for key in sorted(value)}
    return [_sorted(item) for item in value] if isinstance(value, list) else value


class _Patch:
    """The blocks of a text while changes are put into them."""

    def __init__(self, changes: Changes) -> None:
        self._changes = changes
        self.blocks = _cut(changes.text)

    def table(self, at: Address, before: Mapping[str, Any], after: Mapping[str, Any]) -> None:
        """Bring one table, and those inside it, from `before` to `after`."""
        for key in {**before, **after}:
            old, new = before.get(key), after.get(key)
            if repr(old) == repr(new):
                continue
            if _are_tables(old) or _are_tables(new):
                if at:
                    raise _CannotError
                self._rows(key, old or [], new or [])
            elif isinstance(old, dict) and isinstance(new, dict):
                if not self._within((*at, key)):
                    raise _CannotError
                self.table((*at, key), old, new)
            elif isinstance(new, dict):
                self._put_in((*at, key), new)
            elif isinstance(old, dict):
                self._take_out((*at, key))
            else:
                _set(self._block(at), key, new)

    def _rows(self, name: str, before: list[Any], after: list[Any]) -> None:
        """Bring the [[name]] tables into their new order, with what is new and without the rest."""
        if any(not self._within((name, nth)) for nth in range(len(before))):
            raise _CannotError
        origins = self._changes.origins(name)
        order: list[list[_Block]] = []
        for row, origin in zip(after, origins, strict=True):
            if origin is None:
                order.append([_new_block((name, _NEW), {name: [row]})])
            else:
                self.table((name, origin), before[origin], row)
                order.append(self._within((name, origin)))
        kept = [origin for origin in origins if origin is not None]
        slots = [self._within((name, nth))[0] for nth in sorted(kept)]
        chunks = _chunks(order, origins)
        rows = {id(b) for nth in range(len(before)) for b in self._within((name, nth))}
        new: list[_Block] = []
        for block in self.blocks:
            if block in slots:
                new += chunks.pop(0)
            elif id(block) not in rows:
                new.append(block)
        self.blocks = [*new, *(block for chunk in chunks for block in chunk)]

    def _put_in(self, at: Address, table: Mapping[str, Any]) -> None:
        """A new table: behind its fellows, or last."""
        path: Any = dict(table)
        names = [part for part in at if isinstance(part, str)]
        for name in reversed(names):
            path = {name: path}
        fellows = self._within(at[:-1]) if len(at) > 1 else []
        place = self.blocks.index(fellows[-1]) + 1 if fellows else len(self.blocks)
        self.blocks.insert(place, _new_block((*at, _NEW), path))

    def _take_out(self, at: Address) -> None:
        gone = self._within(at)
        if not gone:
            raise _CannotError
        self.blocks = [block for block in self.blocks if block not in gone]

    def _within(self, at: Address) -> list[_Block]:
        return [block for block in self.blocks if block.address[: len(at)] == at]

    def _block(self, at: Address) -> _Block:
        found = next((block for block in self.blocks if block.address == at), None)
        if found is None:
            raise _CannotError
        return found


def _chunks(order: list[list[_Block]], origins: list[int | None]) -> list[list[_Block]]:
    """The rows in order, each new one joined to the row before it."""
    chunks: list[list[_Block]] = []
    for blocks, origin in zip(order, origins, strict=True):
        if origin is None and chunks:
            chunks[-1] = [*chunks[-1], *blocks]
        elif chunks and all(block.address[-1] == _NEW for block in chunks[-1]):
            chunks[-1] = [*chunks[-1], *blocks]  # new ones stood first
        else:
            chunks.append(list(blocks))
    return chunks


def _new_block(at: Address, data: Mapping[str, Any]) -> _Block:
    return _Block(at, [*as_toml(data).rstrip("\n").split("\n"), ""])


def _cut(text: str) -> list[_Block]:
    """The text at its headers; comments right above a header belong to it."""
    blocks, count = [_Block((), [])], dict[str, int]()
    for line in text.rstrip("\n").split("\n"):
        found = _HEADER.match(line)
        if found is None:
            blocks[-1].lines.append(line)
            continue
        names = [part.strip().strip("\"'") for part in found[2].split(".")]
        if found[1] == "[[":
            count[names[0]] = count.get(names[0], -1) + 1
        number = (count[names[0]],) if names[0] in count else ()
        above: list[str] = []
        own = blocks[-1].lines
        while own and own[-1].lstrip().startswith("#"):
            above.insert(0, own.pop())
        blocks.append(_Block((names[0], *number, *names[1:]), [*above, line]))
    return blocks


def _are_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(row, dict) for row in value)


def _set(block: _Block, key: str, value: Any) -> None:
    """Give a key another value on its line, put it last, or take it out (None)."""
    for first, line in enumerate(block.lines):
        found = _KEY.match(line)
        if found is None or found[1].strip("\"'") != key:
            continue
        last, comment = _extent(block.lines, first, found.end())
        new = [] if value is None else [line[: found.end()] + _plain(value) + comment]
        block.lines[first : last + 1] = new
        return
    if value is None:
        raise _CannotError
    place = len(block.lines)
    while place and (not block.lines[place - 1].strip() or block.lines[place - 1].startswith("#")):
        place -= 1
    block.lines.insert(place, as_toml({key: value}).rstrip("\n"))


def _plain(value: Any) -> str:
    return as_toml({"x": value}).removeprefix("x = ").rstrip("\n")


def _extent(lines: list[str], first: int, begin: int) -> tuple[int, str]:
    """The last line of a value, and the comment behind it with the blanks before."""
    text = ""
    for last in range(first, len(lines)):
        text += lines[last][begin:] if last == first else "\n" + lines[last]
        try:
            tomllib.loads(f"x = {text}")
        except tomllib.TOMLDecodeError:
            continue
        return last, _comment(text)
    raise _CannotError


def _comment(text: str) -> str:
    """What stands behind a value: the shortest beginning that means the same ends before it."""
    value = repr(tomllib.loads(f"x = {text}"))
    for place in (found.start() for found in re.finditer(r"\s*#", text)):
        try:
            if repr(tomllib.loads(f"x = {text[:place]}")) == value:
                return text[place:]
        except tomllib.TOMLDecodeError:
            continue
    return ""
