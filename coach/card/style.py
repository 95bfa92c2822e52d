"""How the card looks on screen, light or dark, and on paper; a drawing looks so on its own too."""

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
td.figure { white-space: nowrap; }
svg { max-width: 100%; height: auto; display: block; }
svg.swatch { display: inline-block; vertical-align: middle; }
.work { list-style: none; padding: 0; margin: 0; }
.work > li { padding: .45rem 0; break-inside: avoid; }
.work .part { background: var(--wash); padding: .45rem .7rem; break-after: avoid; }
.work .number { font-weight: bold; }
.in1 { margin-inline-start: 1.4rem; } .in2 { margin-inline-start: 2.8rem; }
.in3 { margin-inline-start: 4.2rem; }
.note { color: var(--quiet); font-style: italic; }
figure { display: inline-block; margin: .5rem 1rem .3rem 0; vertical-align: top;
  max-width: 100%; break-inside: avoid; }
figcaption { font-size: .85rem; color: var(--quiet); max-width: 12rem; }
figure.scale figcaption { max-width: none; }
.knot, .care { break-inside: avoid-page; }
"""
_DRAWN: Final = """
.number, .small { fill: var(--ink); font-family: "DejaVu Sans", Verdana, sans-serif; }
"""
_PRINT: Final = """
@page { margin: 15mm; }
@media (min-width: 40rem), print {
  .work > li:has(figure) { display: grid; grid-template-columns: minmax(11rem, 1fr) 2fr;
    column-gap: 1rem; }
  .work > li.wide { display: block; }
  .work > li > .drawings { grid-column: 2; }
}
@media print {
  :root { color-scheme: light; --paper: #ffffff; --ink: #000000; --quiet: #333333;
    --line: #666666; --wash: #ffffff; --wood: #dddddd; }
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  .work .part { border-inline-start: 3px solid #000; }
  h2, h3, .lead { break-after: avoid; }
  svg { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
"""

STYLE: Final = f"{_SCREEN}{_DRAWN}{_PRINT}"
"""The style of the whole page."""

_LIGHT: Final = dict(re.findall(r"(--\w+): (#\w+);", _SCREEN.partition("}")[0]))

ALONE: Final = re.sub(r"var\((--\w+)\)", lambda name: str(_LIGHT[name[1]]), _DRAWN)
"""The style of a drawing in a file of its own: on white, for viewers that know no variables."""
