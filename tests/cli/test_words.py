"""The words of a call: options anywhere, one sentence for what cannot be meant."""

from __future__ import annotations

import pytest

from pondtui.cli.verbs import VERBS
from pondtui.cli.words import parse
from pondtui.errors import UsageError


def test_options_may_stand_before_and_behind_the_verb() -> None:
    before = parse(["--pond", "a b", "--json", "journal", "heron"])
    behind = parse(["journal", "heron", "--json", "--pond=a b"])
    assert before == behind
    assert before.get("pond") == "a b"
    assert before.words == ("heron",)


def test_a_value_may_begin_with_a_dash() -> None:
    assert parse(["add", "note", "-m", "-3 degrees"]).get("note") == "-3 degrees"


def test_nothing_is_an_option_after_two_dashes() -> None:
    assert parse(["journal", "--", "--json"]).words == ("--json",)


def test_what_follows_the_sample_is_a_call_of_its_own() -> None:
    call = parse(["sample", "--fresh", "journal", "--last", "3"])
    assert call.words == ("journal", "--last", "3")
    assert call.has("fresh")


def test_no_words_open_the_app() -> None:
    assert parse([]).verb is VERBS[""]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["jurnal"], "there is no verb 'jurnal' (did you mean journal?)"),
        (["qqq"], "there is no verb 'qqq'; `pondtui help` lists them"),
        ([""], "there is no verb ''"),
        (["journal", "--lsat", "3"], "no option --lsat (did you mean --last?)"),
        (["journal", "--last"], "--last needs a value: --last N"),
        (["undo", "--json=yes"], "--json takes no value"),
        (["-=x"], "no option -"),
        (["add", "--at", "1", "--at", "2"], "--at stands twice"),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(words: list[str], sentence: str) -> None:
    with pytest.raises(UsageError) as error:
        parse(words)
    assert sentence in str(error.value)
    assert "\n" not in str(error.value)


def test_every_verb_is_named_once_and_explained() -> None:
    for name, verb in VERBS.items():
        assert verb.name == name
        assert verb.help
        assert [o.name for o in verb.options] == list(dict.fromkeys(o.name for o in verb.options))
