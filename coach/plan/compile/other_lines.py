"""Lines of plaits and turns, of strands that come and go, and of steps without a knot."""

from collections.abc import Iterator
from dataclasses import replace

from coach.board.board import Board, Order
from coach.board.permutations import plait, reorder, seam
from coach.plan.compile.step_context import StepContext, WorkLine, check_apart, plain, refuse
from coach.plan.compile.step_error import placed
from coach.plan.steps import Count
from coach.project.model import (
    Add,
    Bead,
    Braid,
    Cross,
    Flip,
    LayAside,
    Picot,
    Seam,
    Space,
    TakeUp,
    Trim,
    Turn,
)


def braid_lines(step: Braid, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a plait: a count a crossing, or one count when given by length."""
    bundles = _bundles(step, hands)
    strands = tuple(strand for bundle in bundles for strand in bundle)
    if step.crossings is None:
        # Whole periods: the order is kept.
        yield WorkLine("braid", hands.board, (Count("", strands),), tuple(bundles))
        return
    ties = []
    now = bundles
    for crossing in range(step.crossings):
        mover = now[2] if crossing % 2 == 0 else now[0]
        ties.append(Count("", mover, now[1]))
        now = list(plait(now, crossing))
    after = tuple(strand for bundle in now for strand in bundle)
    yield WorkLine("braid", hands.board.refill(strands, after), tuple(ties), tuple(bundles))


def _bundles(step: Braid, hands: StepContext) -> list[Order]:
    """Return the three bundles in the window's order. Raises Misfit if they lie apart."""
    members = sorted(step.bundles.members, key=lambda member: min(member.items, default=1))
    bundles = [
        hands.strands(replace(member, items=tuple(sorted(member.items)))) for member in members
    ]
    with placed(step.bundles.span):
        check_apart(bundles, hands.board)
        hands.board.run_of(tuple(strand for bundle in bundles for strand in bundle))
    return bundles


def turn_lines(step: Turn, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of a holder turned round a neighbour or a pin."""
    holder = hands.one(step.holder)
    if step.around is None:
        return plain(hands.board, (holder,))
    around = hands.one(step.around)
    with placed(step.around.span):
        _check_beside(hands.board, holder, around)
    tie = Count("", (holder,), (around,))
    return iter([WorkLine("plain", hands.board, (tie,), ((holder, around),), holder)])


def _check_beside(board: Board, one: int, other: int) -> None:
    """Raise NotNeighbours unless two strands stand side by side, over the seam too."""
    pair = tuple(sorted((one, other), key=board.here.index))
    over_seam = board.wraps and pair == (board.here[0], board.here[-1])
    board.run_of(pair[::-1] if over_seam else pair)


def cross_lines(step: Cross, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands put into a new order."""
    with placed(step.order.span):
        board = hands.board
        order = step.order.items or range(1, len(board.here) + 1)
        return plain(reorder(board, order), board.strands(order))


def space_lines(step: Space, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the line of a length left unknotted."""
    groups = hands.groups(step.groups) if step.groups else (hands.board.here,)
    strands = tuple(strand for group in groups for strand in group)
    yield WorkLine("plain", hands.board, (Count("", strands),), groups)


def strand_lines(step: Picot | Bead | Trim, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of loops, a bead or a cut on some strands."""
    return plain(hands.board, hands.from_left(step.strands))


def add_lines(step: Add, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the line of new pieces hung in."""
    board = hands.board
    at = hands.place(step.at, len(board.here) + 1)
    held = (hands.one(step.onto),) if step.onto else ()
    new: list[int] = []
    for piece in step.pieces:
        strands = hands.roster.hang(piece.cord, "added", step.fold)
        # End a is the one further left on the board.
        new += board.from_left(strands)
    grown = board.insert(at, tuple(new))
    tie = Count("", tuple(new), held)
    yield WorkLine("plain", grown, (tie,), (tuple(new),), new_strands=tuple(new))


def aside_lines(step: LayAside, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands laid aside."""
    strands = hands.from_left(step.strands)
    return plain(hands.board.remove(strands), strands)


def take_up_lines(step: TakeUp, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands brought back. Raises Misfit for one that is not aside."""
    strands = tuple(_aside(name, step, hands) for name in step.strands)
    if len(set(strands)) < len(strands):
        raise refuse("TWICE", step.about.span, "A strand is taken up twice in one step.")
    at = hands.place(step.at, len(hands.board.here) + 1)
    return plain(hands.board.take_up(at, strands), strands)


def _aside(name: str, step: TakeUp, hands: StepContext) -> int:
    strand = hands.roster.find(name)
    if strand is None or strand not in hands.board.aside:
        there = ", ".join(hands.roster.name(s) for s in sorted(hands.board.aside)) or "none"
        message = f"{name} is not among the strands laid aside."
        raise refuse("ASIDE", step.about.span, message, f"Laid aside now: {there}.")
    return strand


def flip_lines(step: Flip, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of the whole work turned over."""
    del step
    board = hands.board.flip()
    return plain(board, board.whole)


def seam_lines(step: Seam, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line that moves the seam of round work."""
    with placed(step.at.span):
        board: Board = seam(hands.board, step.at.items[0])
    return plain(board, board.here)
