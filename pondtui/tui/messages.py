"""What widgets tell each other: things that happened."""

from __future__ import annotations

from textual.message import Message

from pondtui.tui.session import Fresh


class EntrySettled(Message):
    """The writer came back with an entry: saved, or not yet."""


class PondRead(Message):
    """The pond's folder was read again, by a worker."""

    def __init__(self, fresh: Fresh) -> None:
        super().__init__()
        self.fresh = fresh
