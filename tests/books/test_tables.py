"""A table is read cell by cell, whatever program wrote it, and what is wrong in it is named."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pondtui.books.cells import When, day_first, number_in, when_in
from pondtui.books.tables import LARGEST, Table, parse_table, read_table

ZONE = ZoneInfo("Europe/Brussels")
QUICK = settings(max_examples=200, deadline=None)


def cells(table: Table) -> list[list[str]]:
    return [row.cells for row in table.rows]


def only_problem(table: Table) -> str:
    assert len(table.problems) == 1, table.problems
    return str(table.problems[0])


# --- RFC 4180 -------------------------------------------------------------------------------------


def test_quoted_cells_hold_separators_quotes_and_ends_of_line() -> None:
    # RFC 4180 section 2, rules 5 to 7
    table = parse_table(b'a,b,c\r\n"aaa","b\r\nbb","c,c"\r\nz,"y ""x""",\r\n', "t.csv")
    assert cells(table) == [["aaa", "b\nbb", "c,c"], ["z", 'y "x"', ""]]
    assert [row.line for row in table.rows] == [2, 4]
    assert table.problems == []


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_every_end_of_line_and_separator_gives_the_same_cells(end: str, separator: str) -> None:
    lines = [["day", "low", "high"], ["2026-06-01", "10", "20"], ["2026-06-02", "", "21"]]
    text = end.join(separator.join(line) for line in lines)
    table = parse_table(text.encode(), "t.csv")
    assert (list(table.header), cells(table)) == (lines[0], lines[1:])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_the_encodings_of_unicode_are_told_apart(encoding: str) -> None:
    text = "day,low [°C]\n2026-06-01,10\n"
    assert parse_table(text.encode(encoding), "t.csv").header == ("day", "low [°C]")


def test_the_header_stands_below_what_a_service_writes_before_it() -> None:
    text = "SOURCE: A SERVICE, all rights\n# note\n# STN,YYYYMMDD,   RH\n\n  1,19800101,   58\n"
    table = parse_table(text.encode(), "t.csv")
    assert table.header == ("STN", "YYYYMMDD", "RH")
    assert cells(table) == [["  1", "19800101", "   58"]]
    assert table.rows[0].line == 5


def test_empty_cells_behind_the_last_column_do_not_count() -> None:
    assert cells(parse_table(b"a;b\n1;2\n3;4;;\n", "t.csv")) == [["1", "2"], ["3", "4"]]


WORD = st.text(alphabet=st.sampled_from('ab1 ,;"\n.='), max_size=6)


@QUICK
@given(rows=st.lists(st.lists(WORD, min_size=8, max_size=8), min_size=1, max_size=8))
def test_what_the_standard_writer_quotes_is_read_back(rows: list[list[str]]) -> None:
    text = "a,b,c,d,e,f,g,h\n" + "".join(
        ",".join('"' + cell.replace('"', '""') + '"' for cell in row) + "\n" for row in rows
    )
    assert cells(parse_table(text.encode(), "t.csv")) == rows


@QUICK
@given(st.binary(max_size=300))
def test_no_bytes_make_the_reader_fail(raw: bytes) -> None:
    table = parse_table(raw, "t.csv")
    assert table.rows or table.problems
    assert all(len(row.cells) == len(table.header) for row in table.rows)


# --- what is wrong --------------------------------------------------------------------------------


def test_a_stray_quote_costs_its_own_row_and_is_named_where_it_began() -> None:
    text = 'day,low,high\n2026-06-01,"10,20\n2026-06-02,11,21\n2026-06-03,12",22\n'
    table = parse_table(text.encode(), "t.csv")
    assert cells(table) == [["2026-06-02", "11", "21"], ["2026-06-03", '12"', "22"]]
    problem = table.problems[0]
    assert (problem.line, problem.column) == (2, 12)
    assert "a quote opens at column 12" in problem.message


def test_text_behind_a_closing_quote_is_a_stray_quote_too() -> None:
    table = parse_table(b'a,b\n"1"0,2\n3,4\n', "t.csv")
    assert cells(table) == [["3", "4"]]
    assert table.problems[0].line == 2


def test_a_row_that_is_too_short_or_too_long_is_named_and_left_out() -> None:
    table = parse_table(b"a,b,c\n1,2,3\n1,2\n1,2,3,4\n", "t.csv")
    assert len(table.rows) == 1
    assert [problem.line for problem in table.problems] == [3, 4]
    assert "3 cells are named in the header, 2 here" in table.problems[0].message


def test_a_table_in_another_encoding_is_named_with_its_line_and_left_out() -> None:
    table = parse_table("day,low [°C]\n2026-06-01,10\n".encode("latin-1"), "t.csv")
    assert table.rows == []
    assert "t.csv:1: the table is not UTF-8 text" in only_problem(table)
    assert "save it as UTF-8" in only_problem(table)


