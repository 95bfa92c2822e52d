"""What comes out of the stock, in lines and as an object."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Any, Final

from coach.orders.makes import Gives, Makes
from coach.quantities import show_length
from coach.text import counted, one_line

WIDTH: Final = 78


def makes_object(title: str, found: Makes) -> dict[str, Any]:
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


def makes_lines(title: str, found: Makes, unit: str = "cm") -> list[str]:
    """Return what can be made out of the stock, as lines of at most 78 columns.

    Args:
        title: The project's title.
        found: How many copies come out of it, and what ends first.
        unit: cm or in, what lengths are told in.
    """
    return [line for text in _told(title, found, unit) for line in wrap(
        text, WIDTH, subsequent_indent="  " if text.startswith("  ") else ""
    )]  # fmt: skip


def _told(title: str, found: Makes, unit: str) -> Iterator[str]:
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


def _of(one: Gives) -> str:
    if one.is_short:
        return f"{one.sure:,}; more was taken than was there: count it"
    if not one.in_stock:
        return "none in stock" if one.is_cord else "not kept in stock"
    return f"{one.sure:,}" if one.most == one.sure else f"{one.sure:,} to {one.most:,}"
