"""One-line fields: keys that can be no part of an amount do what they do everywhere else."""

from __future__ import annotations

from textual import events
from textual.widgets import Input


class Field(Input):
    """A field of a form. `acts` names the keys that are taken from the text, with their action;
    `q` among them only while the field is empty."""

    def __init__(
        self, value: str, *, example: str, id: str, acts: dict[str, str] | None = None
    ) -> None:
        super().__init__(value, placeholder=example, id=id, compact=True, select_on_focus=False)
        self._acts = {"down": "screen.next", "up": "screen.previous", **(acts or {})}

    async def on_key(self, event: events.Key) -> None:
        """Do what the key stands for, before it becomes a letter."""
        action = self._acts.get(event.key)
        if action is None or (event.key == "q" and self.value):
            return
        event.prevent_default().stop()
        await self.run_action(action)
