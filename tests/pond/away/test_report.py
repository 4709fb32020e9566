"""The sitter's answers, whatever happened to them on the way back."""

from __future__ import annotations

import random
from datetime import date
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.lines import make
from pondtui.pond.away.model import Planned, Sheet, Task, Visit
from pondtui.pond.away.report import Report, Told, code_in, read_report, standing
from pondtui.pond.state.entry import Entry
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.views.care import markdown, text
from tests.pond.away.ponds import JOURNAL, pond, sheet
from tests.pond.box import at, entries_of

ZONE = ZoneInfo("Europe/Brussels")
DAY = date(2026, 6, 12)
READY = Visit(DAY, barrel="yard", release_l=180, release_min=12, only_below_mm=70, batch="yard-1")
FILLED = Visit(
    date(2026, 6, 14), barrel="yard", add_l=180, treat_l=200, dose=16.0, measured=16.0,
    devices="16 mL in the 20 mL syringe", fill_min=18, wait_min=10, release_l=180,
)  # fmt: skip
MADE = sheet(planned=(READY, Visit(date(2026, 6, 13)), FILLED), sitter="Sam")
TASKS = tuple(t for p in MADE.visits for t in p.tasks)
# visit 1: fish, pump, gauge, temperature, feed, label, release, shut, gauge; visit 2: the look;
# visit 3: the look, outlet, rim, fill, tap, dose, mix, test, release, shut, gauge


def read(message: str, tasks: tuple[Task, ...] = TASKS) -> Report:
    return read_report(message, tasks, sitter="Sam", zone=ZONE)


def said(report: Report) -> dict[str, tuple[str, str]]:
    """Number -> (kind, what was said)."""
    return {told.number: (told.kind, _value(told)) for told in report.entries}


def _value(told: Told) -> str:
    task = next(t for t in TASKS if t.number == told.number)
    if task.field and told.kind == task.kind:
        return told.fields[task.field]
    return "skipped" if told.fields.get("skipped") else told.note.partition(": ")[2] or "ok"


PLAIN = "2.1 ok 2.2 ok 2.3 71 mm 2.5 no: packet torn"
MEANT = {
    "2.1": ("chore", "ok"),
    "2.2": ("chore", "ok"),
    "2.3": ("level", "71 mm"),
    "2.5": ("chore", "skipped"),
}


def test_a_plain_answer_makes_its_entries() -> None:
    report = read(PLAIN)
    assert said(report) == MEANT
    assert report.not_understood == ()
    assert report.missing == ("2.4",)
    assert {told.fields["by"] for told in report.entries} == {"Sam"}
    level = report.entries[2]
    assert (level.instant, level.note) == (at("2026-06-13 18:03"), "task 2.3")


