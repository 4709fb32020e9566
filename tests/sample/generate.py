"""Write the sample pond's season: `python -m tests.sample.generate [FOLDER]`.

pond.toml and procedure.toml of sample/metric are written by hand. From them this makes the
journal, the weather and now.txt, always the same: invented weather takes water from the pond, two
persons look after it, and every refill goes through the program's own steps and guards.
"""

from __future__ import annotations

import sys
from datetime import date, datetime, time, timedelta
from pathlib import Path
from random import Random

from pondtui.books.folder import GIT_ATTRIBUTES
from pondtui.books.lines import render_fields
from pondtui.pond.refill import actions
from pondtui.pond.setup.barrels import depth_mm
from pondtui.pond.setup.model import Setup
from tests.sample import happenings as fixed
from tests.sample import weather
from tests.sample.book import Book, Stop, described
from tests.sample.happenings import Happening, Plan
from tests.sample.truth import Truth

HERE = Path(__file__).parents[2] / "sample" / "metric"
SEED = 88  # of several, the one whose season ends with a barrelful wanted
FIRST, LAST = date(2026, 4, 1), date(2026, 10, 9)
NOW = "2026-10-09 17:40:00+02:00\n"
SHED_USED_FROM_L = 110.0


class Season:
    """Day after day: the morning's round, the weather, the evening's look at the level."""

    def __init__(self, setup: Setup) -> None:
        self.rng = Random(SEED)
        days = weather.season(self.rng, FIRST, LAST, setup.pond.latitude or 0.0)
        self.weather = {each.day: each for each in days}
        self.truth = Truth(setup, self.rng)
        self.book = Book(setup, self.truth, self.rng)
        self.yard, self.shed = setup.barrels
        self.full_mm = setup.marks_of("target")[0].reading_mm
        self.plans = list(fixed.BATCHES)
        self.fed = FIRST - timedelta(9)
        self.pond_test_due = False

    def run(self) -> None:
        """The whole season."""
        for day, now in self.weather.items():
            self.truth.day = day
            today = [each for each in fixed.HAPPENINGS if each.day == day]
            late = [each for each in today if each.at >= self.evening()]
            self.morning(day)
            for each in today:
                if each not in late:
                    self.happen(each)
            self.truth.nature(now)
            self.look(day, now.rain)
            for each in late:
                self.happen(each)

    def evening(self) -> str:
        """The hour of the reading: in summer when water may be drawn again."""
        return "19:08" if 6 <= self.truth.day.month <= 8 else "17:26"

    def at(self, clock: str) -> Book:
        """The book at about that hour, and never before its last entry."""
        moment = datetime.combine(self.truth.day, time.fromisoformat(clock), self.book.tz)
        self.book.now = max(int(moment.timestamp()), self.book.now) + self.rng.randrange(20, 290)
        return self.book

    def who(self) -> str:
        """The keeper, or the neighbour who looks after the pond meanwhile."""
        return "TB" if fixed.AWAY[0] <= self.truth.day <= fixed.AWAY[1] else "OF"

    def happen(self, it: Happening) -> None:
        """One of the season's happenings, and what it does to the water."""
        book, fields = self.at(it.at), dict(it.fields)
        if fields.get("left") == "counted":
            fields["left"] = f"{(book.state().conditioner_left or 0.0) // 5 * 5:.0f} mL"
        if it.kind == "weather":
            fields |= weather.noted(self.weather[it.day])
        if it.by == fixed.HAND:
            book.by_hand(f"{it.kind} | {render_fields(fields)} | {it.note}")
            return
        entry = book.write(it.kind, fields, it.note, it.by)
        if it.kind == "drain":
            self.truth.let_in(-entry.values["volume"])
        if it.kind == "direct":
            self.truth.let_in(10.0 * entry.values["buckets"])

    # --- mornings -------------------------------------------------------------------------------

    def morning(self, day: date) -> None:
        """The daily and weekly round."""
        self.do("look at fish", self.rng.random() > 0.06 or day == LAST)
        pause = 1 if self.truth.temp_c >= 15 else 3
        feed = self.truth.temp_c >= 10 and (day - self.fed).days >= pause
        self.do("feed", feed)
        self.fed = day if feed else self.fed
        self.do("test the pump's breaker", day.day == 1)
        if day == LAST:
            self.at("07:50")
            self.look_into_shed()
        if self.pond_test_due:
            clear = {"where": "pond", "chlorine_total": "<0.02 mg/L"}
            self.at("08:10").write("test", clear, "with a new bottle of reagent; all fish well")
            self.pond_test_due = False
        if self.who() == "OF" and day.weekday() == 6:
            self.test()
        if self.who() == "OF" and day.weekday() == 5:
            skipped = {"skipped": "yes"} if day == fixed.SKIPPED_RINSE else {}
            fields = {"name": "rinse filter sponge", **skipped}
            self.at("11:00").write("chore", fields, "storm outside" if skipped else "")

    def do(self, chore: str, due: bool) -> None:
        """A chore ticked, where it is due."""
        if due:
            self.at("07:35").write("chore", {"name": chore}, by=self.who())

    def test(self) -> None:
        """The weekly test of the pond's water."""
        self.at("10:20").write("test", self.truth.tested())
        self.at("10:20").write("chore", {"name": "water test"})

    # --- evenings -------------------------------------------------------------------------------

    def look(self, day: date, rain: float) -> None:
        """The rain gauge, the level, and water where it lacks."""
        book, who = self.at(self.evening()), self.who()
        if rain:
            caught = max(round(rain * self.rng.uniform(0.95, 1.03)), 1)
            book.write("rain", {"depth": f"{caught} mm"}, by=who)
            book.wait(1)
        if self.truth.over:
            book.write("event", {"what": "overflow"}, "runs from the pipe into the gutter", who)
            book.wait(1)
        low = self.read(who, misread=day == fixed.MISREAD) >= self.full_mm + 25
        if day == fixed.AWAY[0] - timedelta(1):
            self.tap(Plan({"barrel-temp": [Stop()]}))
            book.write("note", {}, "the yard barrel is ready for Tam: tested, only to be let out")
        elif who == "TB":
            if low and book.state().barrels["yard"].held_l > 100:
                book.refill(self.yard, {}, who)
        elif self.plans and self.plans[0].resume:
            self.resume(self.plans.pop(0).resume)
        elif low and day <= fixed.LAST_REFILL and not fixed.SAVING[0] <= day <= fixed.SAVING[1]:
            self.top_up()

    def read(self, who: str, misread: bool = False) -> int:
        """The gauge read and written down; once at the wrong end, and taken back."""
        book, shown = self.book, self.truth.gauge()
        fields = {"reading": f"{shown} mm", "pump": "on"}
        if who == "TB" or self.rng.random() < 0.7:
            fields["temp"] = f"{round(self.truth.temp_c * 2) / 2:g} degC"
        if misread:
            wrong = book.write("level", {**fields, "reading": f"{shown + 40} mm"})
            book.wait(2)
            book.write("strike", {"of": f"{wrong.stamp} level"}, "read the wrong end of the rule")
            book.now += 1
        book.write("level", fields, by=who)
        return shown

    def top_up(self) -> None:
        """Rain water first, else a batch of tap water."""
        book, rain_l = self.book, self.truth.shed_l
        book.wait(3)
        if rain_l < SHED_USED_FROM_L:
            plan = self.plans.pop(0) if self.plans else Plan()
            if plan.by_hand:
                self.written_later()
            else:
                self.tap(plan)
            return
        self.look_into_shed()
        buckets = int((rain_l - 25) / self.shed.bucket_l)
        book.refill(self.shed, {"released": [f"{buckets} buckets"]})
        self.truth.shed_l -= buckets * self.shed.bucket_l

    def look_into_shed(self) -> None:
        """How much rain water there is: its depth, by a rule that is read to 5 mm."""
        depth = round(depth_mm(self.shed, self.truth.shed_l) / 5) * 5
        self.book.put(actions.look(self.book.case(self.shed), f"{depth} mm"))

    def tap(self, plan: Plan) -> None:
        """A batch of the yard's barrel."""
        book = self.book
        book.refill(self.yard, plan.typed)
        if plan.dip:
            book.put(actions.look(book.case(self.yard), plan.dip))
            book.refill(self.yard, {})
        self.pond_test_due = plan.test_pond
        if plan.give_up:
            book.wait(1)
            book.put(actions.give_up(book.case(self.yard), plan.give_up))

    def resume(self, how: str) -> None:
        """What stands in the barrel since yesterday."""
        book, batches = self.book, self.book.state().batches
        book.wait(2)
        if how == "agree":
            label = next(b.label for b in reversed(batches) if b.barrel == self.yard.name)
            book.write("tick", {"step": "agree", "batch": label}, "what was left yesterday")
        else:
            book.put(actions.use_as_it_stands(book.case(self.yard)))
        book.refill(self.yard, {})

    def written_later(self) -> None:
        """A whole batch, noted on paper and written down with an editor afterwards."""
        book = self.book
        book.lines["hand"].append("# a whole barrel; the tablet was flat, this is from the paper")
        for minutes, line in fixed.WRITTEN_LATER:
            book.wait(minutes)
            book.by_hand(line)
        self.truth.let_in(197.0)
        book.wait(9)
        book.by_hand(f"level | reading={self.truth.gauge()} mm | calm")


def write(folder: Path) -> None:
    """Write all that is made into a pond's folder that holds pond.toml and procedure.toml."""
    season = Season(described(folder))
    season.run()
    texts = {f"journal/2026-{device}.txt": "\n".join(lines) + "\n"
             for device, lines in season.book.lines.items()}  # fmt: skip
    texts["weather/2026.csv"] = weather.table({d: w for d, w in season.weather.items() if d < LAST})
    texts["now.txt"] = NOW
    texts[".gitattributes"] = GIT_ATTRIBUTES
    for name, text in texts.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode())


if __name__ == "__main__":
    write(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
