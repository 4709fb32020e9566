"""A line of the journal: what is read, what is refused with its place, and what comes back."""

from __future__ import annotations

from datetime import UTC, date
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from pondtui.books.lines import LONGEST, make, one_line, parse_line, render, strike_of
from pondtui.errors import InputError, Problem
from pondtui.pond.state.entry import Dose, Entry, Measured, Rate, Reference
from pondtui.pond.state.kinds import KINDS

TZ = ZoneInfo("Europe/Brussels")
AT = "2026-06-03 07:42:10+02:00"
INSTANT = 1780465330  # 2026-06-03 05:42:10 UTC, by `date -u -d ... +%s`


def read(line: str | bytes, gallon: str | None = None) -> Entry:
    """The entry of a line that must be good."""
    entry, problems = parse_line(line, "journal/x.txt", 7, TZ, gallon)
    assert entry is not None, problems
    return entry


def faults(line: str | bytes) -> list[Problem]:
    """What is wrong with a line that must be bad."""
    entry, problems = parse_line(line, "journal/x.txt", 7, TZ, None)
    assert entry is None
    return problems


def remarks(line: str | bytes, gallon: str | None = None) -> list[str]:
    """What is remarked on a line that counts."""
    entry, problems = parse_line(line, "journal/x.txt", 7, TZ, gallon)
    assert entry is not None
    assert {problem.severity for problem in problems} <= {"remark"}
    return [problem.message for problem in problems]


def caret(problem: Problem) -> str:
    """The line's text from the column of the problem on."""
    return problem.text[problem.column - 1 :]


def test_a_level_line_is_read() -> None:
    entry = read(f"{AT} | level   | reading=62 mm; pump=on; by=MO | calm, before feeding")
    assert (entry.instant, entry.stamp, entry.kind) == (INSTANT, AT, "level")
    assert entry.fields == {"reading": "62 mm", "pump": "on", "by": "MO"}
    assert entry.values == {"reading": 62.0, "pump": "on", "by": "MO"}
    assert entry.note == "calm, before feeding"
    assert (entry.path, entry.line) == ("journal/x.txt", 7)


@pytest.mark.parametrize(
    ("fields", "name", "value"),
    [
        ("fill | barrel=yard; added=150 L", "added", 150.0),
        ("fill | barrel=yard; to=line", "to", "line"),
        ("fill | barrel=yard; to=856 mm", "to", 856.0),
        ("level | reading=2 7/16 in", "reading", pytest.approx(61.9125)),
        ("level | reading=62 mm; temp=18.5 degC", "temp", 18.5),
        ("treat | barrel=yard; dose=13.5 mL", "dose", Dose(13.5, "mL")),
        ("treat | barrel=yard; dose=4 g", "dose", Dose(4.0, "g")),
        ("treat | barrel=yard; dose=1 mL; rate=8 mL per 100 L", "rate", Rate(0.08, "mL")),
        ("treat | barrel=yard; dose=1 g; rate=2 g per m3", "rate", Rate(0.002, "g")),
        ("test | where=tap; chlorine_total=<0.02 mg/L", "chlorine_total", Measured(0.02, True)),
        ("test | where=tap; ammonia=0.5 mg/L as N", "ammonia", Measured(0.5, False, "N")),
        ("test | where=tap; ph=7.5", "ph", Measured(7.5)),
        ("test | where=tap; chlorine_free=0.3 mg/L as Cl2", "chlorine_free", Measured(0.3)),
        ("count | kind=rudd; number=11", "number", 11),
        ("chore | name=rinse; skipped=yes", "skipped", True),
        ("chore | name=look at fish; skipped=No", "skipped", False),
        ("chore | name=look at fish", "name", "look at fish"),
        ("weather | day=2026-06-02; rhmean=65 %", "rhmean", 0.65),
        ("weather | day=2026-06-02", "day", date(2026, 6, 2)),
        ("weather | day=2026-06-02; tmin=-3 degC", "tmin", -3.0),
        ("rain | depth=12 mm; hours=1 h 20 min", "hours", 80.0),
        (f"strike | of={AT} level", "of", Reference(INSTANT, "level")),
        ("strike | of=2026-06-03T05:42:10Z level", "of", Reference(INSTANT, "level")),
    ],
)
def test_values_are_read_by_the_type_of_their_field(fields: str, name: str, value: object) -> None:
    assert read(f"{AT} | {fields}").values[name] == value


