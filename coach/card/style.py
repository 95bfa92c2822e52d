"""The card's style sheets: on screen, light or dark, on paper, and for a drawing by itself."""

import re
from typing import Final

_SCREEN: Final = """
:root { color-scheme: light dark; --paper: #ffffff; --ink: #1b1b1b; --quiet: #4a4a4a;
  --line: #767676; --wash: #f3f0ea; --wood: #cdb48c; }
@media (prefers-color-scheme: dark) { :root { --paper: #161a1c; --ink: #f2f2ee; --quiet: #c9c9c3;
  --line: #8d8d88; --wash: #23292c; --wood: #8a744f; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 52rem; padding: 1.5rem; background: var(--paper);
  color: var(--ink); font: 1rem/1.45 Georgia, "DejaVu Serif", serif; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0 0 .3rem; }
h2 { font-size: 1.25rem; margin: 1.6rem 0 .5rem; border-bottom: 1px solid var(--line); }
h3 { font-size: 1.05rem; margin: 1.1rem 0 .3rem; }
p, ul { margin: .3rem 0 .6rem; orphans: 3; widows: 3; }
.quiet { color: var(--quiet); }
.care { border: 2px solid var(--ink); padding: .4rem .9rem; }
.care h2 { border: 0; margin: .2rem 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: start; padding: .25rem .6rem .25rem 0; border-bottom: 1px solid var(--line);
  vertical-align: middle; }
.figure { white-space: nowrap; }
svg { max-width: 100%; height: auto; display: block; }
svg.swatch { display: inline-block; vertical-align: middle; max-width: none; }
.work { list-style: none; padding: 0; margin: 0; }
.work > li { padding: .45rem 0; break-inside: avoid; }
.work .part { background: var(--wash); padding: .45rem .7rem; break-after: avoid; }
.work .number { font-weight: bold; }
.in1 { margin-inline-start: .8rem; } .in2 { margin-inline-start: 1.6rem; }
.in3 { margin-inline-start: 2.4rem; }
.note { color: var(--quiet); font-style: italic; }
figure { display: inline-block; margin: .4rem .8rem .2rem 0; vertical-align: top;
  max-width: 100%; break-inside: avoid; }
figcaption { font-size: .85rem; color: var(--quiet); max-width: 12rem; }
.work svg { width: auto; max-height: 15rem; }
.first { display: flow-root; }
.piece { float: left; margin-inline-end: 1.6rem; max-width: 45%; }
.facts h1 { margin-top: 0; }
.facts > section { overflow: hidden; }
.facts figure svg { width: auto; max-height: 16rem; }
.cords { list-style: none; padding: 0; }
.knot, .care { break-inside: avoid; }
@media (min-width: 46rem) { .columns { columns: 2; column-gap: 2rem; } }
"""
_DRAWN: Final = """
.number, .small { fill: var(--ink); font-family: "DejaVu Sans", Verdana, sans-serif; }
"""
_PRINT: Final = """
@page { margin: 10mm; }
@media print {
  :root { color-scheme: light; --paper: #ffffff; --ink: #000000; --quiet: #333333;
    --line: #666666; --wash: #ffffff; --wood: #dddddd; }
  body { max-width: none; padding: 0; font-size: 9.5pt; line-height: 1.32; }
  h1 { font-size: 18pt; } h2 { font-size: 12pt; margin: 3mm 0 1mm; } h3 { font-size: 10pt; }
  p, ul { margin: .8mm 0 1.2mm; }
  .sheet + .sheet { break-before: page; }
  .columns { columns: 3; column-gap: 4mm; }
  .columns.broad { columns: 2; }
  .columns.roomy { columns: 2; column-gap: 10mm; font-size: 12pt; }
  .work > li { padding: .5mm 0; }
  .work .part { border-inline-start: 3px solid #000; padding: .5mm 2mm; }
  .in1 { margin-inline-start: 2mm; } .in2 { margin-inline-start: 4mm; }
  .in3 { margin-inline-start: 6mm; }
  figure { margin: 1mm 2mm .5mm 0; }
  .work svg { max-height: 23mm; }
  .facts figure svg { max-height: 42mm; }
  .facts .work svg { max-height: 24mm; }
  .columns .wide svg { max-height: 18mm; }
  .columns.dense svg { max-height: 18mm; }
  .roomy svg, .columns.roomy .wide svg { max-height: 36mm; }
  .broad > .work > li:not(.wide):has(figure) { display: grid; gap: 0 2mm;
    grid-template-columns: minmax(38mm, 1fr) auto; }
  figcaption { font-size: 7.5pt; max-width: 26mm; line-height: 1.15; }
  .piece figcaption { max-width: none; }
  td, th { padding: .6mm 2mm .6mm 0; }
  .stages { columns: 2; column-gap: 8mm; }
  h2, h3, .lead { break-after: avoid; }
  svg { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
"""

STYLE: Final = f"{_SCREEN}{_DRAWN}{_PRINT}"
"""The style of the whole page."""

_LIGHT: Final = dict(re.findall(r"(--\w+): (#\w+);", _SCREEN.partition("}")[0]))

ALONE: Final = re.sub(r"var\((--\w+)\)", lambda name: str(_LIGHT[name[1]]), _DRAWN)
"""The style of a drawing in a file of its own: on white, for viewers that know no variables."""
