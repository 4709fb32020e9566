"""Where the program's own files live, and where the keeper's settings and data go.

The colour themes and the sample ponds lie beside the package in a checkout and inside it when
it was installed from a wheel; both are looked for, the inside first.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from pondtui.errors import FileError

_PACKAGE = Path(__file__).resolve().parent


def config_dir() -> Path:
    """The folder of the program's own settings; it may not exist yet."""
    import platformdirs  # here, so that a worksheet or `--version` does not pay for it

    return platformdirs.user_config_path("pondtui", appauthor=False)


def data_dir() -> Path:
    """The folder of the sample's copy, of drafts and the fault log; it may not exist yet."""
    import platformdirs  # here, so that a worksheet or `--version` does not pay for it

    return platformdirs.user_data_path("pondtui", appauthor=False)


def themes_dir() -> Path:
    """The folder of the colour themes that ship with the program."""
    return _shipped("themes")


def sample_source() -> Path:
    """The folder of the invented ponds that ship with the program."""
    return _shipped("sample")


def _shipped(name: str) -> Path:
    inside = _PACKAGE / name
    if inside.is_dir():
        return inside
    beside = _PACKAGE.parent / name
    if beside.is_dir() and _is_ours(_PACKAGE.parent / "pyproject.toml"):
        return beside
    raise FileError(f"this installation has no {name} folder: install pondtui again")


def _is_ours(pyproject: Path) -> bool:
    """A folder one level up counts only beside our own build file: site-packages has many."""
    try:
        with pyproject.open("rb") as file:
            described = tomllib.load(file)
    except (OSError, tomllib.TOMLDecodeError, UnicodeDecodeError):
        return False
    project = described.get("project")
    return isinstance(project, dict) and project.get("name") == "pondtui"
