"""A pond's description as the text of pond.toml, laid out for people who edit it by hand.

tomli-w writes every single value and name; the layout is ours: a short list on one line, and
each of several tables under a [[header]] of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import tomli_w


def as_toml(data: Mapping[str, Any]) -> str:
    """The whole file. Raises TypeError or ValueError for what TOML cannot hold."""
    return _table("", data).lstrip("\n")


def _table(path: str, table: Mapping[str, Any]) -> str:
    """A table's own keys, then the tables inside it."""
    keys = {key: value for key, value in table.items() if not _is_table(value)}
    text = "".join(f"{_name(key)} = {_value(value)}\n" for key, value in keys.items())
    for key, value in table.items():
        if key in keys:
            continue
        inside = f"{path}.{_name(key)}" if path else _name(key)
        if isinstance(value, Mapping):
            only_tables = value and all(_is_table(item) for item in value.values())
            header = "" if only_tables else f"\n[{inside}]\n"
            text += header + _table(inside, value)
        else:
            text += "".join(f"\n[[{inside}]]\n{_table(inside, row)}" for row in value)
    return text


def _is_table(value: Any) -> bool:
    """Whether it is written under a header: a table, or a list of nothing but tables."""
    if isinstance(value, list):
        return bool(value) and all(isinstance(item, Mapping) for item in value)
    return isinstance(value, Mapping)


def _name(key: str) -> str:
    return tomli_w.dumps({key: 0}).removesuffix(" = 0\n")


def _value(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(_value(item) for item in value)}]"
    if isinstance(value, Mapping):  # within a list of other things too
        return f"{{{', '.join(f'{_name(key)} = {_value(item)}' for key, item in value.items())}}}"
    return tomli_w.dumps({"x": value}).removeprefix("x = ").removesuffix("\n")
