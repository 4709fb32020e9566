"""`NamedTuple` as the standard library has it, made in less than half the time.

The program has some three hundred records, and a call makes most of them before it can answer. The
standard library compiles every annotation of every field on the way, which nobody reads; type
checkers are shown its own class.
"""

from __future__ import annotations

from collections import namedtuple
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from typing import NamedTuple as NamedTuple
else:
    _OWN = {"__module__", "__qualname__", "__annotations__"}

    class _Maker(type):
        """Makes the tuple in place of the class that names its fields."""

        def __new__(cls, name: str, bases: tuple[type, ...], body: dict[str, Any]) -> type:
            if not bases:
                return super().__new__(cls, name, bases, body)
            fields = body["__annotations__"]
            given = [field for field in fields if field in body]
            if given != list(fields)[len(fields) - len(given) :]:
                raise TypeError(f"{name}: a field without a default follows one that has one")
            made = namedtuple(
                name,
                fields,
                defaults=[body[field] for field in given],
                module=body["__module__"],
            )
            made.__annotations__ = fields
            made.__qualname__ = body["__qualname__"]
            for key, value in body.items():
                if key not in _OWN and key not in fields:
                    setattr(made, key, value)
            return made

    class NamedTuple(metaclass=_Maker):
        """The base that a record names."""
