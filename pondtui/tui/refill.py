"""Refill: the checklist that walks one batch from the tap to the pond.

The screen keeps nothing that matters: which step is on follows from the journal. What is typed
and not written yet stays in the field, whatever else happens.
"""

from __future__ import annotations

from time import monotonic

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Input

from pondtui.errors import PondError
from pondtui.pond.refill import actions
from pondtui.pond.refill.case import Case, current_case, local_time
from pondtui.pond.refill.consequence import consequence
from pondtui.pond.refill.guards import largest_part_l
from pondtui.pond.refill.progress import StepNow, progress
from pondtui.pond.refill.typed import Answer
from pondtui.pond.setup.model import Barrel
from pondtui.tui import keys, paint
from pondtui.tui.bars import KeyBar, Line
from pondtui.tui.refill_input import RefillInput, Task
from pondtui.tui.refill_paint import checklist, large
from pondtui.tui.screen import PHONE, PondScreen
from pondtui.tui.session import Changed
from pondtui.tui.writer import Pending
from pondtui.views import pictures
from pondtui.views import refill as view
from pondtui.views.explain import Explanation
from pondtui.views.refill_why import explain

SETTLE_S = 0.35  # a key held down must not tick the next step as well
TICK_S = 1.0  # while water runs or time is awaited
_BARREL = 22
_WIDE = 110  # from this on the barrel has its words beside it
_NARROW = 74  # under this the list is one line


