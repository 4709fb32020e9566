"""The manual says what the program does: nothing left out, nothing made up."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from pondtui import units
from pondtui.books.settings import Settings, read_settings
from pondtui.cli.pages import manual
from pondtui.cli.verbs import GLOBAL_OPTIONS, VERBS
from pondtui.pond.refill.own_steps import _KEYS as STEP_KEYS
from pondtui.pond.refill.own_steps import read_own_steps
from pondtui.pond.refill.procedure import STEPS
from pondtui.pond.setup.fields import Field, Table
from pondtui.pond.setup.tables import TABLES
from pondtui.pond.setup.values import read_value
from pondtui.pond.state.kinds import BY, KINDS
from pondtui.tui.colours import COLOURS, OWN
from pondtui.tui.keys import KEYS, check, names
from pondtui.tui.looks import Looks
from pondtui.tui.looks import looks as looks_of
from pondtui.tui.themes import load
from pondtui.views.pages.contents import holding, topics
from pondtui.views.pages.page import Page, as_text, laid_out
from pondtui.worksheets.registry import sheets
from tests.cli.calls import call, refused
from tests.sample.copies import sample_call

PAGES = {page.name: page for page in manual()}


def rows(page: Page, after: str = "") -> dict[str, str]:
    """The rows of a page, from a heading on."""
    text = re.sub(r"\n  (?=\S)", " ", page.text)
    text = text.split(f"# {after}\n")[1].split("\n# ")[0] if after else text
    found = [line.partition(" :: ") for line in text.splitlines() if not line.startswith("    ")]
    return {left: right for left, mark, right in found if mark}


def in_brackets(left: str) -> str:
    return left.strip("[]")


# --- the reference is whole -----------------------------------------------------------------------


def test_every_table_of_pond_toml_has_a_page_and_no_page_is_left_over() -> None:
    told = {name.split()[1] for name in PAGES if name.startswith("pond-toml ")}
    assert told == set(TABLES)
    assert set(rows(PAGES["pond-toml"])) == {table.title for table in TABLES.values()}


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
def test_every_field_that_the_reader_takes_is_in_the_reference(table: Table) -> None:
    page = PAGES[f"pond-toml {table.name}"]
    assert set(rows(page)) == {field.key for field in table.fields}
    for field in table.fields:
        assert f"    {field.key} = {field.example}\n" in page.text


DEFAULTS = [
    pytest.param(table, field, id=f"{table.name}.{field.key}")
    for table in TABLES.values()
    for field in table.fields
    if field.default and table.make is not dict
]


@pytest.mark.parametrize(("table", "field"), DEFAULTS)
def test_the_default_that_the_reference_tells_is_the_one_that_counts(
    table: Table, field: Field
) -> None:
    told = rows(PAGES[f"pond-toml {table.name}"])[field.key]
    assert f"left out: {field.default}" in told.casefold() or field.default in told
    counts = getattr(table.make, "_field_defaults")[field.attr]  # noqa: B009 - of a NamedTuple
    assert read_value(field, _raw(field), None) == pytest.approx(counts)


def _raw(field: Field) -> object:
    """The default as tomllib would give it."""
    text = field.default
    if field.type == "yesno":
        return text == "true"
    if field.type == "texts":
        return [item.strip('" ') for item in text.strip("[]").split(",")]
    try:
        return float(text) if field.type in ("number", "fraction", "angle") else text
    except ValueError:
        return text


def test_every_key_of_an_own_step_is_told_and_every_fixed_step_named() -> None:
    page = PAGES["procedure-toml"]
    assert {*rows(page)} == {*STEP_KEYS, *(step.id for step in STEPS)}


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_every_kind_of_entry_has_a_page_with_every_field(kind: object) -> None:
    kind = KINDS[getattr(kind, "name", "")]
    page = rows(PAGES[f"journal-format {kind.name}"])
    assert set(page) == {field.name for field in (*kind.fields, BY)}
    for field in kind.fields:
        assert all(word in page[field.name] for word in field.words)
        assert ("required" in page[field.name]) == field.required


def test_the_journal_page_lists_the_kinds_in_their_rank() -> None:
    page = PAGES["journal-format"]
    assert list(rows(page, "The kinds, in their order")) == list(KINDS)
    assert {n.split()[1] for n in PAGES if n.startswith("journal-format ")} == set(KINDS)


@pytest.mark.parametrize("sheet", list(sheets()), ids=lambda sheet: sheet.name)
def test_every_worksheet_tells_inputs_results_formula_and_every_source(sheet: object) -> None:
    sheet = next(s for s in sheets() if s.name == getattr(sheet, "name", ""))
    page = PAGES[f"worksheets {sheet.name}"]
    assert {in_brackets(left) for left in rows(page, "Takes")} == {i.name for i in sheet.inputs}
    assert set(rows(page, "Answers")) == {result.key for result in sheet.results}
    assert sheet.formula in page.text
    assert all(part in page.text for part in (*sheet.source.split("; "), *sheet.cautions))


def test_every_verb_and_option_is_in_the_manual() -> None:
    assert {n.split()[1] for n in PAGES if n.startswith("commands ")} == {v for v in VERBS if v}
    for verb in VERBS.values():
        page = PAGES[f"commands {verb.name}" if verb.name else "commands"]
        shown = {left.split()[0].rstrip(",").removeprefix("--") for left in rows(page)}
        wanted = {option.name for option in verb.options}
        assert wanted <= shown if not verb.name else wanted == shown
    assert all(f"--{option.name}" in PAGES["commands"].text for option in GLOBAL_OPTIONS)


def test_every_key_is_in_the_manual_by_its_name_and_its_id() -> None:
    text = PAGES["keys"].text
    for key in KEYS:
        assert f"{names(key.keys)} :: {key.help} [{key.id}]" in text


def test_every_setting_is_in_the_manual() -> None:
    table = PAGES["settings"]
    assert set(rows(table)) - set(rows(table, "Variables")) == set(Settings._fields)


def test_every_variable_that_the_program_reads_is_in_the_manual() -> None:
    package = Path(units.__file__).parent
    read = {
        name
        for path in package.rglob("*.py")
        for name in re.findall(r"environ[.\w]*[(\[]\"(\w+)\"", path.read_text(encoding="utf-8"))
    }
    ours = {name for name in read if name.startswith("PONDTUI_")}
    assert ours == {n for n in rows(PAGES["settings"], "Variables") if n.startswith("PONDTUI_")}


def test_the_theme_that_is_shown_can_be_used_and_every_theme_is_named(tmp_path: Path) -> None:
    text = PAGES["looks"].text
    shown = [line[4:] for line in text.splitlines() if line.startswith("    ")]
    (tmp_path / "mine.toml").write_text("\n".join(shown), encoding="utf-8")
    themes, problems = load(tmp_path)
    assert (list(themes), problems) == (["mine"], [])
    assert all(f"{name} = " in text for name in (*COLOURS, *OWN))
    there: Looks = looks_of(Settings(), {"TERM": "xterm-256color"})
    assert set(rows(PAGES["looks"])) == set(there.themes)


def block(page: Page) -> str:
    """The lines of a page that stand as they are."""
    return "\n".join(line[4:] for line in page.text.splitlines() if line.startswith("    "))


@pytest.mark.parametrize("table", TABLES.values(), ids=lambda table: table.name)
def test_the_way_a_field_is_written_can_be_read(table: Table) -> None:
    for field in table.fields:
        raw = tomllib.loads(f"x = {field.example}")["x"]
        read_value(field, raw, None)


def test_the_own_step_that_is_shown_can_be_read() -> None:
    steps, problems = read_own_steps(
        tomllib.loads(block(PAGES["procedure-toml"])), "procedure.toml"
    )
    assert ([step.id for step in steps], problems) == (["own-lid"], [])


def test_the_settings_that_are_shown_can_be_used(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text(block(PAGES["settings"]), encoding="utf-8")
    settings, problems = read_settings(tmp_path)
    assert problems == []
    assert settings.theme == "noon"
    assert check(settings.keys) == ({"level": "g"}, [])


def test_the_keys_of_ones_own_that_are_shown_do_not_clash() -> None:
    own = tomllib.loads(block(PAGES["keys"]))["keys"]
    assert check(own) == (own, [])


# --- the JSON promise -----------------------------------------------------------------------------

CALLS = {
    "away": ["away", "2026-10-12", "2026-10-20"],
    "sheet": ["sheet", "2026-10-12", "2026-10-20"],
    "bucket-test": ["bucket-test", "status"],
    "worksheet": ["worksheet", "water-weight", "volume=150 L"],
}
PROMISED = rows(PAGES["json"], "The keys at the top")


@pytest.mark.parametrize("verb", [name for name in PROMISED if name != "export"])
def test_the_keys_that_are_promised_are_those_that_come(verb: str) -> None:
    answer = sample_call(*CALLS.get(verb, [verb]), "--json")
    told = re.sub(r" \(.*?\)", "", PROMISED[verb]).replace("and all keys of plan", "")
    wanted = {key for key in told.replace(" ", "").split(",") if key}
    if verb == "status":
        wanted |= set(PROMISED["plan"].replace(" ", "").split(","))
    assert set(answer.json) == wanted


def test_every_verb_that_reads_has_its_keys_in_the_promise() -> None:
    assert {verb.name for verb in VERBS.values() if verb.reads} == set(PROMISED)


# --- finding one's way ----------------------------------------------------------------------------


@pytest.mark.parametrize("width", [80, 56, 30])
def test_every_page_fits_its_width(width: int) -> None:
    for page in PAGES.values():
        longest = max(as_text(page.text, width), key=len)
        assert len(longest) <= width or " " not in longest.strip(), page.name
        heads = [line for line in laid_out(page.text, width) if line.role == "head"]
        assert all(line.text for line in heads), page.name


@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
def test_help_prints_each_page_at_eighty_columns(page: Page) -> None:
    answer = call("help", *page.name.split())
    assert (answer.code, answer.err) == (0, "")
    assert page.title in answer.out
    assert all(line in answer.out for line in as_text(page.text))
    assert max(map(len, answer.out.splitlines())) <= 80


def test_help_lists_every_topic_and_every_verb() -> None:
    out = call("help").out
    for page in topics(manual()):
        assert re.search(rf"^  {page.name}  +\S", out, re.M), page.name
    assert all(f"  pondtui {name}" in out for name in VERBS if name)


def test_no_two_topics_nor_a_topic_and_a_verb_share_a_name() -> None:
    listed = [page.name for page in topics(manual())]
    assert len(listed) == len(set(listed))
    assert not set(listed) & {*VERBS, *KINDS}


def test_a_word_with_two_meanings_shows_both_the_command_first() -> None:
    out = call("help", "away").out
    assert out.startswith("command: away\n")
    assert "\nentry: away\n" in out
    assert {"gauge: ", "[gauge]"} <= {line[:7] for line in call("help", "gauge").out.split("\n")}


def test_a_topic_is_printed_with_all_its_parts() -> None:
    out = call("help", "pond-toml").out
    assert all(f"\n{table.title}\n" in out for table in TABLES.values())
    assert call("help", "pond.toml", "barrel").out == call("help", "pond-toml", "barrel").out


@pytest.mark.parametrize(
    ("topic", "fragments"),
    [
        ("gauge-reading", ["no help on 'gauge-reading'"]),
        ("gage", ["did you mean gauge?"]),
        ("antifreeze", ["the word stands in safe-batch"]),
        ("zzzz", ["`pondtui help` lists all"]),
    ],
)
def test_an_unknown_topic_is_one_sentence_with_what_is_near(
    topic: str, fragments: list[str]
) -> None:
    refused(call("help", topic), 2, *fragments)


def test_a_search_needs_all_words_and_puts_titles_first() -> None:
    found = [page.name for page, _ in holding(manual(), "Chloramine TEST")]
    assert "safe-batch" in found
    titles = [page.name for page, line in holding(manual(), "barrel") if not line]
    assert titles[0] == holding(manual(), "barrel")[0][0].name
    assert "pond-toml barrel" in titles
    assert holding(manual(), "barrel xyzzy") == []
