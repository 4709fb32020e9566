"""A moment as a person types it into a form: the time of today, of yesterday, or a whole stamp."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo

from pondtui.books.stamps import parse_stamp
from pondtui.errors import InputError

_AHEAD_S = 120  # clocks of two devices differ by this much
_TIME = re.compile(r"(?:(today|yesterday) )?(\d{1,2}):(\d{2})", re.ASCII | re.IGNORECASE)


def typed_moment(text: str, now: int, tz: tzinfo) -> int:
    """UTC seconds of what was typed. Raises InputError, for what is still to come too."""
    found = _TIME.fullmatch(text.strip())
    if found:
        day = datetime.fromtimestamp(now, UTC).astimezone(tz).date()
        if (found[1] or "").lower() == "yesterday":
            day -= timedelta(days=1)
        text = f"{day} {found[2]:0>2}:{found[3]}"
    try:
        instant, _ = parse_stamp(text.strip(), tz)
    except InputError as error:
        raise InputError(f"when: {error}") from None
    if instant > now + _AHEAD_S:
        raise InputError(f"when: {text.strip()} is still to come; write yesterday before the time")
    return instant
