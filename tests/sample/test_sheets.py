"""The care sheets of both samples, as a sitter reads them, with the calendar of their visits."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from tests.cli.calls import call
from tests.golden_files import Golden
from tests.sample import metric, us
from tests.sample.tale import Tale


@pytest.mark.parametrize("tale", [metric.TALE, us.TALE], ids=lambda tale: tale.name)
@pytest.mark.parametrize("form", ["text", "ics"])
def test_the_sheet_reads_as_it_was_looked_at(tale: Tale, form: str, golden: Golden) -> None:
    units = ["--us"] if tale.name == "us" else []
    first, last = tale.last + timedelta(2), tale.last + timedelta(9)
    answer = call("sample", *units, "sheet", str(first), str(last), "--sitter", tale.sitter_name,
                  "--as", form, now=datetime.fromisoformat(tale.now))  # fmt: skip
    assert answer.code == 0
    lines = answer.out.splitlines()
    if form == "text":
        assert max(map(len, lines)) <= 80
    golden(f"sample-sheet-{tale.name}-{form}", lines)
