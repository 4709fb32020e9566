"""A spreadsheet computes nothing of what is exported, and reads every text as it was."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pondtui.books.export import as_csv, entry_rows
from pondtui.books.journal import read_folder
from pondtui.clean import visible
from tests.cli.calls import call, write_pond
from tests.security.payloads import ALL, FORMULAS

NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?")
COMPUTED = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
BEGINS = (*COMPUTED, *FORMULAS, " =1", "\u200b=1", "\ufeff=1", "\x00=1", "'=1", '"=1', ";=1", ",=1")


def cells(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def harmless(cell: str) -> bool:
    return not cell.startswith(COMPUTED) or bool(NUMBER.fullmatch(cell))


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """Every text that can be exported begins like a formula."""
    lines = []
    for n, text in enumerate((*BEGINS, *ALL)):
        plain, name = text.replace("\n", " "), re.sub("[;|=\n]", " ", text)
        stamp = f"2026-08-{1 + n // 24:02} {n % 24:02}:00:00+02:00"
        lines += [f"{stamp} | note | | {plain}\n", f"{stamp} | chore | name={name} x | {plain}\n"]
        lines += [f"{stamp} | test | where={name}; temp=-3 degC | {plain}\n"]
        lines += [f"{stamp} | {name.strip()}x | a={name} |\n", f"{stamp} | odd | {name}=1 |\n"]
    folder = write_pond(tmp_path / "pond")
    for name in ("=1+1.txt", "-2.txt", "@x.txt", "+1.txt"):
        (folder / "journal" / name).write_bytes("".join(lines).encode("utf-8", "surrogatepass"))
        lines = [line.replace("2026-08", "2025-08") for line in lines]
    return folder


def test_no_cell_of_any_column_is_computed(journal: Path) -> None:
    found = read_folder(journal, ZoneInfo("Europe/Brussels"), None)
    rows = entry_rows(found, ZoneInfo("Europe/Brussels"))
    table = cells(as_csv(rows))
    assert len(rows) > 300
    assert [len(row) for row in table] == [len(table[0])] * (len(rows) + 1)
    assert [cell for row in table for cell in row if not harmless(cell)] == []
    notes = [row[table[0].index("note")] for row in table[1:]]
    assert [note.removeprefix("'") for note in notes] == [
        str(row["note"]).removeprefix("'") for row in rows
    ]
    assert {"file", "kind", "fields", "note", "struck"} <= set(table[0])


@given(st.text(max_size=30), st.sampled_from(BEGINS))
def test_a_text_is_never_a_formula_and_stays_itself(text: str, begin: str) -> None:
    note = visible(begin + text).replace("\n", " ")
    entry = {"stamp": "x", "kind": note, "fields": {note: note}, "note": note, "file": note}
    (_, row) = cells(as_csv([{**entry, "line": -1, "struck": False, "values": {"temp_c": -3.5}}]))
    assert all(harmless(cell) for cell in row)
    assert row[3].removeprefix("'") == note.removeprefix("'")
    assert row[5] == "-1"
    assert row[-1] == "-3.5"


@pytest.mark.parametrize("words", [("export", "entries"), ("export", "water")])
def test_the_command_gives_the_same(
    journal: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.setenv("PONDTUI_POND", str(journal))
    done = call(*words)
    assert done.code == 0
    assert [cell for row in cells(done.out) for cell in row if not harmless(cell)] == []
