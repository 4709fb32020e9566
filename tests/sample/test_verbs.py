"""Every verb works on both samples, without a fault, and speaks of each pond in its own units."""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from pondtui.cli.verbs import VERBS
from tests.cli.calls import Result, call
from tests.sample import metric, us
from tests.sample.tale import Tale

TALES = (metric.TALE, us.TALE)
CALLS: tuple[tuple[str, ...], ...] = (
    ("status",),
    ("plan",),
    ("water",),
    ("water", "--by", "season"),
    ("bucket-test",),
    ("loss",),
    ("outlook",),
    ("away", "2026-10-20", "2026-10-27"),
    ("sheet", "2026-10-20", "2026-10-27"),
    ("sheet", "2026-10-20", "2026-10-27", "--as", "markdown"),
    ("add", "note", "-m", "still and clear"),
    ("undo",),
    ("journal", "--last", "40"),
    ("chores",),
    ("tests",),
    ("supplies",),
    ("automation",),
    ("check",),
    ("export", "entries"),
    ("export", "water"),
    ("worksheet",),
    ("where",),
    ("help",),
)
# files and answers that are asked for elsewhere, or that no pond's units show in
ELSEWHERE = {"", "completion", "new", "import", "sample"}
# what people read; files for programs carry the journal's own words or fixed units
TOLD = [words for words in CALLS if words[0] not in ("export", "worksheet", "where", "help")]
# millilitres measure a dose and stand on its label; nitrogen and chlorine are mg/L everywhere
FOREIGN = {
    "metric": re.compile(
        r"\d(?<!-\d\d) (?:US gal|gal|in|ft|ft2|°F|degF|mph)(?![\w-])(?! summer| hot)"
    ),
    "us": re.compile(r"\d (?:L|mm|cm|m|m2|°C|degC|L/min|m/s)(?![\w/-])"),
}


def on(tale: Tale, *words: str) -> Result:
    units = ["--us"] if tale.name == "us" else []
    return call("sample", *units, *words, now=datetime.fromisoformat(tale.now))


@cache
def answers(name: str) -> dict[tuple[str, ...], Result]:
    """What each call says on the sample of that name, one after the other."""
    (tale,) = (tale for tale in TALES if tale.name == name)
    return {words: on(tale, *words) for words in CALLS}


@pytest.mark.parametrize("tale", TALES, ids=lambda tale: tale.name)
def test_no_verb_fails_on_a_sample(tale: Tale, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    written = ("sheet", "2026-10-20", "2026-10-27", "--as", "html", "-o", str(page))
    for words, answer in {**answers(tale.name), written: on(tale, *written)}.items():
        assert answer.code in (0, 1), (words, answer.err)
        assert "Traceback" not in answer.err
        assert answer.out.strip() or words[0] == "undo", words
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize("tale", TALES, ids=lambda tale: tale.name)
def test_each_sample_is_told_in_its_own_units(tale: Tale) -> None:
    found: list[tuple[tuple[str, ...], str]] = []
    for words in TOLD:
        found += [(words, line) for line in answers(tale.name)[words].out.splitlines()
                  if FOREIGN[tale.name].search(line)]  # fmt: skip
    assert found == []


def test_every_verb_is_tried() -> None:
    assert set(VERBS) - {words[0] for words in CALLS} <= ELSEWHERE


@pytest.mark.parametrize("tale", TALES, ids=lambda tale: tale.name)
def test_check_finds_nothing(tale: Tale) -> None:
    assert on(tale, "check").out == "nothing is wrong\n"
