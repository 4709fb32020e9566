"""`python -m pondtui`, and the `pondtui` command."""

from __future__ import annotations

import gc
import sys


def main() -> int:
    """Run the command line; the number is the exit code."""
    # What a call reads stays until its end, and so does what opens the app, which collects again
    # from its first frame on: looking for garbage meanwhile is a twentieth of the time.
    gc.disable()
    from pondtui.cli.main import main as run

    return run()


if __name__ == "__main__":
    sys.exit(main())
