"""The care page in a browser of a telephone's size: seen, touched, attacked, printed.

Skipped, visibly, where chromium or axe-core is missing.
"""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from pondtui.pond.away.report import code_in, read_report
from pondtui.views.care import page
from tests.page.browser import AXE, PHONE, ask, needs_axe, needs_browser, run
from tests.pond.away.ponds import sheet
from tests.views.care.nasty import nasty_sheet

pytestmark = needs_browser

LOOKED_AT = """
(function () {
  var small = [];
  var touched = 'label.box, nav a, button, input[type=text], textarea';
  document.querySelectorAll(touched).forEach(function (part) {
    var box = part.getBoundingClientRect();
    if (box.height > 0 && box.height < 43.9) { small.push(part.outerHTML.slice(0, 80)); }
  });
  leave({
    small: small,
    boxes: document.querySelectorAll('label.box').length,
    width: innerWidth,
    content: document.documentElement.scrollWidth,
    hidden: document.querySelectorAll('.script[hidden]').length
  });
})();
"""
ATTACKED = """
(function () {
  var wrong = [];
  document.addEventListener('securitypolicyviolation', function (event) {
    wrong.push(event.violatedDirective);
  });
  setTimeout(function () {
    leave({
      title: document.title,
      images: document.images.length,
      scripts: document.scripts.length,
      svgs: document.querySelectorAll('svg').length,
      fetched: performance.getEntriesByType('resource').length,
      wrong: wrong
    });
  }, 300);
})();
"""
FILLED_IN = """
(function () {
  function set(pick, value) {
    var field = document.querySelector(pick);
    field.value = value;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    field.dispatchEvent(new Event('change', { bubbles: true }));
  }
  function dose(amount) {
    set('[data-lookup]', amount);
    var field = document.querySelector('[data-lookup]');
    return document.getElementById(field.dataset.out).textContent;
  }
  document.querySelector('[data-task="1.1"]').click();
  document.querySelector('[data-task="1.7"]').click();
  set('[data-read="1.3"]', '71');
  set('[data-read="1.4"]', '18,5');
  set('[data-read="1.9"]', '41 mm');
  set('[data-why="1.5"]', 'packet torn, see 2.1 ok?');
  document.querySelector('#report-make').click();
  var kept = '';
  try { kept = JSON.stringify(localStorage); } catch (error) { kept = ''; }
  var doses = ['150', '160', '12.5', '201', 'much', '', '-3'].map(dose);
  set('#timer-min', '10');
  document.querySelector('#timer-start').click();
  leave({
    report: document.querySelector('#report').value,
    kept: kept,
    doses: doses,
    timer: document.querySelector('#timer-out').textContent
  });
})();
"""
ACCESSIBLE = """
axe.run(document, { resultTypes: ['violations'] }).then(function (found) {
  leave(found.violations.map(function (each) {
    return each.id + ': ' + each.nodes.map(function (node) { return node.html; }).slice(0, 3);
  }));
}, function (error) { leave(['axe failed: ' + error]); });
"""


def test_everything_that_is_touched_is_large_enough_and_fits_the_screen(tmp_path: Path) -> None:
    made = sheet()
    seen = ask(tmp_path, page.text(made), LOOKED_AT)
    assert seen["small"] == []
    assert seen["boxes"] == sum(len(p.tasks) for p in made.visits)
    assert seen["content"] <= seen["width"] == PHONE[0]
    assert seen["hidden"] == 0  # the page's own script ran


def test_long_names_do_not_push_the_page_sideways(tmp_path: Path) -> None:
    made = nasty_sheet()
    seen = ask(tmp_path, page.text(made), LOOKED_AT)
    assert seen["content"] <= seen["width"]


def test_nothing_that_a_keeper_wrote_runs_or_is_fetched(tmp_path: Path) -> None:
    seen = ask(tmp_path, page.text(nasty_sheet()), ATTACKED)
    assert seen["title"].startswith("Care sheet: Box </textarea>")
    assert (seen["images"], seen["fetched"], seen["wrong"]) == (0, 0, [])
    assert (seen["scripts"], seen["svgs"]) == (2, 1)  # ours, the check's; the gauge


def test_the_check_would_see_what_runs(tmp_path: Path) -> None:
    planted = page.text(sheet()).replace("</main>", "<img src='x.png'></main>")
    seen = ask(tmp_path, planted, ATTACKED)
    assert seen["images"] == 1


def test_the_report_button_gives_what_the_reader_takes(tmp_path: Path) -> None:
    made = sheet(sitter="Sam")
    seen = ask(tmp_path, page.text(made), FILLED_IN)
    assert code_in(seen["report"]) == made.code
    tasks = tuple(t for p in made.visits for t in p.tasks)
    report = read_report(seen["report"], tasks, sitter="Sam", zone=ZoneInfo("Europe/Brussels"))
    assert report.not_understood == ()
    told = {t.number: (t.kind, t.fields) for t in report.entries}
    assert list(told) == ["1.1", "1.3", "1.4", "1.5", "1.7", "1.9"]
    assert told["1.3"][1]["reading"] == "71 mm"
    assert told["1.4"][1]["temp"] == "18.5 degC"
    assert told["1.5"][1]["skipped"] == "yes"
    assert report.entries[3].note == "task 1.5: packet torn, see 2·1 ok?"
    assert told["1.7"][1]["out"] == "180 L"


def test_the_dose_is_looked_up_and_never_too_small(tmp_path: Path) -> None:
    doses = ask(tmp_path, page.text(sheet()), FILLED_IN)["doses"]
    assert doses[0].startswith("13 mL")  # 150 L: the row of 160 L
    assert doses[1].startswith("13 mL")
    assert doses[2].startswith("3.5 mL")  # the lowest row
    assert "ring" in doses[3]
    assert doses[4] == doses[6] == "a number, such as 150"
    assert doses[5] == ""


def test_the_timer_counts_and_nothing_personal_is_kept(tmp_path: Path) -> None:
    seen = ask(tmp_path, page.text(sheet(sitter="Sam", private=True)), FILLED_IN)
    assert seen["timer"].startswith(("10 min 0 s", "9 min 59 s"))
    assert "packet torn" not in seen["kept"]
    assert "Sam" not in seen["kept"]


@needs_axe
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_it_is_accessible(tmp_path: Path, dark: bool) -> None:
    axe = AXE.read_text(encoding="utf-8")
    assert ask(tmp_path, page.text(sheet(sitter="Sam")), ACCESSIBLE, axe, dark=dark) == []


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_it_prints(tmp_path: Path, size: str) -> None:
    html = page.text(sheet()).replace("@page { ", f"@page {{ size: {size}; ")
    path, target = tmp_path / "page.html", tmp_path / "page.pdf"
    path.write_text(html, encoding="utf-8")
    run(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={target}", path.as_uri())
    data = target.read_bytes()
    assert data.startswith(b"%PDF-")
    assert len(data) > 20_000
