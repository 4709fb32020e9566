"""The script of the care page. It knows no pond: all it needs stands in the page.

Nothing depends on it. What it keeps on the device are ticks and readings under the sheet's code,
no names and no reasons, and only where the browser lets it.
"""

from __future__ import annotations

SCRIPT = """
'use strict';
(function () {
  var code = document.body.getAttribute('data-sheet');
  var key = 'care-' + code;
  function all(pick) { return Array.prototype.slice.call(document.querySelectorAll(pick)); }
  function one(pick) { return document.querySelector(pick); }
  all('.script').forEach(function (part) { part.hidden = false; });

  function number(text) {
    var found = /^\\s*([0-9]+(?:[.,][0-9]+)?)\\s*$/.exec(text);
    return found ? parseFloat(found[1].replace(',', '.')) : NaN;
  }

  /* ticks and readings, kept where the browser allows */
  function keep() {
    var state = {};
    all('[data-task]').forEach(function (box) {
      if (box.checked) { state['t' + box.dataset.task] = 1; }
    });
    all('[data-read]').forEach(function (field) {
      if (!isNaN(number(field.value))) { state['r' + field.dataset.read] = field.value; }
    });
    try { localStorage.setItem(key, JSON.stringify(state)); } catch (error) { /* not allowed */ }
  }
  function recall() {
    var state = {};
    try { state = JSON.parse(localStorage.getItem(key)) || {}; } catch (error) { state = {}; }
    all('[data-task]').forEach(function (box) {
      if (state['t' + box.dataset.task]) { box.checked = true; }
    });
    all('[data-read]').forEach(function (field) {
      var kept = state['r' + field.dataset.read];
      if (typeof kept === 'string') { field.value = kept; }
    });
  }
  recall();
  document.addEventListener('change', keep);

  /* the dose for an amount: the next row that is not smaller */
  all('[data-lookup]').forEach(function (field) {
    var barrel = field.dataset.lookup;
    var out = document.getElementById(field.dataset.out);
    field.addEventListener('input', function () {
      var amount = number(field.value);
      var row = all('tr[data-amount]').filter(function (each) {
        return each.dataset.barrel === barrel && parseFloat(each.dataset.amount) >= amount - 1e-9;
      })[0];
      if (field.value.trim() === '') { out.textContent = ''; }
      else if (isNaN(amount) || amount <= 0) { out.textContent = 'a number, such as 150'; }
      else if (!row) { out.textContent = 'more than the barrel holds to its line: ring'; }
      else { out.textContent = row.dataset.dose; }
    });
  });

  /* a timer that only looks at the clock */
  var ends = 0, ticking = 0, shown = one('#timer-out'), minutes = one('#timer-min');
  function show() {
    var left = Math.ceil((ends - Date.now()) / 1000);
    if (left > 0) {
      shown.textContent = Math.floor(left / 60) + ' min ' + (left % 60) + ' s to go. Stay near.';
      return;
    }
    clearInterval(ticking);
    ticking = 0;
    shown.textContent = 'TIME IS UP';
    try { navigator.vibrate([400, 200, 400]); } catch (error) { /* no such thing here */ }
  }
  function start(length) {
    if (isNaN(length) || length <= 0) { shown.textContent = 'minutes, such as 10'; return; }
    clearInterval(ticking);
    ends = Date.now() + length * 60000;
    ticking = setInterval(show, 500);
    show();
  }
  if (minutes) {
    one('#timer-start').addEventListener('click', function () { start(number(minutes.value)); });
    all('[data-minutes]').forEach(function (button) {
      button.addEventListener('click', function () {
        minutes.value = button.dataset.minutes;
        start(number(minutes.value));
        one('#timer').scrollIntoView();
      });
    });
  }

  /* the report as text, to be sent by any means */
  function answers() {
    var lines = ['sheet ' + code];
    all('[data-task]').forEach(function (box) {
      var name = box.dataset.task;
      var read = one('[data-read="' + name + '"]');
      var why = one('[data-why="' + name + '"]');
      var said = '';
      if (why && why.value.trim()) {
        /* a 2.1 in a reason must not be taken for a task */
        said = 'no: ' + why.value.trim().replace(/([0-9])[.,](?=[0-9])/g, '$1\u00b7');
      }
      else if (read && read.value.trim()) {
        said = read.value.trim();
        if (!isNaN(number(said))) { said = said.replace(',', '.') + ' ' + read.dataset.unit; }
      } else if (box.checked) { said = 'ok'; }
      if (said) { lines.push(name + ' ' + said); }
    });
    return lines.join('\\n');
  }
  var report = one('#report');
  if (report) {
    one('#report-make').addEventListener('click', function () {
      var out = one('#report-out');
      report.value = answers();
      report.focus();
      report.select();
      out.textContent = 'Copy this text and send it to the keeper.';
      try {
        navigator.clipboard.writeText(report.value).then(function () {
          out.textContent = 'Copied: paste it into a message to the keeper.';
        }, function () { /* to be copied by hand */ });
      } catch (error) { /* to be copied by hand */ }
    });
  }
})();
"""
