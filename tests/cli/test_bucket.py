"""`pondtui bucket-test` as called: what it writes, resumes and says."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.cli.calls import NOW, call, refused

BOTH = ("pond=50 mm", "bucket=40 mm")


def lines(pond: Path) -> list[str]:
    path = pond / "journal" / "2026-desk.txt"
    return path.read_text().splitlines() if path.exists() else []


def test_it_says_beforehand_what_it_can_see_and_how_it_is_done(pond: Path) -> None:
    result = call("bucket-test")
    assert "a leak of 1.3 mm/day or more" in result.out
    assert "Stand a bucket of pond water in the pond" in result.out
    assert lines(pond) == []


def test_a_test_is_begun_looked_at_and_ends_with_a_verdict_in_the_journal(pond: Path) -> None:
    assert call("bucket-test", "start", *BOTH, "pump=on").code == 0
    early = call("bucket-test", "read", "pond=54 mm", "bucket=42 mm", now=NOW + timedelta(days=1))
    assert "no verdict yet" in early.out
    late = NOW + timedelta(days=3)
    result = call("bucket-test", "read", "pond=65 mm", "bucket=46 mm", now=late)
    assert "LEAK after 72 h" in result.out
    assert "pump off" in result.out  # what to do next
    written = lines(pond)
    assert len(written) == 4
    assert "| note    | | bucket test, pump on: LEAK after 72 h: 3.0 mm/day" in written[-1]
    answer = call("bucket-test", "--json", now=late).json
    assert answer["tests"][0]["verdict"] == "leak"
    assert answer["tests"][0]["leak_l_per_day"] == pytest.approx(18.0)  # 3 mm a day on 6 m2
    assert call("check", now=late).code == 0


def test_giving_up_is_written_down(pond: Path) -> None:
    call("bucket-test", "start", *BOTH)
    assert "given up" in call("bucket-test", "stop", now=NOW + timedelta(hours=5)).out
    assert "what=stop" in lines(pond)[-1]


@pytest.mark.parametrize(
    ("words", "fragments"),
    [
        (("begin",), ("bucket-test begin: say start, read, stop or status",)),
        (("start", "pond=50 mm"), ("needs both levels",)),
        (("start", "50 mm"), ("write NAME=VALUE",)),
        (("read", *BOTH), ("no bucket test is going on",)),
        (("stop",), ("no bucket test is going on",)),
        (("start", "pond=3 kg", "bucket=40 mm"), ("pond",)),
        (("status", "pond=50 mm"), ("takes no values",)),
    ],
)
def test_what_cannot_be_meant_is_refused_and_writes_nothing(
    pond: Path, words: tuple[str, ...], fragments: tuple[str, ...]
) -> None:
    refused(call("bucket-test", *words), 2, *fragments)
    assert lines(pond) == []
