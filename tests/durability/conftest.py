"""How much of it is run: a short form in the usual run, all of it with `--long-durability`."""

from __future__ import annotations

import pytest


@pytest.fixture
def full(request: pytest.FixtureRequest) -> bool:
    """Whether the long form is wanted."""
    return bool(request.config.getoption("--long-durability"))
