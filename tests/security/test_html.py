"""No page that is handed on runs or fetches what a keeper wrote: sheets and the water page.

The rules of HTML5 are held always; a browser looks at the same pages where there is one.
"""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
import tomli_w

from pondtui.pond.away.model import Sheet, Visit
from pondtui.pond.setup.model import Chore, Person, Supply
from pondtui.views.care import page
from tests.cli.calls import POND, call, write_pond
from tests.page.browser import ask, needs_browser
from tests.pond.away.ponds import FIRST, pond, sheet
from tests.security import hostile
from tests.security.seen import obeyed

RUN = "window.ran=(window.ran||0)+1"
AWAY = "//out.invalid/x"
HTML = (
    f"<script>{RUN}</script>", f"<ScRiPt >{RUN}</sCrIpT>", f"<script src={AWAY}></script>",
    f"<img src=x onerror={RUN}>", f"<img src={AWAY}>", f"<img/src=x/onerror={RUN}>",
    f"<svg onload={RUN}>", f"<svg><script>{RUN}</script></svg>", f"<svg><image href={AWAY}>",
    f"<svg><use href=data:image/svg+xml,<svg/onload={RUN}>>", f"<svg><a href=javascript:{RUN}>x",
    f"<math><mi xlink:href=javascript:{RUN}>x", f"<body onload={RUN}>", f"<iframe src={AWAY}>",
    f"<iframe srcdoc='<script>{RUN}</script>'>", f"<iframe src=javascript:{RUN}>",
    f"<object data={AWAY}>", f"<embed src={AWAY}>", f"<link rel=stylesheet href={AWAY}>",
    f"<style>@import url({AWAY});</style>", f"<p style=background:url({AWAY})>",
    "<base href=//o.x>",
    f"<meta http-equiv=refresh content='0;url={AWAY}'>", f"<form action={AWAY}><button autofocus>",
    f"<input autofocus onfocus={RUN}>", f"<select autofocus onfocus={RUN}>",
    f"<textarea autofocus onfocus={RUN}>", f"<details open ontoggle={RUN}>", f"<video src={AWAY}>",
    f"<audio src={AWAY} onerror={RUN}>", f"<video><source onerror={RUN}>",
    f"<marquee onstart={RUN}>",
    f"<a href=javascript:{RUN}>x</a>", f"<a href=data:text/html,<script>{RUN}</script>>x</a>",
    f"<a href={AWAY} ping={AWAY}>x</a>", f"<x onclick={RUN}>x</x>", f"<template><img src={AWAY}>",
    f"\"><script>{RUN}</script>", f"'><script>{RUN}</script>", f"\" onmouseover={RUN} x=\"",
    f"' autofocus onfocus={RUN} x='", f"` onerror={RUN}", f"</title><script>{RUN}</script>",
    f"</style><script>{RUN}</script>", f"</script><script>{RUN}</script>",
    f"</textarea><script>{RUN}</script>", f"<!--><script>{RUN}</script>", f"--><img src={AWAY}>",
    f"<![CDATA[<script>{RUN}</script>]]>", f"<?xml version=1?><script>{RUN}</script>",
    f"&lt;script&gt;{RUN}&lt;/script&gt;", f"&#60;script&#62;{RUN}", f"\\x3cscript\\x3e{RUN}",
    f"\\u003cscript\\u003e{RUN}", f"%3Cscript%3E{RUN}", f"+ADw-script+AD4-{RUN}", "<plaintext>",
    "<noscript><p title='</noscript><img src=x>'>", f"<portal src={AWAY}>", "<xmp>", "<!-- open",
    f"<svg><animate onbegin={RUN} attributeName=x>", f"<svg><set onend={RUN}>", "<isindex>",
    f"<button popovertarget=x onclick={RUN}>", f"<dialog open onclose={RUN}>", "&",
    "&amp;", "\"'<>",
    f"<div id=report-make onclick={RUN}>", "<div name=report>", f"$&{RUN}", "{{constructor}}",
)  # fmt: skip
LOOK = """
(function () {
  var refused = [];
  document.addEventListener('securitypolicyviolation', function (event) {
    refused.push(event.violatedDirective + ' ' + event.blockedURI);
  });
  document.querySelectorAll('button, summary, label, a').forEach(function (part) {
    if (!part.href) { part.dispatchEvent(new Event('mouseover')); }
  });
  setTimeout(function () {
    var odd = 'img,iframe,object,embed,link,base,form,video,audio,portal,template,dialog,marquee';
    leave({
      ran: window.ran || 0,
      scripts: document.scripts.length,
      odd: document.querySelectorAll(odd).length,
      fetched: performance.getEntriesByType('resource').length,
      refused: refused,
      place: location.pathname.split('/').pop()
    });
  }, 300);
})();
"""


