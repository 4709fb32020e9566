"""From an empty home to a released batch in a real terminal, as somebody does it the first time."""

from __future__ import annotations

from pathlib import Path
from time import sleep
from typing import NamedTuple

import pytest

from pondtui.tui.refill import SETTLE_S
from tests.tui.terminal import Terminal

DAY = "2026-06-14T"
MOST_ANSWERS = 25


class Keeper(NamedTuple):
    """What somebody types: an answer for each question, and the amounts of the first batch."""

    locale: str
    zone: str
    offset: str  # of the zone in June
    answers: tuple[tuple[str, str], ...]  # a part of the question, what is typed before Enter
    filled: str
    degrees: str
    after: str  # the level in the end
    shown: tuple[str, ...]  # what Refill says in the keeper's units on the way
    journal: tuple[str, ...]


METRIC = Keeper(
    "en_IE.UTF-8", "Europe/Brussels", "+02:00",
    (("called", "Alder Nook"), ("time zone", ""), ("latitude", "51"), ("Which units", ""),
     ("How is the level", ""), ("Which shape", ""), ("How long", "3.2 m"), ("How wide", "2.1 m"),
     ("How deep", "75 cm"), ("brimful", ""), ("refill", ""), ("too low", ""),
     ("barrel stand", ""), ("inner diameter", "57 cm"), ("How high is it inside", "90 cm"),
     ("How high do you fill", "85 cm"), ("its outlet", "7 cm"), ("hose give", "11 L/min"),
     ("conditioner", "8 mL"), ("For how much", "100 L"), ("chores", ""), ("folder", ""),
     ("gauge read now", "62 mm")),
    "190 L", "17", "34 mm", ("217 L", "850 mm", "mL"),
    ("reading=62 mm", "added=190 L", "dose=16.7 mL", "temp=17 degC", "reading=34 mm"),
)  # fmt: skip
US = Keeper(
    "en_US.UTF-8", "America/Chicago", "-05:00",
    (("called", "Fern Corner"), ("time zone", ""), ("latitude", "41.9"), ("Which units", ""),
     ("How is the level", ""), ("Which shape", ""), ("How long", "10 ft"), ("How wide", "7 ft"),
     ("How deep", "30 in"), ("brimful", ""), ("refill", ""), ("too low", ""),
     ("barrel stand", ""), ("inner diameter", "22 1/2 in"), ("How high is it inside", "35 in"),
     ("How high do you fill", "33 in"), ("its outlet", "2 3/4 in"), ("hose give", "3 gal/min"),
     ("conditioner", "1 US fl oz"), ("For how much", "300 gal"), ("chores", ""), ("folder", ""),
     ("gauge read now", "3 in")),
    "52 gal", "60", "1 13/16 in", ("52.1 US gal", "33 in", "5.6 mL"),
    ("reading=3 in", "added=52 US gal", "dose=5.6 mL", "temp=60 degF", "reading=1 13/16 in"),
)  # fmt: skip
IMPERIAL = METRIC._replace(
    locale="en_GB.UTF-8", zone="Europe/London", offset="+01:00",
    answers=tuple(
        {"called": (q, "Rill End"), "Which units": (q, "\x1b[B\x1b[B"),
         "hose give": (q, "2 gal/min"),
         "How long": (q, "10 ft"), "How wide": (q, "7 ft"), "How deep": (q, "30 in"),
         "inner diameter": (q, "22 1/2 in"), "How high is it inside": (q, "35 in"),
         "How high do you fill": (q, "33 in"), "its outlet": (q, "2 3/4 in"),
         "For how much": (q, "22 gal"), "gauge read now": (q, "3 in")}.get(q, (q, text))
        for q, text in METRIC.answers
    ),
    filled="43 gal", degrees="60", after="1 13/16 in", shown=("43.4 imp gal", "33 in", "mL"),
    journal=("reading=3 in", "added=43 imp gal", "temp=60 degF", "reading=1 13/16 in"),
)  # fmt: skip