MANGLED = (
    "2.5 no: packet torn 2.3 71 mm 2.2 ok 2.1 ok",
    "2.1 OK 2.2 Ok 2.3 71 MM 2.5 NO: packet torn".replace("MM", "mm"),
    "2.1 ok\n2.2 ok\n2.3 71 mm\n2.5 no: packet torn",
    "> 2.1 ok\n> 2.2 ok\n> 2.3 71 mm\n> 2.5 no: packet torn",
    ">> 2.1 ok\n> > 2.2 ok\n>>> 2.3 71 mm\n> 2.5 no: packet torn",
    "| 2.1 ok\n| 2.2 ok\n| 2.3 71 mm\n| 2.5 no: packet torn",
    "2.1: ok, 2.2: ok, 2.3: 71 mm, 2.5: no, packet torn",
    "2.1) ok 2.2) ok 2.3) 71 mm 2.5) no - packet torn",
    "2.1 - ok; 2.2 - ok; 2.3 - 71 mm; 2.5 - no - packet torn",
    "2.1=ok\n2.2=ok\n2.3=71mm\n2.5=no packet torn",
    "#2.1 ok #2.2 ok #2.3 71 mm #2.5 no: packet torn",
    "- 2.1 ok\n- 2.2 ok\n- 2.3 71 mm\n- 2.5 no: packet torn",
    "• 2.1 ok\n• 2.2 ok\n• 2.3 71 mm\n• 2.5 no: packet torn",
    "**2.1** ok **2.2** ok **2.3** 71 mm **2.5** no: packet torn",
    "2.1 “ok” 2.2 “ok” 2.3 “71 mm” 2.5 “no: packet torn”",
    "2.1 ‘ok’\n2.2 'ok'\n2.3 71 mm\n2.5 no — packet torn",
    "2.1 ok\u00a02.2\u00a0ok\u00a02.3\u00a071\u00a0mm 2.5\u00a0no: packet torn",
    "2.1 ok\u200b 2.2 ok\ufeff 2.3 71 mm 2.5 no: packet torn",
    "２.１ ok ２.２ ok ２.３ ７１ mm ２.５ no: packet torn",
    "2.1 yes 2.2 done 2.3 ok 71 mm 2.5 nope, packet torn",
    "2.1 ✓ 2.2 ✔ 2.3 71 mm 2.5 ✗ packet torn",
    "2.1 👍 2.2 ✔️ 2.3 71 mm 2.5 ❌ packet torn",
    "[x] 2.1\n[x] 2.2\n[x] 2.3 71 mm\n[ ] 2.4\n[ ] 2.5 no: packet torn",
    "- [x] 2.1\n- [X] 2.2\n- [ ] 2.3 71 mm\n- [ ] 2.5 no: packet torn",
    "☑ 2.1\n☑ 2.2\n☐ 2.3 71 mm\n☐ 2.5 no: packet torn",
    "2,1 ok 2,2 ok 2,3 71 mm 2,5 no: packet torn",
    "02.1 ok 02.2 ok 2.03 71 mm 2.5 no: packet torn",
    "From: sam@example.org\nTo: mo@example.org\nSubject: Re: 2.4 ok\nDate: Sat, 13 Jun\n\n" + PLAIN,
    "---------- Forwarded message ---------\nFrom: Sam\nSent: Saturday 2.4\n\n" + PLAIN,
    "Begin forwarded message:\n\n> From: Sam\n> Cc: 2.4 ok\n>\n> " + PLAIN,
    PLAIN + "\n\nOn Sat, 13 Jun 2026 at 09:12, Mo wrote:\n",
    PLAIN + "\n\nSent from my phone 2.4",
    f"Sheet {MADE.code}\n{PLAIN}",
    PLAIN.replace(" 2.", "\r\n2."),
    PLAIN.replace(" 2.", "\n\n2."),
    PLAIN.replace(" ", "   "),
    PLAIN.replace(" ", "\t"),
    PLAIN + "\n" + PLAIN,
    PLAIN + "\n\n> " + PLAIN.replace(" 2.", "\n> 2."),
    "2.1ok 2.2ok 2.3 71mm 2.5 no: packet torn",
    "2.1. ok. 2.2. ok. 2.3. 71 mm. 2.5. no. packet torn",
    "2.1 all good\n2.2 fine\n2.3 about 71 mm\n2.5 not done: packet torn",
    "2.1 ok\n2.2 ok\n2.3\n71 mm\n2.5 no: packet\ntorn",
    "(2.1) ok (2.2) ok (2.3) 71 mm (2.5) no: packet torn",
)


def test_there_are_forty_mangled_answers() -> None:
    assert len(set(MANGLED)) >= 40


@pytest.mark.parametrize("message", MANGLED)
def test_a_mangled_answer_means_what_the_plain_one_means(message: str) -> None:
    report = read(message)
    assert said(report) == MEANT
    assert report.not_understood == ()


@pytest.mark.parametrize("form", [text.lines, markdown.lines])
@pytest.mark.parametrize("quote", ["", "> ", "> > "])
def test_a_sheet_quoted_whole_answers_nothing_by_itself(form: object, quote: str) -> None:
    lines = form(MADE)  # type: ignore[operator]  # one of two functions of a sheet
    report = read("\n".join(quote + line for line in lines))
    assert report.entries == ()


def test_answers_typed_behind_the_quoted_tasks_are_found() -> None:
    lines = []
    for line in text.message(MADE, MADE.visits[1]):
        lines.append(f"> {line}")
        if line.startswith("2.3"):
            lines[-1] += " 71 mm"
        if line.startswith("2.2"):
            lines[-1] += " ok"
    report = read("\n".join(lines))
    assert said(report) == {"2.2": ("chore", "ok"), "2.3": ("level", "71 mm")}


@pytest.mark.parametrize(
    ("message", "number", "why"),
    [
        ("2.3 ok", "2.3", "asks for a number of mm"),
        ("2.3 71,5 mm", "2.3", "use a point"),
        ("2.3 71 kg", "2.3", "a length"),
        ("2.3 70 mm or 71 mm", "2.3", "two amounts"),
        ("2.1 perhaps", "2.1", "neither ok nor no"),
        ("2.1 ok 2.1 no: one gasping", "2.1", "answered twice and differently"),
        ("2.3 71 mm\n2.3 72 mm", "2.3", "answered twice and differently"),
        ("2.9 ok", "2.9", "no such task"),
        ("3.12 no", "3.12", "no colour or no test"),
        ("1.7 no: only 40 L came", "1.7", "and yet an amount"),
        ("all is well, see you", "no number", "all is well"),
        ("2.3 nan", "2.3", "asks for a number"),
        ("2.3 -5 kg", "2.3", "a length"),
    ],
)
def test_what_is_unclear_is_named_and_not_taken(message: str, number: str, why: str) -> None:
    report = read(message)
    assert said(report) == {}
    (line,) = report.not_understood
    assert line.startswith(number)
    assert why in line


