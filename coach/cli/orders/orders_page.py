"""The pages of orders: progress, the day each is ready, what it took and earned."""

import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import wrap
from typing import Any, Final

from coach.cli.orders.batch_on_bench import far_words
from coach.cli.output import WIDTH
from coach.desk.batch_lines import MARKS, BatchList
from coach.desk.order_log import OrderAt
from coach.orders.order_outcome import OrderOutcome, outcome_json
from coach.orders.quote_data import ready_object
from coach.orders.quote_model import ReadyDates, money_words, ready_words
from coach.pace.estimate import Range
from coach.quantities import show_cut, show_time
from coach.text import join_words, one_line

_SAME_MM: Final = 10.0  # lengths are cut to the cm


@dataclass(frozen=True, slots=True)
class OrderTold:
    """An order with everything that its page shows: time left, day, how it went so far."""

    at: OrderAt
    left: Range | None
    ready: ReadyDates | None
    afterwards: OrderOutcome


def order_object(told: OrderTold) -> dict[str, Any]:
    """Return an order as JSON; keys are added, never renamed."""
    order = told.at.order
    left = told.left
    return {
        "order": order.name,
        "title": order.title,
        "state": _state(told),
        "over_all": order.over_all,
        "done": told.at.finished,
        "copies": len(told.at.sound),
        "pieces": [
            {"name": p.name, "colourway": _way(told, p.uid), "done": p.done, "total": p.total,
             "spoilt": p in told.at.spoilt}
            for p in (*told.at.sound, *told.at.spoilt)
        ],
        "hours_left": {
            "low": round(left.low_s / 3600, 2), "likely": round(left.likely_s / 3600, 2),
            "high": round(left.high_s / 3600, 2),
        } if left else None,
        "ready": ready_object(told.ready),
        "afterwards": outcome_json(told.afterwards),
    }  # fmt: skip


def _way(told: OrderTold, uid: str) -> str:
    return next((p.colourway for p in told.at.order.pieces if p.piece == uid), "")


def _state(told: OrderTold) -> str:
    order = told.at.order
    if order.given_up:
        return "given up"
    return "under way" if order.is_open else "done"


def order_summary(told: OrderTold, *, aligned: bool = True) -> str:
    """Return an order as one line: its progress, and the day it is ready.

    Args:
        told: The order.
        aligned: Whether it is for a list, in which names have a fixed width.
    """
    day = ""
    if told.ready and told.ready.likely and told.at.order.is_open:
        likely = told.ready.likely
        day = f", ready {likely:%A} {likely.day} {likely:%B}"
    name = one_line(told.at.order.name)
    head = f"{name:20} " if aligned else f"{name}: "
    return f"{head}{far_words(told.at)}{day}; {_state(told)}"


def render_order(told: OrderTold) -> list[str]:
    """Return everything about one order as lines of at most 78 columns."""
    return [
        line
        for text in _told(told)
        for line in wrap(text, WIDTH, subsequent_indent="  ", drop_whitespace=True)
    ]


def _told(told: OrderTold) -> Iterator[str]:
    order = told.at.order
    yield f"{one_line(order.name)}: {one_line(order.title)}, {far_words(told.at)}"
    for piece in (*told.at.sound, *told.at.spoilt):
        far = "finished" if piece.finished else f"{piece.done} of {piece.total}"
        yield f"  {one_line(piece.name)}: {'spoilt' if piece in told.at.spoilt else far}"
    finished = order.is_open and told.at.finished == len(told.at.sound) > 0
    if finished:
        call = f"coach orders {shlex.quote(one_line(order.name))} done --earned 60"
        yield f"All are finished; `{call}` ends the order with what it brought."
    elif order.is_open and told.left:
        way = "one step over all" if order.over_all else "one piece after the other"
        yield f"To go: about {show_time(told.left.likely_s)}, {way}."
    if order.is_open and told.ready and not finished:
        yield f"Ready: {ready_words(told.ready)}"
    if not order.is_open or finished:
        yield from afterwards_words(told.afterwards, so_far=order.is_open)


def afterwards_words(told: OrderOutcome, *, so_far: bool = False) -> Iterator[str]:
    """Yield what an order took and earned compared with its quote.

    Args:
        told: The order, looked back on.
        so_far: Whether it has not ended, so that its earnings are not known yet.
    """
    if told.hours:
        quoted = ""
        if told.quoted_hours:
            quoted = f", quoted with {show_time(told.quoted_hours * 3600)}"
        yield f"Worked: {show_time(told.hours * 3600)} for {told.pieces}{quoted}."
    if told.material:
        quoted = ""
        if told.quoted_material is not None:
            quoted = f", quoted with {money_words(told.quoted_material, told.currency)}"
        yield f"Material: {money_words(told.material, told.currency)}{quoted}."
    for cord in told.cords:
        if abs(cord.cut_mm - cord.quoted_mm) >= _SAME_MM and cord.cut_mm:
            cut, quoted = show_cut(cord.cut_mm), show_cut(cord.quoted_mm)
            yield f"  {one_line(cord.what)}: {cut} cut, quoted with {quoted}."
    if told.earned is not None:
        quoted = ""
        if told.quoted is not None and told.quoted != told.earned:
            quoted = f", quoted {money_words(told.quoted, told.currency)}"
        earned = "To be earned" if so_far else "Earned"
        yield f"{earned}: {money_words(told.earned, told.currency)}{quoted}."
    if told.rate is not None:
        brings = "Your hour would bring" if so_far else "Your hour has brought"
        yield f"{brings} {money_words(told.rate, told.currency)}."


def batch_object(ready: BatchList) -> dict[str, Any]:
    """Return the list as JSON; keys are added, never renamed."""
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
    """Return the list of what to prepare, as lines of at most 78 columns.

    Args:
        order: The order.
        ready: Its cord and findings, and what is cut, labelled and hung.
        unit: "cm" or "in": the unit in which lengths are shown.
    """
    return [
        part
        for text in _ready_told(order, ready, unit)
        for part in wrap(text, WIDTH, subsequent_indent="    ")
    ]


def _ready_told(order: OrderAt, ready: BatchList, unit: str) -> Iterator[str]:
    yield f"{one_line(order.order.name)}: make ready for {len(order.sound)}"
    for line in ready.lines:
        much = f"{len(line.pieces)} of {show_cut(line.length_mm, unit)}"
        done = [f"{line.ticked(m)} {m}" for m in MARKS if line.ticked(m)]
        done += [f"{len(line.again)} cut again"] if line.again else []
        told = f"; {join_words(done)}" if done else ""
        yield f"  {one_line(line.what)}, {line.label}: {much}{told}"
    for what, number in ready.findings.items():
        yield f"  {one_line(what)}: {number}"
