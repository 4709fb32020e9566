"""Every test sees an empty machine: no network, no home, no settings, no locale, UTC."""

from __future__ import annotations

import gc
import os
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from functools import _lru_cache_wrapper
from importlib import import_module
from pathlib import Path

import pytest
from hypothesis import settings

from tests.offline import sitecustomize
from tests.tui.terminal import opened

MADE_BEFORE_A_LOOK = 10_000  # objects, before the collector of garbage looks at the new ones
OFFLINE = str(Path(sitecustomize.__file__).parent)  # for every Python that a test starts

# The usual run tries the same cases every time; the long one, and a seed given by hand, new ones
# and twice as many.
settings.register_profile("steady", derandomize=True, deadline=None, max_examples=50)
if not os.environ.get("PONDTUI_LONG_LAWS"):
    settings.load_profile("steady")

pytest_plugins = ["tests.golden_files", "tests.figures"]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Long forms of tests that are short in the README's command."""
    parser.addoption("--long-walk", action="store_true", help="20,000 random keys, not 2,000")
    parser.addoption("--long-durability", action="store_true", help="2,000 kills, 500 faults, ...")


def pytest_xdist_auto_num_workers() -> int:
    """Two a core: the tests of screens wait for a terminal part of their time."""
    return 2 * (os.cpu_count() or 1)


def pytest_sessionstart() -> None:
    """A mutant is tried in a fork of a run that has kept results of the code as it was, and whose
    home is gone by now."""
    homes.clear()
    if "MUTANT_UNDER_TEST" not in os.environ:
        return
    for name, module in list(sys.modules.items()):
        for kept in list(vars(module).values()) if name.startswith("pondtui") else ():
            if isinstance(kept, _lru_cache_wrapper):
                kept.cache_clear()


def pytest_collection(session: pytest.Session) -> None:
    """Each worker reads a share of all tests before it reads the rest: on a fresh checkout pytest
    has to write their asserts anew, and what one worker wrote the others find on the disk."""
    worker = getattr(session.config, "workerinput", None)
    if worker is None or session.config.args != session.config.getini("testpaths"):
        return
    sys.dont_write_bytecode = False
    files = sorted(Path(__file__).parent.rglob("test_*.py"))
    for file in files[int(worker["workerid"].removeprefix("gw")) :: worker["workercount"]]:
        with suppress(Exception, pytest.skip.Exception):  # told by the reading that counts
            name = file.relative_to(session.config.rootpath).with_suffix("")
            import_module(".".join(name.parts))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long ones first."""
    items.sort(key=lambda item: item.get_closest_marker("long") is None)


def pytest_collection_finish() -> None:
    """What was collected stays to the end: looking for garbage among it, again and again, would
    take a fifth of the time of the tests of screens."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(MADE_BEFORE_A_LOOK)


homes: list[Path] = []  # the last one serves until a test has left something in it


@pytest.fixture(autouse=True)
def empty_machine(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[None]:
    """Hide the developer's home, locale, time zone and pond."""
    if not homes or any(homes[-1].iterdir()):
        homes.append(tmp_path_factory.mktemp("home"))
    home = homes[-1]
    for name in list(os.environ):
        if name.startswith(("LC_", "PONDTUI_", "XDG_")) or name in ("LANG", "LANGUAGE", "NO_COLOR"):
            monkeypatch.delenv(name)
    monkeypatch.setenv("HOME", str(home))
    for kind in ("CONFIG", "DATA", "CACHE", "STATE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(home / kind.lower()))
    monkeypatch.setenv("TZ", "UTC")
    monkeypatch.setenv("PYTHONPATH", OFFLINE)
    monkeypatch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)  # none is compiled twice
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    time.tzset()
    yield
    for terminal in list(opened):
        terminal.kill()
    monkeypatch.undo()
    time.tzset()
