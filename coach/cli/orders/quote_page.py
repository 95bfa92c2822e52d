"""The page of a quote: what to cut and buy, hours, cost, price, and the day it is ready."""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from textwrap import wrap

from coach.cli.orders.price_list import price_path
from coach.cli.output import WIDTH, in_sections
from coach.orders.cutting import CordOrder, FindingOrder, ToBuy, amount_words
from coach.orders.quote_model import Group, MoneyRange, Quote, hours_words, money_words, ready_words
from coach.orders.stock import NEAR_MM
from coach.quantities import show_cut, show_length, show_time
from coach.text import join_words, one_line


def render_quote(quote: Quote, unit: str = "cm") -> list[str]:
    """Return a quote as lines of at most 78 columns."""
    sections: tuple[Iterable[str], ...] = (
        _head(quote, unit), _cutting(quote.cords, unit), _findings(quote.findings), _hours(quote),
        _money(quote), _ready(quote),
    )  # fmt: skip
    return in_sections(sections)


def _head(quote: Quote, unit: str) -> Iterator[str]:
    yield f"{quote.copies} × {quote.title}" if quote.copies > 1 else quote.title  # noqa: RUF001 - the sign is meant
    for group in quote.groups if len(quote.groups) > 1 or quote.groups[0].colourway else ():
        yield f"  {group_words(group, unit)}"


def group_words(group: Group, unit: str) -> str:
    """Return what some copies are: `6 in dusk, about 12 cm long`."""
    colours = f"in {group.colourway}" if group.colourway else "in the project's own colours"
    return f"{group.copies} {colours}, about {show_length(group.plan.length_mm, unit)} long"


def _cutting(cords: Iterable[CordOrder], unit: str) -> Iterator[str]:
    yield "Cut"
    for cord in cords:
        cuts = ", ".join(f"{pieces} of {show_cut(mm, unit)}" for mm, pieces in cord.cuts)
        whole = show_cut(cord.total_mm, unit)
        yield from _folded(f"{cord.label}: {cuts}; {whole} in all")
        yield from _folded(source_words(cord, unit), 4)


def source_words(cord: CordOrder, unit: str) -> str:
    """Return what of a cord is in stock, and what is to be bought."""
    owed = cord.owed_mm > NEAR_MM
    said = f"; {show_cut(cord.owed_mm, unit)} more was taken than was there: count it" * owed
    in_stock = max(0.0, cord.in_stock_mm + cord.owed_mm)
    if not cord.short_mm:
        return f"in stock: {show_cut(in_stock, unit)}, which is enough{said}"
    there = f"in stock: {show_cut(in_stock, unit)}; " if in_stock else ""
    return f"{there}buy {join_words([bought_words(one, cord.label) for one in cord.to_buy])}{said}"


def bought_words(one: ToBuy, label: str) -> str:
    """Return what is bought: `3 of clay cotton 2 mm, 500 g, for 21.00`, or `20 m for 7.00`."""
    paid = f" for {one.money:,.2f}" if one.money is not None else ""
    if one.loose:
        return f"{amount_words(one.loose)} of {one_line(label)}{paid}"
    return f"{one.count} of {one_line(one.what)},{paid}"


def _findings(findings: Iterable[FindingOrder]) -> Iterator[str]:
    for number, finding in enumerate(findings):
        if not number:
            yield "Findings"
        there = f", {finding.in_stock} in stock" if finding.in_stock > 0 else ""
        buy = f"; buy {finding.to_buy}" if finding.in_stock and finding.to_buy else ""
        if finding.in_stock < 0:
            buy += f"; {-finding.in_stock} more were taken than were there: count them"
        yield from _folded(f"{finding.count} of {finding.what}{there}{buy}")


def _hours(quote: Quote) -> Iterator[str]:
    yield f"Work: {hours_words(quote.hours)}"
    if quote.copies > 1:
        each = quote.hours.likely_s / quote.copies
        yield from _folded(
            f"About {show_time(each)} a piece, with what lies between two; "
            f"one alone takes about {show_time(quote.alone.likely_s)}."
        )


def _money(quote: Quote) -> Iterator[str]:
    cost, total = quote.cost, quote.total
    if cost is None:
        yield "Price: write your prices to have one (`coach manual orders` shows how) in"
        yield f"  {one_line(str(price_path()))}"
        return
    yield "Cost"
    parts = (("material", _plain(cost.material)), ("work", _spanned(cost.work)),
             ("overhead", _spanned(cost.overhead)))  # fmt: skip
    for name, told in parts:
        if told:
            yield f"  {name:12} {told} {quote.currency}".rstrip()
    if quote.missing:
        yield from _folded(
            f"No price is known for {join_words([one_line(m) for m in quote.missing])}."
        )
    if total is None or quote.each is None:
        return
    yield f"Price: {money_words(total.likely, quote.currency)}"
    if quote.copies > 1:
        for each, group in zip(quote.each, quote.groups, strict=True):
            name = f" ({group.colourway})" if group.colourway else ""
            yield f"  {group.copies} at {each.likely:,.2f}{name}"
    yield from _folded(f"With the range of hours, it would be {_span(total)}.")


def _plain(money: Decimal | None) -> str:
    return "" if money is None else f"{money:10,.2f}"


def _spanned(span: MoneyRange | None) -> str:
    return "" if span is None else f"{span.likely:10,.2f}  ({_span(span)})"


def _span(span: MoneyRange) -> str:
    return f"{span.low:,.2f} to {span.high:,.2f}"


def _ready(quote: Quote) -> Iterator[str]:
    if quote.ready is None:
        yield f"Ready: write your hours a week, as in hours: {{sat: 3 h}}, {_where(quote)}"
        return
    yield from _folded(f"Ready: {ready_words(quote.ready)}", 0)


def _where(quote: Quote) -> str:
    """Return where hours are to be written, unless the prices said so just before."""
    return "there." if quote.cost is None else f"in\n  {one_line(str(price_path()))}"


def _folded(text: str, indent: int = 2) -> list[str]:
    spaces = " " * indent
    return wrap(text, WIDTH, initial_indent=spaces, subsequent_indent=f"{spaces}  ")
