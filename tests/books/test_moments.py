"""A late entry's time is typed short, and never lies ahead."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.moments import typed_moment
from pondtui.errors import InputError

ZONE = ZoneInfo("Europe/Brussels")
NOW = int(datetime.fromisoformat("2026-08-14T00:30:00+02:00").timestamp())


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("00:10", "2026-08-14T00:10:00+02:00"),
        ("today 0:10", "2026-08-14T00:10:00+02:00"),
        ("Yesterday 18:05", "2026-08-13T18:05:00+02:00"),
        ("2026-08-13 07:42", "2026-08-13T07:42:00+02:00"),
        ("2026-08-13 07:42:10Z", "2026-08-13T09:42:10+02:00"),
        ("00:31", "2026-08-14T00:31:00+02:00"),
    ],
)
def test_a_moment_is_read_in_the_ponds_own_time(typed: str, meant: str) -> None:
    assert typed_moment(typed, NOW, ZONE) == datetime.fromisoformat(meant).timestamp()


@pytest.mark.parametrize("typed", ["18:05", "2026-08-15 07:42", "24:10", "noon", "7.42"])
def test_what_is_no_moment_of_the_past_is_refused_in_one_sentence(typed: str) -> None:
    with pytest.raises(InputError, match=r"^when: "):
        typed_moment(typed, NOW, ZONE)
