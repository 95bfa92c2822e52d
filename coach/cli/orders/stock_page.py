"""The page of the stock, and its list as JSON and YAML."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from textwrap import wrap
from typing import Any, Final

from coach.cli.output import WIDTH
from coach.orders.stock import Item
from coach.orders.stock_yield import CopiesFromItem, StockYield
from coach.quantities import show_cut, show_fineness, show_length, show_mass, trimmed
from coach.text import counted, name_key, one_line

_MOST: Final = 8  # remnants that are listed one by one


def as_list(items: Iterable[Item]) -> list[dict[str, Any]]:
    """Return the list that `coach stock --json` prints; keys are added, never renamed.

    One of `mm`, `grams` and `count` is the unit that the item is kept in, the others are None;
    below zero, more was taken than was there.
    """
    return [
        {
            "id": name_key(item.what),
            "what": item.what,
            "mm": None if item.by_number or _weighed(item) else round(item.mm, 1),
            "grams": round(item.grams, 1) if _weighed(item) else None,
            "count": item.count if item.by_number else None,
            "lengths_mm": [round(mm, 1) for mm in item.lengths_mm],
            "price": _price(item),
        }
        for item in items
    ]


def _weighed(item: Item) -> bool:
    """Return whether only the weight of an item is known, not its length."""
    return bool(item.grams) and not item.lengths_mm


def _price(item: Item) -> str | None:
    """Return the price of an item, of cord as the maker wrote it, of other things for one."""
    if item.price_each:
        each = Decimal(item.price_each)
        return f"{each:.2f}" if each == round(each, 2) else f"{each:f}"
    return item.price_said or None


def as_yaml(items: Iterable[Item]) -> str:
    """Return a stock list for `coach.orders.read_stock`, to be counted and changed."""
    ordered = sorted(items, key=lambda item: name_key(item.what))
    cords = [_cord_line(item) for item in ordered if not item.by_number]
    findings = [
        f"  {_quoted(item.what)}: {{number: {max(0, item.count)}{_priced(item)}}}"
        for item in ordered if item.by_number
    ]  # fmt: skip
    sections = (("cords:", cords), ("findings:", findings))
    return "".join("\n".join((head, *lines)) + "\n" for head, lines in sections if lines)


def _cord_line(item: Item) -> str:
    hanks = [f"{trimmed(mm / 1000, 4)} m" for mm in item.lengths_mm]
    hanks += [f"{item.grams:.2f} g"] if item.grams > 0 else []
    weighs = f", weighs: {show_fineness(item.fineness_tex)}" if item.fineness_tex else ""
    return f"  {_quoted(item.what)}: {{hanks: [{', '.join(hanks)}]{weighs}{_priced(item)}}}"


def _priced(item: Item) -> str:
    price = item.price_each or item.price_said
    return f", price: {_quoted(price)}" if price else ""


def _quoted(text: str) -> str:
    inside = one_line(text).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{inside}"'


def render_stock(items: Sequence[Item], unit: str = "cm") -> list[str]:
    """Return the stock as lines of at most 78 columns, by label."""
    ordered = sorted(items, key=lambda item: name_key(item.what))
    return [line for item in ordered for line in item_line(item, unit)]


def item_line(item: Item, unit: str = "cm") -> list[str]:
    """Return what is there of one thing, in lines."""
    told = f"{one_line(item.what)}: {'; '.join(_there(item, unit))}"
    lines = wrap(told, WIDTH, subsequent_indent="  ")
    if item.is_short:
        lines += wrap(_short(item, unit), WIDTH, initial_indent="  ", subsequent_indent="  ")
    return lines


def _there(item: Item, unit: str) -> Iterator[str]:
    if item.by_number:
        yield f"{item.count:,}"
    elif item.lengths_mm or not item.grams:
        yield f"{show_cut(max(0.0, item.mm), unit)}{_hanks(item, unit)}"
    if item.grams:
        less = f", less {show_cut(item.owed_mm, unit)} that was cut" if item.owed_mm else ""
        yield f"{show_mass(item.grams)} by weight{less}"
    if item.fineness_tex:
        mass = item.mass_g() or 0.0
        yield f"{show_fineness(item.fineness_tex)}, so about {show_mass(max(0.0, mass))}"
    price = _price(item)
    if price:
        yield price if item.price else f"{price} each"


def _hanks(item: Item, unit: str) -> str:
    """Return the lengths of cord in stock, equal ones counted."""
    counted = Counter(show_cut(mm, unit) for mm in sorted(item.lengths_mm, reverse=True))
    if sum(counted.values()) < 2:  # noqa: PLR2004 - one length is the whole
        return ""
    told = [f"{n} × {length}" if n > 1 else length for length, n in counted.items()]  # noqa: RUF001 - the sign is meant
    rest = f" and {len(told) - _MOST} more" if len(told) > _MOST else ""
    return f" in {', '.join(told[:_MOST])}{rest}"


def _short(item: Item, unit: str) -> str:
    much = f"{-item.count:,}" if item.by_number else show_cut(item.owed_mm, unit)
    was = "were" if item.by_number and item.count < -1 else "was"
    how = "--number 3" if item.by_number else "--hank '2 m'"
    return (
        f"{much} more {was} taken than {was} in stock. Check what is there and record it: "
        f"`coach stock count '{one_line(item.what)}' {how}`."
    )


def makes_object(title: str, found: StockYield) -> dict[str, Any]:
    """Return the object that `coach stock --makes FILE --json` prints."""
    longest = found.longest
    return {
        "title": title,
        "copies": {"sure": found.sure, "most": found.most},
        "ends_first": found.bounding[0].what if found.bounding else None,
        "gives": [
            {"what": g.what, "sure": g.sure, "most": g.most, "in_stock": g.in_stock}
            for g in found.gives
        ],
        "longest": {
            "part": longest.part, "times": longest.times, "length_mm": round(longest.length_mm, 1)
        } if longest else None,
    }  # fmt: skip


def makes_lines(title: str, found: StockYield, unit: str = "cm") -> list[str]:
    """Return how much the stock is enough for, as lines of at most 78 columns.

    Args:
        title: The project's title.
        found: How many copies come out of it, and what ends first.
        unit: "cm" or "in": the unit in which lengths are shown.
    """
    return [line for text in _made_told(title, found, unit) for line in wrap(
        text, WIDTH, subsequent_indent="  " if text.startswith("  ") else ""
    )]  # fmt: skip


def _made_told(title: str, found: StockYield, unit: str) -> Iterator[str]:
    most = f"; {found.most:,} if nothing is to spare" if found.most > found.sure else ""
    yield f"{one_line(title)}: {counted(found.sure, 'copy')}{most}."
    if found.bounding:
        yield f"{one_line(found.bounding[0].what)} ends first."
    for one in found.gives:
        yield f"  {one_line(one.what)}: {_of(one)}"
    if found.longest:
        length = show_length(found.longest.length_mm, unit)
        times = f"{found.longest.times:,} repeats of {found.longest.part}"
        yield f"As one long piece: {times}, about {length}."


def _of(one: CopiesFromItem) -> str:
    if one.is_short:
        return f"{one.sure:,}; more was taken than was there: count it"
    if not one.in_stock:
        return "none in stock" if one.is_cord else "not kept in stock"
    return f"{one.sure:,}" if one.most == one.sure else f"{one.sure:,} to {one.most:,}"