@pytest.mark.parametrize(
    "line",
    [
        f"{AT} | note | | heron at dawn",
        f"{AT}|note||heron at dawn",
        f"{AT} \u00a0|\u00a0note\t|\t| \u00a0heron at dawn \r\n",
        f"\ufeff{AT} | note | ; ; | heron at dawn",
    ],
)
def test_space_around_the_signs_does_not_matter(line: str) -> None:
    entry = read(line)
    assert (entry.kind, entry.fields, entry.note) == ("note", {}, "heron at dawn")


def test_fields_and_note_may_be_left_out() -> None:
    assert read(f"{AT} | note").note == ""
    assert read(f"{AT} | level | reading=62 mm").note == ""


def test_a_note_holds_bars_and_an_equals_sign_splits_once() -> None:
    entry = read(f"{AT} | chore | name=a=b | seen | twice; x=y")
    assert entry.fields == {"name": "a=b"}
    assert entry.note == "seen | twice; x=y"


@pytest.mark.parametrize("line", ["", "   ", "\u00a0", "# words", "  # words | a | b", "\r"])
def test_comments_and_blank_lines_say_nothing(line: str) -> None:
    assert parse_line(line, "x", 1, TZ, None) == (None, [])


@pytest.mark.parametrize(
    ("line", "at", "message"),
    [
        (f"{AT} | level | reading=62 L", "reading=", "reading: a length such as 62 mm, not 62 L"),
        (f"{AT} | level | reading=62 mm;  temp=1,5 degC", "temp=", "temp: use a point: 1.5 degC"),
        (f"{AT} | level | reading=nan mm", "reading=", "reading: a length such as"),
        (f"{AT} | level | reading=-62 mm", "reading=", "reading: a length is never negative"),
        (f"{AT} | level | pump=on", "level |", "level needs reading: write reading=62 mm"),
        (f"{AT} | fill | barrel=yard", "fill |", "fill needs added or to"),
        (f"{AT} | fill | barrel=; added=3 L", "fill |", "fill needs barrel"),
        (f"{AT} | level | reading=1 mm; reading=1 mm", "reading=1 mm", "reading stands twice"),
        (f"{AT} | note | heron at dawn", "heron", "a field is name=value"),
        (f"{AT} | level | Reading=62 mm", "Reading", "write reading=62 mm"),
        (f"{AT} | Level | reading=62 mm", "Level", "write level"),
        (f"{AT} | | reading=62 mm", "| reading", "a kind is one word"),
        (f"{AT} | bypass | step=wait |  ", "bypass", "bypass needs a note: the reason why"),
        (f"{AT} | chore | name=x; skipped=maybe", "skipped", "skipped: yes or no, not maybe"),
        (f"{AT} | count | kind=rudd; number=2.5", "number", "number: a whole number such as 3"),
        (f"{AT} | direct | buckets=-2", "buckets", "buckets: a number that is not negative"),
        (f"{AT} | weather | day=2026-02-30", "day", "day: there is no 2026-02-30"),
        (f"{AT} | weather | day=3 June", "day", "day: a date such as 2026-06-03, not 3 June"),
        (f"{AT} | weather | day=2026-06-02; rhmean=65", "rhmean", "rhmean: a share of at most"),
        (f"{AT} | test | where=tap; ph=75", "ph", "ph: from 0 to 14, such as 7.5, not 75"),
        (f"{AT} | test | where=tap; nitrite=1 mg/L as NO3", "nitrite", "write it as N or NO2"),
        (f"{AT} | test | where=tap; oxygen=1 mg/L as N", "oxygen", "write it without a basis"),
        (f"{AT} | treat | barrel=yard; dose=3 m", "dose", "dose: a volume such as 11 mL, not 3 m"),
        (f"{AT} | strike | of=level", "of", "of: no stamp"),
        (f"{AT} | strike | of=2026-06-03 24:00 level", "of", "of: 2026-06-03 24:00: a day runs"),
        (f"{AT} | strike | of={AT}", "of", "of: a stamp and a kind such as"),
        ("2026-06-03 24:00 | note", "2026-06-03 24:00", "a day runs from 00:00:00"),
        (f"{AT} level reading=62 mm", "2026", f"write {AT} | level | reading=62 mm"),
        ("heron at dawn", "heron", "write STAMP | KIND | name=value | note, or # before it"),
        ("<<<<<<< ours", "<<<", "a mark left by a merge"),
        ("=======", "===", "a mark left by a merge"),
        ("||||||| base", "|||", "a mark left by a merge"),
        (">>>>>>> theirs | a | b", ">>>", "a mark left by a merge"),
    ],
)
def test_what_is_wrong_is_said_with_its_place_and_the_way_out(
    line: str, at: str, message: str
) -> None:
    found = faults(line)
    problem = next(each for each in found if message in each.message)
    assert caret(problem).startswith(at) or problem.text.rindex(at) == problem.column - 1
    assert (problem.path, problem.line, problem.severity) == ("journal/x.txt", 7, "problem")


