"""What was changed in Setup and is not in pond.toml yet: kept on this machine until it is written
or dropped, so that a killed program loses none of it.

One file a pond, in the program's own data folder: both files as they were read and as they are
changed, and which row was which, so that a change made by hand meanwhile can still be merged.
"""

from __future__ import annotations

import contextlib
import json
import os
from pathlib import Path
from typing import Any

from pondtui.books.describing import FILES, Draft
from pondtui.books.folder import reason, replace_file
from pondtui.books.pondfile import table_of
from pondtui.books.pondtext import as_toml
from pondtui.books.texts import read_bytes
from pondtui.errors import FileError
from pondtui.pond.setup.changes import Changes

_LARGEST = 4 * 2**20  # bytes: four texts of 256 KiB and what JSON adds
_ORIGINS = "origins"


def as_text(draft: Draft) -> str:
    """What is kept of a draft. Raises FileError for what no file can hold."""
    try:
        kept = {
            name: {
                "read": changes.text,
                "changed": as_toml(changes.data),
                _ORIGINS: {table: changes.origins(table) for table in changes.listed},
            }
            for name, changes in draft.files
        }
        return json.dumps(kept, ensure_ascii=False, indent=1)
    except (TypeError, ValueError) as error:
        raise FileError(f"what is changed in Setup is not kept: {error}") from None


def read(place: Path) -> Draft | None:
    """The draft that is kept there; None where there is none. Raises FileError."""
    try:
        kept = json.loads(read_bytes(place, _LARGEST).decode())
        return Draft(*(_changes(kept[name], name) for name in FILES))
    except FileNotFoundError:
        return None
    except OSError as error:
        fault = reason(error)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        fault = "it was cut or changed"
    raise FileError(f"what Setup kept cannot be read: {fault}")


def write(place: Path, text: str) -> None:
    """Keep it, for this user's eyes only: it may hold telephone numbers. Raises FileError."""
    replace_file(place, text)


def drop(place: Path) -> None:
    """It is written, or dropped."""
    with contextlib.suppress(OSError):
        place.unlink()


def set_aside(place: Path) -> Path:
    """Keep a file that cannot be read beside its place: some of it may be read by hand."""
    aside = place.with_name(f"{place.name}.broken")
    with contextlib.suppress(OSError):
        os.replace(place, aside)
    return aside


def _changes(kept: Any, name: str) -> Changes:
    """One file as it was read and changed. Raises ValueError, TypeError, KeyError."""
    read_text, changed_text = str(kept["read"]), str(kept["changed"])
    (read_text + changed_text).encode()  # half a sign, which no file of ours holds
    (base, fault), (data, other) = table_of(read_text, name), table_of(changed_text, name)
    if fault is not None or other is not None:
        raise ValueError(name)
    changes = Changes(read_text, base)
    changes.take_up(data, kept[_ORIGINS])
    return changes
