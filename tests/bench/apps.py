"""What is measured on the screen, in a real terminal, beside the barest app of the same toolkit."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from functools import partial
from pathlib import Path
from statistics import median

from tests.bench import books
from tests.bench.measure import Pair, Row, timed, written
from tests.bench.screens import BARE_LIST, BARE_STATIC, READ, Screen, pond, read_whole

DOWN, UP = "\x1b[B", "\x1b[A"
FRAME_MS = 33.0  # a key is answered within it, or it is felt
# The screen: the key that opens it, and two that change it and change it back.
KEYS = {"today": ("", DOWN, UP), "refill": ("r", "o", "o"), "journal": ("j", DOWN, UP)}
WINDOW_S = 20.0  # at rest for so long
BUSY_KEYS = 25  # pressed after each start, while the years are read


def _painted(start: Callable[[], Screen], text: str) -> float:
    screen = start()
    try:
        return screen.until(text)
    finally:
        screen.kill()


def _bare(program: str, room: Path) -> Screen:
    return Screen(["-c", program], room)


@contextmanager
def _killed(screens: list[Screen]) -> Iterator[None]:
    """However it ends, no program of the bench outlives it."""
    try:
        yield
    finally:
        for screen in screens:
            screen.kill()


@contextmanager
def first_paint(room: Path) -> Iterator[Row]:
    """Spawn to the first painted Today, beside a bare app."""
    season = books.season(room / "season")
    yield Row(
        "first-paint", "spawn to the first painted Today with its last reading",
        "a bare Textual app with one Static",
        lambda: (_painted(lambda: pond(season, room), READ),
                 _painted(lambda: _bare(BARE_STATIC, room), "Today")),
        21, times=1.5,
    )  # fmt: skip


@contextmanager
def first_paint_of_years(room: Path) -> Iterator[Row]:
    """The same with twenty years of journal, beside one season."""
    season, years = books.season(room / "season"), books.twenty_years(room / "years")
    yield Row(
        "years-first-paint", "the same with 20 years of journal", "with one season",
        lambda: (_painted(lambda: pond(years, room), READ),
                 _painted(lambda: pond(season, room), READ)),
        21, times=1.1,
    )  # fmt: skip


@contextmanager
def keys(screen: str, room: Path) -> Iterator[Row]:
    """A key to the repaint, with twenty years, beside a bare list."""
    ours = read_whole(books.twenty_years(room / "years"), room)
    bare = _bare(BARE_LIST, room)
    bare.until("row 1 of")
    bare.rest()
    opens, there, back = KEYS[screen]
    if opens:
        ours.answer(opens)

    def once() -> Pair:
        found = [(ours.answer(a), bare.answer(b)) for a, b in ((there, DOWN), (back, UP))]
        return max(a for a, _ in found), max(b for _, b in found)

    with _killed([ours, bare]):
        yield Row(
            f"keys-{screen}", f"key to repaint on {screen.capitalize()}, 20 years",
            "a key in a bare OptionList of 1,000 rows", once, 60,
            times=2.0, most=FRAME_MS, tail=True,
        )  # fmt: skip


@contextmanager
def keys_while_busy(room: Path) -> Iterator[Row]:
    """A key to the repaint while the years are read and the season is worked out."""
    years = books.twenty_years(room / "years")
    bare = _bare(BARE_LIST, room)
    bare.until("row 1 of")
    screens = [bare]
    left = 0

    def once() -> Pair:
        nonlocal left
        if not left:
            for old in screens[1:]:
                old.kill()
            screens[1:] = [pond(years, room)]
            screens[1].until(READ)
            left = BUSY_KEYS
        left -= 1
        key = DOWN if left % 2 else UP
        return screens[1].answer(key), bare.answer(key)

    with _killed(screens):
        yield Row(
            "keys-while-busy", "the same while 20 years are read and the season is worked out",
            "the same key in a bare OptionList of 1,000 rows", once, 4 * BUSY_KEYS - 1,
            plus=FRAME_MS, most=FRAME_MS, tail=True,
        )  # fmt: skip


def _at_rest(screen: Screen, key: str) -> float:
    """A key to the repaint, on a screen that rested as long as one that is ticked on."""
    screen.settle()
    return screen.answer(key)


@contextmanager
def tick(make: Callable[[Path], Path], name: str, room: Path) -> Iterator[Row]:
    """A tick until it is told as saved, beside write and fsync of the same bytes."""
    folder = books.with_chores(make(room / name))
    line = b"2026-10-09 17:40:00+02:00 | chore   | name=round 1 |\n"
    handle = os.open(room / "plain.txt", os.O_WRONLY | os.O_APPEND | os.O_CREAT)
    screen = read_whole(folder, room)
    repaint = median(_at_rest(screen, key) for _ in range(4) for key in (DOWN, UP))
    ticks = iter(range(1, books.CHORES + 1))

    def once() -> Pair:
        number = next(ticks)
        screen.settle()
        ours = screen.told(str(number), f"saved: .*name=round {number}")
        screen.settle()  # a machine at rest is slower to answer: both sides begin from there
        return ours, timed(lambda: written(handle, line))

    with _killed([screen]):
        yield Row(
            f"tick-{name}", f"a tick told as saved, {name}", "write + fsync of the same bytes",
            once, books.CHORES - 1, times=2.0, plus=repaint,
        )  # fmt: skip
    os.close(handle)


@contextmanager
def memory(make: Callable[[Path], Path], name: str, more: float, room: Path) -> Iterator[Row]:
    """The most memory that was held, beside a bare app."""
    folder = make(room / name)

    def once() -> Pair:
        ours, bare = read_whole(folder, room), _bare(BARE_STATIC, room)
        bare.until("Today")
        found = ours.peak_mib(), bare.peak_mib()
        ours.kill()
        bare.kill()
        return found

    yield Row(
        f"memory-{name}", f"peak memory, {name}", "a bare Textual app", once, 3,
        plus=more, unit="MiB",
    )  # fmt: skip


@contextmanager
def idle(room: Path) -> Iterator[Row]:
    """Processor time per minute at rest, with the files watched, beside a bare app."""
    ours, bare = read_whole(books.season(room / "season"), room), _bare(BARE_STATIC, room)
    bare.until("Today")

    def once() -> Pair:
        before = ours.processor_s(), bare.processor_s()
        end = time.monotonic() + WINDOW_S
        while time.monotonic() < end:
            ours.take(0.2)
            bare.take(0.2)
        scale = 1000 * 60 / WINDOW_S
        return (ours.processor_s() - before[0]) * scale, (bare.processor_s() - before[1]) * scale

    with _killed([ours, bare]):
        yield Row("idle", "at rest with the files watched, processor time a minute",
                  "a bare Textual app at rest", once, 3, times=2.0)  # fmt: skip


ROWS: dict[str, Callable[[Path], AbstractContextManager[Row]]] = {
    "first-paint": first_paint,
    "years-first-paint": first_paint_of_years,
    **{f"keys-{screen}": partial(keys, screen) for screen in KEYS},
    "keys-while-busy": keys_while_busy,
    "tick-season": partial(tick, books.season, "season"),
    "tick-years": partial(tick, books.twenty_years, "years"),
    "memory-season": partial(memory, books.season, "season", 25.0),
    "memory-years": partial(memory, books.twenty_years, "years", 100.0),
    "idle": idle,
}