def test_every_mistake_of_a_line_is_listed() -> None:
    messages = [each.message for each in faults("2026-06-03 25:00Z | level | temp=hot; x")]
    assert len(messages) == 4


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (f"{AT} | levle | reading=62 mm", "there is no kind levle; did you mean level?"),
        (f"{AT} | sonar | reading=62 mm", "there is no kind sonar"),
        (f"{AT} | level | reading=62 mm; tmep=3", "level knows no field tmep; did you mean temp?"),
        (f"{AT} | event | what=meteor", "what: meteor is not a known word; known are overflow"),
        (f"{AT} | event | what=overflwo", "did you mean overflow?"),
        (f"{AT} | fill | barrel=yard; to=brim", "to: brim is not a known word; write line or"),
        (f"{AT} | note | by= |", "by is empty: leave it out"),
        ("2026-06-03 07:42 | note | | x", "no offset"),
        ("2026-03-29 02:30 | note | | x", "clocks skip that hour"),
        (f"{AT} | strike | of=2026-06-03 07:42 level", "of: 2026-06-03 07:42: no offset"),
    ],
)
def test_what_an_older_program_does_not_know_is_kept_and_remarked(line: str, message: str) -> None:
    (remark,) = remarks(line)
    assert message in remark
    entry = read(line)
    assert read(render(entry)) == entry


def test_the_fields_of_an_unknown_kind_stay_as_they_stand() -> None:
    entry = read(f"{AT} | sonar | depth=3 fathoms; by=MO | new")
    assert entry.fields == {"depth": "3 fathoms", "by": "MO"}


def test_a_bare_gallon_is_the_pond_s_and_says_so() -> None:
    line = f"{AT} | fill | barrel=yard; added=40 gal"
    assert read(line, "us").values["added"] == pytest.approx(151.41647136)  # NIST SP 811 B.8
    assert read(line, "imperial").values["added"] == pytest.approx(181.8436)
    assert remarks(line, "us") == ["added: read as US gallons"]
    assert "say US gal or imp gal" in faults(line)[0].message


def test_bytes_that_are_no_text_are_shown_and_the_line_counts() -> None:
    entry = read(AT.encode() + b" | level | reading=62 mm; by=J\xfcrg | \x1b[31mred\x07")
    assert entry.fields["by"] == "J�rg"
    assert entry.note == "␛[31mred␇"


def test_text_is_composed_so_that_two_spellings_are_one_fact() -> None:
    composed = read(f"{AT} | note | by=Am\u00e9lie | caf\u00e9")
    taken_apart = read(f"{AT} | note | by=Ame\u0301lie | cafe\u0301")
    assert composed == taken_apart
    assert taken_apart.note == "caf\u00e9"


def test_the_same_fact_at_another_offset_and_order_is_the_same() -> None:
    here = read(f"{AT} | level | reading=62 mm; pump=on | calm")
    there = read("2026-06-03 05:42:10Z|level|pump=on;reading=62 mm|calm")
    assert here == there
    assert here.order == there.order


