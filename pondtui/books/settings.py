"""The program's own settings on this machine: a small TOML file, never needed to open a pond."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pondtui.books.folder import reason, replace_file
from pondtui.books.store import is_device
from pondtui.books.texts import read_bytes
from pondtui.books.tomltext import LARGEST, NoTomlError, parse_toml
from pondtui.clean import visible
from pondtui.errors import FileError, Problem
from pondtui.records import NamedTuple

NAME = "settings.toml"
MOST_PONDS = 20


class Settings(NamedTuple):
    """What this machine remembers."""

    device: str = ""  # this device's name in the journal; "" = not asked yet
    by: str = ""  # who writes here
    last_pond: str = ""  # folder of the pond that was open last
    theme: str = ""  # "" = by the terminal
    ascii: bool = False  # draw with plain characters only
    keys: Mapping[str, str] = MappingProxyType({})  # id of an action -> key
    ponds: tuple[str, ...] = ()  # folders of all ponds that were open here, the latest first


def read_settings(folder: Path) -> tuple[Settings, list[Problem]]:
    """The settings in this folder; what cannot be used is a problem and left at its default."""
    found, problems = _load(folder / NAME)
    values: dict[str, Any] = {}
    for name, default in Settings()._asdict().items():
        if name in found:
            value = _usable(name, found[name], default)
            if value is None:
                message = f"{name}: {_WANTED[name]}; the default is used"
                problems.append(Problem(str(folder / NAME), 0, 0, message))
            else:
                values[name] = value
    return Settings(**values), problems


def write_settings(folder: Path, settings: Settings) -> None:
    """Write the settings; keys of a newer program stay as they are, a broken file is kept aside.

    Raises FileError.
    """
    path = folder / NAME
    found, problems = _load(path)
    if problems:
        _set_aside(path)
    for name, value in settings._asdict().items():
        if value or name in found:
            found[name] = _plain(value)
            if isinstance(value, str):
                found[name] = visible(value)
    import tomli_w  # here: a start only reads

    replace_file(path, tomli_w.dumps(found))


def keep(folder: Path, **changes: Any) -> None:
    """Change these settings and leave the others as they stand on the disk. Raises FileError."""
    write_settings(folder, read_settings(folder)[0]._replace(**changes))


def keep_pond(folder: Path, pond: str) -> None:
    """Remember the pond used last, and that it is one of several. Raises FileError."""
    settings = read_settings(folder)[0]
    ponds = (pond, *(other for other in settings.ponds if other != pond))[:MOST_PONDS]
    if (settings.last_pond, settings.ponds) != (pond, ponds):
        write_settings(folder, settings._replace(last_pond=pond, ponds=ponds))


_WANTED = {
    "device": 'write 1 to 20 small letters, digits or hyphens, such as "desk"',
    "by": 'write initials such as "MO", without ; and |',
    "last_pond": "write the path of a folder",
    "ponds": "write a list of paths of folders",
    "theme": "write the name of a theme",
    "ascii": "write true or false",
    "keys": "write a table of actions and keys",
}


def _load(path: Path) -> tuple[dict[str, Any], list[Problem]]:
    """The file as it stands; a missing one is empty."""
    try:
        data = read_bytes(path, LARGEST)
        if len(data) <= LARGEST:
            return parse_toml(data.decode("utf-8-sig")), []
        message = "larger than 256 KiB: no settings file of ours; move it away"
    except FileNotFoundError:
        return {}, []
    except OSError as error:
        message = f"not read: {reason(error)}"
    except UnicodeDecodeError:
        message = "not UTF-8 text; mend it or delete it"
    except NoTomlError as error:
        message = f"not read: {visible(str(error))}; mend it or delete it"
    return {}, [Problem(str(path), 0, 0, f"{message}; the defaults are used")]


def _usable(name: str, value: Any, default: Any) -> Any:
    """The value cleaned, or None where it cannot be used."""
    if isinstance(default, Mapping):
        if isinstance(value, dict) and all(isinstance(key, str) for key in value.values()):
            return {visible(name): visible(key) for name, key in value.items()}
        return None
    if isinstance(default, tuple):
        texts = isinstance(value, list) and all(isinstance(item, str) for item in value)
        return tuple(visible(item) for item in value) if texts else None
    if not isinstance(value, type(default)):
        return None
    if name == "device" and value and not is_device(value):
        return None
    if name == "by" and (";" in value or "|" in value):
        return None
    return visible(value) if isinstance(value, str) else value


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return dict(value)
    return [visible(item) for item in value] if isinstance(value, tuple) else value


def _set_aside(path: Path) -> None:
    """Keep a file that cannot be read beside the new one: it may be mended by hand."""
    try:
        os.replace(path, path.with_name(f"{path.name}.broken"))
    except OSError as error:
        raise FileError(f"{path} cannot be moved aside: {reason(error)}") from None
