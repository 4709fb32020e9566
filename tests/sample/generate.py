"""Write the sample ponds' seasons: `python -m tests.sample.generate`.

pond.toml and procedure.toml of sample/metric and sample/us are written by hand. From them this
makes the journal, the weather and now.txt, always the same: invented weather takes water from the
pond, two persons look after it, and every refill goes through the program's own steps and guards.
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from random import Random

from pondtui.books.folder import GIT_ATTRIBUTES
from pondtui.books.lines import render_fields
from pondtui.pond.refill import actions
from pondtui.pond.setup.barrels import depth_mm, full_line_l, heel_l
from pondtui.pond.setup.model import Setup
from tests.sample import metric, us, weather
from tests.sample.book import Book, described
from tests.sample.tale import HAND, Happening, Plan, Stop, Tale
from tests.sample.truth import STEP_MM, Truth

LOW_MM = 25.0  # under the target mark: water is let in
TALES = (metric.TALE, us.TALE)


class Season:
    """Day after day: the morning's round, the weather, the evening's look at the level."""

    def __init__(self, setup: Setup, tale: Tale) -> None:
        self.tale, self.rng = tale, Random(tale.seed)
        days = weather.season(
            self.rng, tale.climate, tale.first, tale.last, setup.pond.latitude or 0.0
        )
        self.weather = {each.day: each for each in days}
        self.truth = Truth(setup, tale, self.rng)
        self.book = Book(setup, tale, self.truth, self.rng)
        self.tap_barrel, self.rain_barrel = setup.barrels
        self.plans = list(tale.batches)
        self.fed = tale.first - timedelta(9)
        self.pond_test_due = False
        self.sunk_mm = 0.0
        self.day_of_pond: dict[date, float] = {}  # the true reading as the gauge was read

    def run(self) -> None:
        """The whole season."""
        for day, now in self.weather.items():
            self.truth.day = day
            today = [each for each in self.tale.happenings if each.day == day]
            late = [each for each in today if each.at >= self.evening()]
            if day == self.tale.reported[1] + timedelta(1):
                self.book.lines["desk"] += self.book.told
            self.morning(day)
            for each in today:
                if each not in late:
                    self.happen(each)
            self.truth.nature(now)
            self.look(day, now.rain)
            for each in late:
                self.happen(each)
            if self.tale.within(self.tale.bucket, day):
                self.look_at_bucket(day)

    def evening(self) -> str:
        """The hour of the reading: in summer when water may be drawn again."""
        return self.tale.evenings[6 <= self.truth.day.month <= 8]

    def at(self, clock: str) -> Book:
        """The book at about that hour, and never before its last entry."""
        moment = datetime.combine(self.truth.day, time.fromisoformat(clock), self.book.tz)
        self.book.now = max(int(moment.timestamp()), self.book.now) + self.rng.randrange(20, 290)
        return self.book

    def who(self) -> str:
        """The keeper, or the sitter: on a device of their own, or by a message afterwards."""
        if self.tale.within(self.tale.reported, self.truth.day):
            return self.tale.sitter_name
        away = self.tale.within(self.tale.away, self.truth.day)
        return self.tale.sitter if away else self.tale.keeper

    @property
    def home(self) -> bool:
        """Whether the keeper is there."""
        return self.who() == self.tale.keeper

    def happen(self, it: Happening) -> None:
        """One of the season's happenings, and what it does to the water."""
        book, fields = self.at(it.at), dict(it.fields)
        if fields.get("left") == "counted":
            fields["left"] = f"{(book.state().conditioner_left or 0.0) // 5 * 5:.0f} mL"
        if it.kind == "weather":
            fields |= weather.noted(self.weather[it.day], self.truth.us)
        if it.by == HAND:
            book.by_hand(f"{it.kind} | {render_fields(fields)} | {it.note}")
            return
        entry = book.write(it.kind, fields, it.note, it.by)
        if it.kind == "drain":
            self.truth.let_in(-entry.values["volume"])
        if it.kind == "direct":
            self.truth.let_in(entry.values["bucket"] * entry.values["buckets"])

    # --- mornings -------------------------------------------------------------------------------

    def morning(self, day: date) -> None:
        """The daily and weekly round."""
        self.do("look at fish", self.rng.random() > 0.06 or day == self.tale.last)
        pause = 1 if self.truth.temp_c >= 15 else 3
        feed = self.truth.temp_c >= self.tale.nature.feeds_from_c and (day - self.fed).days >= pause
        self.do("feed", feed)
        self.fed = day if feed else self.fed
        self.do(self.tale.pump_chore, day.day == 1)
        if day == self.tale.last:
            self.at("07:50")
            self.look_into_rain_barrel()
        if self.pond_test_due:
            clear = {"where": "pond", "chlorine_total": "<0.02 mg/L"}
            self.at("08:10").write("test", clear, "with a new bottle of reagent; all fish well")
            self.pond_test_due = False
        if self.home and day.weekday() == 6:
            self.test()
        if self.home and day.weekday() == 5:
            skipped = {"skipped": "yes"} if day == self.tale.skipped_rinse else {}
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
        book, who, tale = self.at(self.evening()), self.who(), self.tale
        if rain:
            book.write("rain", {"depth": self.caught(rain)}, by=who)
            book.wait(1)
        if self.truth.over:
            book.write("event", {"what": "overflow"}, "runs from the pipe into the gutter", who)
            book.wait(1)
        low = self.truth.short(self.read(who, misread=day == tale.misread)) >= LOW_MM
        if day == tale.eve:
            self.tap(Plan({"barrel-temp": [Stop()]}))
            book.write("note", {}, tale.ready_note)
        elif who == tale.sitter:
            if low and book.case(self.tap_barrel).water.held_l > 100:
                book.refill(self.tap_barrel, {}, who)
        elif not self.home:
            return
        elif self.plans and self.plans[0].resume:
            self.resume(self.plans.pop(0).resume)
        elif low and day <= tale.last_refill and not self.no_water(day):
            self.top_up()

    def no_water(self, day: date) -> bool:
        """Whether no water is let in: by request, or because a bucket test runs."""
        first, last = self.tale.bucket
        return self.tale.within(self.tale.saving, day) or first < day <= last

    def look_at_bucket(self, day: date) -> None:
        """The bucket test: what stands in the pond, and how far the bucket's water has sunk."""
        truth, begun = self.truth, day == self.tale.bucket[0]
        if begun:
            self.sunk_mm = truth.evaporated_mm
        sunk_mm = 50.8 + truth.evaporated_mm - self.sunk_mm
        step = STEP_MM[truth.setup.pond.units]
        fields = {"what": "start" if begun else "read", "pond": truth.rule(truth.gauge()),
                  "bucket": truth.rule(round(sunk_mm / step) * step), "pump": "on"}  # fmt: skip
        lasts = {"lasts": "72 h"} if begun else {}
        note = self.tale.bucket_note if begun else ""
        self.at(self.evening()).write("bucket", {**fields, **lasts}, note)

    def caught(self, rain_mm: float) -> str:
        """What stands in the rain gauge."""
        caught = rain_mm * self.rng.uniform(0.95, 1.03)
        return (
            f"{max(caught / 25.4, 0.01):.2f} in" if self.truth.us else f"{max(round(caught), 1)} mm"
        )

    def read(self, who: str, misread: bool = False) -> float:
        """The gauge read and written down, mm; once at the wrong end, and taken back."""
        book, truth, shown = self.book, self.truth, self.truth.gauge()
        self.day_of_pond[truth.day] = truth.reading_mm
        fields = {"reading": truth.rule(shown), "pump": "on"}
        if not self.home or self.rng.random() < 0.7:
            fields["temp"] = truth.warmth(truth.temp_c, half=True)
        if misread:
            off = truth.rule(shown + (50.8 if truth.us else 40.0))
            wrong = book.write("level", {**fields, "reading": off})
            book.wait(2)
            book.write("strike", {"of": f"{wrong.stamp} level"}, "read the wrong end of the rule")
            book.now += 1
        book.write("level", fields, by=who)
        return shown

    def top_up(self) -> None:
        """Rain water first, else a batch of tap water."""
        book, barrel = self.book, self.rain_barrel
        book.wait(3)
        if self.truth.rain_l < self.tale.rain_used_from_l:
            plan = self.plans.pop(0) if self.plans else Plan()
            if plan.by_hand:
                self.written_later()
            else:
                self.tap(plan)
            return
        self.look_into_rain_barrel()
        if barrel.delivery == "carried":
            buckets = int((self.truth.rain_l - 25) / barrel.bucket_l)
            book.refill(barrel, {"released": [f"{buckets} buckets"]})
            self.truth.rain_l -= buckets * barrel.bucket_l
        else:
            book.refill(barrel, {})
            self.truth.rain_l = heel_l(barrel)

    def look_into_rain_barrel(self) -> None:
        """How much rain water there is: its depth, by a rule."""
        depth = round(depth_mm(self.rain_barrel, self.truth.rain_l) / 5) * 5
        self.book.put(actions.look(self.book.case(self.rain_barrel), self.truth.rule(depth)))

    def tap(self, plan: Plan) -> None:
        """A batch of tap water."""
        book = self.book
        book.refill(self.tap_barrel, plan.typed)
        if plan.dip:
            book.put(actions.look(book.case(self.tap_barrel), plan.dip))
            book.refill(self.tap_barrel, {})
        self.pond_test_due = plan.test_pond
        if plan.give_up:
            book.wait(1)
            book.put(actions.give_up(book.case(self.tap_barrel), plan.give_up))

    def resume(self, how: str) -> None:
        """What stands in the barrel since yesterday."""
        book, batches = self.book, self.book.state().batches
        book.wait(2)
        if how == "agree":
            label = next(b.label for b in reversed(batches) if b.barrel == self.tap_barrel.name)
            book.write("tick", {"step": "agree", "batch": label}, "what was left yesterday")
        else:
            book.put(actions.use_as_it_stands(book.case(self.tap_barrel)))
        book.refill(self.tap_barrel, {})

    def written_later(self) -> None:
        """A whole batch, noted on paper and written down with an editor afterwards."""
        book = self.book
        book.lines["hand"].append("# a whole barrel; the tablet was flat, this is from the paper")
        for minutes, line in self.tale.written_later:
            book.wait(minutes)
            book.by_hand(line)
        barrel = self.tap_barrel
        self.truth.let_in(full_line_l(barrel) - heel_l(barrel))
        book.wait(9)
        book.by_hand(f"level | reading={self.truth.rule(self.truth.gauge())} | calm")


def season(tale: Tale) -> Season:
    """A sample's season, told to its end."""
    told = Season(described(tale.folder), tale)
    told.run()
    return told


def texts(told: Season) -> dict[str, str]:
    """All files that are made, by their names within the pond's folder."""
    tale, us_units = told.tale, told.truth.us
    made = {f"journal/{tale.first.year}-{device}.txt": "\n".join(lines) + "\n"
            for device, lines in told.book.lines.items()}  # fmt: skip
    days = {day: each for day, each in told.weather.items() if day < tale.last}
    made[f"weather/{tale.first.year}.csv"] = weather.table(days, tale.climate, us_units)
    made["now.txt"] = f"{tale.now}\n"
    made[".gitattributes"] = GIT_ATTRIBUTES
    return made


def main() -> None:
    """Write what is made of both samples beside their pond.toml."""
    for tale in TALES:
        for name, text in texts(season(tale)).items():
            path = tale.folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode())


if __name__ == "__main__":
    main()
