"""The style of the care page: a telephone in sun or at dusk first, then paper."""

from __future__ import annotations

STYLE = """
:root { color-scheme: light dark; --ink: #16201c; --ground: #ffffff; --soft: #eef3f0;
  --line: #6b7a72; --act: #9c1c10; --go: #0b5c46; --water: #bcdcea; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #eef3f0; --ground: #101614; --soft: #1d2723; --line: #93a39b; --act: #ffab9e;
    --go: #8fdcc0; --water: #24566b; }
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; padding: 0 1rem 3rem; max-width: 46rem; color: var(--ink);
  background: var(--ground); font: 1.0625rem/1.5 system-ui, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 1rem 0 .25rem; }
h2 { font-size: 1.25rem; margin: 2rem 0 .5rem; border-bottom: 2px solid var(--line); }
h3 { font-size: 1.0625rem; margin: 1.25rem 0 .25rem; }
p { margin: .5rem 0; }
nav ul { display: flex; flex-wrap: wrap; gap: .5rem; list-style: none; padding: 0; margin: 1rem 0; }
nav a { display: inline-flex; align-items: center; min-height: 44px; min-width: 44px;
  padding: 0 .75rem; border: 2px solid var(--line); border-radius: .5rem; color: var(--ink);
  text-decoration: none; }
nav a.act, #part8 h2, #part8 h3 { color: var(--act); border-color: var(--act); }
li { margin: .25rem 0; }
ul.not { list-style: none; padding-left: 0; }
ul.not b { color: var(--act); }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; }
caption { text-align: left; font-weight: bold; padding: .25rem 0; }
th, td { border: 1px solid var(--line); padding: .35rem .5rem; text-align: left;
  vertical-align: top; }
th { background: var(--soft); }
td.long, th.long { overflow-wrap: anywhere; }
td.blank { min-width: 1.5rem; height: 2.25rem; }
@media (max-width: 23rem) { th, td { overflow-wrap: anywhere; } }
@media (max-width: 30rem) { th, td { padding: .3rem; font-size: .9375rem; } }
svg { width: 100%; max-width: 26rem; height: auto; display: block; }
svg text { fill: var(--ink); font: 14px system-ui, sans-serif; }
svg text.act { font-weight: bold; fill: var(--act); }
svg line { stroke: var(--ink); stroke-width: 1.5; }
svg .rule { fill: none; stroke: var(--ink); stroke-width: 2; }
svg .water { fill: var(--water); }
fieldset { border: 2px solid var(--line); border-radius: .5rem; margin: 1rem 0;
  padding: .5rem .75rem; min-width: 0; }
legend { font-weight: bold; padding: 0 .25rem; }
.task { border-top: 1px solid var(--line); padding: .25rem 0; }
.task:first-of-type { border-top: 0; }
label.box { display: flex; align-items: center; gap: .75rem; min-height: 44px; cursor: pointer; }
label.box span, caption { min-width: 0; overflow-wrap: anywhere; }
label.box input { flex: none; width: 28px; height: 28px; accent-color: var(--go); }
label.field { display: flex; flex-wrap: wrap; align-items: center; gap: .5rem; min-height: 44px;
  margin: .25rem 0 .25rem calc(28px + .75rem); }
input[type=text], textarea { min-height: 44px; font: inherit; color: var(--ink);
  background: var(--soft); border: 2px solid var(--line); border-radius: .375rem;
  padding: .25rem .5rem; }
input.number { width: 8rem; }
input.words { flex: 1 1 7rem; width: 7rem; }
textarea { width: 100%; min-height: 10rem; }
button { min-height: 44px; min-width: 44px; font: inherit; font-weight: bold; padding: .25rem 1rem;
  color: var(--ground); background: var(--go); border: 2px solid var(--go); border-radius: .5rem; }
output { display: block; min-height: 1.5rem; font-weight: bold; }
:focus-visible { outline: 3px solid var(--act); outline-offset: 2px; }
[hidden] { display: none !important; }
@media print {
  :root { --ink: #000; --ground: #fff; --soft: #fff; --line: #000; --act: #000; --go: #000;
    --water: #ddd; color-scheme: light; }
  @page { margin: 12mm; }
  body { max-width: none; padding: 0; font-size: 10pt; line-height: 1.35; }
  nav, .script { display: none !important; }
  h2, h3, caption, legend { break-after: avoid; }
  li, tr, .task, svg, .case, table, fieldset { break-inside: avoid; }
  fieldset { border: 1px solid #000; }
  label.box, label.field { min-height: 0; }
  label.box input { appearance: none; width: 5mm; height: 5mm; border: 1.5px solid #000; }
  label.box input:checked { background: #000; }
  label.field { margin-left: calc(5mm + .75rem); }
  input[type=text] { min-height: 7mm; border: 1px solid #000; }
  svg { max-width: 11cm; }
}
"""
