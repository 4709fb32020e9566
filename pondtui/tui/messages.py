"""What widgets tell each other: things that happened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from pondtui.pond.daily.climate import Climate
    from pondtui.tui.session import Fresh


class EntrySettled(Message):
    """The writer came back with an entry: saved, or not yet."""


class WeatherRead(Message):
    """The weather was read and worked out, by a worker."""

    def __init__(self, climate: Climate) -> None:
        super().__init__()
        self.climate = climate


class PondRead(Message):
    """The pond's folder was read again, by a worker."""

    def __init__(self, fresh: Fresh) -> None:
        super().__init__()
        self.fresh = fresh
