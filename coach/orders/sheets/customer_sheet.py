"""The customer's sheet of a quote as one HTML page, two printed sheets at most.

It shows what concerns the customer: picture, sizes, colours, price, the day; no internal figures.
"""

from base64 import b64encode
from collections.abc import Iterator
from html import escape
from typing import Final

from coach.orders.material_names import colour_words, wanted_in
from coach.orders.quote_model import Group, Quote, day_words, money_words
from coach.orders.sheets.sheet_style import STYLE, whole_page
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks
from coach.picture.render.svg_drawing import render_svg
from coach.plan.wording.cautions import cautions
from coach.quantities import show_length
from coach.text import counted

MOST_PICTURES: Final = 4
"""More would be too small to look at; the others are told by their colours alone."""
_MOST_ROWS: Final = 24  # of groups: with these all of it still goes on two sheets


def sheet(quote: Quote, unit: str = "cm") -> str:
    """Return the sheet of a quote as HTML."""
    title = escape(quote.title)
    body = "\n".join((
        f'<h1 dir="auto">{title}</h1>', *_pictures(quote), *_pieces(quote, unit), *_total(quote),
        *_care(quote),
    ))  # fmt: skip
    return whole_page(title, STYLE, body)


def _pictures(quote: Quote) -> Iterator[str]:
    """Yield the pictures of the first groups, one for each look."""
    shown: dict[tuple[str, float], Group] = {}
    for group in quote.groups:
        shown.setdefault((group.colourway, group.plan.length_mm), group)
    few = list(shown.values())[:MOST_PICTURES]
    yield f'<div class="pictures of{len(few)}">'
    for group in few:
        name = group.colourway or ("own colours" if len(few) > 1 else "")
        caption = f"<figcaption>{escape(name)}</figcaption>" if name else ""
        yield f"<figure>{group_picture(group)}{caption}</figure>"
    yield "</div>"


def group_picture(group: Group) -> str:
    """Return the picture of a piece in its colours, as an image embedded in the page."""
    colours = dict(group.colours)
    name = f"{group.plan.project.title} {group.colourway}".strip()
    drawn = render_svg(scene_of(group.plan), looks(list(colours), colours), name, plain=True)
    data = b64encode(drawn.encode()).decode()
    return f'<img alt="{escape(name)}" src="data:image/svg+xml;base64,{data}">'


def _pieces(quote: Quote, unit: str) -> Iterator[str]:
    priced = quote.each is not None
    money = f'<th scope="col">Each{_in(quote)}</th>' if priced else ""
    yield (
        '<table><thead><tr><th scope="col">Pieces</th><th scope="col">Size</th>'
        f'<th scope="col">Colours</th>{money}</tr></thead><tbody>'
    )
    prices = quote.each or (None,) * len(quote.groups)
    rows = list(zip(quote.groups, prices, strict=True))
    for group, each in rows[:_MOST_ROWS]:
        paid = f'<td class="figure">{each.likely:,.2f}</td>' if each else ""
        yield (
            f'<tr><td class="figure">{group.copies}</td>'
            f'<td class="figure">{_size(group, unit)}</td><td>{_colours(group)}</td>{paid}</tr>'
        )
    rest = sum(group.copies for group, _ in rows[_MOST_ROWS:])
    if rest:
        others = "in other sizes or colours"
        yield f'<tr><td class="figure">{rest}</td><td colspan="3">{others}</td></tr>'
    yield "</tbody></table>"


def _in(quote: Quote) -> str:
    return f" ({escape(quote.currency)})" if quote.currency else ""


def _size(group: Group, unit: str) -> str:
    long, wide = (show_length(mm, unit) for mm in (group.plan.length_mm, group.plan.width_mm))
    return f"about {escape(long)} by {escape(wide)}"


def _colours(group: Group) -> str:
    """Return the colours of a piece as patches with their names, and its colourway's name."""
    project, told = group.plan.project, []
    for cord, colour in group.colours.items():
        own = wanted_in(project, cord, group.colourway).own
        name = cord if own else colour_words(colour)
        told.append(f'<span class="patch" style="background:{colour}"></span>{escape(name)}')
    way = f"{escape(group.colourway)}: " if group.colourway else ""
    return f'<span dir="auto">{way}</span>{", ".join(told)}'


def _total(quote: Quote) -> Iterator[str]:
    total, ready = quote.total, quote.ready
    if total:
        paid = money_words(total.likely, quote.currency)
        yield f'<p class="total">{counted(quote.copies, "piece")}: {escape(paid)}</p>'
    day = (ready.late or ready.likely) if ready else None
    if day:
        yield f"<p>Ready by {day_words(day)}.</p>"


def _care(quote: Quote) -> Iterator[str]:
    said = cautions(quote.groups[0].plan.project)
    if said:
        items = "".join(f'<li dir="auto">{escape(one)}</li>' for one in said)
        yield f'<section class="care"><h2>Take care</h2><ul>{items}</ul></section>'
