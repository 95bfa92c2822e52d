"""The material really used for an order: cord cut for its pieces, recut lengths, findings."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from coach.desk.batch_lines import CUT, cut_key, is_cut
from coach.desk.batch_list import Known, needs_of
from coach.desk.desk_log import read_desk
from coach.desk.order_log import OrderAt
from coach.orders.cutting import finding_orders, price_of, stock_for
from coach.orders.desk_state import DeskState
from coach.orders.material_names import Wanted, label_of, wanted_in
from coach.orders.order_outcome import CordUsed, Material, extras_for
from coach.orders.prices import Prices
from coach.piece.events import Joined
from coach.piece.state import State
from coach.piece.storage.read_piece import read_whole_piece
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary


@dataclass(frozen=True, slots=True)
class _Length:
    """A length of cord that was cut, its source, and what it was quoted with, if it was.

    `stock` is the label of the item it came from, "" where the cord is not kept in stock.
    """

    wanted: Wanted
    stock: str
    cut_mm: float
    quoted_mm: float


def material_of(store: Store, order: OrderAt, prices: Prices | None, unit: str = "cm") -> Material:
    """Return the material used for an order so far, and its cost at today's prices.

    A length is cut if it is ticked, or if its piece is worked on: then it hangs, whether anybody
    ticked it or not. A piece whose project can no longer be read is left out.

    Args:
        store: The store.
        order: The order.
        prices: The price list, for what has no price in stock.
        unit: "cm" or "in": the unit in which lengths are rounded up.

    Raises:
        PieceError: The store cannot be read.
    """
    desk, known, lengths, findings = read_desk(store), Known(), list[_Length](), Counter[str]()
    for piece in (*order.sound, *order.spoilt):
        state = read_whole_piece(store, piece.id).state
        needs = needs_of(state, unit, known)
        if piece.finished and piece in order.sound:
            findings.update(needs.findings)
        lengths += _cut(desk, piece, state, unit, known, sound=piece in order.sound)
        lengths += _joined(state, unit, known)
    costs = prices or Prices()
    needed = finding_orders(findings, desk.stock, costs)
    paid = [None if one.each is None else one.each * one.count for one in needed]
    return Material(
        tuple(_used(desk, lengths, costs)),
        None if None in paid else sum((p for p in paid if p is not None), Decimal(0)),
        extras_for(order.order.quote, order.finished),
    )


def _cut(
    desk: DeskState, piece: Summary, state: State, unit: str, known: Known, *, sound: bool
) -> Iterator[_Length]:
    """Yield what was cut for a piece, and what it was quoted with."""
    for label, cut in needs_of(state, unit, known).cuts.items():
        marks = [mark for what, mark in sorted(state.ticks) if what == label and is_cut(mark)]
        if state.done and CUT not in marks:
            marks.append(CUT)  # it hangs, so it was cut
        quoted_mm = cut.length_mm if sound else 0.0
        if CUT not in marks and quoted_mm:
            yield _Length(cut.wanted, "", 0.0, quoted_mm)
        for mark in marks:
            kept = desk.cut.get((piece.uid, cut_key(label, mark)))
            length_mm = kept.piece_mm if kept else cut.length_mm
            stock = kept.what if kept else ""
            yield _Length(cut.wanted, stock, length_mm, quoted_mm if mark == CUT else 0.0)


def _joined(state: State, unit: str, known: Known) -> Iterator[_Length]:
    """Yield the cords joined in because a strand was too short."""
    plan = needs_of(state, unit, known).plan
    for one in state.happenings:
        if plan and isinstance(one, Joined):
            cord = next((s.cord for s in plan.strands if s.id == one.strand), "")
            if cord:
                yield _Length(wanted_in(plan.project, cord), "", one.length_mm, 0.0)


def _used(desk: DeskState, lengths: list[_Length], prices: Prices) -> Iterator[CordUsed]:
    """Yield what was used of each cord, by its label, with its cost."""
    found: dict[str, list[_Length]] = {}
    for one in lengths:
        item = stock_for(one.wanted, desk.stock)
        found.setdefault(one.stock or (item.what if item else label_of(one.wanted)), []).append(one)
    for what, cuts in found.items():
        item, wanted = desk.stock.find(what), cuts[0].wanted
        price = price_of(item, what, wanted, prices)
        tex = wanted.cord.fineness_tex or (item.fineness_tex if item else None)
        per_mm = price.per_mm(tex) if price else None
        cut_mm = sum(one.cut_mm for one in cuts)
        money = None if per_mm is None and cut_mm else (per_mm or 0) * Decimal(repr(cut_mm))
        yield CordUsed(what, cut_mm, sum(one.quoted_mm for one in cuts), money)
