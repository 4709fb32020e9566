"""Many inputs through one reader, each with a bound on its time."""

from __future__ import annotations

import time
from random import Random

from tests.fuzz.corpus import begun
from tests.fuzz.mutate import mutants
from tests.fuzz.targets import TARGETS, tried

# What an input may cost: so much for itself, and so much for each of its bytes. Ordinary ones take
# a tenth; the quadratic parser that this is to find takes hundreds of times as much.
SECONDS, SECONDS_A_BYTE = 0.25, 100e-6

# How many of 100 inputs go to each reader.
SHARES = {
    "journal": 14, "line": 16, "pond": 8, "procedure": 5, "weather": 10, "log": 10, "report": 8,
    "settings": 5, "record": 4, "unwritten": 2, "quick": 8, "quantity": 6, "call": 4,
}  # fmt: skip
assert SHARES.keys() == TARGETS.keys()
assert sum(SHARES.values()) == 100


def mutated(name: str, number: int, seed: int) -> float:
    """The worst share of the bound that one of so many inputs took."""
    chance = Random(f"{seed} {name}")
    worst = 0.0
    for data, _ in zip(mutants(begun(name), chance), range(number), strict=False):
        worst = max(worst, share_of_bound(name, data))
    return worst


def share_of_bound(name: str, data: bytes) -> float:
    """Try an input; fails with the input itself where it breaks a reader or takes too long."""
    bound = SECONDS + SECONDS_A_BYTE * len(data)
    taken = bound
    for _ in range(3):  # another program may have had the processor
        begin = time.process_time()
        try:
            tried(name, data)
        except Exception as fault:
            fault.add_note(f"{name}: {data!r}")
            raise
        taken = min(taken, time.process_time() - begin)
        if taken < bound:
            return taken / bound
    raise AssertionError(f"{name}: more than {bound:.2f} s for {len(data)} bytes: {data!r}")