def hostile_sheet(texts: tuple[str, ...]) -> Sheet:
    """A sheet in which each text stands in every place that a keeper can fill."""
    setup = pond()
    chores = tuple(Chore(f"c{n} {text}", every_days=1.0) for n, text in enumerate(texts))
    supplies = tuple(Supply(f"s{n} {text}", place=text) for n, text in enumerate(texts))
    people = tuple(
        Person(f"p{n} {text}", role="neighbour", phone=text) for n, text in enumerate(texts)
    )
    marks = tuple(m._replace(name=text) for m, text in zip(setup.marks, texts[3:], strict=False))
    whole = " ".join(texts)
    house = setup.house._replace(**dict.fromkeys(setup.house._fields, whole))
    barrel = setup.barrels[0]._replace(name=texts[0])
    setup = setup._replace(
        chores=chores, supplies=supplies, persons=people, marks=marks, house=house,
        barrels=(barrel,), pond=setup.pond._replace(name=whole),
    )  # fmt: skip
    visit = Visit(FIRST, barrel=texts[0], release_l=180, only_below_mm=70, tasks=texts)
    return sheet(setup, "", planned=(visit,), sitter="<b onclick=x>Sam</b>", private=True)


def water_page(folder: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The water page of a pond whose names are these."""
    names = [" ".join(HTML[n : n + 2])[:190] for n in range(0, len(HTML), 2)]
    marks = [
        {"name": re.sub("[;|]", " ", name), "reading": f"{100 + n} mm", "role": "warn"}
        for n, name in enumerate(names)
    ]
    lines = "".join(
        f"2026-08-{day:02} 08:00:00+02:00 | level | reading={40 + 3 * day} mm; by=x | {HTML[day]}\n"
        for day in range(1, 14)
    )
    text = POND.replace('"Test Pond"', '"' + "<script>window.ran=1</script>" + '"')
    write_pond(folder, text + tomli_w.dumps({"mark": marks}).replace("[[mark]]", "\n[[mark]]"))
    (folder / "journal/2026-desk.txt").write_text(lines, encoding="utf-8")
    monkeypatch.setenv("PONDTUI_POND", str(folder))
    out = folder / "water.html"
    done = call("water", "--as", "html", "-o", str(out))
    assert done.code == 0, done.err
    return out.read_text(encoding="utf-8")


def checked(text: str, scripts: int) -> Element:
    """The page by the rules of HTML5; nothing in it but ours runs, and it reaches for nothing."""
    tree: Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    tags = [each.tag for each in tree.iter() if isinstance(each.tag, str)]
    assert tags.count("script") == scripts
    assert not set(tags) & {
        "img", "image", "iframe", "object", "embed", "link", "base", "form", "video", "audio",
        "portal", "template", "dialog", "marquee", "math", "animate", "set", "use", "source", "x",
    }  # fmt: skip
    for each in tree.iter():
        for name, value in each.attrib.items():
            assert not str(name).lower().startswith(("on", "ping", "src", "action", "popover"))
            assert "href" not in str(name) or value.startswith("#")
    assert "default-src 'none'" in text
    assert "unsafe" not in text
    return tree


def test_there_are_enough_payloads() -> None:
    assert len(set(HTML)) >= 60


def test_no_sheet_holds_a_text_as_anything_but_text() -> None:
    tree = checked(page.text(hostile_sheet(HTML)), scripts=1)
    words = " ".join("".join(tree.itertext()).split())
    assert [text for text in HTML if " ".join(text.split()) not in words] == []


@pytest.mark.parametrize("form", ["text", "markdown", "html", "ics"])
def test_no_sheet_holds_what_a_terminal_obeys_or_nobody_sees(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, form: str
) -> None:
    monkeypatch.setenv("PONDTUI_POND", str(hostile.write(tmp_path / "pond")))
    out = tmp_path / "sheet"
    days = ("2026-08-20", "2026-08-22")
    assert call("sheet", *days, "--as", form, "--private", "-o", str(out)).code == 0
    data = out.read_bytes().replace(b"\r\n", b"\n")
    assert len(data) > 1500
    assert obeyed(data) == []
    assert b"\r" not in data


def test_no_water_page_does(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tree = checked(water_page(tmp_path / "pond", monkeypatch), scripts=0)
    assert "window.ran=1" in "".join(tree.itertext())


@needs_browser
def test_a_browser_runs_and_fetches_nothing_of_a_sheet(tmp_path: Path) -> None:
    seen = ask(tmp_path, page.text(hostile_sheet(HTML)), LOOK)
    assert (seen["ran"], seen["odd"], seen["fetched"], seen["refused"]) == (0, 0, 0, [])
    assert (seen["scripts"], seen["place"]) == (2, "page.html")  # ours, and the look's own


@needs_browser
def test_a_browser_runs_and_fetches_nothing_of_a_water_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = water_page(tmp_path / "pond", monkeypatch)
    text = text.replace("default-src 'none'", "default-src 'none'; script-src 'none'", 1)
    seen = ask(tmp_path, text, LOOK)
    assert (seen["ran"], seen["odd"], seen["fetched"], seen["refused"]) == (0, 0, 0, [])
    assert (seen["scripts"], seen["place"]) == (1, "page.html")  # the look's own


@needs_browser
def test_the_look_sees_what_runs_and_what_is_fetched(tmp_path: Path) -> None:
    planted = page.text(sheet()).replace("</main>", f"<img src={AWAY}></main>")
    seen = ask(tmp_path, planted, LOOK)
    assert seen["odd"] == 1
