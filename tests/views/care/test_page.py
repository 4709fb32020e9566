"""The page: valid, self-contained, escaped, and of use with scripts blocked."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Callable
from xml.etree.ElementTree import Element

import html5lib
import pytest

from pondtui.pond.away.model import Sheet
from pondtui.views.care import page
from pondtui.views.care.page_script import SCRIPT
from pondtui.views.care.page_style import STYLE
from tests.pond.away.ponds import sheet
from tests.views.care.nasty import NASTY, nasty_sheet

SHEETS: dict[str, Callable[[], Sheet]] = {
    "plain": sheet,
    "nasty": nasty_sheet,
    "undated": lambda: sheet(dated=False),
}


def parsed(text: str) -> Element:
    """The page by the rules of HTML5; any error fails."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    tree: Element = parser.parse(text)
    return tree


@pytest.mark.parametrize("name", SHEETS)
def test_it_is_valid_and_every_id_stands_once(name: str) -> None:
    tree = parsed(page.text(SHEETS[name]()))
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    assert len(set(ids)) == len(ids)
    targets = [e.get("href", "")[1:] for e in tree.iter("a")]
    assert set(targets) <= set(ids)
    assert {e.get("for") for e in tree.iter("label") if e.get("for")} <= set(ids)


@pytest.mark.parametrize("name", SHEETS)
def test_nothing_is_fetched_and_no_attribute_runs(name: str) -> None:
    tree = parsed(page.text(SHEETS[name]()))
    for element in tree.iter():
        for attribute, value in element.attrib.items():
            assert not attribute.lower().startswith("on"), element.tag
            assert attribute not in ("src", "srcset", "style", "action", "data", "poster")
            if attribute == "href":
                assert value.startswith("#")
    tags = {e.tag for e in tree.iter()}
    assert tags.isdisjoint({"link", "img", "iframe", "object", "embed", "form", "base"})
    assert len(list(tree.iter("script"))) == 1
    assert len(list(tree.iter("style"))) == 1
    assert "url(" not in STYLE
    assert "@import" not in STYLE
    assert not re.search(r"fetch|XMLHttp|import\(|eval|innerHTML|document\.write", SCRIPT)


def test_what_a_keeper_wrote_is_shown_as_it_stands() -> None:
    shown = " ".join("".join(parsed(page.text(nasty_sheet())).itertext()).split())
    for text in NASTY:
        assert text in shown


def test_the_policy_allows_our_own_style_and_script_and_nothing_else() -> None:
    tree = parsed(page.text(sheet()))
    (policy,) = [
        e.get("content", "")
        for e in tree.iter("meta")
        if e.get("http-equiv") == "Content-Security-Policy"
    ]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["form-action"] == rules["base-uri"] == "'none'"
    for rule, tag in (("script-src", "script"), ("style-src", "style")):
        (element,) = tree.iter(tag)
        digest = hashlib.sha256((element.text or "").encode()).digest()
        assert rules[rule] == f"'sha256-{base64.b64encode(digest).decode()}'"
    first = [e.tag for e in tree.iter("head") for e in e][:2]
    assert first == ["meta", "meta"]  # the policy stands before style and script


def test_with_scripts_blocked_every_task_has_its_box_and_its_label() -> None:
    made = sheet()
    tree = parsed(page.text(made))
    boxes = [label.find("input") for label in tree.iter("label") if label.get("class") == "box"]
    numbers = [box.get("data-task") for box in boxes if box is not None]
    assert numbers == [t.number for p in made.visits for t in p.tasks]
    assert all(box is not None and box.get("type") == "checkbox" for box in boxes)
    readings = [e.get("data-read") for e in tree.iter("input") if e.get("data-read")]
    assert readings == [t.number for p in made.visits for t in p.tasks if t.field]


def test_what_needs_the_script_is_hidden_until_it_runs() -> None:
    tree = parsed(page.text(sheet()))
    needs = [e for e in tree.iter() if "script" in (e.get("class") or "").split()]
    assert len(needs) > 5
    assert all(e.get("hidden") is not None for e in needs)
    inside = [b for e in needs for b in ([e] if e.tag == "button" else e.iter("button"))]
    assert {id(b) for b in inside} == {id(b) for b in tree.iter("button")}


def test_the_dose_table_carries_what_the_look_up_needs() -> None:
    rows = [e for e in parsed(page.text(sheet())).iter("tr") if e.get("data-amount")]
    amounts = [float(row.get("data-amount", "")) for row in rows]
    assert amounts == sorted(amounts)
    assert rows[-1].get("data-amount") == "200"
    assert rows[-1].get("data-dose") == "16 mL: 16 mL in the 20 mL syringe"


def test_nothing_private_is_in_it_unless_asked_for() -> None:
    assert "4711" not in page.text(sheet())
    assert "4711" in page.text(sheet(private=True))


def test_the_script_keeps_no_name_and_no_reason_on_the_device() -> None:
    kept = SCRIPT[SCRIPT.index("function keep") : SCRIPT.index("function recall")]
    assert "data-why" not in kept
    assert "sitter" not in SCRIPT
    for use in re.finditer("localStorage", SCRIPT):
        assert SCRIPT.rfind("try {", 0, use.start()) > SCRIPT.rfind("catch", 0, use.start())
