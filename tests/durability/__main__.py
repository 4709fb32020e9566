"""The durability tests by themselves: `python -m tests.durability`, with `--long` in full."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest


def main() -> int:
    """Run them; further words go to pytest."""
    words = sys.argv[1:]
    if "--long" in words:
        words[words.index("--long")] = "--long-durability"
    return pytest.main(["--rootdir", str(Path(__file__).parents[2]), str(Path(__file__).parent),
                        "-rs", *words])  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
