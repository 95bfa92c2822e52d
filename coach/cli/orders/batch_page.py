"""The list of what is made ready for all of an order's pieces, in lines and as an object."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Any, Final

from coach.desk.batch_list import MARKS, BatchList
from coach.desk.order_log import OrderAt
from coach.quantities import show_cut
from coach.text import listed, one_line

WIDTH: Final = 78


def batch_object(ready: BatchList) -> dict[str, Any]:
    """Return the list for other programs; keys are added, never renamed."""
    return {
        "cords": [
            {
                "id": line.cord, "what": line.what, "label": line.label, "mm": line.length_mm,
                "pieces": len(line.pieces), **{mark: line.ticked(mark) for mark in MARKS},
                "cut_again": len(line.again),
            }
            for line in ready.lines
        ],
        "findings": [{"what": w, "count": n} for w, n in ready.findings.items()],
    }  # fmt: skip


def batch_page(order: OrderAt, ready: BatchList, unit: str) -> list[str]:
    """Return the list of what to make ready, as lines of at most 78 columns.

    Args:
        order: The order.
        ready: Its cord and findings, and what is cut, labelled and hung.
        unit: cm or in, what lengths are told in.
    """
    return [
        part
        for text in _told(order, ready, unit)
        for part in wrap(text, WIDTH, subsequent_indent="    ")
    ]


def _told(order: OrderAt, ready: BatchList, unit: str) -> Iterator[str]:
    yield f"{one_line(order.order.name)}: make ready for {len(order.sound)}"
    for line in ready.lines:
        much = f"{len(line.pieces)} of {show_cut(line.length_mm, unit)}"
        done = [f"{line.ticked(m)} {m}" for m in MARKS if line.ticked(m)]
        done += [f"{len(line.again)} cut again"] if line.again else []
        told = f"; {listed(done)}" if done else ""
        yield f"  {one_line(line.what)}, {line.label}: {much}{told}"
    for what, number in ready.findings.items():
        yield f"  {one_line(what)}: {number}"