class RefillScreen(PondScreen):
    """One batch of one barrel."""

    ROOM = "refill"
    TITLE = "Refill"
    NEEDS = PHONE
    AUTO_FOCUS = ""
    BINDINGS = keys.bindings(keys.keys_of("refill", {}))

    def __init__(self) -> None:
        super().__init__()
        self.barrel = ""
        self.settle_s = SETTLE_S
        self._stepped = 0.0
        self._rung = ""
        self._label = ""  # of the batch that was shown last
        self._case: Case | None = None
        self._facts: tuple[object, ...] = ()  # that it was made of
        self._ending = ""  # what to say of the batch that has just ended

    def body(self) -> ComposeResult:
        """Checklist, the step that is on, the barrel."""
        yield Line(id="plan")
        with Horizontal(id="refill"):
            yield Line(id="steps")
            with Vertical(id="step"):
                yield Line(id="heading")
                yield Line(id="what")
                yield Line(id="amount")
                yield Line(id="note")
                yield Line(id="closed")
                yield RefillInput(id="answer")
                yield Line(id="why")
            yield Line(id="drawing")

    def on_mount(self) -> None:
        """The barrel that was asked for, and a clock while something runs."""
        self.set_interval(TICK_S, self._tick)

    def on_screen_resume(self) -> None:
        """Another barrel may have been chosen on Today."""
        self.barrel = self.pond.barrel or self.barrel
        super().on_screen_resume()

    # --- what is shown ----------------------------------------------------------------------------

    def case(self) -> Case | None:
        """The batch of the chosen barrel as it is now; None on a pond without barrels."""
        session = self.session
        facts = (session.version, session.now(), self.barrel)
        if facts != self._facts:  # one key asks several times
            barrel = self._barrel()
            self._facts = (session.version, session.now(), self.barrel)
            self._case = barrel and current_case(
                session.setup, session.state(), barrel, session.now()
            )
        return self._case

    def _barrels(self) -> list[Barrel]:
        session = self.session
        return list(session.setup.barrels_on(local_time(session.setup, session.now()).date()))

    def _barrel(self) -> Barrel | None:
        """The chosen one, else that of the batch touched last, else the first."""
        barrels = {barrel.name: barrel for barrel in self._barrels()}
        if self.barrel not in barrels:
            live = [b.barrel for b in self.session.state().open_batches if b.barrel in barrels]
            self.barrel = next(iter([*live, *barrels]), "")
        return barrels.get(self.barrel)

    def show(self) -> None:
        """Fill all parts from the state."""
        case = self.case()
        if case is None:
            self.query_one("#heading", Line).say(paint.words("No barrel is described", bold=True))
            self.query_one("#what", Line).say(
                paint.words("Write a [[barrel]] into pond.toml; the manual shows how.")
            )
            return
        now = view.build(case)
        self._note_end(case)
        self._ring(now)
        width = self.size.width
        narrow = width < _NARROW
        self.query_one("#plan", Line).say(paint.words(f"{now.title} · {now.head}"))
        steps = self.query_one("#steps", Line)
        steps.display = not narrow
        if not narrow:
            height = self.query_one("#refill").size.height or 18
            steps.say(checklist(now.rows, height, ascii=self.session.settings.ascii))
        self._show_step(now)
        self._make_room_for_drawing(narrow)
        self.call_after_refresh(self._draw)  # the words go first: no key waits for the picture
        self.query_one(RefillInput).offer(now.prompt)
        self._offer_keys(case, now)

    def _offer_keys(self, case: Case, now: view.RefillView) -> None:
        """The footer names the keys that work now."""
        on = self._on()
        works = {
            "pass_over": on is not None and (on.step.passable or bool(on.verdicts)),
            "part": now.part_l is not None and now.part_l >= 1,
            "again": actions.more(case) is not None,
            "as_it_stands": self._may_stand(case, on),
            "other": len(self._barrels()) > 1,
            "give_up": case.batch.revision > 0,
        }
        if not self.query_one(RefillInput).taking_keys:  # in the field letters are letters
            shown = [key for key in self.room_keys() if works.get(key.id, True)]
            self.query_one(KeyBar).offer(shown)

    def on_descendant_blur(self) -> None:
        """The field was left: letters are keys again."""
        self.refresh_state()

    @staticmethod
    def _may_stand(case: Case, on: StepNow | None) -> bool:
        if {"fill", "start-fill"} & set(case.batch.order):
            return False
        return on is not None and on.step.stage in ("before", "fill") and case.can_leave_l >= 1

    def _show_step(self, now: view.RefillView) -> None:
        before = f"{self._ending}\n" if self._ending else ""
        self._say("#heading", Content.assemble(
            paint.words(before, "good"), paint.words(f"{now.place}  ", "quiet"),
            paint.words(now.heading, "mark", bold=True),
        ))  # fmt: skip
        self._say("#what", paint.words(now.text))
        self._say("#amount", large(now.amount, self.size.height, self.session.settings.ascii))
        note = "\n".join(part for part in (now.amount_note, now.flow, *now.advice) if part)
        self._say("#note", paint.words(note, "warn" if now.ring else "text"))
        closed = [paint.words(f"NOT YET: {reason}", "danger", bold=True) for reason in now.closed]
        if now.part_l is not None and now.part_l >= 1:
            part = self._said(now.part_l)
            closed.append(paint.words(f"p lets out a part: {part} at most", "warn"))
        if closed and self.session.sitter:
            closed.append(paint.words("s tells whom to ring", "warn"))
        self._say("#closed", paint.joined(closed))
        self._say("#why", paint.words("" if self.size.height < 22 else now.why, "quiet"))

    def _say(self, name: str, content: Content) -> None:
        self.query_one(name, Line).say(content)

    def _said(self, litres: float) -> str:
        case = self.case()
        return case.litres(litres) if case is not None else f"{litres:.0f} L"

    def _make_room_for_drawing(self, narrow: bool) -> None:
        drawing = self.query_one("#drawing", Line)
        drawing.display = not narrow
        if not narrow:
            drawing.styles.width = self._drawing_width()

    def _drawing_width(self) -> int:
        return _BARREL if self.size.width < _WIDE else 2 * _BARREL

    def _draw(self) -> None:
        case = self.case()
        if case is None or self.size.width < _NARROW:
            return
        height = min(self.query_one("#refill").size.height or 12, 16)
        ascii = self.session.settings.ascii
        rows = pictures.barrel_rows(case, self._drawing_width(), height, ascii=ascii)
        self.query_one("#drawing", Line).say(paint.drawing(rows))

    def _ring(self, now: view.RefillView) -> None:
        """Ring once when a filling is nearly done and once at its end."""
        if now.ring and now.ring != self._rung:
            self.pond.bell()
        self._rung = now.ring

    def _tick(self) -> None:
        """Once a second while water runs or time is awaited; otherwise nothing is drawn."""
        case = self.case()
        if case is None or not self.is_active:
            return
        on = progress(case).on
        if case.water.running is not None or (on is not None and on.status == "waiting"):
            self.refresh_state()

    def explanation(self) -> Explanation | None:
        """How the number of the step came about."""
        case = self.case()
        return None if case is None else explain(case)

    # --- what is pressed --------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """A digit at a step that asks for a number opens its field with that digit in it."""
        field, character = self.query_one(RefillInput), event.character or ""
        if not field.taking_keys and character and (character.isdigit() or character in "<."):
            on = self._on()
            if on is not None and on.step.kind == "number":
                event.stop()
                field.begin(Task("answer"), character)

    def _on(self) -> StepNow | None:
        case = self.case()
        return progress(case).on if case is not None else None

    def action_step(self) -> None:
        """Enter: tick the step, start it, or open its field."""
        case, on = self.case(), self._on()
        if case is None or on is None or self._hurried():
            return
        if on.status == "waiting" and not on.step.own:
            over = "" if self.session.sitter else "; b passes it over"
            self.pond.notify(f"the time on the label has to pass{over}", markup=False)
        elif on.verdicts:
            self.pond.notify(f"not yet: {on.verdicts[0].words}", severity="warning", markup=False)
        elif on.step.kind == "number":
            self.query_one(RefillInput).begin(Task("answer"))
        elif on.status != "waiting" or on.step.id not in case.batch.ticks:
            self._write(case, actions.answer(case, on.step, ""))

    def action_pass_over(self) -> None:
        """Pass a step over: what it will do is shown, a reason has to be typed."""
        case, on = self.case(), self._on()
        if case is None or on is None:
            return
        if not (on.step.passable or on.verdicts):
            self.pond.notify("this is a fact to be written down; it cannot be passed over",
                             markup=False)  # fmt: skip
            return
        warning = f"PASSING OVER “{on.step.title}”: {consequence(case, on.step.id)}"
        self.query_one(RefillInput).begin(Task("bypass", warning))

    def action_look(self) -> None:
        """A dip: what stands in the barrel."""
        example = actions.look_example(self.session.setup.pond.units)
        self.query_one(RefillInput).begin(Task("look", example=example))

    def action_part(self) -> None:
        """Let out the part that room and warmth allow."""
        case, on = self.case(), self._on()
        if case is None or on is None or self._hurried():
            return
        part = largest_part_l(on.verdicts)
        if on.step.id not in ("outlet-open", "released") or part is None or part < 1:
            self.pond.notify("a part is offered where room or warmth allow only a part",
                             markup=False)  # fmt: skip
            return
        if on.step.kind == "number":
            self.query_one(RefillInput).begin(Task("answer", f"at most {case.litres(part)}"))
            return
        answer = actions.answer(case, on.step, "")
        self._write(case, answer._replace(note=f"a part: {case.litres(part)} at most"))

    def action_again(self) -> None:
        """Fill or let out more in the same batch."""
        case = self.case()
        if case is None or self._hurried():
            return
        answer = actions.more(case)
        if answer is None:
            self.pond.notify("more can go in after a filling, or out after a release",
                             markup=False)  # fmt: skip
        else:
            self._write(case, answer)

    def action_as_it_stands(self) -> None:
        """No filling: go on with what the barrel holds."""
        case, on = self.case(), self._on()
        if case is None or on is None or self._hurried():
            return
        if not self._may_stand(case, on):
            self.pond.notify("only before filling, with water above the outlet", markup=False)
            return
        self._write(case, actions.use_as_it_stands(case))

    def action_give_up(self) -> None:
        """Give the batch up; a reason may be typed."""
        case = self.case()
        if case is None or case.batch.revision == 0:
            self.pond.notify("no batch is open on this barrel", markup=False)
            return
        held = case.litres(case.water.held_l)
        self.query_one(RefillInput).begin(
            Task("giveup", f"GIVING UP {case.batch.label}: {held} stay in {case.barrel.name}")
        )

    def action_other(self) -> None:
        """The next barrel."""
        names = [barrel.name for barrel in self._barrels()]
        if len(names) < 2:
            self.pond.notify("only one barrel is described", markup=False)
            return
        self.barrel = names[(names.index(self.barrel) + 1) % len(names)]
        self.pond.barrel = self.barrel
        self._label = self._ending = ""
        self.query_one(RefillInput).leave()
        self.refresh_state()

    # --- what is typed ----------------------------------------------------------------------------

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write what was typed; what is doubtful is asked about once."""
        event.stop()
        field = self.query_one(RefillInput)
        case, on = self.case(), self._on()
        if case is None or field.asked is None:
            return
        try:
            answer = self._answer(case, on, field.asked.what, event.value)
        except PondError as error:
            field.refuse(str(error))
            return
        if answer.warning and field.warned != event.value:
            field.warn(event.value, f"{answer.warning}. Enter again writes it all the same.")
            return
        if self._write(case, answer):
            field.leave(empty=True)
            self.refresh_state()

    def _answer(self, case: Case, on: StepNow | None, what: str, typed: str) -> Answer:
        if what == "look":
            return actions.look(case, typed)
        if what == "giveup":
            return actions.give_up(case, typed)
        if on is None:
            raise PondError("all steps of this batch are done")
        if what == "bypass":
            return actions.bypass(case, on.step, typed)
        return actions.answer(case, on.step, typed)

    def _write(self, case: Case, answer: Answer) -> bool:
        """Hand it to the writer; the step counts as done when it is on the disk."""
        if self.session.pending:
            self.pond.notify("the last entry is not saved yet: wait", severity="warning",
                             markup=False)  # fmt: skip
            return False
        drawn = (case.barrel.name, case.water.revision)
        try:
            done = self.session.write(answer.kind, answer.fields, answer.note, drawn_revision=drawn)
        except PondError as error:
            self.pond.notify(str(error), severity="error", markup=False)
            return False
        if isinstance(done, Changed):
            self.pond.notify(f"{done.sentence}. Look, then press again.", severity="warning",
                             markup=False, timeout=10)  # fmt: skip
            self.pond.state_changed()
            return False
        self._stepped = monotonic()
        if isinstance(done, Pending) and done.reason:
            self.pond.notify(done.reason, severity="error", markup=False)
        self.pond.state_changed()
        return True

    def _note_end(self, case: Case) -> None:
        """A batch that has just ended is told until the next step: the list begins anew."""
        before, self._label = self._label, case.batch.label if case.batch.revision else ""
        if before and before != self._label:
            batches = [b for b in self.session.state().batches if b.label == before]
            if batches and batches[-1].ended is not None:
                out = case.litres(batches[-1].released_l)
                self._ending = f"{before} is closed up: {out} let out."
        elif self._label:
            self._ending = ""

    def _hurried(self) -> bool:
        """A key repeated by the keyboard, not pressed."""
        return monotonic() - self._stepped < self.settle_s