@pytest.mark.parametrize(
    ("message", "kind", "value"),
    [
        ("1.7 ok", "release", "180 L"),
        ("1.7 175 L", "release", "175 L"),
        ("1.7 ok, took 15 min", "release", "180 L"),
        ("1.7 no: tap frozen", "note", "no: tap frozen"),
        ("1.4 18.5", "test", "18.5 degC"),
        ("1.4 18.5°", "test", "18.5 degC"),
        ("1.4 65 F", "test", "65 F"),
        ("1.3 2 7/16 in", "level", "2 7/16 in"),
        ("1.3 71 in the morning", "level", "71 mm"),
        ("1.3 9.5", "level", "9.5 mm"),
        ("3.10 ok", "treat", "16 mL"),
        ("3.10 9 mL", "treat", "9 mL"),
        ("3.10 3 tsp", "treat", "3 tsp"),
        ("3.12 none", "test", "<0.02 mg/L"),
        ("3.12 no colour", "test", "<0.02 mg/L"),
        ("3.12 0", "test", "<0.02 mg/L"),
        ("3.12 ok 0", "test", "<0.02 mg/L"),
        ("3.12 0.5", "test", "0.5 mg/L"),
        ("1.6 ok", "tick", "ok"),
        ("1.1 no: one gasping", "note", "no: one gasping"),
    ],
)
def test_each_kind_of_task_takes_its_answer(message: str, kind: str, value: str) -> None:
    report = read(message)
    assert report.not_understood == ()
    (told,) = report.entries
    assert (told.kind, _value(told)) == (kind, value)


def test_an_amount_that_looks_like_a_task_is_an_amount() -> None:
    assert said(read("1.3 2.4 1.5 ok")) == {
        "1.3": ("level", "2.4 mm"),
        "1.5": ("chore", "ok"),
    }
    assert said(read("1.3 ok 2.4 mm 1.5 ok")) == {
        "1.3": ("level", "2.4 mm"),
        "1.5": ("chore", "ok"),
    }
    assert said(read("1.3 ok\n1.5 mm")) == {"1.3": ("level", "1.5 mm")}
    assert said(read("1.4 3.1 mm 1.5 ok")) == {"1.5": ("chore", "ok")}


def test_a_reason_may_mention_another_task() -> None:
    report = read("2.5 no: as I said at 2.1 yesterday")
    assert said(report) == {"2.5": ("chore", "skipped")}
    assert report.entries[0].note.endswith("at 2.1 yesterday")


def test_the_time_that_was_written_counts() -> None:
    (told,) = read("2.3 71 mm at 19:40").entries
    assert told.instant == at("2026-06-13 19:40")
    assert _value(told) == "71 mm"


def test_a_code_finds_its_sheet_in_any_case() -> None:
    assert code_in(f"> Sheet: {MADE.code.lower()}\n2.1 ok") == MADE.code
    assert code_in("2.1 ok") == ""


def entry(told: Told) -> Entry:
    return make(told.kind, told.fields, told.note, told.instant, ZONE, None)


def test_an_answer_taken_before_is_found_in_the_journal_by_day_task_and_sitter() -> None:
    first, other = read("2.3 71 mm").entries[0], read("2.3 72 mm at 19:00").entries[0]
    journal = [entry(first)]
    assert standing(first, journal, ZONE) == journal[0]
    assert standing(other, journal, ZONE) == journal[0]
    assert standing(read("1.3 71 mm").entries[0], journal, ZONE) is None
    next_month = first._replace(instant=first.instant + 30 * 86_400)
    assert standing(next_month, journal, ZONE) is None
    by_another = read_report("2.3 71 mm", TASKS, sitter="Kim", zone=ZONE).entries[0]
    assert standing(by_another, journal, ZONE) is None


WORDS = ("", "all calm", "wind from the west", "heron near", "see photo")