class Sitting:
    """A keeper at the terminal: waits for words, presses keys, counts them."""

    def __init__(self, home: Path, keeper: Keeper, size: tuple[int, int] = (80, 24)) -> None:
        self.environ = {
            "HOME": str(home), "LANG": keeper.locale, "TZ": keeper.zone, "COLORTERM": "truecolor",
        }  # fmt: skip
        self.offset = keeper.offset
        self.size = size
        self.keys = 0
        self.seen = ""

    def start(self, clock: str) -> None:
        """Open the program at a time of the day."""
        columns, rows = self.size
        environ = {**self.environ, "PONDTUI_NOW": f"{DAY}{clock}{self.offset}"}
        self.terminal = Terminal(["-m", "pondtui"], environ, columns, rows)

    def at(self, words: str, keys: str) -> None:
        """When these words stand there, press these keys."""
        self.terminal.wait_for(words)
        self.seen += "\n".join(self.terminal.lines())
        self.keys += len(keys) - 2 * keys.count("\x1b[B")
        self.terminal.press(keys)

    def step(self, words: str, keys: str) -> None:
        """The same in Refill, which takes a key that comes too soon for one that repeats itself."""
        self.terminal.wait_for(words)
        sleep(SETTLE_S)
        self.at(words, keys)

    def leave(self) -> None:
        """Close the program: the next start goes on where this one stood."""
        self.terminal.press("q")
        self.terminal.wait_for("q quit")
        self.terminal.press("q")
        assert self.terminal.close() == 0

    def go_on(self, clock: str) -> None:
        """Open the program later the same day, and Refill in it."""
        self.start(clock)
        self.at("r refill", "r")


def refill(sitting: Sitting, keeper: Keeper) -> None:
    """Fill, treat, wait, test, let out, close up, leaving the program during each wait."""
    sitting.at("q quit", "r")
    sitting.step("1/17  Outlet shut", "\r")
    sitting.step("2/17", "\r")
    sitting.step("3/17", "\r")
    sitting.step("5/17  Hose on", "\r")  # the level was read just now
    sitting.terminal.wait_for("HOSE ON")
    sitting.leave()
    sitting.go_on("18:45:00")
    sitting.step("6/17", f"\r{keeper.filled}\r")
    sitting.step("7/17", "\r")
    sitting.step("8/17  Give conditioner", "\r")
    sitting.step("Enter take", "\r")  # the amount that it worked out
    sitting.step("9/17  Mix", "\r")
    sitting.terminal.wait_for("10/17  Wait")
    sitting.leave()
    sitting.go_on("18:58:00")
    sitting.step("11/17  Test total", "\r0\r")
    sitting.step("12/17", f"\r{keeper.degrees}\r")
    sitting.step("13/17", "\r")
    sitting.step("14/17  Outlet open", "\r")
    sitting.terminal.wait_for("OUTLET OPEN")
    sitting.leave()
    sitting.go_on("19:20:00")
    sitting.step("15/17", "\rall\r")
    sitting.step("16/17", "\r")
    sitting.step("17/17", f"\r{keeper.after}\r")
    sitting.terminal.wait_for("is closed up")
    sitting.leave()


@pytest.mark.long
@pytest.mark.parametrize(
    ("keeper", "size"),
    [(METRIC, (80, 24)), (US, (80, 24)), (IMPERIAL, (40, 20))],
    ids=["metric", "us", "imperial, on a telephone"],
)
def test_an_empty_home_leads_to_a_released_batch_in_at_most_25_answers(
    tmp_path: Path, keeper: Keeper, size: tuple[int, int], capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = Sitting(tmp_path, keeper, size)
    sitting.start("18:20:00")
    sitting.at("Welcome", "\r")
    for question, typed in keeper.answers:
        sitting.at(question, f"{typed}\r")
    to_set_up = sitting.keys
    refill(sitting, keeper)
    with capsys.disabled():
        print(f"\n{len(keeper.answers)} answers, {to_set_up} keys to a pond, {sitting.keys} in all")
    assert len(keeper.answers) <= MOST_ANSWERS
    assert sitting.keys <= 300
    assert "Traceback" not in sitting.seen
    seen = " ".join(sitting.seen.split())  # a narrow screen breaks lines
    assert [text for text in keeper.shown if text not in seen] == []
    [journal] = tmp_path.glob("*/journal/*.txt")
    text = journal.read_text(encoding="utf-8")
    assert [part for part in keeper.journal if part not in text] == []
    order = [line.split("|")[1].strip() for line in text.splitlines() if "|" in line]
    assert order == [
        "level", "tick", "tick", "tick", "start", "fill", "tick", "treat", "tick", "test", "test",
        "tick", "start", "release", "tick", "level",
    ]  # fmt: skip
