"""The list for preparing all pieces of an order together: cutting, labelling and hanging.

Its ticks are those of the pieces themselves, so that this list and each piece's own agree.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from coach.desk.batch_lines import BatchLine, BatchList, Cord
from coach.desk.desk_log import DeskReading
from coach.desk.order_log import Alike, OrderAt, alike
from coach.desk.stock_ticks import CutPiece, StockTicks, cut_pieces, short_words
from coach.orders.material_names import label_of, tally
from coach.piece.clock import Clock
from coach.piece.events import Ticked, Unticked
from coach.piece.folding import fold
from coach.piece.open_piece import begun_plan
from coach.piece.state import State
from coach.piece.storage.read_piece import read_whole_piece
from coach.piece.storage.store import Store
from coach.plan.plan_model import Plan

_Key: TypeAlias = tuple[str, str, str, float, bool]


def batch_list(
    store: Store, order: OrderAt, unit: str = "cm", known: "Known | None" = None
) -> BatchList:
    """Return what is to be prepared for an order's sound pieces, cords in the file's order.

    A piece whose project can no longer be read is left out.

    Args:
        store: The store of pieces and the desk.
        order: The order.
        unit: "cm" or "in": the unit in which lengths are rounded up.
        known: A cache of pieces' needs, which is added to.

    Raises:
        PieceError: The store cannot be read.
    """
    found: dict[_Key, list[Cord]] = {}
    done: dict[_Key, dict[str, set[Cord]]] = {}
    known = {} if known is None else known
    cords, findings = list[str](), Counter[str]()
    for piece in order.sound:
        state = read_whole_piece(store, piece.id).state
        ready = needs_of(state, unit, known)
        findings.update(ready.findings)
        for label, cut in ready.cuts.items():
            cords.append(cut.wanted.cord.id)
            key = cut.wanted.cord.id, label_of(cut.wanted), label, cut.length_mm, cut.hung
            found.setdefault(key, []).append((piece.id, label))
            for what, mark in state.ticks:
                if what == label:
                    marks = done.setdefault(key, {})
                    marks.setdefault(mark, set()).add((piece.id, label))
    place = {cord: at for at, cord in enumerate(dict.fromkeys(cords))}
    lines = (
        BatchLine(*key, tuple(pieces), {m: frozenset(d) for m, d in done.get(key, {}).items()})
        for key, pieces in found.items()
    )
    return BatchList(tuple(sorted(lines, key=lambda line: place[line.cord])), findings)


@dataclass(frozen=True, slots=True)
class Needs:
    """What one piece of work needs; None for a plan that can no longer be read."""

    plan: Plan | None
    cuts: Mapping[str, CutPiece]
    findings: Mapping[str, int]


Known = dict[tuple[str, Alike], Needs]
"""What pieces of work need that are alike, and cut in one unit."""


def needs_of(state: State, unit: str, known: Known) -> Needs:
    """Return what a piece of work needs; pieces that are alike share one plan.

    Args:
        state: The state of the piece.
        unit: "cm" or "in": the unit in which lengths are rounded up.
        known: A cache of pieces' needs, which is added to.
    """
    key = unit, alike(state)
    if key not in known:
        plan = begun_plan(state)
        cuts = cut_pieces(plan, unit) if plan else {}
        known[key] = Needs(plan, cuts, tally(plan.project.findings, 1) if plan else {})
    return known[key]


def tick_pieces(
    store: Store, clock: Clock, cords: Sequence[Cord], mark: str, unit: str = "cm",
    *, back: bool = False, known: Known | None = None,
) -> str:  # fmt: skip
    """Tick lengths of several pieces, or take ticks back, all or none; the stock follows.

    Args:
        store: The store of pieces and the desk.
        clock: Tells the time of the events.
        cords: The lengths.
        mark: "cut", "labelled" or "hung".
        unit: "cm" or "in": the unit in which lengths are rounded up.
        back: Whether ticks are taken back.
        known: A cache of pieces' needs, which is added to.

    Returns:
        A sentence on what was taken beyond what was in stock, "" for nothing.

    Raises:
        PieceError: The ticks cannot be stored; then none is.
    """
    kind, short = Unticked if back else Ticked, dict[str, str]()
    known = {} if known is None else known
    with store.atomic():
        desk = DeskReading(store)
        for number, label in cords:
            kept = read_whole_piece(store, number)
            state = kept.state
            if ((label, mark) in state.ticks) != back:
                continue
            event = kind(
                at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=state.sitting,
                what=label, mark=mark,
            )  # fmt: skip
            after = fold(state, event)
            store.append(number, after, event)
            plan = needs_of(state, unit, known).plan
            if plan:
                ticks = StockTicks(store, kept.summary.uid, plan, lambda: unit, desk)
                ticks(event, after)
                short |= ticks.short
    return short_words(short)