def answer_to(task: Task, dice: random.Random) -> tuple[str, tuple[str, str] | None]:
    """An answer as a sitter may write it, and what it means; None where it is left out."""
    roll = dice.random()
    words = dice.choice(WORDS)
    if roll < 0.1:
        return "", None
    if roll < 0.25 and not (task.dimension == "chlorine" and not words):
        reason = words or "no time"
        no = f"{dice.choice(['no', 'No', 'NO'])}: {reason}"
        skipped = task.kind == "chore" and not task.text.endswith("?")
        return no, ("chore" if skipped else "note", "")
    if task.dimension == "chlorine":
        value = dice.choice(["none", "0", "0.1 mg/L", "0.5"])
        meant = "<0.02 mg/L" if value in ("none", "0") else value.split()[0] + " mg/L"
        return value, (task.kind, meant)
    if task.field:
        if task.planned and dice.random() < 0.5:
            return f"ok {words}".strip(), (task.kind, task.planned)
        number = dice.choice([f"{dice.randint(1, 150)}", f"{dice.randint(1, 900) / 10:g}"])
        shown = dice.choice([f"{number} {task.unit}", f"{number} {task.unit}, {words}".strip(", ")])
        return shown, (task.kind, f"{number} {task.unit}")
    ok = dice.choice(["ok", "OK", "yes", "done", "Ok."])
    return f"{ok} {words}".strip(), (task.kind, "")


def random_sheet(dice: random.Random) -> Sheet:
    kinds = [READY, FILLED, Visit(DAY), READY._replace(batch=""), FILLED._replace(batch="b-1")]
    chosen = [
        dice.choice(kinds)._replace(date=date(2026, 6, 12 + n), tasks=tuple(
            dice.sample(["water the reeds", "close the lid"], dice.randint(0, 2))
        ))
        for n in range(dice.randint(1, 6))
    ]  # fmt: skip
    units = dice.choice(["metric", "us", "imperial"])
    return sheet(pond(""), "", planned=tuple(chosen), sitter="Sam", units=units)


def written(visits: tuple[Planned, ...], answers: dict[str, str], dice: random.Random) -> str:
    """The answers as one message in a random dress."""
    numbers = [t.number for p in visits for t in p.tasks if answers[t.number]]
    if dice.random() < 0.5:
        dice.shuffle(numbers)
    mark = dice.choice([" ", ": ", " - ", ") "])
    quote = dice.choice(["", "> ", ">> ", "- "])
    return "\n".join(f"{quote}{n}{mark}{answers[n]}" for n in numbers)


@pytest.mark.parametrize("hundred", range(5))
def test_what_is_answered_on_random_sheets_comes_back(hundred: int) -> None:
    for seed in range(hundred * 100, hundred * 100 + 100):
        dice = random.Random(seed)
        made = random_sheet(dice)
        tasks = tuple(t for p in made.visits for t in p.tasks)
        answers, meant = {}, {}
        for task in tasks:
            answers[task.number], means = answer_to(task, dice)
            if means is not None:
                meant[task.number] = means
        message = written(made.visits, answers, dice)
        gallon = {"us": "us", "imperial": "imperial"}.get(made.setup.pond.units)
        report = read_report(message, tasks, sitter="Sam", zone=ZONE, gallon=gallon)
        assert report.not_understood == (), (seed, message)
        found = {}
        for told in report.entries:
            task = next(t for t in tasks if t.number == told.number)
            value = told.fields[task.field] if task.field and told.kind == task.kind else ""
            found[told.number] = (told.kind, value)
            made_entry = make(told.kind, told.fields, told.note, told.instant, ZONE, gallon)
            assert made_entry.fields["by"] == "Sam"
        assert found == meant, (seed, message)


def test_a_release_answered_in_full_closes_its_batch() -> None:
    ready = """
    2026-06-09 09:00+02:00 | fill    | barrel=yard; batch=yard-260609; added=180 L
    2026-06-09 09:10+02:00 | treat   | barrel=yard; batch=yard-260609; dose=16 mL
    2026-06-09 09:40+02:00 | test    | where=yard; chlorine_total=<0.02 mg/L
    """
    made = sheet(journal=JOURNAL + ready, sitter="Sam")
    (one,) = [p for p in made.visits if p.visit.barrel]
    message = "".join(
        f"{t.number} {'ok' if t.planned or not t.field else '42'}\n" for t in one.tasks
    )
    report = read_report(message, one.tasks, sitter="Sam", zone=ZONE)
    assert report.not_understood == ()
    before = entries_of(JOURNAL + ready)
    after = fold(pond(), merge([*before, *map(entry, report.entries)]).live, at("2026-06-13 08:00"))
    assert after.barrels["yard"].held_l == pytest.approx(20)
    assert after.open_batches == ()
    assert [alarm.name for alarm in after.alarms] == []
