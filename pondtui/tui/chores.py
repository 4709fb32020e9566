"""Chores: late, due, done, to come; ticked or skipped with one key; and the supplies."""

from __future__ import annotations

from collections.abc import Sequence

from pondtui.pond.daily.happened import done
from pondtui.tui import keys, paint
from pondtui.tui.dialogs import Show
from pondtui.tui.listing import Item, ListScreen
from pondtui.views import chores as view
from pondtui.views import forms, supplies


class ChoresScreen(ListScreen):
    """Every chore, then every supply."""

    ROOM = "chores"
    TITLE = "Chores"
    BINDINGS = keys.bindings(keys.keys_of("chores", {}))

    def above(self) -> str:
        """The advice on food."""
        advice = self.session.status().feeding
        return "" if advice is None else f"Food: {advice.text} ({advice.why})"

    def items(self) -> Sequence[Item]:
        """Chores by their state, then supplies."""
        status = self.session.status()
        found = [
            Item(f"chore:{row.name}", row.head, f"{row.name}; {row.text}".strip("; "), row.role)
            for row in view.rows(status)
        ]
        if not found:
            found = [Item("", "", "No [[chore]] stands in pond.toml")]
        if status.stocks:
            found.append(Item("", "", "Supplies"))
        found += [
            Item(f"supply:{stock.name}", "", f"{stock.name}: {supplies.words(stock, status)}",
                 supplies.role(stock, status))
            for stock in status.stocks
        ]  # fmt: skip
        return found

    def chosen(self, item: Item) -> None:
        """The history of a chore; a count of a supply."""
        what, _, name = item.id.partition(":")
        if what == "supply":
            self._form(forms.supply_form(name), {"item": name})
            return
        session = self.session
        times = done(session.journal.live, session.now(), name)
        lines = view.history(session.setup, times) or ["never done yet"]
        self.pond.push_screen(Show(name, paint.joined(paint.words(line) for line in lines)))

    def action_tick_chosen(self) -> None:
        """Done now."""
        name = self._chore()
        if name is not None:
            self.put("chore", {"name": name})

    def action_skip(self) -> None:
        """Not done, for a reason."""
        name = self._chore()
        if name is not None:
            self._form(forms.skip_form(name), {"name": name, "skipped": "yes"})

    def action_late_tick(self) -> None:
        """Done at another time."""
        name = self._chore()
        if name is not None:
            self._form(forms.late_form(name), {"name": name})

    def _chore(self) -> str | None:
        """The chore under the cursor; says so where there is none."""
        item = self.item()
        what, _, name = (item.id if item is not None else "").partition(":")
        if what == "chore":
            return name
        self.pond.notify("choose a chore first", markup=False)
        return None
