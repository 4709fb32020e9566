"""No reader takes the square of its input: four times as much text takes about four times as long.

Time of the processor, not of the clock; the least of several runs; and three tries, because a
ratio that is wrong by accident once is not so three times. A square would give 16.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from contextlib import suppress

import pytest

from pondtui import units
from pondtui.books.describing import comments
from pondtui.books.lines import one_line, parse_line
from pondtui.books.pondfile import line_of, parse
from pondtui.books.stamps import parse_stamp
from pondtui.books.tomltext import MOST_SIGNS
from pondtui.clean import visible
from pondtui.errors import PondError
from pondtui.pond.away.report_text import plain
from pondtui.pond.setup.columns import split_header
from tests.fuzz.targets import TARGETS, ZONE, tried

MOST = 9.0  # for four times the text; four is what is right
LEAST_S = 0.004  # shorter runs say nothing

# target: what is repeated, with so many repetitions as the smaller input has
REPEATED: tuple[tuple[str, bytes, bytes, int], ...] = (
    ("line", b"2026-06-01 08:00Z | level | ", b"x;", 900),
    ("line", b"2026-06-01 08:00Z | level | ", b"ab=1;", 400),
    ("line", b"2026-06-01 08:00Z | note | | ", b"\xe2\x80\x8b", 600),
    ("line", b"", b"\xcc\x80\xcc\x96", 5000),
    ("line", b"2026-06-01 08:00Z | fill | added=", b"1 ", 900),
    ("line", b"2026-06-01 08:00Z | ", b"level", 300),
    ("journal", b"", b"2026-06-01 08:00Z | level | reading=62 mm\n", 500),
    ("journal", b"", b"2026-06-01 08:00Z | note | | heron\n", 500),
    ("journal", b"", b"2026-06-01 08:00Z | strike | of=2026-06-01 08:00Z level\n", 400),
    ("journal", b"", b"2026-06-01 08:00Z | fill | barrel=yard; added=1 L\n", 200),
    ("journal", b"", b"2026-06-01 08:00Z | tick | step=mix; batch=yard-260601\n", 200),
    ("journal", b"", b"2026-06-01 08:00Z | chore | name=feed\n", 500),
    ("journal", b"", b"2026-06-01 08:00Z | test | where=pond; ph=7.6\n", 500),
    ("journal", b"", b"no line at all\n", 1000),
    ("pond", b"[pond]\n", b"name = 1\n", 300),
    ("pond", b"[pond]\n", b'[[mark]]\nname="a"\n', 150),
    ("pond", b"[pond]\n", b"[[barrel]]\n", 250),
    ("pond", b"[pond]\n", b"[[chore]]\nname='a'\n", 150),
    ("pond", b"x = '''\n", b" ", 15_000),
    ("pond", b"x = [\n[\n", b" " * 2000 + b"\n", 8),
    ("weather", b"Date,Tmin [degC]\n", b'"",""\n', 3000),
    ("weather", b"Date,Tmin [degC]\n", b'"2026-06-01,1\n', 2000),
    ("weather", b"Date,Tmin [degC]\n", b'2026-06-01,"' + b'""' * 150 + b"\n", 150),
    ("weather", b"Date,Tmin [degC]\n", b"2026-06-01,1\n", 1500),
    ("weather", b"Date,Tmin [degC]\n", b"2026-06-01 08:00,1\n", 1000),
    ("weather", b"", b",", 2000),
    ("weather", b"", b'"', 2000),
    ("weather", b"Date,Rain [mm]\n", b"x,y\n", 1500),
    ("log", b"Time,Level [cm]\n", b"2026-06-01 08:00,6.2\n", 800),
    ("log", b"Time,Total [L]\n", b"2026-06-01 08:00,6\n2026-06-01 09:00,9\n", 400),
    ("report", b"", b"9.9 ", 5000),
    ("report", b"1.1 ", b"1 mm ", 2000),
    ("report", b"", b"1.1 ok ", 1000),
    ("report", b"", b"> ", 5000),
    ("report", b"", b"sheet ", 5000),
    ("report", b"", b"wrote : ", 3000),
    ("report", b"", b"1.1 no: because\n\n", 500),
    ("report", b"1.1 at ", b"at ", 3000),
    ("report", b"", b"-" * 40 + b"\n", 500),
    ("settings", b"ponds = [", b'"a",', 1000),
    ("settings", b"", b"# x\n", 8000),
    ("settings", b"x = '", b"\xe2\x80\x8b", 500),
    ("record", b'{"a": [', b"[],", 20_000),
    ("unwritten", b'{"pond.toml": {"read": "', b"a = 1\\n", 8000),
    ("unwritten", b'{"pond.toml": ', b'{"read": ', 4000),
    ("quick", b"level ", b"6 ", 3000),
    ("quick", b"note ", b"a=1 ", 3000),
    ("quick", b"test ", b"ph 7.6 ", 1000),
    ("quick", b"supply ", b"got ", 3000),
    ("quick", b"chore ", b"feed ", 3000),
    ("quick", b"count ", b"9 ", 3000),
    ("quick", b"fill yard 1", b" ", 20_000),
    ("quantity", b"", b"1", 3000),
    ("quantity", b"1 ", b"h 1 ", 2000),
    ("quantity", b"1 ", b"m/", 2000),
    ("quantity", b"", b" ", 20_000),
    ("quantity", b"1 ", b"\xc2\xb2", 8000),
    ("call", b"add\0note\0", b"a=1\0", 3000),
    ("call", b"add\0--", b"x", 3000),
)  # fmt: skip


def spent(work: Callable[[], object], runs: int) -> float:
    """Seconds of the processor, the least of some runs."""
    least = float("inf")
    gc.collect()
    gc.disable()  # it looks when it likes
    for _ in range(runs):
        begin = time.process_time()
        work()
        least = min(least, time.process_time() - begin)
    gc.enable()
    return least


def grows(of_size: Callable[[int], Callable[[], object]], size: int) -> float:
    """How much longer four times as much takes; from 0 where both are too short to tell."""
    ratio = float("inf")
    for runs in (1, 3, 3, 3):  # what is found to grow is looked at more closely
        small, large = spent(of_size(size), runs + 1), spent(of_size(4 * size), runs)
        if large < LEAST_S:
            return 0.0
        ratio = min(ratio, large / max(small, LEAST_S / 4))
        if ratio < MOST:
            return ratio
    return ratio


@pytest.mark.parametrize(
    ("name", "head", "piece", "size"), REPEATED, ids=lambda value: repr(value)[:30]
)
def test_no_reader_takes_the_square_of_its_input(
    name: str, head: bytes, piece: bytes, size: int
) -> None:
    def of_size(number: int) -> Callable[[], object]:
        data = head + piece * number
        return lambda: tried(name, data)

    assert grows(of_size, size) < MOST


@pytest.mark.parametrize(("power", "sound"), [(1.0, True), (1.1, True), (2.0, False)])
def test_the_rule_sees_a_square(power: float, sound: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    spent_s = [0.0]
    monkeypatch.setattr(time, "process_time", lambda: spent_s[0])  # a machine that never wavers

    def of_size(number: int) -> Callable[[], object]:
        def work() -> None:
            spent_s[0] += number**power / 1e5

        return work

    assert (grows(of_size, 1_000) < MOST) == sound


FUNCTIONS: dict[str, tuple[Callable[[str], object], str]] = {
    "a header's unit": (split_header, "x" + " " * 20_000 + "y"),
    "a header's brackets": (split_header, "(a" * 10_000),
    "a key's line": (lambda text: line_of(text, "pond", "name"), " " * 20_000 + "x"),
    "a header's line": (lambda text: line_of(text, "pond", "name"), "[" + " " * 20_000 + "x"),
    "comments": (comments, "'''#" * 5_000),
    "quotes": (comments, '"\\' * 10_000),
    "hidden signs": (visible, "\u202e" * 20_000),
    "a stamp": (lambda text: parse_stamp(text, ZONE), "2026-06-03" + " " * 20_000 + "x"),
    "a stamp's rest": (lambda text: parse_stamp(text, ZONE), "2026-06-03 7.42." + "1." * 10_000),
    "an amount": (lambda text: units.read(text, "length"), "1" + " " * 20_000 + "x"),
    "a basis": (units.split_basis, "1 as" * 5_000),
    "a rate": (units.read_rate, "1 per " * 4_000),
    "a line of marks": (lambda text: parse_line(text, "", 1, ZONE, None), "\u0300\u0316" * 4_000),
    "a typed note of marks": (one_line, "\u0300\u0316" * 50_000),
    "a typed note of blanks": (one_line, "x" + " " * 50_000 + "x"),
    "a report of marks": (plain, "\u0300\u0316" * 20_000),
    "a name of marks": (lambda text: parse(f"[pond]\nname = '{text}'"), "\u0300\u0316" * 4_000),
    "a line": (lambda text: parse_line(text, "", 1, ZONE, None), "2026-06-03 07:42 " * 1_500),
}  # fmt: skip


@pytest.mark.parametrize("what", FUNCTIONS)
def test_no_pattern_is_catastrophic(what: str) -> None:
    work, text = FUNCTIONS[what]
    begin = time.process_time()
    with suppress(PondError):
        work(text)
    assert time.process_time() - begin < 0.5, what


def test_a_description_of_as_many_keys_as_are_read_is_read_in_time() -> None:
    text = "[pond]\n" + "".join(f"k{n} = 1\n" for n in range(MOST_SIGNS - 2))
    begin = time.process_time()
    loaded = parse(text)
    assert time.process_time() - begin < 10
    assert len(loaded.problems) < 110
    assert "more: mend these" in loaded.problems[-1].message


def test_every_reader_is_scaled() -> None:
    assert {name for name, *_ in REPEATED} >= TARGETS.keys() - {"procedure"}
