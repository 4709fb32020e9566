"""The long form: `python -m tests.fuzz --long`. See the package for all words."""

from __future__ import annotations

import argparse
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor

LONGEST_TOLD = 4000  # characters of an input
PIECE = 500  # inputs that one process takes at a time


def main() -> int:
    """Run what the words ask for; the exit code is 1 where a reader broke."""
    asked = _words()
    if asked.guided:
        return _guided(asked.guided)
    from tests.fuzz.run import SHARES

    seed = asked.seed if asked.seed is not None else int(time.time())
    number = asked.inputs or (100_000 if asked.long else 5_000)
    names = [asked.target] if asked.target else list(SHARES)
    print(f"seed {seed}")
    jobs = [
        (name, min(PIECE, count - done), seed * 1000 + place)
        for name in names
        for count in [number if asked.target else number * SHARES[name] // 100]
        for place, done in enumerate(range(0, count, PIECE))
    ]
    begin, worst, failed = time.monotonic(), dict.fromkeys(names, 0.0), 0
    with ProcessPoolExecutor(os.cpu_count()) as workers:
        for name, share, fault in workers.map(_piece, jobs):
            worst[name] = max(worst[name], share)
            if fault:
                failed += 1
                print(f"{name}: {fault}", file=sys.stderr)
    for name, share in worst.items():
        print(f"{name:10} worst input took {share:6.1%} of its bound")
    print(
        f"{sum(job[1] for job in jobs)} inputs in {time.monotonic() - begin:.0f} s, {failed} broke"
    )
    return 1 if failed else 0


def _piece(job: tuple[str, int, int]) -> tuple[str, float, str]:
    from tests.fuzz.run import mutated
    from tests.fuzz.targets import sweep

    name, number, seed = job
    try:
        return name, mutated(name, number, seed), ""
    except Exception as fault:  # told with its input, and the other pieces go on
        noted = [repr(fault), *getattr(fault, "__notes__", [])]
        return name, 1.0, "\n".join(text[:LONGEST_TOLD] for text in noted)
    finally:
        sweep()


def _words() -> argparse.Namespace:
    known = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    known.add_argument("--long", action="store_true", help="100,000 inputs")
    known.add_argument("--inputs", type=int, help="so many inputs")
    known.add_argument("--seed", type=int, help="the same inputs again")
    known.add_argument("--target", help="one reader alone")
    known.add_argument("--guided", nargs=argparse.REMAINDER, help="TARGET and libFuzzer's words")
    return known.parse_args()


def _guided(rest: list[str]) -> int:
    import atheris  # type: ignore[import-not-found, import-untyped, unused-ignore]  # no types

    with atheris.instrument_imports(include=["pondtui"]):
        from tests.fuzz.targets import tried

    name = rest[0]
    atheris.Setup([sys.argv[0], *rest[1:]], lambda data: tried(name, data))
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
