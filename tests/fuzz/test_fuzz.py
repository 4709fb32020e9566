"""Bad input through every reader: the short form of `python -m tests.fuzz --long`."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.corpus import begun
from tests.fuzz.mutate import inputs
from tests.fuzz.run import SHARES, mutated, share_of_bound
from tests.fuzz.targets import TARGETS, sweep, tried

MUTANTS, MADE = 4000, 1000
made = settings(max_examples=1, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture(autouse=True, scope="module")
def swept() -> Iterator[None]:
    yield
    sweep()


@pytest.mark.parametrize("name", TARGETS)
def test_the_good_ones_are_read(name: str) -> None:
    for data in begun(name):
        if name in ("quantity", "call"):  # an amount is none in most dimensions
            tried(name, data)
        else:
            TARGETS[name](data)


@pytest.mark.parametrize("name", TARGETS)
def test_no_mutant_breaks_a_reader_or_takes_too_long(name: str) -> None:
    mutated(name, MUTANTS * SHARES[name] // 100, 1)


@pytest.mark.parametrize("name", TARGETS)
def test_no_heap_of_signs_breaks_a_reader(name: str) -> None:
    @settings(made, max_examples=MADE * SHARES[name] // 100)
    @given(inputs(begun(name)))
    def each(data: bytes) -> None:
        share_of_bound(name, data)

    each()


@given(st.sampled_from(sorted(TARGETS)), st.binary(max_size=300))
@settings(made, max_examples=300)
def test_no_bytes_break_a_reader(name: str, data: bytes) -> None:
    share_of_bound(name, data)
