"""Today's rows say what is wrong first, whether water is safe, and how a figure came about."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from pondtui.books.lines import parse_line
from pondtui.books.pondfile import parse
from pondtui.pond.state.fold import fold
from pondtui.pond.state.merge import merge
from pondtui.views.status import Status, look
from pondtui.views.today import Row, rows, step_line
from pondtui.views.today_why import explain
from tests.tui.ponds import FILLED, LEVELS, NOW, POND

TREATED = """\
2026-08-14 17:50:00+02:00 | treat | barrel=gate; batch=gate-260814; dose=12 mL; for=150 L |
2026-08-14 17:51:00+02:00 | tick  | step=mix; batch=gate-260814 |
"""
CLEAR = "2026-08-14 18:05:00+02:00 | test | where=gate; chlorine_total=<0.02 mg/L |\n"
COLOUR = "2026-08-14 18:05:00+02:00 | test | where=gate; chlorine_total=0.2 mg/L |\n"
OPENED = "2026-08-14 18:16:00+02:00 | start | what=release; barrel=gate; batch=gate-260814 |\n"


def status_of(text: str, now: int = NOW, pond: str = POND) -> Status:
    """What Today tells of a journal."""
    setup = parse(pond).setup
    assert setup is not None
    zone = ZoneInfo(setup.pond.time_zone)
    read = [parse_line(line, "journal/x.txt", n, zone, None)[0]
            for n, line in enumerate(text.splitlines(), 1)]  # fmt: skip
    live = merge(entry for entry in read if entry is not None).live
    return look(setup, fold(setup, live, now), live, now)


def row(text: str, name: str, now: int = NOW) -> Row:
    """One row by the beginning of its id."""
    return next(r for r in rows(status_of(text, now)) if r.id.startswith(name))


@pytest.mark.parametrize(
    ("journal", "said", "role"),
    [
        ("", "empty down to the outlet; 20 L untreated stay below it", "quiet"),
        (FILLED, "150 L UNTREATED: DO NOT RELEASE", "danger"),
        (FILLED + TREATED + CLEAR, "150 L tested clear: safe to release", "good"),
        (FILLED + TREATED + COLOUR,
         "150 L UNTREATED: DO NOT RELEASE: the barrel showed chlorine in its last test", "danger"),
    ],
)  # fmt: skip
def test_a_barrel_says_in_words_whether_its_water_is_safe(
    journal: str, said: str, role: str
) -> None:
    # heel: 0.5 m x 0.5 m x 80 mm = 20 L (constructed)
    found = row(LEVELS + journal, "barrel:gate")
    assert (found.text, found.role) == (said, role)


def test_treated_water_that_was_not_tested_is_never_called_safe() -> None:
    found = row(LEVELS + FILLED + TREATED, "barrel:gate")
    assert "safe" not in found.text
    assert found.role == "warn"


def test_the_contact_time_still_to_go_stands_in_words() -> None:
    at = int(datetime.fromisoformat("2026-08-14T17:54:00+02:00").timestamp())
    found = row(LEVELS + FILLED + TREATED, "batch:", now=at)
    assert "Wait, 7 min to go" in found.text


def test_water_that_runs_out_is_told_with_its_time() -> None:
    found = row(LEVELS + FILLED + TREATED + CLEAR + OPENED, "barrel:gate")
    assert found.text.startswith("OUTLET OPEN for 4 min")


def test_an_old_reading_asks_for_a_new_one() -> None:
    assert row(LEVELS, "level").role == "text"
    old = row(LEVELS, "level", now=NOW + 2 * 86_400)
    assert old.role == "warn"
    assert old.text.endswith("read it again")


def test_the_loss_is_told_with_its_error_and_the_next_mark_with_its_days() -> None:
    # 6 mm a day in the readings (constructed); the shelf lies 40 mm lower
    found = row(LEVELS, "loss")
    assert found.text.startswith("6.0 ± ")
    assert "sedge shelf (120 mm) in 5 to 9 days" in found.text


def test_a_pond_without_a_reading_is_told_how_to_begin() -> None:
    found = [r for r in rows(status_of("")) if r.id.startswith("begin")]
    assert "press l" in found[0].text


def test_more_than_three_alarms_are_counted_not_hidden() -> None:
    journal = LEVELS + FILLED
    for second in range(5):
        stamp = f"2026-08-14 18:00:0{second}+02:00"
        journal += f"{stamp} | bypass | step=dose; batch=gate-260814 | why {second}\n"
    status = status_of(journal)
    shown = [r for r in rows(status) if r.head in ("ALARM", "Watch")]
    assert len(shown) == 4
    assert shown[-1].text == f"and {len(status.alarms) - 3} more"


def test_chores_share_a_line_unless_there_is_room() -> None:
    late = status_of(LEVELS, now=NOW + 3 * 86_400)
    assert [r.text for r in rows(late) if r.head == "Due"] == ["1 look at fish (2 days late)"]
    assert [r.id for r in rows(late, roomy=True) if r.head == "Due"] == ["due:look at fish"]


def test_the_step_and_its_amount_are_told_where_there_is_no_room() -> None:
    step, amount = step_line(status_of(LEVELS + FILLED))
    assert step == "gate: Treat, step 8 of 17: Give conditioner"
    assert amount == "dose 12 mL"  # 8 mL per 100 L for 150 L (constructed)
    assert step_line(status_of(""))[0] == "no reading yet"


def test_every_figure_on_today_can_be_explained() -> None:
    for journal in (LEVELS, LEVELS + FILLED, LEVELS + FILLED + TREATED + CLEAR + OPENED):
        status = status_of(journal)
        for found in rows(status):
            what = found.id.partition(":")[0]
            told = explain(status, found.id)
            if what in ("level", "loss", "plan", "barrel", "batch", "alarm"):
                assert told is not None
                assert told.value
                assert what == "alarm" or told.source


def test_the_balance_of_a_barrel_adds_up_in_its_explanation() -> None:
    told = explain(status_of(LEVELS + FILLED), "barrel:gate")
    assert told is not None
    inputs = dict(told.inputs)
    # 20 L of heel + 130 L filled = 150 L held (constructed)
    assert (inputs["stood there first"], inputs["filled"]) == ("20 L", "130 L")
    assert told.value.startswith("150 L")
