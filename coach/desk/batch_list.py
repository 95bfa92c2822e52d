"""The list for preparing all pieces of an order together: cutting, labelling and hanging.

Its ticks are those of the pieces themselves, so that this list and each piece's own agree.
"""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

from coach.desk.desk_log import DeskReading
from coach.desk.order_log import Alike, OrderAt, alike
from coach.desk.stock_ticks import (
    AGAIN,
    CUT,
    CutPiece,
    StockTicks,
    cut_again,
    cut_pieces,
    short_words,
)
from coach.orders.material_names import label_of, tally
from coach.piece.clock import Clock
from coach.piece.events import Ticked, Unticked
from coach.piece.folding import fold
from coach.piece.open_piece import begun_plan
from coach.piece.state import State
from coach.piece.storage.read_piece import kept_piece
from coach.piece.storage.store import Store
from coach.plan.plan_model import Plan

MARKS: Final = (CUT, "labelled", "hung")
"""What is done to a length before the first knot."""

Cord: TypeAlias = tuple[int, str]
"""A cut length: the number of the piece of work in this database, and the label on the cord."""

_Key: TypeAlias = tuple[str, str, str, float, bool]


@dataclass(frozen=True, slots=True)
class BatchLine:
    """Lengths that are alike: of one cord in one colour, cut to one length, under one label.

    `what` is the cord's name on a shop label, `label` what is written on each length; `hung` says
    whether they hang before the work begins.
    """

    cord: str
    what: str
    label: str
    length_mm: float
    hung: bool
    pieces: tuple[Cord, ...]
    done: Mapping[str, frozenset[Cord]] = field(default_factory=dict)

    @property
    def marks(self) -> tuple[str, ...]:
        """What is to be done to each before the first knot."""
        return MARKS if self.hung else MARKS[:2]

    def ticked(self, mark: str) -> int:
        """Return how many of them have a mark: cut, labelled, hung."""
        return len(self.done.get(mark, ()))

    def open(self, mark: str) -> tuple[Cord, ...]:
        """Return those that do not have it, in the order of the pieces."""
        have = self.done.get(mark, frozenset())
        return tuple(one for one in self.pieces if one not in have)

    @property
    def again(self) -> tuple[tuple[Cord, str], ...]:
        """Each extra cut of one of these lengths, with its mark, in order."""
        marks = sorted((len(mark), mark) for mark in self.done if mark.startswith(AGAIN))
        return tuple((cord, mark) for _, mark in marks for cord in sorted(self.done[mark]))

    def next_again(self) -> tuple[Cord, str] | None:
        """Return the tick for cutting the last recut length once more, None before the cut."""
        cut = [one for one in self.pieces if one not in self.open(CUT)]
        if not cut:
            return None
        ticks = [(self.label, mark) for cord, mark in self.again if cord == cut[-1]]
        return cut[-1], cut_again(self.label, ticks)[1]

    def with_ticks(self, cords: Collection[Cord], mark: str, *, back: bool) -> "BatchLine":
        """Return the line after some of its lengths got a mark, or lost it.

        Args:
            cords: The lengths; those of other lines are ignored.
            mark: "cut", "labelled" or "hung".
            back: Whether they lose it.
        """
        have, own = self.done.get(mark, frozenset()), frozenset(cords) & frozenset(self.pieces)
        return replace(self, done={**self.done, mark: have - own if back else have | own})


@dataclass(frozen=True, slots=True)
class BatchList:
    """All that is to be prepared: lengths of cord, and the number of each finding."""

    lines: tuple[BatchLine, ...]
    findings: Mapping[str, int]

    def with_ticks(self, cords: Collection[Cord], mark: str, *, back: bool) -> "BatchList":
        """Return the list after some lengths got a mark, or lost it.

        Args:
            cords: The lengths.
            mark: "cut", "labelled" or "hung".
            back: Whether they lose it.
        """
        lines = (line.with_ticks(cords, mark, back=back) for line in self.lines)
        return BatchList(tuple(lines), self.findings)


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
        state = kept_piece(store, piece.id).state
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
            kept = kept_piece(store, number)
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
