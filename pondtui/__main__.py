"""`python -m pondtui`, and the `pondtui` command."""

from __future__ import annotations

import sys


def main() -> int:
    """Run the command line; the number is the exit code."""
    from pondtui.cli.main import main as run

    return run()


if __name__ == "__main__":
    sys.exit(main())
