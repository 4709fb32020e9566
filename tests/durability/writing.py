"""One process that writes so many entries through the store, and tells each that is saved.

`python -m tests.durability.writing FOLDER DEVICE WHO COUNT`; what fails is said on standard error
and tried again, as the app does.
"""

from __future__ import annotations

import sys
from pathlib import Path

from pondtui.books.store import Store
from pondtui.errors import FileError
from tests.durability.lines import entry

TRIES = 50


def main() -> None:
    """Write, try again, tell."""
    folder, device, who, count = sys.argv[1:]
    store = Store(Path(folder), device)
    for number in range(int(count)):
        wanted = entry(number, who)
        for _ in range(TRIES):
            try:
                saved = store.append(wanted)
            except FileError as error:
                sys.stderr.write(f"{error}\n")
                continue
            sys.stdout.write(f"{saved.line}\n")
            sys.stdout.flush()
            break


if __name__ == "__main__":
    main()
