"""A kit for a class: the cut list for all, sheets of labels, and the card for each pupil."""

import re
from collections.abc import Iterator
from html import escape
from typing import Final

from coach.orders.material_names import colour_words
from coach.orders.quote_model import Quote
from coach.orders.sheets.cord_labels import PAPERS, Paper, label_sheets, labels_of
from coach.orders.sheets.sheet_style import whole_page
from coach.quantities import show_cut

_STYLE: Final = """
.kit h1 { font: bold 20pt/1.2 Georgia, serif; margin: 0 0 3mm; }
.kit table { border-collapse: collapse; width: 100%; font: 11pt/1.4 Georgia, serif; }
.kit th, .kit td { text-align: start; padding: 1mm 3mm 1mm 0; border-bottom: .3mm solid #767676; }
.kit .box { display: inline-block; width: 4mm; height: 4mm; border: .3mm solid #1b1b1b; }
.kit p { font: 11pt/1.4 Georgia, serif; }
.sheet { break-after: page; }
.sheet:last-child { break-after: auto; }
svg.labels { display: block; margin: 0 auto; background: #ffffff; max-width: none; }
"""
_BODY: Final = re.compile(r"<main>(.*)</main>", re.DOTALL)
_RULES: Final = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_HEADING: Final = re.compile(r"(?<![\w#-])h([1-5])(?![\w-])")


def kit(quote: Quote, card: str, paper: Paper, unit: str = "cm") -> str:
    """Return a kit as one page of HTML.

    Args:
        quote: The order: what is cut for all, and the pieces.
        card: The card of the piece, as HTML; its sheets come last, to be printed for each pupil.
        paper: What it is printed on.
        unit: "cm" or "in": the unit in which lengths are shown.
    """
    card = _under_a_heading(card)
    style = _RULES.search(card)
    inside = _BODY.search(card)
    size = " ".join(f"{side:g}mm" for side in PAPERS[paper])
    rules = (
        f"{style[1] if style else ''}{_STYLE}"
        f"@page {{ size: {size}; margin: 15mm; }} @page labels {{ size: {size}; margin: 10mm; }}\n"
        ".labels-sheet { page: labels; }\n@media print { body { max-width: none; padding: 0; } }\n"
    )
    body = "\n".join((
        f'<section class="kit sheet">{"".join(_cut_list(quote, unit))}</section>',
        *(
            f'<div class="sheet labels-sheet">{one}</div>'
            for one in label_sheets(labels_of(quote.groups, unit), paper, unit)
        ),
        f'<div class="sheet">{inside[1] if inside else ""}</div>',
    ))  # fmt: skip
    return whole_page(f"{escape(quote.title)}: kit", rules, body)


def _under_a_heading(card: str) -> str:
    """Return a card with its headings, and their CSS rules, one level further down."""
    tags = re.sub(r"(?<=<)(/?)h([1-5])(?=[ >])", lambda tag: f"{tag[1]}h{int(tag[2]) + 1}", card)
    return _RULES.sub(
        lambda rules: _HEADING.sub(lambda name: f"h{int(name[1]) + 1}", rules[0]), tags, count=1
    )


def _cut_list(quote: Quote, unit: str) -> Iterator[str]:
    times = f" for {quote.copies}" if quote.copies > 1 else ""
    yield f'<h1 dir="auto">{escape(quote.title)}: cut{times}</h1>'
    yield '<table><thead><tr><th scope="col">Cut</th><th scope="col">Cord</th>'
    yield '<th scope="col">Pieces</th><th scope="col">Each</th></tr></thead><tbody>'
    for cord in quote.cords:
        for mm, pieces in cord.cuts:
            yield (
                f'<tr><td><span class="box"></span></td><td dir="auto">{escape(cord.label)}</td>'
                f"<td>{pieces}</td><td>{escape(show_cut(mm, unit))}</td></tr>"
            )
    for finding in quote.findings:
        yield (
            f'<tr><td><span class="box"></span></td><td dir="auto">{escape(finding.what)}</td>'
            f"<td>{finding.count}</td><td></td></tr>"
        )
    yield "</tbody></table>"
    for group in quote.groups:
        if group.colourway:
            colours = ", ".join(f"{c} {colour_words(h)}" for c, h in group.colours.items())
            yield f"<p>{group.copies} in {escape(group.colourway)}: {escape(colours)}.</p>"
