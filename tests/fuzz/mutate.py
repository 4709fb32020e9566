"""Inputs made of good ones: cut, doubled, swapped, spliced, and strewn with signs that break."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from random import Random

from hypothesis import strategies as st

from tests.fuzz.corpus import TOKENS

LARGEST = 20_000


def mutants(begun: Sequence[bytes], chance: Random) -> Iterator[bytes]:
    """Endless inputs; a few of them are the good ones themselves."""
    pool = list(begun)
    while True:
        data = chance.choice(pool)
        for _ in range(chance.choice((0, 1, 1, 2, 3, 5, 12))):
            data = chance.choice(_CHANGES)(data, chance, pool)[:LARGEST]
        yield data


def inputs(begun: Sequence[bytes]) -> st.SearchStrategy[bytes]:
    """The same kind of inputs for Hypothesis, which makes the failing ones small."""
    piece = st.sampled_from((*TOKENS, *begun)) | st.binary(max_size=8) | st.text(max_size=8).map(
        lambda text: text.encode("utf-8", "surrogatepass")
    )  # fmt: skip
    return st.lists(piece, max_size=14).map(b"".join) | st.sampled_from(tuple(begun))


def _span(data: bytes, chance: Random) -> tuple[int, int]:
    start = chance.randint(0, len(data))
    return start, min(len(data), start + chance.choice((1, 1, 2, 4, 9, 40, 300)))


def _flip(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    at = chance.randint(0, max(len(data) - 1, 0))
    return data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]


def _token(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    start, end = _span(data, chance)
    return data[:start] + chance.choice(TOKENS) + data[chance.choice((start, end)) :]


def _many(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    start, _ = _span(data, chance)
    many = chance.choice(TOKENS) * chance.choice((3, 30, 300))
    return data[:start] + many + data[start:]


def _cut(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    start, end = _span(data, chance)
    return data[:start] + data[end:]


def _double(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    start, end = _span(data, chance)
    return data[:end] + data[start:end] * chance.choice((1, 2, 50)) + data[end:]


def _end(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    return data[: chance.randint(0, len(data))]


def _swap_lines(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    lines = data.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def _splice(data: bytes, chance: Random, pool: Sequence[bytes]) -> bytes:
    other = chance.choice(pool)
    return data[: chance.randint(0, len(data))] + other[chance.randint(0, len(other)) :]


def _number(data: bytes, chance: Random, _pool: Sequence[bytes]) -> bytes:
    """A number in it becomes another one."""
    digits = [at for at, sign in enumerate(data) if 48 <= sign <= 57]
    if not digits:
        return data
    at = chance.choice(digits)
    new = chance.choice((b"0", b"9", b"99999", b"-1", b"0.0001", b"1e9", b"2147483648"))
    return data[:at] + new + data[at + 1 :]


_CHANGES: tuple[Callable[[bytes, Random, Sequence[bytes]], bytes], ...] = (
    _flip, _token, _token, _token, _many, _cut, _double, _end, _swap_lines, _splice, _number,
    _number,
)  # fmt: skip