def test_units_are_not_converted_in_the_canonical_text() -> None:
    assert read(f"{AT} | level | reading=62 mm") != read(f"{AT} | level | reading=6.2 cm")


def test_a_line_beyond_the_longest_is_a_problem() -> None:
    (problem,) = faults(f"{AT} | note | | " + "x" * LONGEST)
    assert "longer than 8192 bytes" in problem.message


def test_an_entry_is_written_as_people_read_it() -> None:
    line = f"{AT} | level   | reading=62 mm; pump=on; by=MO | calm"
    assert render(read(line)) == line
    assert render(read(f"{AT} | note | | heron")) == f"{AT} | note    | | heron"
    assert render(read(f"{AT} | release | barrel=a; out=3 L")) == (
        f"{AT} | release | barrel=a; out=3 L |"
    )


# --- making ---------------------------------------------------------------------------------------


def test_a_form_makes_the_entry_that_the_line_would_be() -> None:
    entry = make(
        "level", {"reading": " 62 mm ", "pump": "on", "temp": ""}, "calm", INSTANT, TZ, None
    )
    assert render(entry) == f"{AT} | level   | reading=62 mm; pump=on | calm"
    assert entry == read(render(entry))
    assert entry.values == read(render(entry)).values


def test_all_mistakes_of_a_form_are_said_in_one_sentence() -> None:
    fields = {"reading": "62 L", "pump": "offf", "colour": "green", "by": "a;b"}
    with pytest.raises(InputError) as caught:
        make("level", fields, "", INSTANT, TZ, None)
    assert str(caught.value) == (
        "reading: a length such as 62 mm, not 62 L; "
        "pump: offf is not a known word; did you mean off?; "
        "level knows no field colour; it knows reading, pump, temp, by; "
        "by: a value holds no ; and no |: use a comma, or say it in the note"
    )


@pytest.mark.parametrize(
    ("kind", "fields", "note", "message"),
    [
        ("levle", {}, "", "there is no kind of entry named levle; did you mean level?"),
        ("level", {}, "", "level needs reading: write reading=62 mm"),
        ("bypass", {"step": "wait"}, " \n ", "bypass needs a note: the reason why"),
        ("chore", {"name": "a | b"}, "", "name: a value holds no ; and no |"),
        ("chore", {"name": "a\u037eb"}, "", "name: a value holds no ; and no |"),
        ("chore", {"name": "\u0338x"}, "", "name: begin with a letter"),
        ("fill", {"barrel": "yard", "added": "40 gal"}, "", "say US gal or imp gal"),
        ("note", {}, "x" * LONGEST, "longer than 8192 bytes"),
    ],
)
def test_what_cannot_be_written_is_refused(
    kind: str, fields: dict[str, str], note: str, message: str
) -> None:
    with pytest.raises(InputError) as caught:
        make(kind, fields, note, INSTANT, TZ, None)
    assert message in str(caught.value)


def test_a_newline_in_a_note_becomes_a_space() -> None:
    assert make("note", {}, "one \r\n two\nthree", INSTANT, TZ, None).note == "one two three"


@pytest.mark.parametrize(
    ("gallon", "typed", "written"),
    [
        ("us", "40 gal", "40 US gal"),
        ("imperial", "40gallons", "40 imp gallons"),
        ("us", "3 1/2 gal", "3 1/2 US gal"),
        ("us", "40 imp gal", "40 imp gal"),
        ("us", "150 L", "150 L"),
    ],
)
def test_a_bare_gallon_is_written_out(gallon: str, typed: str, written: str) -> None:
    fields = {"barrel": "yard", "added": typed}
    entry = make("fill", fields, "", INSTANT, TZ, gallon)
    assert entry.fields["added"] == written
    # the line means the same whatever the pond's units are one day
    assert read(render(entry), None).values == entry.values
    assert read(render(entry), "imperial").values == entry.values
    typed_line = f"{AT} | fill | barrel=yard; added={typed}"
    assert entry.values == read(typed_line, gallon).values


