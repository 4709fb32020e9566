"""Problems: every alarm with what to do; what may wait can be put off with a reason."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from pondtui.pond.daily.alarms import may_wait
from pondtui.pond.daily.times import local_day
from pondtui.pond.state.model import Alarm
from pondtui.tui import keys
from pondtui.tui.listing import Item, ListScreen
from pondtui.views import forms
from pondtui.views.explain import Explanation
from pondtui.views.today_why import explain

USUAL_DAYS = 3  # for which an alarm is put off where nothing else is typed


class AlarmsScreen(ListScreen):
    """One list; what must be acted on first stands on top."""

    ROOM = "alarms"
    TITLE = "Problems"
    BINDINGS = keys.bindings(keys.keys_of("alarms", {}))
    MOST_LINES = 6

    def above(self) -> str:
        """That there are none, as far as was looked."""
        if self.session.status().alarms:
            return ""
        if self.session.climate is None:
            return "Nothing is wrong; the weather is not read yet."
        return "Nothing is wrong."

    def items(self) -> Sequence[Item]:
        """An alarm a line, with what to do."""
        return [
            Item(
                f"alarm:{place}",
                "ACT" if alarm.severity == "act" else "Watch",
                f"{alarm.text} -> {alarm.remedy}",
                "danger" if alarm.severity == "act" else "warn",
            )
            for place, alarm in enumerate(self.session.status().alarms)
        ]

    def explanation(self) -> Explanation | None:
        """The alarm under the cursor."""
        item = self.item()
        return None if item is None else explain(self.session.status(), item.id)

    def action_put_off(self) -> None:
        """Put the chosen alarm off, where it may wait."""
        alarm = self._alarm()
        if alarm is None:
            return
        if not may_wait(alarm):
            self.pond.notify("this one cannot wait: it may harm the fish, or water runs",
                             severity="warning", markup=False)  # fmt: skip
            return
        form = forms.putoff_form(alarm.name)
        session = self.session
        until = local_day(session.setup, session.now()) + timedelta(USUAL_DAYS)
        self.pond.typed.setdefault(form.key, {"until": until.isoformat()})
        self._form(form, {"alarm": alarm.name})

    def _alarm(self) -> Alarm | None:
        item = self.item()
        place = int(item.id.partition(":")[2]) if item is not None else -1
        alarms = self.session.status().alarms
        return alarms[place] if 0 <= place < len(alarms) else None
