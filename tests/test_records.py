"""Our `NamedTuple` is the standard library's own in all but the time that making it takes."""

from __future__ import annotations

import pickle
import typing
from typing import Any

import pytest

from pondtui.records import NamedTuple


class Ours(NamedTuple):
    """A reading."""

    level_mm: float
    by: str = "MO"
    notes: tuple[str, ...] = ()

    @property
    def short(self) -> str:
        """As it is said."""
        return f"{self.level_mm:g} mm"

    @classmethod
    def none(cls) -> Ours:
        """Of nothing."""
        return cls(0.0)


class Theirs(typing.NamedTuple):
    """A reading."""

    level_mm: float
    by: str = "MO"
    notes: tuple[str, ...] = ()

    @property
    def short(self) -> str:
        """As it is said."""
        return f"{self.level_mm:g} mm"

    @classmethod
    def none(cls) -> Theirs:
        """Of nothing."""
        return cls(0.0)


def described(record: Any) -> list[object]:
    """All that one can ask of a record, its own name left out."""
    one = record(62.0, by="BE")
    cls = type(one)
    return [
        one, repr(one).partition("(")[2], one._asdict(), one._replace(by="X"), one.short,
        record.none(), cls._fields, cls._field_defaults, list(cls.__annotations__), cls.__doc__,
        cls.__module__, cls.__slots__, cls.__bases__, cls.__match_args__, hash(one),
        pickle.loads(pickle.dumps(one)), isinstance(one, tuple),
    ]  # fmt: skip


def test_a_record_is_what_the_standard_library_makes() -> None:
    assert described(Ours) == described(Theirs)
    assert Ours.__qualname__ == "Ours"
    assert type(pickle.loads(pickle.dumps(Ours(1.0)))) is Ours


def test_a_field_without_a_default_may_not_follow_one_that_has_one() -> None:
    body = {"__module__": __name__, "__qualname__": "Wrong", "a": 1}
    body["__annotations__"] = {"a": "int", "b": "int"}
    maker: Any = type(NamedTuple)
    with pytest.raises(TypeError, match="without a default"):
        maker("Wrong", (NamedTuple,), body)


def test_what_a_record_is_called_with_is_checked() -> None:
    with pytest.raises(TypeError):
        Ours()  # type: ignore[call-arg]
    with pytest.raises(AttributeError):
        Ours(1.0).level_mm = 2.0  # type: ignore[misc]