def test_the_gallons_of_a_dose_and_a_rate_are_written_out() -> None:
    fields = {"barrel": "yard", "dose": "1 fl oz", "rate": "2 tsp per 10 gal"}
    entry = make("treat", fields, "", INSTANT, TZ, "us")
    assert entry.fields["dose"] == "1 US fl oz"
    assert entry.fields["rate"] == "2 tsp per 10 US gal"


def test_a_strike_names_its_entry_in_full() -> None:
    hand = read("2026-06-03 07:42 | level | reading=62 mm")
    of = strike_of(hand, TZ)
    assert of == "2026-06-03 07:42:00+02:00 level"
    strike = make("strike", {"of": of}, "", INSTANT, TZ, None)
    assert strike.values["of"] == Reference(hand.instant, "level")


def test_a_strike_typed_without_an_offset_is_written_with_one() -> None:
    strike = make("strike", {"of": "2026-06-03 07:42 level"}, "", INSTANT, TZ, None)
    assert strike.fields["of"] == "2026-06-03 07:42:00+02:00 level"


# --- laws -----------------------------------------------------------------------------------------

PIECES = st.sampled_from(
    ["reading=62 mm", "pump=on", "by=MO", "temp=18.5 degC", "x=y", "added=150 L", "barrel=yard",
     "name=feed", "of=2026-06-03 07:42Z level", "=", "by=", "  ", "\u00a0", "a=b=c", "Ω=1",
     "\u037e", "\u0338", "z=\u0338", "\t", "\x1b[0m"]
)  # fmt: skip
ALMOST_LINES = st.builds(
    lambda stamp, kind, pieces, note: "|".join([stamp, kind, ";".join(pieces), note]),
    st.sampled_from([AT, "2026-06-03 07:42", "2026-03-29T02:30:00.5Z", " 2026-06-03 24:00", "#"]),
    st.sampled_from([*KINDS, "sonar", "Level", ""]) | st.text(max_size=6),
    st.lists(PIECES | st.text(max_size=12), max_size=5),
    st.text(max_size=20),
)


@given(st.binary(max_size=80) | st.text(max_size=80) | ALMOST_LINES)
@example("x | \udcff | \u2028 | y")
def test_reading_never_fails_and_reads_its_own_writing(raw: bytes | str) -> None:
    entry, problems = parse_line(raw, "x", 1, TZ, "us")
    for problem in problems:
        assert 0 <= problem.column <= len(problem.text) + 1
        assert "\n" not in problem.text
        assert problem.message
    if entry is None:
        return
    again, _ = parse_line(render(entry), "x", 1, TZ, "us")
    assert again is not None
    assert again == entry
    assert (again.stamp, again.note, again.values) == (entry.stamp, entry.note, entry.values)
    assert list(again.fields.items()) == list(entry.fields.items())
    assert render(again) == render(entry)


@given(
    st.sampled_from(["name", "by"]),
    st.text(max_size=30),
    st.text(max_size=30),
    st.integers(946684800, 4000000000),
    st.sampled_from([TZ, UTC]),
)
def test_what_a_form_takes_is_read_back_as_the_same(
    name: str, value: str, note: str, instant: int, tz: ZoneInfo
) -> None:
    fields = {"name": "feed"} | {name: value}
    written = one_line(value)
    lacks = not written and name == "name"
    if lacks or ";" in written or "|" in written or written.startswith("\u0338"):
        with pytest.raises(InputError):
            make("chore", fields, note, instant, tz, None)
        return
    made = make("chore", fields, note, instant, tz, None)
    line = render(made)
    assert "\n" not in line
    entry, problems = parse_line(line.encode(), "x", 1, UTC, None)
    assert problems == []
    assert entry is not None
    assert (entry, entry.values, entry.stamp) == (made, made.values, made.stamp)


@given(st.permutations(["reading=62 mm", "pump=on", "by=MO"]))
def test_the_order_of_fields_is_kept_and_does_not_matter(pieces: list[str]) -> None:
    line = f"{AT} | level   | {'; '.join(pieces)} |"
    assert render(read(line)) == line
    assert read(line) == read(f"{AT} | level | reading=62 mm; pump=on; by=MO")
