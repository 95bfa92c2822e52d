"""What is made ready for all pieces of an order together: cut, labelled and hung, length by length.

The ticks are those of the pieces themselves, so that this list and the piece's own say the same.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from coach.orders.cord_names import label_of
from coach.orders.findings import tally
from coach.piece.clock import Clock
from coach.piece.events import Ticked, Unticked
from coach.piece.folding import fold
from coach.piece.open_piece import begun_plan
from coach.piece.order_log import OrderAt
from coach.piece.state import State
from coach.piece.stock_ticks import CutPiece, StockTicks, cut_pieces
from coach.piece.storage.read_piece import kept_piece
from coach.piece.storage.store import Store
from coach.plan.plan_model import Plan

Cord: TypeAlias = tuple[int, str]
"""A cut length: the number of the piece of work in this database, and the label on the cord."""

_Alike: TypeAlias = tuple[str, tuple[str, ...]]
"""By what pieces of work are known to have the same plan: their text, and what happened since."""


@dataclass(frozen=True, slots=True)
class BatchLine:
    """Lengths that are alike: of one cord in one colour, cut to one length, under one label.

    `what` is the cord as a label in the shop has it, `label` what is written on each.
    """

    cord: str
    what: str
    label: str
    length_mm: float
    pieces: tuple[Cord, ...]
    done: Mapping[str, frozenset[Cord]] = field(default_factory=dict)

    def ticked(self, mark: str) -> int:
        """Return how many of them have a mark: cut, labelled, hung."""
        return len(self.done.get(mark, ()))

    def open(self, mark: str) -> tuple[Cord, ...]:
        """Return those that do not have it, in the order of the pieces."""
        have = self.done.get(mark, frozenset())
        return tuple(one for one in self.pieces if one not in have)


@dataclass(frozen=True, slots=True)
class BatchList:
    """All that is made ready: lengths of cord, and how many of each finding."""

    lines: tuple[BatchLine, ...]
    findings: Mapping[str, int]


def batch_list(store: Store, order: OrderAt, unit: str = "cm") -> BatchList:
    """Return what is made ready for an order's sound pieces, cords in the file's order.

    A piece whose project cannot be read any more is left out. Raises PieceError.
    """
    found: dict[tuple[str, str, str, float], list[Cord]] = {}
    done: dict[tuple[str, str, str, float], dict[str, set[Cord]]] = {}
    known: dict[_Alike, _Ready] = {}
    cords, findings = list[str](), Counter[str]()
    for piece in order.sound:
        state = kept_piece(store, piece.id).state
        ready = _ready(state, unit, known)
        findings.update(ready.findings)
        for label, cut in ready.cuts.items():
            cords.append(cut.wanted.cord.id)
            key = cut.wanted.cord.id, label_of(cut.wanted), label, cut.length_mm
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
class _Ready:
    """What one piece of work needs; None stands for a plan that cannot be read any more."""

    plan: Plan | None
    cuts: Mapping[str, CutPiece]
    findings: Mapping[str, int]


def _ready(state: State, unit: str, known: dict[_Alike, _Ready]) -> _Ready:
    """Return what a piece of work needs; those that are alike share one plan."""
    key = state.project_text, tuple(map(repr, state.happenings))
    if key not in known:
        plan = begun_plan(state)
        cuts = cut_pieces(plan, unit) if plan else {}
        known[key] = _Ready(plan, cuts, tally(plan.project.findings, 1) if plan else {})
    return known[key]


def tick_pieces(
    store: Store, clock: Clock, cords: Sequence[Cord], mark: str, unit: str = "cm",
    *, back: bool = False,
) -> None:  # fmt: skip
    """Tick lengths of several pieces, or take ticks back, all or none; the stock follows.

    Raises PieceError.
    """
    kind = Unticked if back else Ticked
    known: dict[_Alike, _Ready] = {}
    with store.atomic():
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
            plan = _ready(state, unit, known).plan
            if plan:
                StockTicks(store, kept.summary.uid, plan, lambda: unit)(event, after)