def test_a_file_of_another_kind_is_named() -> None:
    table = parse_table(b"PK\x03\x04\x00\x00abc\n\x00\n", "t.xlsx")
    assert "export it as CSV" in only_problem(table)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no line names the columns"),
        ("\n\n", "no line names the columns"),
        ("1,2\n3,4\n", "no line names the columns"),
        ("day,low\n", "a header and no rows"),
        ("day,low\n" + "9" * 9000 + ",1\n", "longer than 8 KiB"),
    ],
)
def test_what_is_no_table_says_why(text: str, words: str) -> None:
    table = parse_table(text.encode(), "t.csv")
    assert table.rows == []
    assert words in only_problem(table)


def test_a_file_that_is_too_large_is_left_out() -> None:
    assert "5 MiB" in only_problem(parse_table(b"a,b\n" + b"1,2\n" * (LARGEST // 4), "t.csv"))


def test_a_missing_file_and_a_folder_are_named(tmp_path: Path) -> None:
    assert "cannot be read" in only_problem(read_table(tmp_path / "none.csv", "none.csv"))
    assert "a folder" in only_problem(read_table(tmp_path, "here"))


def test_signs_that_a_terminal_would_obey_do_not_come_out_of_a_problem() -> None:
    table = parse_table(b"a,b\n\x1b[2J,2,3\n", "t.csv")
    assert "\x1b" not in str(table.problems[0]) + table.problems[0].text


# --- numbers --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cell", "value"),
    [("12.5", 12.5), (" 7 ", 7), ("-0.4", -0.4), ("\u22123", -3), ("+1", 1), ("1e-2", 0.01),
     ("12,5", 12.5), ("-0,25", -0.25), (".5", 0.5), ("5.", 5)],
)  # fmt: skip
def test_a_number_is_read_with_a_point_or_a_decimal_comma(cell: str, value: float) -> None:
    assert number_in(cell, True) == value


@pytest.mark.parametrize(
    "cell",
    ["", "x", "1_000", "nan", "inf", "1 000", "1.234,5", "1,234.5", "12.3 mm", "0x10", "١٢",
     '=CMD("x")', "+cmd|' /C calc'!A0", "@SUM(1+1)", "1;2", "9" * 40],
)  # fmt: skip
def test_what_is_no_number_is_refused_and_a_formula_is_only_text(cell: str) -> None:
    with pytest.raises(ValueError, match="no number"):
        number_in(cell, True)


def test_a_comma_that_may_part_thousands_is_not_guessed_at() -> None:
    american = parse_table(b'day,total\n2026-06-01,"1,250"\n', "t.csv")
    mixed = parse_table(b"day;total;x\n2026-06-01;1,250;1.5\n", "t.csv")
    for table in (american, mixed):
        with pytest.raises(ValueError, match="decimal comma"):
            number_in("1,250", table.comma_is_decimal)
    german = parse_table(b"day;total\n01.06.2026;1,250\n", "t.csv")
    assert number_in("1,250", german.comma_is_decimal) == 1.25


# --- days and times -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "cell", ["2026-06-03", "20260603", "2026/6/3", "3.6.2026", "03.06.2026", " 2026-06-03 "]
)
def test_a_day_is_read_in_every_order_that_says_which_is_which(cell: str) -> None:
    assert when_in(cell, None, ZONE) == When(date(2026, 6, 3))


def test_the_other_rows_tell_whether_the_day_or_the_month_comes_first() -> None:
    assert day_first(["03/06/2026", "13/06/2026"]) is True
    assert day_first(["03/06/2026", "06/13/2026"]) is False
    assert day_first(["03/06/2026"]) is None
    assert when_in("03/06/2026", True, ZONE).day == date(2026, 6, 3)
    assert when_in("03/06/2026", False, ZONE).day == date(2026, 3, 6)
    with pytest.raises(ValueError, match="some month first"):
        day_first(["13/06/2026", "06/13/2026"])
    with pytest.raises(ValueError, match="day or month first"):
        when_in("03/06/2026", None, ZONE)


@pytest.mark.parametrize(
    ("cell", "day", "minute"),
    [
        ("2026-06-03 07:42", 3, 462),
        ("2026-06-03T07:42:30", 3, 462),
        ("3.6.2026 7:42", 3, 462),
        ("2026-06-03 24:00", 4, 0),
        ("2026-06-03T05:42Z", 3, 462),
        ("2026-06-03 23:30+00:00", 4, 90),
        ("2026-06-03T01:12:00-0430", 3, 462),
    ],
)
def test_a_time_is_read_by_the_clock_of_the_place(cell: str, day: int, minute: int) -> None:
    when = when_in(cell, None, ZONE)
    assert (when.day, when.minute) == (date(2026, 6, day), minute)


@pytest.mark.parametrize(
    "cell",
    ["", "yesterday", "2026-02-30", "2026-13-01", "2026-06-03 25:00", "2026-06-03 12:61",
     "1200-01-01", "2026-06", "2026-06-03 07:42+99:00", "=A1"],
)  # fmt: skip
def test_what_is_no_day_is_refused(cell: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        when_in(cell, None, ZONE)
