"""A pond that is being described: the answers so far, kept after each one until it is made."""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Mapping
from pathlib import Path

from pondtui.books.folder import replace_file
from pondtui.books.lines import make
from pondtui.books.newpond import create
from pondtui.books.pondfile import load, parse
from pondtui.books.pondtext import as_toml
from pondtui.books.store import Store
from pondtui.books.texts import read_bytes
from pondtui.books.tomltext import parse_toml
from pondtui.errors import FileError
from pondtui.pond.setup.template import skeleton

NAME = "setup-draft.toml"
_LARGEST = 64 * 1024


def read_draft(folder: Path) -> dict[str, str]:
    """The answers of a description that was left; none where no file holds any."""
    try:
        found = parse_toml(read_bytes(folder / NAME, _LARGEST).decode())
    except (OSError, ValueError):
        return {}
    return {name: text for name, text in found.items() if isinstance(text, str)}


def write_draft(folder: Path, answers: Mapping[str, str]) -> None:
    """Keep the answers. Raises FileError."""
    import tomli_w  # here: a start only reads

    replace_file(folder / NAME, tomli_w.dumps(dict(answers)))


def drop_draft(folder: Path) -> None:
    """The pond is made: forget the answers."""
    with contextlib.suppress(OSError):
        (folder / NAME).unlink()


def make_pond(answers: Mapping[str, str], path: Path, device: str, now: int) -> None:
    """Make the folder of the pond that the answers describe, with its first level reading.

    Raises FileError where nothing could be made, InputError for a reading that cannot be taken.
    """
    from zoneinfo import ZoneInfo

    text = as_toml(skeleton(answers))
    pond = parse(text)
    problems = [p for p in pond.problems if p.severity == "problem"]
    if problems or pond.setup is None:
        raise FileError(f"{problems[0].message}; nothing was made")
    entry = None
    if answers.get("level"):
        zone = ZoneInfo(pond.setup.pond.time_zone)
        fields = {"reading": answers["level"]}
        entry = make("level", fields, "first reading", now, zone, pond.setup.gallon)
    create(path, text)
    if entry is not None:
        Store(path, device).append(entry)


def folder_of(typed: str) -> Path:
    """The folder that was typed; `~` is the home folder."""
    return Path(os.path.expanduser(typed.strip())).absolute()


def free_folder(name: str) -> str:
    """A folder in the home that is not there yet, called after the pond."""
    word = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "pond"
    tried, number = word, 1
    while folder_of(f"~/{tried}").exists():
        number += 1
        tried = f"{word}-{number}"
    return f"~/{tried}"


def pond_name(path: Path) -> str:
    """What the pond in a folder is called; "" where no pond can be read there."""
    setup = load(path).setup
    return setup.pond.name if setup is not None else ""


def local_zone(environ: Mapping[str, str] = os.environ) -> str:
    """This machine's time zone by its IANA name; "" where it does not say."""
    named = environ.get("TZ", "").lstrip(":")
    if not named:
        link = os.path.realpath("/etc/localtime")
        named = link.partition("/zoneinfo/")[2]
    return "" if named.startswith("/") or named in ("UTC", "Etc/UTC", "localtime") else named


def local_units(environ: Mapping[str, str] = os.environ) -> str:
    """The unit system that this machine's locale speaks of; "" where it does not say."""
    names = ("LC_ALL", "LC_MEASUREMENT", "LANG")
    locale = next((environ[name] for name in names if environ.get(name)), "")
    return "us" if "_US" in locale else ""
